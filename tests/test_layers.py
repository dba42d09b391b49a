"""Who imports whom: each module only from further down, and --help nothing that is slow to load."""

import ast
import os
import subprocess
import sys
from graphlib import TopologicalSorter
from pathlib import Path

import pytest

import rosterkit
from tests.command_line import written
from tests.rosters import workbook

PACKAGE = Path(rosterkit.__file__).parent
LAYERS = (
    ("__main__",),
    ("cli",),
    ("frames",),
    ("commands",),
    ("template",),
    ("checks",),
    ("writeback",),
    ("planning", "cards", "live", "versions", "lists"),
    ("cv",),
    ("roster",),
    ("xlsx", "standards"),
    ("formulas",),
    (
        "cell_names",
        "errors",
        "findings",
        "formats",
        "parallel",
        "printable",
        "progress",
        "spelling",
        "__init__",
    ),
)
"""Rooms from top to bottom: each imports only from those below it, or from itself, and never in a circle."""

XLSX = (
    "save",
    "verify",
    "own_sheets",
    "patch",
    "changes",
    "chart",
    "read",
    "titles",
    "xml",
    "grid",
    "package",
)
"""The rooms within xlsx from top to bottom."""

LISTS = (
    "settle",
    "columns",
    "layout",
    "files",
    "vocabulary",
    "heading_text",
    "slips",
    "adopted",
    "reading",
    "tables",
    "plain",
)
"""The rooms within lists from top to bottom."""

ROOMS_OF_LIBRARIES = {
    "jsonschema": {"roster"},
    "lxml": {"xlsx", "lists"},
    "numpy": {"planning"},
    "openpyxl": {"xlsx", "commands", "template"},
    "pandas": {"frames"},
    "python_calamine": {"xlsx", "lists"},
    "typer": {"cli"},
}
"""Which room alone may use a library."""


def _modules() -> dict[str, Path]:
    names = {}
    for path in PACKAGE.rglob("*.py"):
        parts = path.relative_to(PACKAGE).with_suffix("").parts
        names[".".join(parts if parts == ("__init__",) else [p for p in parts if p != "__init__"])] = path
    return names


MODULES = _modules()


def _imported(path: Path) -> set[str]:
    """Every module that a file imports, at its top or inside a function, by its full name."""
    found = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            found |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path} has a relative import"
            found |= {f"{node.module}.{alias.name}" for alias in node.names}
    return found


def _own(path: Path) -> set[str]:
    """The modules of this package among those that a file imports."""
    found = set()
    for name in _imported(path):
        top, _, below = name.partition(".")
        if top == "rosterkit":
            module = below if below in MODULES else below.rpartition(".")[0]
            found.add(module or "__init__")
    return found


def _room(module: str) -> str:
    return module.partition(".")[0]


def _inner(module: str) -> str:
    return module.split(".")[1]


def _layer(module: str) -> int:
    return next(n for n, rooms in enumerate(LAYERS) if _room(module) in rooms)


def test_every_module_is_in_a_layer() -> None:
    rooms = {_room(module) for module in MODULES}

    assert rooms - {room for layer in LAYERS for room in layer} == set()


@pytest.mark.parametrize("module", sorted(MODULES))
def test_a_module_imports_from_its_own_room_or_further_down(module: str) -> None:
    here = _layer(module)

    others = {other for other in _own(MODULES[module]) if _room(other) != _room(module)}

    # The files at the bottom are one room.
    assert {
        other for other in others if _layer(other) < here or _layer(other) == here < len(LAYERS) - 1
    } == set()


@pytest.mark.parametrize("module", sorted(one for one in MODULES if one.startswith("xlsx.")))
def test_a_module_of_xlsx_imports_from_its_own_room_or_further_down(module: str) -> None:
    below = XLSX[XLSX.index(_inner(module)) :]

    inner = {_inner(other) for other in _own(MODULES[module]) if other.startswith("xlsx.")}

    assert inner <= set(below)


@pytest.mark.parametrize(
    "module", sorted(one for one in MODULES if one.startswith("lists.") and one != "lists.__init__")
)
def test_a_module_of_lists_imports_from_its_own_room_or_further_down(module: str) -> None:
    below = LISTS[LISTS.index(_inner(module)) :]

    inner = {_inner(other) for other in _own(MODULES[module]) if other.startswith("lists.")}

    assert inner <= set(below)


def test_no_modules_import_each_other_in_a_circle() -> None:
    order = TopologicalSorter({module: _own(path) for module, path in MODULES.items()})

    assert len(list(order.static_order())) == len(MODULES)


def test_the_workbook_library_knows_nothing_of_rosters() -> None:
    imported = {
        _room(other) for module, path in MODULES.items() if _room(module) == "xlsx" for other in _own(path)
    }

    assert imported == {"xlsx", "formulas", "cell_names", "errors", "printable"}


def test_no_command_imports_another() -> None:
    shared = {"common", "results"}
    crossing = {
        (module, other)
        for module, path in MODULES.items()
        if _room(module) == "commands"
        for other in _own(path)
        if _room(other) == "commands" and _inner(other) not in {_inner(module), *shared}
    }

    assert crossing == set()


def test_the_standards_import_nothing_but_each_other() -> None:
    imported = {
        _room(other)
        for module, path in MODULES.items()
        if module.startswith("standards")
        for other in _own(path)
    }

    assert imported == {"standards"}


@pytest.mark.parametrize("module", sorted(MODULES))
def test_a_library_is_used_in_its_room_only(module: str) -> None:
    libraries = {name.partition(".")[0] for name in _imported(MODULES[module])} & ROOMS_OF_LIBRARIES.keys()

    assert {name for name in libraries if _room(module) not in ROOMS_OF_LIBRARIES[name]} == set()


@pytest.mark.parametrize(
    ("room", "forbidden"),
    [
        pytest.param("checks", {"pathlib", "os", "sys"}, id="checks know no files"),
        pytest.param("cv", {"pathlib", "os", "sys"}, id="CV values know no files"),
        pytest.param("cards", {"pathlib", "os", "sys"}, id="cards know no files"),
        pytest.param("planning", {"pathlib", "os", "sys"}, id="plans know no files"),
        pytest.param("writeback", {"pathlib", "os", "sys"}, id="writing back knows no files"),
        pytest.param("standards", {"pathlib", "os", "sys"}, id="standards know no files"),
        pytest.param("formulas", {"pathlib", "os", "sys"}, id="formulas know no files"),
    ],
)
def test_the_core_is_pure(room: str, forbidden: set[str]) -> None:
    used = {
        name.partition(".")[0]
        for module, path in MODULES.items()
        if _room(module) == room
        for name in _imported(path)
    }

    assert used & forbidden == set()


def test_what_python_reads_frames_with_is_loaded_when_it_is_asked_for() -> None:
    script = (
        "import sys, rosterkit\n"
        "print('pandas' in sys.modules, 'rosterkit.roster' in sys.modules)\n"
        "rosterkit.read\n"
        "print('pandas' in sys.modules)\n"
    )
    environment = {**os.environ, "PYTHONPATH": str(PACKAGE.parent)}
    command = [sys.executable, "-c", script]
    done = subprocess.run(command, capture_output=True, text=True, timeout=60, check=True, env=environment)

    assert done.stdout.split() == ["False", "False", "True"]


def test_the_stub_of_the_package_offers_what_the_package_does() -> None:
    offered = {
        alias.name
        for node in ast.parse((PACKAGE / "__init__.pyi").read_text(encoding="utf-8")).body
        if isinstance(node, ast.ImportFrom)
        for alias in node.names
    }

    assert offered | {"__version__"} == set(rosterkit.__all__)
    assert all(hasattr(rosterkit, name) for name in rosterkit.__all__)
    assert not hasattr(rosterkit, "reads")
    assert (PACKAGE / "py.typed").exists()


@pytest.mark.parametrize(
    ("words", "unwanted"),
    [
        pytest.param(["fill", "sample.xlsx"], {"pandas"}, id="fill"),
        pytest.param(["cards", "sample.xlsx"], {"pandas"}, id="cards"),
        pytest.param(["free", "sample.xlsx"], {"pandas"}, id="free"),
        pytest.param(["rules"], {"pandas"}, id="rules"),
        pytest.param(
            ["--help"],
            {"pandas", "numpy", "openpyxl", "jsonschema", "lxml", "python_calamine"},
            id="the help",
        ),
        pytest.param(
            ["check", "--help"],
            {"pandas", "numpy", "openpyxl", "jsonschema", "lxml", "python_calamine"},
            id="the help of a command",
        ),
        pytest.param(
            ["decode", "29=34"],
            {"pandas", "numpy", "openpyxl", "jsonschema", "lxml", "python_calamine"},
            id="decode, which needs no workbook",
        ),
        pytest.param(
            ["check", "sample.xlsx"],
            {"pandas", "numpy", "openpyxl", "lxml"},
            id="check, which writes nothing",
        ),
    ],
)
def test_what_is_slow_to_load_is_not_loaded_for(
    words: list[str], unwanted: set[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    written(tmp_path / "sample.xlsx", workbook([{"Loco": "A", "Address": 12}]))
    script = (
        "import sys\n"
        "from rosterkit.__main__ import main\n"
        "try:\n    main()\n"
        "except SystemExit as leaving:\n    status = leaving.code or 0\n"
        "print(status, *sorted({name.partition('.')[0] for name in sys.modules}), file=sys.stderr)\n"
    )
    command = [sys.executable, "-c", script, *words]
    environment = {**os.environ, "PYTHONPATH": str(PACKAGE.parent)}
    done = subprocess.run(command, capture_output=True, text=True, timeout=60, check=True, env=environment)

    status, *loaded = done.stderr.splitlines()[-1].split()

    assert status == "0"
    assert set(loaded) & unwanted == set()

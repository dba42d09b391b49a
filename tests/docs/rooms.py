"""The rooms of the package as the documents show them: a tree by docstrings, and the layers of the test."""

import ast
from collections.abc import Iterator, Sequence
from pathlib import Path

from tests.test_layers import LAYERS, PACKAGE, XLSX

_WIDTH = 18


def room_tree() -> str:
    """Return packages and base modules, each with its docstring's first line, in the order of layers."""
    rooms = [room for layer in LAYERS for room in layer if room not in ("__init__", "__main__")]
    lines = [line for room in rooms for line in _lines(PACKAGE / room, 1)]
    return "\n".join(["```text", "rosterkit/", *lines, "```"])


def layer_list() -> str:
    """Return the rooms from top to bottom, a layer a line."""
    return _fenced([", ".join(layer) for layer in LAYERS])


def xlsx_list() -> str:
    """Return the rooms within xlsx from top to bottom, in one line."""
    return _fenced([" → ".join(XLSX)])


def _fenced(lines: Sequence[str]) -> str:
    return "\n".join(["```text", *lines, "```"])


def _lines(room: Path, depth: int) -> Iterator[str]:
    if not room.is_dir():
        yield _line(f"{room.name}.py", room.with_suffix(".py"), depth)
        return
    yield _line(f"{room.name}/", room / "__init__.py", depth)
    inner = [folder for folder in room.iterdir() if (folder / "__init__.py").exists()]
    for folder in sorted(inner, key=lambda one: (_place(one), one.name)):
        yield from _lines(folder, depth + 1)


def _place(folder: Path) -> int:
    return XLSX.index(folder.name) if folder.parent.name == "xlsx" else 0


def _line(name: str, source: Path, depth: int) -> str:
    documentation = ast.get_docstring(ast.parse(source.read_text(encoding="utf-8"))) or ""
    indented = f"{'  ' * depth}{name}"
    return f"{indented:<{_WIDTH}}{documentation.splitlines()[0]}".replace("``", "")

"""What the documents say is what the code says."""

import re
from pathlib import Path

import pytest
import typer

from rosterkit.cli.app import app
from tests.docs.documents import CHECKOUT, DEVELOPERS, README, derived, documents
from tests.docs.markdown import anchors, named_files, relative_links

COMMANDS = re.findall(
    r"^(?:@command\(.*?\)\ndef |command\(\)\()(\w+)[()]",
    (CHECKOUT / "rosterkit" / "cli" / "app.py").read_text(encoding="utf-8"),
    re.MULTILINE,
)
_FOLDERS = {path.name for path in CHECKOUT.iterdir() if path.is_dir()}
MOST_BYTES = {README: 14_000, DEVELOPERS: 13 * 1024}


def _name(path: Path) -> str:
    return str(path.relative_to(CHECKOUT))


each_document = pytest.mark.parametrize("path", documents(), ids=_name)


def test_the_documents_are_found() -> None:
    assert {README, DEVELOPERS, CHECKOUT / "schema" / "README.md"} <= set(documents())


@each_document
def test_the_derived_tables_and_lists_are_up_to_date(path: Path) -> None:
    text = path.read_text(encoding="utf-8")

    assert derived(text, runs=False) == text, "run python -m tests.docs"


@pytest.mark.slow
@each_document
def test_the_runs_shown_are_up_to_date(path: Path) -> None:
    text = path.read_text(encoding="utf-8")

    assert derived(text) == text, "run python -m tests.docs"


def test_every_run_shown_is_of_a_command_that_there_is() -> None:
    runs = [
        run
        for path in documents()
        for run in re.findall(r"```text\n\$ (.*?)\n(.*?)\n```", path.read_text(encoding="utf-8"), re.DOTALL)
    ]

    assert len(runs) > 10
    assert [
        command
        for command, printed in runs
        if re.search("^(Usage|Error|rosterkit:|Traceback)", printed, re.MULTILINE)
    ] == []


@each_document
def test_every_relative_link_leads_to_a_file_and_its_heading(path: Path) -> None:
    lost = []
    for link in relative_links(path.read_text(encoding="utf-8")):
        name, _, anchor = link.partition("#")
        target = path.parent / name if name else path
        if not target.exists() or (anchor and anchor not in anchors(target.read_text(encoding="utf-8"))):
            lost.append(link)

    assert lost == []


@each_document
def test_every_file_named_in_backticks_exists(path: Path) -> None:
    named = named_files(path.read_text(encoding="utf-8"), _FOLDERS)

    below = (CHECKOUT, CHECKOUT / "rosterkit", path.parent)
    assert [name for name in named if not any(_is_there(folder, name) for folder in below)] == []


def _is_there(folder: Path, name: str) -> bool:
    found = list(folder.glob(name.rstrip("/")))
    return any(path.is_dir() for path in found) if name.endswith("/") else bool(found)


@pytest.mark.parametrize(("path", "most"), MOST_BYTES.items(), ids=map(_name, MOST_BYTES))
def test_a_document_is_short(path: Path, most: int) -> None:
    assert path.stat().st_size <= most


@each_document
def test_a_document_begins_with_its_title_and_a_sentence_on_what_it_is(path: Path) -> None:
    title, sentence = path.read_text(encoding="utf-8").split("\n\n")[:2]

    assert re.fullmatch(r"# .+", title)
    assert sentence[0].isalpha()
    assert "." in sentence


def test_every_command_is_in_the_table_of_the_readme() -> None:
    text = README.read_text(encoding="utf-8")

    assert COMMANDS
    assert [name for name in COMMANDS if f"\n| `rosterkit {name} " not in text] == []


def test_every_command_argument_and_option_has_a_help_text() -> None:
    commands = typer.main.get_command(app).commands  # type: ignore[attr-defined]

    assert sorted(commands) == sorted(COMMANDS)
    for name, command in commands.items():
        assert command.help, name
        assert [parameter.name for parameter in command.params if not parameter.help] == [], name


def test_the_first_paragraph_of_the_readme_tells_the_job() -> None:
    paragraph = README.read_text(encoding="utf-8").split("\n\n")[1]

    for word in ("address", "register values (CVs)", "clash", "programming track", "workbook"):
        assert word in paragraph


def test_the_readme_calls_a_configuration_variable_a_register_once_only() -> None:
    text = re.sub(r"`[^`]*`", "", README.read_text(encoding="utf-8"))

    assert re.findall(r"\bregisters?\b.{12}", text) == ["register values (CVs"]


@pytest.mark.parametrize(
    "subject",
    [
        "wiring",
        "rail",
        "solder",
        "mains",
        "runaway",
        "reprogrammed",
        "instructions",
        "electrical codes",
        "licensed",
    ],
)
def test_the_readme_cautions_about(subject: str) -> None:
    cautions = README.read_text(encoding="utf-8").partition("\n## Take care\n")[2].partition("\n## ")[0]

    assert subject in cautions.lower()


def test_the_readme_installs_what_the_tests_of_ci_have() -> None:
    script = (CHECKOUT / ".ci" / "run").read_text(encoding="utf-8")
    packages = re.search(r"^packages=\((.*)\)$", script, re.MULTILINE)
    installed = re.search(r"--no-install-recommends (.*?) &&", README.read_text(encoding="utf-8"))

    assert packages
    assert installed
    assert set(installed[1].split()) - {"python3-venv"} == set(packages[1].split())

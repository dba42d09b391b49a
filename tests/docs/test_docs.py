"""What the README says is what the code says."""

import re

import typer

from rosterkit.cli.app import app
from tests.docs.__main__ import CHECKOUT, README, derived

COMMANDS = re.findall(
    r"^@command\(.*?\)\ndef (\w+)\(",
    (CHECKOUT / "rosterkit" / "cli" / "app.py").read_text(encoding="utf-8"),
    re.MULTILINE,
)


def test_the_derived_parts_of_the_readme_are_up_to_date() -> None:
    text = README.read_text(encoding="utf-8")

    assert derived(text) == text


def test_every_run_shown_in_the_readme_is_of_a_command_that_there_is() -> None:
    runs = re.findall(r"```text\n\$ (.*?)\n(.*?)\n```", README.read_text(encoding="utf-8"), re.DOTALL)

    assert len(runs) > 5
    assert [
        command for command, printed in runs if re.search("^(Usage|Error|Traceback)", printed, re.MULTILINE)
    ] == []


def test_every_command_is_in_the_readme() -> None:
    text = README.read_text(encoding="utf-8")

    assert COMMANDS
    assert [name for name in COMMANDS if f"`rosterkit {name}" not in text] == []


def test_every_command_argument_and_option_has_a_help_text() -> None:
    commands = typer.main.get_command(app).commands  # type: ignore[attr-defined]

    assert sorted(commands) == sorted(COMMANDS)
    for name, command in commands.items():
        assert command.help, name
        assert [parameter.name for parameter in command.params if not parameter.help] == [], name


def test_the_first_paragraph_of_the_readme_tells_the_job() -> None:
    paragraph = README.read_text(encoding="utf-8").split("\n\n")[1]

    for word in ("address", "register", "clash", "programming track", "workbook"):
        assert word in paragraph

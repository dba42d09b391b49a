"""What the README says is what the code says."""

import re
import subprocess
import sys

from tests.docs.__main__ import CHECKOUT, README, derived

COMMANDS = re.findall(
    r"^@app\.command\(.*?\)\ndef (\w+)\(",
    (CHECKOUT / "rosterkit" / "cli.py").read_text(encoding="utf-8"),
    re.MULTILINE,
)


def test_the_derived_parts_of_the_readme_are_up_to_date() -> None:
    text = README.read_text(encoding="utf-8")

    assert derived(text) == text


def test_every_command_is_in_the_readme() -> None:
    text = README.read_text(encoding="utf-8")

    assert COMMANDS
    assert [name for name in COMMANDS if f"`rosterkit {name}" not in text] == []


def test_every_command_and_option_has_a_help_text() -> None:
    for name in COMMANDS:
        command = [sys.executable, "-m", "rosterkit", name, "--help"]
        shown = subprocess.run(command, capture_output=True, text=True, check=True, timeout=60).stdout
        options = re.findall(r"^  (?:-\w, )?--[\w-]+.*$", shown, re.MULTILINE)

        assert shown.splitlines()[2].strip(), name
        assert [line for line in options if len(re.split(r"\s{2,}", line.strip())) < 2] == [], name


def test_the_first_paragraph_of_the_readme_tells_the_job() -> None:
    paragraph = README.read_text(encoding="utf-8").split("\n\n")[1]

    for word in ("address", "register", "clash", "programming track", "workbook"):
        assert word in paragraph

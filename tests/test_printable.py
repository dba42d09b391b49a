"""What came from a cell, a file's name or an argument never acts on a terminal, nor ends a line."""

import json
import re
from pathlib import Path

import openpyxl
import pytest

from rosterkit.errors import CannotRunError
from rosterkit.printable import printable
from tests.command_line import run

HOSTILE = "\n::warning::\x1b[2J\x9b1m\u202ecba\u2028\x07"
ACTING = re.compile("[\x00-\x09\x0b-\x1f\x7f-\x9f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069]")


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        pytest.param("Night mail", "Night mail", id="plain words stay"),
        pytest.param(
            "Grüner Pfeil 🚂 ½", "Grüner Pfeil 🚂 ½", id="letters and pictures of any language stay"
        ),
        pytest.param("a\\n", "a\\n", id="a backslash that was typed stays"),
        pytest.param("a\nb\r\tc", "a\\nb\\r\\tc", id="line ends and tabs are escapes"),
        pytest.param("\x1b[2J", "\\x1b[2J", id="what clears a terminal is an escape"),
        pytest.param("\x9b1m\x85", "\\x9b1m\\x85", id="so are the controls above ASCII"),
        pytest.param("\u202eabc\u2069", "\\u202eabc\\u2069", id="and what shows a text backwards"),
        pytest.param("a\u2028b", "a\\u2028b", id="and the line ends of Unicode"),
    ],
)
def test_a_text_is_printed_on_one_line(text: str, shown: str) -> None:
    assert printable(text) == shown


def test_a_refusal_can_be_printed_whatever_it_quotes() -> None:
    error = CannotRunError(f"cannot read {HOSTILE}", f"Rename {HOSTILE}.")

    assert not ACTING.search(error.message + error.fix + str(error))


@pytest.fixture
def workbook(tmp_path: Path) -> Path:
    """A workbook with such signs wherever somebody can type some that the format can hold."""
    typed = HOSTILE.replace("\x1b", "_x001B_").replace("\x07", "_x0007_")
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.title = "Locomotives"
    sheet.append(["Loco", f"Addr{typed}", "Address", "Owner", "Decoder", "At meet", "Meet address", "Fault"])
    sheet.append([f"A{typed}", 1, 7, f"M01{typed}", f"D{typed}", "yes", f"9{typed}", typed])
    sheet.append([f"B{typed}", 1, 7, f"M02{typed}", f"D{typed}", "yes", None, typed])
    sheet.append([f"C{typed}", 1, typed, None, None, f"maybe{typed}", None, None])
    for title in ("Consists", "Readings", "Speed runs", "Extra values"):
        book.create_sheet(title)
    book["Consists"].append(["Consist", "Address", "Position", "Loco"])
    book["Consists"].append([f"X{typed}", 7, 1, f"A{typed}"])
    book["Readings"].append(["Loco", "CV", "Value"])
    book["Readings"].append([f"nobody{typed}", 29, 6])
    book["Speed runs"].append(["Loco", "Way", "Drive level", "Distance", "Time"])
    book["Speed runs"].append([f"A{typed}", "forward", 100, 1000, 10])
    book["Extra values"].append(["Loco", "CV", "Value", "Notes"])
    book["Extra values"].append([f"A{typed}", 112, 5, typed])
    path = tmp_path / f"club{HOSTILE.replace('/', '')}.xlsx"
    book.save(path)
    return path


COMMANDS = {
    **{
        f"check as {form}": ["check", "B", "--format", form]
        for form in ("text", "json", "csv", "annotations")
    },
    **{f"check for a meet as {form}": ["check", "B", "--meet", "--format", form] for form in ("text", "csv")},
    **{f"cards as {form}": ["cards", "B", "--format", form] for form in ("text", "json", "csv")},
    "cards of an engine that is not there": ["cards", "B", "--loco", HOSTILE],
    "narrow cards": ["cards", "B", "--width", "40"],
    **{f"speed as {form}": ["speed", "B", "--format", form] for form in ("text", "json")},
    **{f"free as {form}": ["free", "B", "--format", form] for form in ("text", "json")},
    "fill": ["fill", "B"],
    **{f"meet as {form}": ["meet", "B", "-o", "M", "--format", form] for form in ("text", "json")},
    **{f"compare as {form}": ["compare", "B", "C", "--format", form] for form in ("text", "json", "csv")},
    **{f"adopt as {form}": ["adopt", "B", "--format", form] for form in ("text", "json")},
    "adopt what is no column": ["adopt", "B", "--as", f"{HOSTILE}=Address"],
    "adopt with headings nowhere": ["adopt", "B", "--headings", f"{HOSTILE}!6"],
    "a command that there is not": [HOSTILE],
    "an option that there is not": ["check", "B", f"--{HOSTILE}"],
    "a workbook that there is not": ["check", f"none{HOSTILE}.xlsx"],
    "no CV": ["decode", f"29={HOSTILE}"],
    "no check": ["rules", HOSTILE],
    "new where there is one": ["new", "B"],
}


@pytest.mark.parametrize("command", COMMANDS)
def test_no_command_prints_what_acts(tmp_path: Path, workbook: Path, command: str) -> None:
    other = tmp_path / "other.xlsx"
    book = openpyxl.load_workbook(workbook)
    book["Locomotives"]["C2"] = 8
    book.save(other)
    paths = {"B": str(workbook), "C": str(other), "M": str(tmp_path / f"meet{HOSTILE}.xlsx")}

    done = run(*(paths.get(word, word) for word in COMMANDS[command]))

    said = done.out + done.err
    assert not ACTING.search(said)
    assert not [line for line in said.splitlines() if line.startswith("::warning::")]
    if "json" in command:
        assert json.loads(done.out), done.err

"""Every fix that names a value does what it says: the finding is gone, and no other fault takes its place."""

import re
from collections.abc import Callable
from pathlib import Path
from shutil import copy

import pytest
from openpyxl import Workbook, load_workbook
from openpyxl.worksheet.worksheet import Worksheet

from rosterkit.commands.check import check
from rosterkit.commands.fill import fill
from rosterkit.commands.speed.command import speed
from rosterkit.findings import Finding, Severity
from tests.samples.__main__ import FOLDER

Apply = Callable[[Workbook, Finding, re.Match[str]], None]

SAMPLES = [FOLDER / "demo_club.xlsx", *sorted((FOLDER / "faulty").glob("*.xlsx"))]


def _headings(sheet: Worksheet) -> dict[str, int]:
    row = next(cells for cells in sheet.iter_rows() if sum(cell.value is not None for cell in cells) > 1)
    return {str(cell.value): cell.column for cell in row if cell.value is not None}


def _cell_of(
    workbook: Workbook, finding: Finding, heading: str, loco: str | None = None
) -> tuple[str, int, int]:
    """Return sheet, row and column of a heading in the row of a finding, or of an engine in Locomotives."""
    sheet, row = str(finding.place.sheet), finding.place.row or 0
    if loco is not None:
        sheet = "Locomotives"
        first = workbook[sheet]["A"]
        row = next(cell.row for cell in first if cell.value == loco)
    return sheet, row, _headings(workbook[sheet])[heading]


def _put(workbook: Workbook, at: tuple[str, int, int], value: object) -> None:
    sheet, row, column = at
    text = None if value is None else str(value)
    workbook[sheet].cell(row, column).value = int(text) if text and text.isdigit() else text


def _own(finding: Finding) -> tuple[str, int, int]:
    return str(finding.place.sheet), finding.place.row or 0, finding.place.column or 0


def _own_cell(workbook: Workbook, finding: Finding, match: re.Match[str]) -> None:
    _put(workbook, _own(finding), match["value"])


def _empty(workbook: Workbook, finding: Finding, _: re.Match[str]) -> None:
    _put(workbook, _own(finding), None)


def _setting(workbook: Workbook, finding: Finding, match: re.Match[str]) -> None:
    loco = match.groupdict().get("loco")
    _put(workbook, _cell_of(workbook, finding, match["heading"], loco), match["value"])


def _address(workbook: Workbook, finding: Finding, match: re.Match[str]) -> None:
    headings = _headings(workbook["Locomotives"])
    _own_cell(workbook, finding, match)
    if "Address kind" in headings:
        at_home = finding.place.column == headings["Address"]
        kind = headings["Address kind" if at_home else "Meet kind"]
        _put(workbook, ("Locomotives", finding.place.row or 0, kind), match["kind"])


def _consist(workbook: Workbook, finding: Finding, match: re.Match[str]) -> None:
    sheet = workbook["Consists"]
    label = sheet.cell(finding.place.row or 0, 1).value
    for row in range(2, sheet.max_row + 1):
        if sheet.cell(row, 1).value == label:
            _put(workbook, ("Consists", row, finding.place.column or 0), match["value"])


def _reading(workbook: Workbook, finding: Finding, match: re.Match[str]) -> None:
    """Key in the value and read it back, a day after everything else."""
    sheet, headings = workbook["Readings"], _headings(workbook["Readings"])
    row = max(cell.row for cell in sheet["A"] if cell.value is not None) + 1
    entries = {
        "Date": "2027-01-01",
        "Loco": finding.loco,
        "CV": int(match["cv"]),
        "Value": int(match["value"]),
    }
    for heading, value in entries.items():
        sheet.cell(row, headings[heading]).value = value


def _remove_row(workbook: Workbook, finding: Finding, _: re.Match[str]) -> None:
    workbook[str(finding.place.sheet)].delete_rows(finding.place.row or 0)


def _add(workbook: Workbook, finding: Finding, match: re.Match[str]) -> None:
    sheet, row, column = _own(finding)
    _put(workbook, (sheet, row, column), f"{workbook[sheet].cell(row, column).value} {match['value']}")


def _take_out(workbook: Workbook, finding: Finding, match: re.Match[str]) -> None:
    sheet, row, column = _own(finding)
    left = str(workbook[sheet].cell(row, column).value).replace(match["value"], "").strip()
    _put(workbook, (sheet, row, column), left or "none")


def _swap(workbook: Workbook, finding: Finding, _: re.Match[str]) -> None:
    first, last = (_cell_of(workbook, finding, heading) for heading in ("From", "To"))
    values = [workbook[sheet].cell(row, column).value for sheet, row, column in (last, first)]
    _put(workbook, first, values[0])
    _put(workbook, last, values[1])


VALUES: tuple[tuple[str, Apply], ...] = (
    (r"such as (?P<kind>short|long) (?P<value>\d+)\.$", _address),
    (r"^(?:Use|Make it) (?P<kind>short|long) (?P<value>\d+)(?:, which is free)?\.$", _address),
    (r"for all its rows, such as (?P<value>\d+)\.$", _consist),
    (r"^Set it to (?P<value>[^ ,.]+)", _own_cell),
    (r"^Set (?P<heading>[A-Z][\w ]*?) of '(?P<loco>[^']+)' to (?P<value>\w+)", _setting),
    (r"[Ss]et (?P<heading>[A-Z][\w ]*?) to (?P<value>[\w/-]+)", _setting),
    (r"^Make step (?P<heading>\d+) at least (?P<value>\d+)\.$", _setting),
    (r"^Enter (?P<heading>Outputs) (?P<value>\d+) or more", _setting),
    (r"^Enter (?P<heading>Position) (?P<value>1) ", _setting),
    (r"^Key in CV(?P<cv>\d+) = (?P<value>\d+)", _reading),
    (r"^Did you mean '(?P<value>[^']+)'", _own_cell),
    (r"or write '(?P<value>[^']+)' if that is meant", _own_cell),
    (r"^Spell it '(?P<value>[^']+)'", _own_cell),
    (r"^Choose one of (?P<value>[^,]+),", _own_cell),
    (r"^Enter [A-Z]\w+: (?P<value>[a-z]+),", _own_cell),
    (r"^Add (?P<value>F0[fr]) to Functions\.$", _add),
    (r"^Take (?P<value>F0[fr]) out of Functions", _take_out),
    (r"^Swap From and To\.$", _swap),
    (r"[Ee]mpty (?:it|the cell|the index)\b", _empty),
    (r"^Remove the row", _remove_row),
)
"""What a fix that names a value says, and how it is followed; of several ways out the first is taken."""

COMMANDS: dict[str, Callable[[Path], object]] = {
    "Run 'rosterkit fill'.": fill,
    "Run 'rosterkit speed'.": speed,
}

NO_VALUE = {
    "Key in what the engine's card says": "the card names the values, in their order",
    "Give ": "another address, label or number: which one is theirs to choose",
    "Use a number from": "a range, of which another device may have each number",
    "Use another decoder": "nothing in the sheet helps",
    "Use a stronger decoder": "nothing in the sheet helps",
    "Use a longer isolated section": "nothing in the sheet helps",
    "Choose from ": "a range",
    "Set Top speed within": "a range",
    "Spell it as there": "only the member knows",
    "Make Vstart and Vmid": "something for the time of timing",
    "Move its engines to Locomotives": "rows of another sheet, by hand or by adopt",
    "Leave it": "there is nothing to do",
    "Nothing, as long as": "there is nothing to do",
    "Enter Address: 1": "a range",
    "Enter the same": "which of them is theirs to choose",
    "Enter the time": "only who timed it knows",
    "Enter both Index": "only the maker knows",
    "Enter its values there": "only the member knows",
    "Enter 'JV 2101 sound'": "a row of its own",
    "Fill ": "only the member knows",
    "Make Vstart smaller": "by how much is theirs to choose",
    "Make sure that": "something at the track",
    "Change an end": "which one is theirs to choose",
    "Correct the": "only the member knows",
    "Check ": "something at the track",
    "Look for": "something at the track",
    "Time ": "something at the track",
    "Run 10 s": "something at the track",
    "Want a": "which one is theirs to choose",
    "Raise Top speed": "by how much is theirs to choose",
    "Renumber": "which one is theirs to choose",
    "Remove all of them": "which one is theirs to choose",
    "Unmerge": "something in the spreadsheet program",
    "Format the cell": "something in the spreadsheet program",
    "Open the workbook": "something in the spreadsheet program",
    "Mend the formula": "something in the spreadsheet program",
    "Add the heading": "something in the spreadsheet program",
    "Key in CV17 and CV18": "no value is named",
    "Write them as": "an example",
    "Rename it": "which name is theirs to choose",
}
"""How fixes begin that name no value, and why they name none."""


def _as_value(finding: Finding) -> tuple[Apply, re.Match[str]] | None:
    found = ((follow, re.search(pattern, finding.fix)) for pattern, follow in VALUES)
    return next(((follow, match) for follow, match in found if match), None)


def _followed(path: Path, finding: Finding, folder: Path) -> list[Finding]:
    """Follow a fix in a copy of a workbook, and check that."""
    target = folder / path.name
    if finding.fix in COMMANDS:
        copy(path, target)
        COMMANDS[finding.fix](target)
    else:
        by_value = _as_value(finding)
        assert by_value is not None
        workbook = load_workbook(path)
        by_value[0](workbook, finding, by_value[1])
        workbook.save(target)
    return list(check([target]).findings)


def _where(finding: Finding) -> tuple[str, str | None, int | None, int | None, str | None]:
    place = finding.place
    return finding.rule, place.sheet, place.row, place.column, finding.loco


@pytest.mark.slow
@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: f"the fixes in {path.stem} can be followed")
def test_a_fix_that_is_followed_ends_its_finding_and_brings_no_other(path: Path, tmp_path: Path) -> None:
    before = check([path]).findings
    known = {_where(finding) for finding in before}
    for finding in before:
        if finding.fix in COMMANDS or _as_value(finding):
            after = _followed(path, finding, tmp_path)

            new = {_where(one) for one in after if one.severity is not Severity.NOTE} - known
            if finding.fix in COMMANDS:
                # What was read before is not what is wanted from now on, until it is keyed in.
                new = {one for one in new if one[0] != "reading-differs"}
            if "fill" not in finding.fix:
                # openpyxl leaves the results of formulas out, and speed leaves them to the next fill.
                new = {one for one in new if one[0] != "computed-stale"}
            assert _where(finding) not in {_where(one) for one in after}, finding.fix
            assert new == set(), finding.fix


@pytest.mark.parametrize("path", SAMPLES, ids=lambda path: f"the fixes in {path.stem} are understood")
def test_every_other_fix_is_known_to_name_no_value(path: Path) -> None:
    unknown = [
        finding.fix
        for finding in check([path]).findings
        if finding.fix not in COMMANDS
        and _as_value(finding) is None
        and not finding.fix.startswith(tuple(NO_VALUE))
    ]

    assert unknown == []

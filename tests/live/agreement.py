"""A saved workbook against rosterkit itself: what its formulas came to beside what the tool computes."""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

import openpyxl

from rosterkit.commands.check import check
from rosterkit.findings import Finding, Severity
from rosterkit.roster.load import roster_at
from rosterkit.roster.model import Roster
from rosterkit.roster.tables import Table
from rosterkit.writeback.computed_columns import computed_rows
from tests.xlsx.readers import by_calamine

SHEETS = {"Locomotives": "loco", "Consists": "loco", "Accessories": "accessory"}
"""The sheets with formulas, each with the column that names a row."""

BROKEN = "error [Alert] this cannot be computed; run 'rosterkit fill'"
"""What Alert says where something is gone that it needs."""

_ON_ADDRESS = {
    "address-missing",
    "address-out-of-range",
    "address-default",
    "address-not-for-engines",
    "address-in-another-range",
    "address-shared",
    "value-not-allowed",
}
_SETTINGS = {
    "Address kind",
    "Direction",
    "Speed steps",
    "DC operation",
    "BiDi",
    "Speed curve",
    "Lock",
}
_PART = re.compile(r"(error|warning) \[([^]]*)\] (.*?)(?=; (?:error|warning) \[|$)", re.DOTALL)
_CELL = re.compile(r" \([A-Z]+[0-9]+\)")
_ON_PURPOSE = re.compile(r", (?:another decoder of the same engine|in the same consist)$")


@dataclass(frozen=True, slots=True, kw_only=True)
class Compared:
    """How the computed cells of a saved workbook differ from what rosterkit computes of it."""

    engines: tuple[str, ...]
    """Labels of the engines for which something would be computed."""
    wrong: tuple[str, ...]
    """Label and heading of each cell that holds something else."""
    blank: tuple[str, ...]
    """Labels of rows in which a cell is blank that should not be."""


def compared(path: Path) -> Compared:
    """Compare every computed CV, and Answers, of every row."""
    roster, stored = roster_at(path), by_calamine(path)
    engines, wrong, blank = [], [], []
    for table, name, label, row, wanted in _wanted(roster):
        found = stored[table.title].get((row, table.headings.columns[name]), "")
        if table.sheet.title == "Locomotives" and wanted and name == "cv29":
            engines.append(label)
        if found == "" != wanted:
            blank.append(label)
        elif found != wanted:
            wrong.append(f"{label} {table.sheet[name].heading}: {found}, not {wanted or 'nothing'}")
    return Compared(engines=_once(engines), wrong=tuple(wrong), blank=_once(blank))


def _once(labels: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(labels))


def _wanted(roster: Roster) -> Iterator[tuple[Table, str, str, int, str]]:
    for title, labelled in SHEETS.items():
        table = roster.book.tables.get(title)
        for index, values in enumerate(computed_rows(roster, title) if table else ()):
            assert table is not None
            label = str(table.values[labelled][index]) if labelled in table.values else f"row {index}"
            for name, value in values.items():
                if name in table.headings.columns:
                    yield table, name, label, table.rows[index], "" if value is None else str(value)


Alerts = dict[str, set[str]]
"""By label and row what is said of it."""


def alerts_in(path: Path) -> Alerts:
    """Return what Alert says in each row of Locomotives where it is a formula, part by part."""
    roster, stored = roster_at(path), by_calamine(path)
    table = roster.book.tables["Locomotives"]
    column = table.headings.columns["alert"]
    formulas = openpyxl.load_workbook(path)[table.title]
    found: Alerts = {}
    for index, row in enumerate(table.rows):
        if formulas.cell(row, column).data_type == "f":
            words = stored[table.title].get((row, column), "")
            parts = _PART.findall(words)
            assert "; ".join(f"{severity} [{heading}] {said}" for severity, heading, said in parts) == words
            found[_name(table, index)] = {
                f"{severity} [{heading}] {said}" for severity, heading, said in parts
            }
    return found


def alerts_wanted(path: Path) -> Alerts:
    """Return what ``check`` says of each row of Locomotives of what Alert covers, without names of cells.

    That an address is shared on purpose is among it, as a note.
    """
    table = roster_at(path).book.tables["Locomotives"]
    by_row = {row: index for index, row in enumerate(table.rows)}
    wanted: Alerts = {_name(table, index): set() for index in by_row.values()}
    for finding in check([path]).findings:
        for row, words in _covered(finding, table):
            if row in by_row:
                wanted[_name(table, by_row[row])].add(words)
    return wanted


def _covered(finding: Finding, table: Table) -> Iterator[tuple[int, str]]:
    """Return row and words of a finding if Alert covers it."""
    if finding.severity is Severity.NOTE and finding.rule != "address-shared":
        return
    if finding.rule == "consist-address-shared":
        yield from _seen_from_engines(finding, table)
    if finding.place.sheet != table.title or finding.place.row is None:
        return
    heading = finding.column or ""
    on_address = heading == table.heading("address") and finding.rule in _ON_ADDRESS
    on_setting = heading in _SETTINGS and finding.rule == "value-not-allowed"
    if on_address or on_setting or finding.rule == "decoder-unknown":
        message = _ON_PURPOSE.sub("", _CELL.sub("", finding.message))
        yield finding.place.row, f"{finding.severity.value} [{heading}] {message}"


def _seen_from_engines(finding: Finding, table: Table) -> Iterator[tuple[int, str]]:
    """Say the clash of a consist and an engine at the engine, as Alert does."""
    consist = re.search(r"^Give the consist '(.*)' or ", finding.fix)
    for place in finding.related:
        if consist and place.sheet == table.title and place.row is not None:
            number = int(finding.message.split()[0])
            kind = "short" if number <= 127 else "long"
            words = f"{kind} {number} is also the address of the consist '{consist[1]}'"
            yield place.row, f"error [{table.heading('address')}] {words}"


def _name(table: Table, index: int) -> str:
    """Return the label with the row, which tells apart two rows with one label."""
    return f"{table.values['loco'][index]} in row {table.rows[index]}"


def differing(found: Alerts, wanted: Alerts, *, filled: bool) -> list[str]:
    """Name the rows whose alert and findings are not the same.

    That an address is shared on purpose only fill finds out: until then Alert may warn of it.
    """
    return [
        f"{row}: {sorted(said)}, and check: {sorted(wanted[row])}"
        for row, said in found.items()
        if said - (set() if filled else _excused(wanted[row])) != _live(wanted[row])
    ]


def _excused(words: set[str]) -> set[str]:
    return {one.replace("note", "error", 1) for one in words if one.startswith("note")}


def _live(words: set[str]) -> set[str]:
    return {one for one in words if not one.startswith("note")}

"""Whether everybody's change is accounted for, and nothing is in the result that nobody made.

It knows the edits, because this story made them, and reads workbooks with another library; of the project
it knows the names that people see, and nothing else.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from openpyxl.utils.cell import column_index_from_string, coordinate_from_string, get_column_letter

from tests.scenarios.edits import BESIDE_CELLS, Edit, Kind
from tests.scenarios.merge_sheet import MergeSheet, Section
from tests.scenarios.tables import REFERENCES, Table

COMPUTED = {
    "Locomotives": {"Answers", "CV1", "CV17", "CV18", "CV19", "CV29", "CV29 read", "Alert", "Check"},
    "Consists": {"CV19", "CV20", "CV21", "CV22", "Check"},
    "Accessories": {"CV1", "CV9", "CV29", "Check"},
    "Extra values": {"Check"},
    "Speed tables": {"Check"},
    "Speed runs": {"Scale speed", "Timing error", "Check"},
    "Speed goals": {
        *("Table", "Table sum", "CV2", "CV6", "CV5", "CV66", "CV95", "CV3", "CV4", "Reaches"),
        *("Plus or minus", "Worst error", "Mismatch", "Stopping distance", "Check"),
    },
    "Readings": {"Wanted", "Verdict"},
}
"""What members do not fill in, by sheet."""

KNOWN_BY = {
    "Layout": ("Setting",),
    "Address ranges": ("Kind", "From", "To"),
    "Decoder types": ("Decoder",),
    "Locomotives": ("Loco",),
    "Consists": ("Consist", "Loco"),
    "Accessories": ("Accessory",),
    "Extra values": ("Loco", "CV", "Index high", "Index low"),
    "Speed tables": ("Table",),
    "Speed runs": ("Loco", "Way", "Drive level", "Step", "Steps"),
    "Speed goals": ("Loco",),
    "Readings": ("Date", "Time", "Loco", "CV", "Index high", "Index low"),
}
"""What a row is known by, by sheet; several rows may be known by the same."""


class Verdict(StrEnum):
    """What became of an edit."""

    IN_THE_RESULT = "in the result"
    CONFLICT = "in the sheet Merge, as a conflict"
    NOT_MERGED = "in the sheet Merge, as not merged"
    DECIDED = "another side was kept"
    LOST = "LOST"


@dataclass(frozen=True, slots=True)
class Account:
    """The edits with what became of each."""

    entries: Sequence[tuple[Edit, Verdict]]

    @property
    def lost(self) -> list[str]:
        """The edits that are nowhere."""
        return [str(edit) for edit, verdict in self.entries if verdict is Verdict.LOST]

    def of(self, verdict: Verdict) -> list[Edit]:
        """Return the edits of which that became."""
        return [edit for edit, what in self.entries if what is verdict]

    def __str__(self) -> str:
        lines = [f"{verdict.value:<36}{edit}" for edit, verdict in self.entries]
        counts = Counter(verdict for _, verdict in self.entries)
        return "\n".join([*lines, ", ".join(f"{count} {verdict}" for verdict, count in counts.items())])


Tables = Mapping[str, Table]


def renames(edits: Iterable[Edit]) -> dict[str, str]:
    """Return what engines are called by now, by what they were called."""
    return {
        edit.label: edit.text
        for edit in edits
        if edit.kind is Kind.CELL and edit.sheet == "Locomotives" and edit.heading == "Loco"
    }


def account(
    edits: Sequence[Edit], result: Tables, merge: MergeSheet, copies: Mapping[str, Tables]
) -> Account:
    """Seek each edit in the result, and where it is not there in the sheet Merge.

    Args:
        edits: what was done.
        result: the sheets that came of it.
        merge: what the sheet Merge says.
        copies: the sheets of each copy by who edited it, for the places that it is about.
    """
    renamed = renames(edits)
    return Account([(edit, _verdict(edit, result, merge, copies, renamed)) for edit in edits])


def _verdict(
    edit: Edit, result: Tables, merge: MergeSheet, copies: Mapping[str, Tables], renamed: Mapping[str, str]
) -> Verdict:
    if holds(edit, result, renamed):
        return Verdict.IN_THE_RESULT
    labels = (edit.label, renamed.get(edit.label, edit.label))
    section = merge.section_of(edit, labels, _place(edit, copies.get(edit.who, {}), renamed))
    if section is None:
        return Verdict.LOST
    return Verdict.CONFLICT if section is Section.CONFLICTS else Verdict.NOT_MERGED


def _place(edit: Edit, copy: Tables, renamed: Mapping[str, str]) -> str:
    """Return the cell of an edit in the copy; "" where it has none there."""
    if edit.kind in {Kind.LOOSE, Kind.OWN_SHEET}:
        return edit.key["cell"]
    number = copy[edit.sheet].row(edit.key, renamed) if edit.sheet in copy else None
    column = copy[edit.sheet].column(copy[edit.sheet].top(list(edit.key)), edit.heading) if number else None
    return f"{get_column_letter(column + 1)}{number}" if column is not None else ""


def holds(edit: Edit, result: Tables, renamed: Mapping[str, str]) -> bool:
    """Return whether a workbook has what somebody did."""
    table = result.get(edit.sheet)
    if table is None or edit.kind in BESIDE_CELLS:
        return False
    if edit.kind in {Kind.LOOSE, Kind.OWN_SHEET}:
        return edit.text in _loose(table, edit.key["cell"])
    number = table.row(edit.key, renamed)
    if edit.kind is Kind.GONE_ROW or number is None:
        return (edit.kind is Kind.GONE_ROW) == (number is None)
    if edit.kind is Kind.NEW_ROW:
        return True
    top = table.top(list(edit.key))
    return table.cell(number, top, edit.heading) == edit.text.format(row=number)


def _loose(table: Table, cell: str) -> list[str]:
    """Return the content of a cell by its name, in a list that is empty where there is no such cell."""
    letters, number = coordinate_from_string(cell)
    column = column_index_from_string(letters) - 1
    return table.rows[number - 1][column : column + 1] if number <= len(table.rows) else []


def stale_references(before: Tables, result: Tables, renamed: Mapping[str, str]) -> list[str]:
    """Return what is wrong with the rows that name a renamed engine: old names left, or rows too few."""
    wrong = []
    for sheet in KNOWN_BY:
        for heading in REFERENCES:
            was, now = (Counter(_under(tables.get(sheet), sheet, heading)) for tables in (before, result))
            for old, new in renamed.items():
                if now[old]:
                    wrong.append(f"{sheet}: {now[old]} rows still have {old} under {heading}")
                if now[new] < was[old] + was[new]:
                    wrong.append(f"{sheet}: {now[new]} rows have {new} under {heading}, not {was[old]}")
    return wrong


def _under(table: Table | None, sheet: str, heading: str) -> Iterator[str]:
    if table is not None:
        for _, record in table.records(KNOWN_BY[sheet][:1]):
            if heading in record:
                yield record[heading]


def invented(before: Tables, result: Tables, edits: Sequence[Edit]) -> list[str]:
    """Return every difference between the master and the result that none of the edits explains."""
    renamed = renames(edits)
    found = []
    for sheet, known_by in KNOWN_BY.items():
        old, new = (_records(tables.get(sheet), sheet, known_by, renamed) for tables in (before, result))
        for key in {**old, **new}:
            mine = [edit for edit in edits if edit.sheet == sheet and _same(edit, key, renamed)]
            found += [f"{sheet} {key}: {what}" for what in _unexplained(old.get(key), new.get(key), mine)]
    return found


_RecordKey = tuple[tuple[str, str], ...]
_Record = tuple[int, dict[str, str]]


def _records(
    table: Table | None, sheet: str, known_by: Sequence[str], renamed: Mapping[str, str]
) -> dict[_RecordKey, _Record]:
    """Return the rows by what they are known by, and by how many rows above are known by the same."""
    found: dict[_RecordKey, _Record] = {}
    seen: Counter[_RecordKey] = Counter()
    for number, record in table.records(known_by[:1]) if table else ():
        for heading in REFERENCES:
            if heading in record:
                record[heading] = renamed.get(record[heading], record[heading])
        key = tuple((name, record.get(name, "")) for name in known_by)
        seen[key] += 1
        cells = {name: cell for name, cell in record.items() if name not in COMPUTED.get(sheet, ())}
        found[*key, ("", str(seen[key]))] = number, cells
    return found


def _same(edit: Edit, key: _RecordKey, renamed: Mapping[str, str]) -> bool:
    known = dict(key)
    return all(
        known.get(name) in {value, renamed.get(value)} for name, value in edit.key.items() if name in known
    )


def _unexplained(old: _Record | None, new: _Record | None, edits: Sequence[Edit]) -> Iterator[str]:
    if new is None:
        if not any(edit.kind is Kind.GONE_ROW for edit in edits):
            yield "the row is gone"
        return
    number, cells = new
    was = old[1] if old else {}
    if old is None and not any(edit.kind is Kind.NEW_ROW for edit in edits):
        yield "a row that nobody added"
    for heading in {**was, **cells}:
        here, there = was.get(heading, ""), cells.get(heading, "")
        typed = {
            edit.text.format(row=number) for edit in edits if edit.heading.casefold() == heading.casefold()
        }
        if old is None:
            typed |= {value for edit in edits for name, value in edit.key.items() if name == heading}
        if here != there and there not in typed:
            yield f"{heading} was {here!r} and is {there!r}"

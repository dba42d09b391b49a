"""What a workbook has that nobody put there: differences that no edit explains, and names left behind."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence

from tests.scenarios.account import Tables, renames
from tests.scenarios.edits import Edit, Kind
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

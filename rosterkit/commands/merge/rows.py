"""By what a row is known again when a conflict is resolved, in a workbook that was sorted since."""

from collections.abc import Iterable, Mapping, Sequence

from rosterkit.cell_names import column_letters
from rosterkit.commands.merge.record import ConflictRecord
from rosterkit.roster.cell_values import shown
from rosterkit.roster.schema import Column, folded
from rosterkit.roster.tables import Table
from rosterkit.writeback.merge_places import SheetPlaces, known_column
from rosterkit.xlsx.xml.references import column_number

_COLUMN = "column "
"""How the name of a mark begins that is a column's letters and no heading."""


class UnknownRowError(Exception):
    """The row of a conflict is not found, or not for sure; says so in words."""


def marks_of(places: SheetPlaces, row: int) -> Mapping[str, str]:
    """Return what a row is known by: its label and the like, or else all that stands in it."""
    table = places.table
    if table is not None and table.sheet.transposed:
        return {}
    columns = [*_naming(table), *_identity(table)] if table is not None else []
    marks = {one.heading: _text(places, row, _place(places, one.heading)) for one in columns}
    if any(marks.values()):
        return marks
    cells = _cells(places, row)
    ours = _computed(table) if table is not None else set()
    standing = (at for at, cell in enumerate(cells, 1) if cell != "" and at not in ours)
    return {f"{_COLUMN}{column_letters(at)}": _text(places, row, at) for at in standing}


def row_of(record: ConflictRecord, places: SheetPlaces) -> int:
    """Return the sheet row of a conflict as the sheet stands now.

    Raises:
        UnknownRowError: no row is known to be it for sure.
    """
    table = places.table
    if table is not None and table.sheet.transposed:
        return table.headings.row
    named = f"'{record.label}'" if record.label else f"row {record.row}"
    if not record.marks:
        raise UnknownRowError(f"nothing stands in {named} by which it could be known again")
    rows: Sequence[int] = table.rows if table is not None else range(1, len(places.grid.rows) + 1)
    first = [one.heading for one in _naming(table)] if table is not None else []
    names = [name for name in first if name in record.marks] or list(record.marks)
    found = _like(record, places, rows, names)
    if len(found) > 1:
        found = _like(record, places, found, record.marks)
    if len(found) == 1:
        return found[0]
    if found:
        raise UnknownRowError(f"{len(found)} rows are like {named}: {', '.join(map(str, found[:5]))}")
    raise UnknownRowError(f"no row is {named} any more, as it was when the copies were merged")


def _like(
    record: ConflictRecord, places: SheetPlaces, rows: Iterable[int], names: Iterable[str]
) -> list[int]:
    at = {name: _place(places, name) for name in names}
    return [row for row in rows if all(_text(places, row, at[name]) == record.marks[name] for name in at)]


def _naming(table: Table) -> Sequence[Column]:
    """Return the columns that name a row of a sheet."""
    unique = [one for one in table.sheet.filled_by_members if one.unique]
    return unique[:1] or _identity(table)


def _identity(table: Table) -> Sequence[Column]:
    return [table.sheet[name] for name in table.sheet.identity[0]] if table.sheet.identity else []


def _place(places: SheetPlaces, name: str) -> int | None:
    if places.table is not None and (known := known_column(places.table, name)) is not None:
        return places.table.headings.columns.get(known.name)
    return column_number(name.removeprefix(_COLUMN))


def _text(places: SheetPlaces, row: int, column: int | None) -> str:
    cells = _cells(places, row)
    return folded(shown(cells[column - 1])) if column is not None and column <= len(cells) else ""


def _cells(places: SheetPlaces, row: int) -> Sequence[object]:
    return places.grid.rows[row - 1] if row <= len(places.grid.rows) else []


def _computed(table: Table) -> set[int]:
    there = table.headings.columns
    return {there[one.name] for one in table.sheet.computed if one.name in there}

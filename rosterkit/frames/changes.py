"""What differs between a frame and the sheet that it was read from, as changes of single cells."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import pandas as pd

from rosterkit.cell_names import column_letters
from rosterkit.errors import CannotRunError
from rosterkit.frames.columns import plain_values
from rosterkit.frames.sheets import ROW, own_headings
from rosterkit.frames.stored_values import Refused, stored_own_value, stored_value
from rosterkit.roster.schema import Column
from rosterkit.roster.tables import Table
from rosterkit.spelling import Spelling
from rosterkit.writeback.places import first_free_row, heading_cell
from rosterkit.xlsx.changes import CellChange, SheetChange
from rosterkit.xlsx.grid import Grid, Raw


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadSheet:
    """A sheet as it was read, and the frame that was made of it."""

    table: Table
    grid: Grid
    frame: pd.DataFrame
    date1904: bool

    def refused(self, what: str, fix: str) -> CannotRunError:
        """Make the error that says why something is not written."""
        where = f"cannot write {self.table.workbook}: in the sheet '{self.table.title}'"
        return CannotRunError(f"{where}, {what}", fix)

    def standing(self, row: int, column: int) -> Raw:
        """Return what stands in a cell."""
        cells = self.grid.rows[row - 1] if row <= len(self.grid.rows) else []
        return cells[column - 1] if column <= len(cells) else ""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Target:
    """A column of a frame, and where its cells are."""

    heading: str
    column: Column | None
    """None of a member's own."""
    at: int | None
    """The sheet column, or the sheet row of a setting; None where the sheet has no such heading."""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Difference:
    """A value of a frame that is not the one that was read."""

    target: _Target
    row: int
    """The sheet row."""
    value: Any


def sheet_change(sheet: ReadSheet, frame: pd.DataFrame) -> SheetChange:
    """Return the changes that make a sheet say what a frame says; rows that the frame lacks stay.

    Raises:
        CannotRunError: the frame is not one of the sheet, or a cell cannot be written; the first is named.
    """
    _refuse_frame(sheet, frame)
    places = sheet.frame.index.get_indexer(frame.index).tolist()
    first, added = _first_new_row(sheet, places.count(-1)), 0
    rows = []
    for place in places:
        rows.append(sheet.table.rows[place] if place >= 0 else first + added)
        added += place < 0
    cells: list[CellChange] = []
    refused: list[CannotRunError] = []
    for difference in _differences(sheet, frame, places, rows):
        try:
            change = _cell_change(sheet, difference)
        except Refused as error:
            refused.append(sheet.refused(f"{_name(sheet, difference)} {error.why}", error.fix))
        else:
            cells += [change] if change else []
    if refused:
        more = f" (1 of {len(refused)} such cells)" if len(refused) > 1 else ""
        raise CannotRunError(f"{refused[0].message}{more}", refused[0].fix)
    _refuse_empty(sheet, cells, range(first, first + added))
    return SheetChange(
        title=sheet.table.title,
        cells=tuple(cells),
        keeps_highlights=True,
        heading=heading_cell(sheet.table) if added else None,
        last_row=first + added - 1 if added else 0,
    )


def _refuse_frame(sheet: ReadSheet, frame: pd.DataFrame) -> None:
    """Refuse a frame whose rows or columns are not known to be those of the sheet."""
    if list(frame.index.names) != [ROW]:
        # Rows that are numbered anew, as by reset_index, would be taken for other engines.
        raise sheet.refused(
            f"the frame's index is not the sheet's rows (its name is not '{ROW}')",
            "Keep the index as it was read; name that of new rows by .rename_axis('row'), with numbers that "
            "no row of the sheet has.",
        )
    names = Spelling(sheet.frame.columns)
    for name in frame.columns:
        if name not in sheet.frame.columns:
            near = names.nearest(str(name))
            hint = f"Did you mean '{near}'? Else d" if near else "D"
            raise sheet.refused(
                f"there is no heading '{name}'", f"{hint}rop the column, or add the heading to the sheet."
            )
    twice = frame.columns[frame.columns.duplicated()]
    if len(twice):
        raise sheet.refused(f"the frame has '{twice[0]}' twice", "Drop one of them.")
    known = frame.index[frame.index.isin(sheet.frame.index)]
    again = known[known.duplicated()]
    if len(again):
        raise sheet.refused(
            f"the frame has row {again[0]} twice", "Give new rows numbers that no row of the sheet has."
        )


def _first_new_row(sheet: ReadSheet, count: int) -> int:
    if count and sheet.table.sheet.transposed:
        raise sheet.refused("no row can be added", "Keep the one row of settings.")
    return first_free_row(sheet.table, count) if count else 0


def _differences(
    sheet: ReadSheet, frame: pd.DataFrame, places: Sequence[int], rows: Sequence[int]
) -> Iterator[_Difference]:
    """Return what differs; ``places`` are positions in the frame that was read, -1 for a new row."""
    for target in _targets(sheet.table):
        if target.heading in frame.columns:
            before, after = plain_values(sheet.frame[target.heading]), plain_values(frame[target.heading])
            for place, row, value in zip(places, rows, after, strict=True):
                if not _same(value, before[place] if place >= 0 else None):
                    yield _Difference(target=target, row=row, value=value)


def _same(value: Any, before: Any) -> bool:
    """Tell whether a cell holds a value; TRUE is equal to 1 in Python only."""
    return isinstance(value, bool) == isinstance(before, bool) and bool(value == before)


def _targets(table: Table) -> Iterator[_Target]:
    for column in table.sheet.columns:
        at = table.headings.columns.get(column.name)
        yield _Target(heading=column.heading, column=column, at=at)
    for heading, at in own_headings(table).items():
        yield _Target(heading=heading, column=None, at=at)


def _place(sheet: ReadSheet, difference: _Difference) -> tuple[int, int] | None:
    at = difference.target.at
    if at is None:
        return None
    return (at, sheet.table.value_column) if sheet.table.sheet.transposed else (difference.row, at)


def _name(sheet: ReadSheet, difference: _Difference) -> str:
    place = _place(sheet, difference)
    heading = difference.target.heading
    return f"{column_letters(place[1])}{place[0]} ({heading})" if place else f"the value for {heading}"


def _cell_change(sheet: ReadSheet, difference: _Difference) -> CellChange | None:
    """Return the change of a cell; None where it is blank and is to be so. Refused if it has to stay."""
    column, place = difference.target.column, _place(sheet, difference)
    if column and column.computed:
        raise Refused(
            "is computed", "Leave it as it was read, change what it comes from, and run 'rosterkit fill'."
        )
    if place is None:
        if difference.value is None:
            return None
        raise Refused("has no place, as the sheet has no such heading", "Add the heading to the sheet.")
    if place in sheet.grid.formulas:
        raise Refused("holds a formula", "Change it in a spreadsheet program.")
    standing = sheet.standing(*place)
    if column:
        value = stored_value(column, difference.value, standing, date1904=sheet.date1904)
    else:
        value = stored_own_value(difference.value, standing, date1904=sheet.date1904)
    if value is None and standing == "":
        return None
    return CellChange(row=place[0], column=place[1], value=value)


def _refuse_empty(sheet: ReadSheet, cells: Sequence[CellChange], added: range) -> None:
    """Refuse new rows without anything by which they are rows of the sheet."""
    columns = sheet.table.headings.columns.values()
    filled = {cell.row for cell in cells if cell.value is not None and cell.column in columns}
    if set(added) - filled:
        raise sheet.refused(
            "a new row would be blank", "Drop it, or give it values under headings that rosterkit knows."
        )

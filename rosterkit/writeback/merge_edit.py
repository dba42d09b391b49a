"""What copies come to together, made into an edit of the master."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from rosterkit.cell_names import column_letters
from rosterkit.roster.schema import folded, is_known
from rosterkit.roster.tables import Book, Table
from rosterkit.versions.merged import Merged, MergedRow, NotMerged, SideValue
from rosterkit.writeback.computed_columns import may_be_ours
from rosterkit.writeback.merge_places import OWN_WIDTH, SheetPlaces, known_column
from rosterkit.writeback.places import heading_cell
from rosterkit.writeback.raw_values import UnwritableError, written_as
from rosterkit.xlsx.changes import CellChange, CellStyle, SheetChange, WorkbookChange
from rosterkit.xlsx.grid import Grid, Raw


@dataclass(frozen=True, slots=True, kw_only=True)
class MergeEdit:
    """The edit of a master, and where its cells stand then."""

    change: WorkbookChange
    unwritten: tuple[NotMerged, ...]
    """What could not be taken after all."""
    places: Mapping[str, SheetPlaces]
    """By title, folded; those of our own sheets by both of their titles."""

    def cell(self, row: MergedRow, column: str | None) -> tuple[str, int, int]:
        """Return title, row and column of a cell in the merged workbook; without a column, of its row."""
        places = self.places[folded(row.sheet)]
        number = _row_number(places, row)
        if column is not None:
            return (places.grid.title, *places.cell(number, column))
        first = 1 if places.table is None or places.transposed else heading_cell(places.table)[1]
        return places.grid.title, number, first


def merge_edit(
    merged: Merged, book: Book, grids: Mapping[str, Grid], master: str, *, date1904: bool
) -> MergeEdit:
    """Return the edit of a master that has all sheets that copies come to.

    Values go into the rows that are there, added rows below the list into the first that members left blank,
    new columns to the right end. A removed row is emptied where it stands, and a cell in conflict holds what
    the base held, also where the master has moved on. No formula is overwritten.

    Args:
        merged: what the copies come to.
        book: the master.
        grids: its sheets, ours and the members' own, by title.
        master: the name of its side.
        date1904: whether it counts days from 1904.
    """
    writer = _Writer(places_in(book, grids), date1904=date1904)
    for title, heading in merged.new_columns:
        writer.places[folded(title)].column(heading)
    _add_rows(writer, merged)
    for taken in merged.taken:
        writer.put(taken.row, taken.column, taken.new)
    for added in merged.added:
        for column, side in added.cells.items():
            writer.put(added.row, column, side)
    for removed in merged.removed:
        places = writer.places[folded(removed.row.sheet)]
        writer.cells += ((places, cell) for cell in emptied_row(places, _row_number(places, removed.row)))
    for conflict in merged.conflicts:
        if conflict.column is not None:
            writer.places[folded(conflict.row.sheet)].column(conflict.column)
            if any(master in side.sources for side in conflict.sides):
                held = SideValue(value=conflict.base, sources=(master,), place="")
                writer.put(conflict.row, conflict.column, held)
    return MergeEdit(
        change=WorkbookChange(sheets=tuple(writer.sheet_changes())),
        unwritten=tuple(writer.unwritten),
        places=writer.places,
    )


def places_in(book: Book, grids: Mapping[str, Grid]) -> dict[str, SheetPlaces]:
    """Return where rows and columns of each sheet stand, by its titles, folded."""
    found: dict[str, SheetPlaces] = {}
    for title, grid in grids.items():
        if not is_known(title):
            found[folded(title)] = SheetPlaces(grid, None)
    for table in book.tables.values():
        places = SheetPlaces(grids[table.title], table)
        found |= {folded(table.title): places, folded(table.sheet.title): places}
    return found


def emptied_row(places: SheetPlaces, row: int) -> Iterator[CellChange]:
    """Return the cells of a row that hold what members filled in, and what we computed of it, emptied.

    Formulas stay, and so does the row, so that nothing below it moves.
    """
    for column in _of_row(places, row):
        if not (places.has_formula(row, column) or places.is_blank(row, column)):
            yield CellChange(row=row, column=column, value=None)


def _of_row(places: SheetPlaces, row: int) -> Sequence[int]:
    cells = places.grid.rows[row - 1] if row <= len(places.grid.rows) else []
    table = places.table
    if table is None:
        return range(1, len(cells) + 1)
    typed = [*table.headings.own, *_columns(table, computed=False).values()]
    computed = _columns(table, computed=True).items()
    ours = (at for name, at in computed if at <= len(cells) and may_be_ours(table.sheet[name], cells[at - 1]))
    return sorted({*typed, *ours})


def _columns(table: Table, *, computed: bool) -> dict[str, int]:
    there = table.headings.columns
    wanted = (one.name for one in table.sheet.columns if one.computed is computed)
    return {name: there[name] for name in wanted if name in there}


def _add_rows(writer: "_Writer", merged: Merged) -> None:
    added: dict[str, list[int]] = {}
    for row in (one.row for one in merged.added):
        added.setdefault(folded(row.sheet), []).append(row.added or 0)
    for title, indices in added.items():
        writer.places[title].add_rows(indices)


def _row_number(places: SheetPlaces, row: MergedRow) -> int:
    if row.added is not None:
        return places.added_rows[row.added]
    return row.row or 0


class _Writer:
    """Takes in cells of all sheets, and refuses what would overwrite a formula or is no value."""

    def __init__(self, places: dict[str, SheetPlaces], *, date1904: bool) -> None:
        self.places = places
        self.date1904 = date1904
        self.cells: list[tuple[SheetPlaces, CellChange]] = []
        self.unwritten: list[NotMerged] = []

    def put(self, row: MergedRow, column: str, side: SideValue) -> None:
        """Let a cell hold a value; what cannot be is listed."""
        places = self.places[folded(row.sheet)]
        at = places.cell(_row_number(places, row), column)
        try:
            cell = value_change(places, at, side.value, date1904=self.date1904)
        except UnwritableError as error:
            self.unwritten += [
                NotMerged(
                    source=source,
                    sheet=places.grid.title,
                    cell=side.place,
                    value=side.value,
                    reason=f"{error}; it is not taken into {column_letters(at[1])}{at[0]}",
                )
                for source in side.sources
            ]
            return
        self.cells.append((places, cell))

    def sheet_changes(self) -> Iterator[SheetChange]:
        """Return what changes in each sheet."""
        for places in dict.fromkeys(self.places.values()):
            cells = [cell for one, cell in self.cells if one is places]
            cells += _headings(places)
            if cells:
                yield _sheet_change(places, cells)


def value_change(places: SheetPlaces, at: tuple[int, int], value: Raw, *, date1904: bool) -> CellChange:
    """Return what puts a value into a cell, given by row and column.

    Raises:
        UnwritableError: a formula stands there, or what was read is no value.
    """
    if places.has_formula(*at):
        raise UnwritableError("a formula stands there in the workbook, which stays")
    written, look = written_as(value, date1904=date1904)
    return CellChange(row=at[0], column=at[1], value=written, look=look)


def _headings(places: SheetPlaces) -> Iterator[CellChange]:
    table = places.table
    if table is None:
        return
    for name, at in places.added_columns.items():
        known = known_column(table, name)
        heading = name if known is None else known.heading
        if table.sheet.transposed:
            yield CellChange(row=at, column=table.name_column, value=heading)
        else:
            yield CellChange(row=table.headings.row, column=at, value=heading, look=CellStyle.HEADING)


def _sheet_change(places: SheetPlaces, cells: list[CellChange]) -> SheetChange:
    table = places.table
    if table is None or table.sheet.transposed:
        return SheetChange(title=places.grid.title, cells=tuple(cells), keeps_highlights=True)
    widths = {
        at: known.width if (known := known_column(table, name)) else OWN_WIDTH
        for name, at in places.added_columns.items()
    }
    return SheetChange(
        title=table.title,
        cells=tuple(cells),
        keeps_highlights=True,
        widths=widths,
        heading=heading_cell(table),
        last_row=max(places.added_rows.values(), default=0),
    )

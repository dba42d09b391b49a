"""Meet addresses that go into a member's workbook, for engines and consists, and out of it again."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from rosterkit.cv.addresses import Address, Space, space_by_number
from rosterkit.errors import CannotRunError
from rosterkit.findings import Place
from rosterkit.roster.model import Layout, Locomotive, Roster
from rosterkit.roster.schema import folded
from rosterkit.roster.tables import Table
from rosterkit.writeback.places import heading_cell, places_of
from rosterkit.xlsx.changes import CellChange, CellStyle, SheetChange, WorkbookChange
from rosterkit.xlsx.grid import Grid

_ADDRESS, _KIND = "meet_address", "meet_kind"
_COLUMNS = {"Locomotives": (_ADDRESS, _KIND), "Consists": (_ADDRESS,)}
_Cells = Mapping[tuple[int, str], int | str]
"""What goes into cells, by sheet row and name of the column."""


def entered(
    roster: Roster, grids: Mapping[str, Grid], engines: Mapping[int, Address], consists: Mapping[str, int]
) -> WorkbookChange:
    """Return what enters Meet addresses, and Meet kind where the number or the cell says another kind.

    Args:
        roster: The workbook's roster.
        grids: Its sheets as they stand, by their titles.
        engines: The new addresses by the engine's sheet row.
        consists: The new addresses of consists by folded label; all rows of a consist get it.

    Raises:
        CannotRunError: a formula stands in one of the cells.
    """
    by_row = {one.table.rows[one.index]: one for one in roster.engines}
    of_engines: dict[tuple[int, str], int | str] = {}
    for row, address in engines.items():
        of_engines[row, _ADDRESS] = address.number
        kind = _kind_to_enter(by_row[row], address, roster.layout)
        if kind is not None:
            of_engines[row, _KIND] = kind.value
    of_consists = {
        (one.table.rows[one.index], _ADDRESS): consists[folded(one.consist or "")]
        for one in roster.consist_members
        if folded(one.consist or "") in consists
    }
    tables = roster.book.tables
    return WorkbookChange(
        sheets=tuple(
            _entered(tables[title], grids[tables[title].title], cells)
            for title, cells in (("Locomotives", of_engines), ("Consists", of_consists))
            if cells
        )
    )


def _kind_to_enter(engine: Locomotive, address: Address, layout: Layout) -> Space | None:
    """Return the kind that has to be entered; None where the cell may stay as it is."""
    by_number = space_by_number(address.number, layout.shorts, layout.long_from)
    meant = Space(engine.meet_kind) if engine.meet_kind else by_number
    return None if meant is address.space and _KIND not in engine.unusable else address.space


def _entered(table: Table, grid: Grid, cells: _Cells) -> SheetChange:
    columns, added = places_of(table, list(dict.fromkeys(name for _, name in cells)))
    changes = [
        CellChange(
            row=table.headings.row,
            column=columns[name],
            value=table.sheet[name].heading,
            look=CellStyle.HEADING,
        )
        for name in added
    ]
    for (row, name), value in cells.items():
        if (row, columns[name]) in grid.formulas:
            place = Place(table.workbook, table.title, row, columns[name])
            raise CannotRunError(
                f"{place} holds a formula under {table.heading(name)}, where {value} has to be entered",
                "Put a value in its place, or empty the cell.",
            )
        changes.append(CellChange(row=row, column=columns[name], value=value))
    return SheetChange(
        title=table.title,
        cells=tuple(changes),
        keeps_highlights=True,
        widths={columns[name]: table.sheet[name].width for name in added},
        heading=heading_cell(table),
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Cleared:
    """What empties the columns for a meet of a workbook."""

    change: WorkbookChange
    engines: int
    """Rows of Locomotives that change."""
    consists: int
    """Consists that change; each has one row or more."""
    formulas: tuple[Place, ...]
    """Cells with a formula of the member's, which stay."""


def cleared(roster: Roster, grids: Mapping[str, Grid]) -> Cleared:
    """Return what empties Meet address and Meet kind in Locomotives and Consists, whatever stands there."""
    tables = {title: roster.book.tables[title] for title in _COLUMNS if title in roster.book.tables}
    cells = {title: list(_filled(table, grids[table.title])) for title, table in tables.items()}
    emptied = {title: [cell for cell, formula in some if not formula] for title, some in cells.items()}
    rows = {title: {cell.row for cell in some} for title, some in emptied.items()}
    labels = {one.table.rows[one.index]: folded(one.consist or "") for one in roster.consist_members}
    return Cleared(
        change=WorkbookChange(
            sheets=tuple(
                SheetChange(title=tables[title].title, cells=tuple(some), keeps_highlights=True)
                for title, some in emptied.items()
                if some
            )
        ),
        engines=len(rows["Locomotives"]),
        consists=len({labels[row] for row in rows.get("Consists", ())}),
        formulas=tuple(
            Place(tables[title].workbook, tables[title].title, cell.row, cell.column)
            for title, some in cells.items()
            for cell, formula in some
            if formula
        ),
    )


def _filled(table: Table, grid: Grid) -> Iterator[tuple[CellChange, bool]]:
    """Return the change that empties each cell in which something stands, and whether that is a formula."""
    for name in _COLUMNS[table.sheet.title]:
        if name in table.headings.columns:
            column = table.headings.columns[name]
            for index, row in enumerate(table.rows):
                formula = (row, column) in grid.formulas
                if table.raw[name][index] != "" or formula:
                    yield CellChange(row=row, column=column, value=None), formula

"""Where the cells of merged rows stand in the master: rows that are there, free rows below, new columns."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from rosterkit.cell_names import column_letters
from rosterkit.formulas.shift import shifted
from rosterkit.roster.schema import Column, folded
from rosterkit.roster.tables import Table
from rosterkit.xlsx.grid import Grid
from rosterkit.xlsx.package.limits import LAST_ROW
from rosterkit.xlsx.xml.references import column_number

OWN_WIDTH = 16.0
"""Characters that a new column of a member's own is wide."""
_LAST_ROWS = 3
"""Rows at the end of the list, from one of which a formula may be filled down."""


@dataclass(slots=True, eq=False)
class SheetPlaces:
    """Where rows and columns of one sheet of the master stand; new ones are given places as they come up."""

    grid: Grid
    table: Table | None
    """None of a sheet of the members' own, whose columns go by their letters."""
    added_columns: dict[str, int] = field(default_factory=dict)
    """The sheet column of each new heading; of settings, the sheet row."""
    added_rows: dict[int, int] = field(default_factory=dict)
    """The sheet row of each added row, by its index."""

    @property
    def transposed(self) -> bool:
        """Whether settings stand in its rows."""
        return self.table is not None and self.table.sheet.transposed

    def has_formula(self, row: int, column: int) -> bool:
        """Tell whether a formula stands in a cell."""
        return (row, column) in self.grid.formulas

    def is_blank(self, row: int, column: int) -> bool:
        """Tell whether nothing stands in a cell."""
        cells = self.grid.rows[row - 1] if row <= len(self.grid.rows) else []
        return column > len(cells) or cells[column - 1] == ""

    def column(self, name: str) -> int:
        """Return the sheet column of a heading, or of letters; a new one at the right end where it lacks."""
        if self.table is None:
            return column_number(name)
        standing = place_of_heading(self.table, name)
        return standing or self.added_columns.get(name) or self._new_column(self.table, name)

    def _new_column(self, table: Table, name: str) -> int:
        if table.sheet.transposed:
            taken = [len(self.grid.rows), *self.added_columns.values()]
            place = max([*taken, *(one.bottom for one in table.areas)]) + 1
        else:
            place = max([table.headings.width, *self.added_columns.values()]) + 1
            while place in table.beyond:
                place += 1
        self.added_columns[name] = place
        return place

    def cell(self, row: int, column: str) -> tuple[int, int]:
        """Return row and column of a cell in a row of the sheet; of a setting, that of its value."""
        if self.table is not None and self.table.sheet.transposed:
            return self.column(column), self.table.value_column
        return row, self.column(column)

    def add_rows(self, indices: Sequence[int]) -> None:
        """Give places to added rows, in the order of their indices."""
        free = _free_rows(self.table, self.grid) if self.table else _rows_below(self.grid)
        self.added_rows |= zip(sorted(indices), free, strict=False)


def own_headings(table: Table) -> Mapping[str, int]:
    """Return the sheet columns of the members' own by heading; one that stands there before has its letters.

    Rows of versions are laid side by side under these names.
    """
    found: dict[str, int] = {}
    seen: set[str] = set()
    for place, text in sorted(table.headings.own.items()):
        found[f"{text} ({column_letters(place)})" if folded(text) in seen else text] = place
        seen.add(folded(text))
    return found


def known_column(table: Table, name: str) -> Column | None:
    """Return the column of ours that bears a heading; None where none does."""
    return next((one for one in table.sheet.columns if folded(one.heading) == folded(name)), None)


def place_of_heading(table: Table, name: str) -> int | None:
    """Return the sheet column under a heading, or the row of a setting; None where it is missing."""
    known = known_column(table, name)
    if known is not None:
        return table.headings.columns.get(known.name)
    own = own_headings(table)
    return own.get(name) or next((at for text, at in own.items() if folded(text) == folded(name)), None)


def _free_rows(table: Table, grid: Grid) -> Iterator[int]:
    """Return rows below the list that members have left blank, the first ones first.

    Formulas of ours may stand there, and compute as soon as something is typed; so may a formula that is
    filled down from the list. What else stands there, or lies over cells, is passed over.
    """
    ours = {table.headings.columns[one.name] for one in table.sheet.computed if one.name in table.raw}
    for row in range(max([table.headings.row, *table.rows]) + 1, LAST_ROW + 1):
        cells = grid.rows[row - 1] if row <= len(grid.rows) else []
        standing = [at for at, cell in enumerate(cells, 1) if cell != ""]
        lies_over = any(one.top <= row <= one.bottom for one in table.covered)
        if not lies_over and all(_is_filled_down(table, grid, row, at, ours) for at in standing):
            yield row


def _is_filled_down(table: Table, grid: Grid, row: int, column: int, ours: Collection[int]) -> bool:
    formula = grid.formulas.get((row, column))
    if formula is None or column in ours:
        return formula is not None
    above = ((one, grid.formulas.get((one, column))) for one in table.rows[-_LAST_ROWS:])
    return any(text is not None and shifted(text, row - one, 0) == formula for one, text in above)


def _rows_below(grid: Grid) -> Iterator[int]:
    areas = (*grid.merged, *grid.drawing_areas)
    last = max([len(grid.rows), *(row for row, _ in grid.formulas), *(one.bottom for one in areas)])
    return iter(range(last + 1, LAST_ROW + 1))

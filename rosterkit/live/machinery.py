"""The hidden columns of the sheet Live, in which blocks of cells stand side by side for the formulas."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from rosterkit.cell_names import column_letters
from rosterkit.live.writing import ROW, quoted

TITLE = "Live"
"""The sheet's title, unless a member's own sheet has it."""
FIRST_COLUMN = 14
"""Where the blocks begin: to the right of the part for people."""
ROW_BEFORE = "{p}"
"""Stands in a template for the number of the row before that which is filled."""
FIRST_ROW = 2
"""The blocks' first row, below their headings."""

_LEAST = 2
"""Rows of a range: Gnumeric's MATCH finds nothing in a single cell."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LiveCell:
    """A cell of a block: a value, or a formula."""

    value: str | int | float | None = None
    formula: str | None = None
    template: str | None = None
    """What the formula was made from, where it was filled down; the same for all cells of one fill."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Block:
    """Some columns of equal length: declared first, so that formulas can refer to them, and then filled."""

    name: str
    columns: tuple[str, ...]
    rows: int


@dataclass(slots=True)
class Machinery:
    """The blocks with their places. Formulas refer to them by the names of block and column."""

    title: str
    blocks: Sequence[Block]
    cells: dict[tuple[int, int], LiveCell] = field(default_factory=dict)
    """By sheet row and column."""
    filled: dict[int, tuple[str, int]] = field(default_factory=dict)
    """By sheet column: a formula that is filled down from the first row of the blocks, and its last row."""
    _starts: dict[str, int] = field(init=False)
    _by_name: dict[str, Block] = field(init=False)

    def __post_init__(self) -> None:
        """Place the blocks side by side, a column apart."""
        self._by_name = {block.name: block for block in self.blocks}
        self._starts = {}
        column = FIRST_COLUMN
        for block in self.blocks:
            self._starts[block.name] = column
            column += len(block.columns) + 1

    def __contains__(self, name: str) -> bool:
        """Tell whether there is a block of that name."""
        return name in self._by_name

    def names(self, block: str) -> tuple[str, ...]:
        """Return the names of the columns of a block."""
        return self._by_name[block].columns

    def rows(self, block: str) -> int:
        """Return how many rows a block has."""
        return self._by_name[block].rows

    @property
    def last_column(self) -> int:
        """The last sheet column of a block."""
        last = self.blocks[-1]
        return self._starts[last.name] + len(last.columns) - 1

    def column(self, block: str, column: str) -> int:
        """Return the sheet column of a column; KeyError or ValueError for an unknown one."""
        return self._starts[block] + self._by_name[block].columns.index(column)

    def one(self, block: str, column: str, at: int = 0) -> str:
        """Refer to one cell of a block by its place from 0."""
        return f"{quoted(self.title)}${self._letters(block, column)}${FIRST_ROW + at}"

    def whole(self, block: str, column: str, to: str | None = None) -> str:
        """Refer to all cells of a column, or of the columns from it to another."""
        last = FIRST_ROW + max(self._by_name[block].rows, _LEAST) - 1
        first, other = self._letters(block, column), self._letters(block, to or column)
        return f"{quoted(self.title)}${first}${FIRST_ROW}:${other}${last}"

    def here(self, block: str, column: str) -> str:
        """Refer to the cell of another column in the row of a block that is being filled."""
        return f"${self._letters(block, column)}{ROW}"

    def is_whole(self) -> str:
        """Return 1 while no row was inserted into the blocks or deleted from them, else an error.

        Their formulas find cells by the number of the row, and would then find those of others.
        """
        above, below = FIRST_ROW - 1, FIRST_ROW + max(block.rows for block in self.blocks)
        at = f"{quoted(self.title)}${column_letters(FIRST_COLUMN)}"
        return f"IF(AND(ROW({at}${above})={above},ROW({at}${below})={below}),1,1/0)"

    @staticmethod
    def place() -> str:
        """Return the place from 1 of the row of a block that is being filled, worked out from the row."""
        return f"(ROW()-{FIRST_ROW - 1})"

    def fill(self, block: str, column: str, template: str) -> None:
        """Fill a column of a block down with a formula."""
        at = self.column(block, column)
        self.filled[at] = template, FIRST_ROW + self._by_name[block].rows - 1
        for row in range(FIRST_ROW, FIRST_ROW + self._by_name[block].rows):
            self.cells[row, at] = LiveCell(formula=template.replace(ROW, str(row)))

    def fill_part(self, block: str, column: str, first: int, count: int, template: str) -> None:
        """Fill so many cells of a column down, from a place from 0; ``{p}`` is the row before."""
        at = self.column(block, column)
        for row in range(FIRST_ROW + first, FIRST_ROW + first + count):
            formula = template.replace(ROW, str(row)).replace(ROW_BEFORE, str(row - 1))
            self.cells[row, at] = LiveCell(formula=formula, template=template)

    def part(self, block: str, column: str, first: int, count: int) -> str:
        """Refer to so many cells of a column, from a place from 0."""
        letters, top = self._letters(block, column), FIRST_ROW + first
        return f"{quoted(self.title)}${letters}${top}:${letters}${top + count - 1}"

    def before(self, block: str, column: str) -> str:
        """Refer to the cell of a column in the row before that of a part that is being filled."""
        return f"${self._letters(block, column)}{ROW_BEFORE}"

    def put(self, block: str, column: str, cells: Sequence[LiveCell | str | int | float | None]) -> None:
        """Put values or single formulas into a column of a block, from its first row."""
        at = self.column(block, column)
        for row, content in enumerate(cells, FIRST_ROW):
            if content is None:
                continue
            self.cells[row, at] = content if isinstance(content, LiveCell) else LiveCell(value=content)

    def put_one(self, block: str, column: str, at: int, formula: str) -> None:
        """Put one formula into a cell of a block by its place from 0."""
        self.cells[FIRST_ROW + at, self.column(block, column)] = LiveCell(formula=formula)

    def headings(self) -> Mapping[int, str]:
        """Return what stands above each column of the blocks, by sheet column."""
        return {
            self._starts[block.name] + n: f"{block.name}: {name}"
            for block in self.blocks
            for n, name in enumerate(block.columns)
        }

    def _letters(self, block: str, column: str) -> str:
        return column_letters(self.column(block, column))

"""What rosterkit wants to put into a workbook: cells of a member's sheets, and whole sheets of its own."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import NamedTuple, Protocol

from rosterkit.cell_names import column_letters
from rosterkit.xlsx.chart import Chart
from rosterkit.xlsx.read.formats import Kind
from rosterkit.xlsx.xml.values import Value, blank

LINE = 15.0
"""Points that a line of plain text takes."""


def lines_of(text: str, width: float) -> int:
    """Return the lines that a text takes in a column so many characters wide.

    Spreadsheet programs do not all reckon a row's height anew when they open a file.
    """
    if len(text) <= width and "\n" not in text:
        return 1
    most = max(1, int(width))
    lines, filled = 1, 0
    for word in text.split():
        length = len(word)
        if filled and filled + 1 + length > most:
            lines, filled = lines + 1, 0
        # A word that is longer than a line goes on in the next ones.
        over = max(0, -(-length // most) - 1)
        lines += over
        filled += length - over * most + (1 if filled else 0)
    return lines


class CellStyle(StrEnum):
    """How a cell of a sheet of our own looks; the file's room gives each a format."""

    PLAIN = "plain"
    TITLE = "title"
    HEADING = "heading"
    WRAPPED = "wrapped"
    LINK = "link"
    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"
    CAUTION = "caution"
    ENGINE = "engine"
    """The line that begins an engine's card."""
    VALUE = "value"
    """A number to key in: large and bold."""
    FIXED = "fixed"
    """A fixed-width text, such as bits."""
    BOX = "box"
    """An empty framed cell to tick or to write into."""
    INPUT = "input"
    """A framed cell of a sheet of our own to type into."""
    CHOICE = "choice"
    """Such a cell for one word of a list, which stays the text that it is."""
    DATE = "date"
    """A number that is to be read as a date; so with the next ones, as what they say."""
    DATE_AND_TIME = "date and time"
    TIME = "time"
    DURATION = "duration"
    SCIENTIFIC = "scientific"
    NUMBER = "number"
    """A number that is to be read as no more than that."""
    COMPUTED = "computed"
    """A computed cell of a member's sheet: grey, not for typing."""
    COMPUTED_WHOLE = "computed whole"
    """A computed cell with a whole number, which no program shows in the format of a cell it refers to."""
    COMPUTED_ADDRESS = "computed address"
    """A computed cell with an address: short n as n, long n as -n, shown in words."""
    FREE = "free"
    """Of an address map: nobody uses it."""
    TAKEN = "taken"
    """Of an address map: one engine or consist uses it; of a run of addresses, hardly any is used."""
    HALF = "half"
    """Of an address map: up to half of a run of addresses is used."""
    FULL = "full"
    """Of an address map: more than half of a run of addresses is used."""
    LENT = "lent"
    """Of an address map: lent for a meet only."""
    KEPT = "kept"
    """Of an address map: not for engines."""
    CLASH = "clash"
    """Of an address map: several want it."""


SHOWN_AS = {
    CellStyle.DATE: Kind.DATE,
    CellStyle.DATE_AND_TIME: Kind.DATE,
    CellStyle.TIME: Kind.TIME,
    CellStyle.DURATION: Kind.DURATION,
    CellStyle.SCIENTIFIC: Kind.SCIENTIFIC,
    CellStyle.NUMBER: Kind.NUMBER,
}
"""What a number means in a cell of a look that is nothing but a number format.

A cell whose format gives a number that meaning already keeps its format; any other gets the number format
of the look beside its own format.
"""


class Wanted(Protocol):
    """What a cell is to hold, on a sheet of whoever."""

    @property
    def value(self) -> Value:
        """A value, or the result of the formula."""

    @property
    def formula(self) -> str | None:
        """The text of a formula without ``=``."""

    @property
    def look(self) -> CellStyle | None:
        """How it looks."""


def leaves_blank(wanted: Wanted) -> bool:
    """Tell whether a cell is to hold nothing at all."""
    return wanted.formula is None and blank(wanted.value)


class OwnCell(NamedTuple):
    """One cell of a sheet of our own; text is always stored as text, so it never begins a formula."""

    value: str | int | float | None = None
    look: CellStyle = CellStyle.PLAIN
    link: tuple[str, str] | None = None
    """Sheet title and cell (such as ``("Locomotives", "C7")``) that a click on the cell leads to."""
    formula: str | None = None
    """The text of a formula without ``=``, as the file has it; ``value`` is its result."""
    typed: bool = False
    """It is for typing into: what somebody typed there is theirs, and never refused when it is replaced."""


BLANK = OwnCell()
"""A cell in which nothing stands and that has no look: one object for the many there are."""


class Choices(NamedTuple):
    """Cells of one column that take a text out of some cells of their own row, and no other."""

    column: int
    """Of the cells, from 1."""
    rows: tuple[int, int]
    """The first and the last of them."""
    offered: tuple[int, int]
    """The first and the last column of what is offered; blank ones offer nothing."""

    @property
    def area(self) -> str:
        """The cells."""
        letters = column_letters(self.column)
        return f"{letters}{self.rows[0]}:{letters}{self.rows[1]}"

    @property
    def formula(self) -> str:
        """What is offered to the first of them, and so to each below in its own row."""
        first, last = map(column_letters, self.offered)
        return f"${first}{self.rows[0]}:${last}{self.rows[0]}"


@dataclass(frozen=True, slots=True, kw_only=True)
class OwnSheet:
    """A sheet of our own, replaced whole each time it is written."""

    title: str
    rows: list[list[OwnCell]]
    taken_over: frozenset[tuple[int, int]] = frozenset()
    """Row and column of what somebody typed into the sheet that it replaces and that is not lost with it."""
    widths: tuple[float, ...] = ()
    """Column widths in characters, from column A."""
    frozen_rows: int = 0
    """This many first rows stay on the screen and repeat on each printed page."""
    filtered: bool = False
    """The frozen row is a heading with filter buttons."""
    landscape: bool = True
    paper: str | None = None
    """The size of paper, A4; None leaves it to whoever prints."""
    breaks: tuple[int, ...] = ()
    """A printed page ends below each of these rows (sheet rows from 1)."""
    heights: dict[int, float] = field(default_factory=dict)
    """Row heights in points by sheet row, where not automatic."""
    merges: tuple[tuple[int, int, int, int], ...] = ()
    """Cells shown as one: (top, left, bottom, right), from 1."""
    charts: tuple[Chart, ...] = ()
    filled_by_members: bool = False
    """It is made once, to be filled in; what is typed there is not to be told from what we wrote."""
    hidden_column: int | None = None
    """The column, from 1, with the codes of what we wrote, which is not shown."""
    hidden_columns: tuple[int, ...] = ()
    """Further columns, from 1, that are not shown."""
    choices: Choices | None = None
    """Cells with a drop-down list."""
    of_members: bool = False
    """It becomes the members' own, and is never replaced: it bears no mark of ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CellChange:
    """One cell of a member's sheet that rosterkit owns: a computed value, a heading, or empty (None).

    With a formula, the value is its result: None and "" are both a text without any character.
    """

    row: int
    column: int
    value: str | int | float | None
    look: CellStyle | None = None
    """A format for a cell that had none; a cell that is formatted keeps its format.

    Where the look has a number format, a cell that has none (General) gets it beside its own format.
    """
    formula: str | None = None
    """The text of a formula without ``=``, as the file has it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Highlight:
    """A conditional format of ours: cells stand out while the formula is true.

    The formula is written for the first cell of the first range, as conditional formats are, and carries
    a text by which rosterkit knows its own highlights again.
    """

    ranges: tuple[str, ...]
    """Such as ``("B7", "C3:C9")``."""
    formula: str
    look: CellStyle


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetChange:
    """All that changes in one sheet of a member's: cells, and highlights, which replace the earlier ones."""

    title: str
    cells: tuple[CellChange, ...] = ()
    highlights: tuple[Highlight, ...] = ()
    keeps_highlights: bool = False
    """Earlier highlights of ours stay as they are."""
    widths: dict[int, float] = field(default_factory=dict)
    """Widths in characters of columns that were added."""
    heading: tuple[int, int] | None = None
    """Row and column of a heading of the list that the cells belong to.

    A table or a filter over it takes in what is written at its right side and added below; others do not.
    """
    last_row: int = 0
    """The last row that is added below that list; 0 if none is."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetLock:
    """A sheet of a member's that is protected without a password, but for some of its cells."""

    title: str
    open: tuple[tuple[int, int, int, int], ...]
    """The cells that may be typed into: (top, left, bottom, right), from 1."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkbookChange:
    """All that one command wants to change in one workbook."""

    sheets: tuple[SheetChange, ...] = ()
    own_sheets: tuple[OwnSheet, ...] = ()
    """Sheets of our own, added at the end or replaced where an earlier one of ours stands."""
    replaces_typed: bool = False
    """A sheet of our own is replaced also where somebody typed into it, which is refused otherwise."""
    locks: tuple[SheetLock, ...] = ()
    """Of sheets of which nothing else changes."""
    texts: Mapping[str, str] = field(default_factory=dict)
    """By hidden names of the whole workbook, the text that each is to hold in place of an earlier one."""

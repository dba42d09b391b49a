"""What the layout of a list comes to: tables of records under headings, whichever way they ran."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import Enum

from rosterkit.lists.plain import Place, PlainCell


class Origin(Enum):
    """Where the values under a heading stand."""

    COLUMN = "column"
    """Down the column below the heading."""
    ROW = "row"
    """Across the row beside the heading: engines stand side by side."""
    LABEL = "label"
    """Beside a label of a form."""
    GROUP_ROW = "group row"
    """In a row of its own above the records that it holds for."""
    TABLE_TITLE = "title of the table"
    SHEET_TITLE = "title of the sheet"
    BLOCK_TITLE = "title of the form"
    """Above or beside a form, which it names."""


@dataclass(frozen=True, slots=True)
class Located:
    """A cell, and where in the list it stands."""

    place: Place
    cell: PlainCell


@dataclass(frozen=True, slots=True)
class Heading:
    """What a member calls a field of the records of one table."""

    key: str
    """How --as and the sheet Reading name it: SHEET!C for a column, SHEET!5 for a row, SHEET!Label for a form
    (*!Label where forms stand on a sheet each), SHEET!title, SHEET!group, SHEET!heading of the table.

    Where a later table of the sheet uses the column under another heading: SHEET!C20, its heading's cell.
    """
    text: str
    """The heading as typed; several heading rows joined by a blank, the upper first; blank for none."""
    origin: Origin
    at: tuple[Located, ...] = ()
    """The heading's own cells, from the top."""


@dataclass(frozen=True, slots=True)
class Record:
    """One row of a table, column of engines, or form."""

    key: str
    """SHEET!5 for a row, SHEET!5/F where tables stand side by side (F is the table's first column), SHEET!B
    for a column of engines, SHEET for a form that has its sheet to itself, SHEET!8 for a stacked form (its
    first row).
    """
    cells: Mapping[int, Located]
    """By the number of the heading in its table; blank cells are not there."""
    pairs: tuple[tuple[Located, Located], ...] = ()
    """CV numbers and their values that stand in a list of the record's own, as forms have them."""


@dataclass(frozen=True, slots=True)
class Table:
    """Records under headings."""

    sheet: str
    headings: tuple[Heading, ...]
    records: tuple[Record, ...]
    heading_row: int = 0
    """The last row of the headings, 0 where they stand in none."""


MOST_SHOWN = 60
"""So many signs of what was skipped are shown."""


@dataclass(frozen=True, slots=True)
class Skipped:
    """Cells of a sheet that belong to no table."""

    place: Place
    """The first of them."""
    last: Place
    text: str
    """What they say, shortened."""
    why: str
    """Why they are no record: a title, a total, a legend, a note, a heading repeated, no table there."""
    doubt: bool = False
    """Whether somebody has to look at it, as it may say something of an engine."""


@dataclass(frozen=True, slots=True)
class Layout:
    """Every table of a list, what belongs to none, and what colours mean."""

    tables: tuple[Table, ...]
    skipped: tuple[Skipped, ...] = ()
    colours: Mapping[tuple[str, str], str] = field(default_factory=dict)
    """By sheet and colour (RRGGBB): what a legend on the sheet says it means."""


def shortened(text: str) -> str:
    """Return a text of at most ``MOST_SHOWN`` signs, the last an ellipsis where some are left out."""
    return text if len(text) <= MOST_SHOWN else text[: MOST_SHOWN - 1] + "…"

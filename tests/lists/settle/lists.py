"""Lists made of a few rows written down in a test, laid out and read without looking at a file."""

from collections.abc import Mapping, Sequence

from rosterkit.lists.adopted import Adopted, AdoptedRow
from rosterkit.lists.plain import Place, PlainCell, PlainList, PlainSheet, PlainValue
from rosterkit.lists.reading import ENGINES, ColumnReading, Sure, TableReading
from rosterkit.lists.settle.settle import settled
from rosterkit.lists.tables import Heading, Layout, Located, Origin, Record, Table

Content = PlainValue | PlainCell
Columns = Mapping[str, str]
"""By heading, in the order of the columns, what it is read as."""


def cell(content: Content) -> PlainCell:
    """Make a cell of what it holds; a whole float is shown without its point."""
    if isinstance(content, PlainCell):
        return content
    shown = int(content) if isinstance(content, float) and content.is_integer() else content
    return PlainCell(text=str(shown).strip(), value=content)


def located(content: Content, row: int, column: int, sheet: str = "List") -> Located:
    """Put a cell in its place."""
    return Located(Place(sheet, row, column), cell(content))


def reading(
    columns: Columns,
    *rows: Sequence[Content],
    subject: str = ENGINES,
    sheet: str = "List",
    origins: Mapping[str, Origin] | None = None,
    pairs: Sequence[tuple[Content, Content]] = (),
    sure: Mapping[str, Sure] | None = None,
) -> TableReading:
    """Make a table with its headings in row 1, and what they are read as; "" is a blank cell.

    ``pairs`` stand below each other in the columns Y and Z, beside the last row.
    """
    headings = tuple(
        Heading(f"{sheet}!{n}", text, (origins or {}).get(text, Origin.COLUMN), (located(text, 1, n, sheet),))
        for n, text in enumerate(columns, 1)
    )
    records = tuple(
        Record(
            f"{sheet}!{row}",
            {n: located(one, row, n + 1, sheet) for n, one in enumerate(cells) if one != ""},
            tuple(
                (located(cv, row + n, 25, sheet), located(value, row + n, 26, sheet))
                for n, (cv, value) in enumerate(pairs)
                if row == len(rows) + 1
            ),
        )
        for row, cells in enumerate(rows, 2)
    )
    table = Table(sheet, headings, records, 1)
    read = tuple(
        ColumnReading(n, read_as, (sure or {}).get(text, Sure.SURE), "by its heading", ())
        for n, (text, read_as) in enumerate(columns.items())
    )
    return TableReading(table, subject, read)


def adopted(
    *readings: TableReading,
    colours: Mapping[tuple[str, str], str] | None = None,
    sheets: Sequence[PlainSheet] = (),
) -> Adopted:
    """Settle tables."""
    layout = Layout(tuple(one.table for one in readings), colours=colours or {})
    return settled(layout, readings, PlainList("list.xlsx", tuple(sheets)))


def engines(columns: Columns, *rows: Sequence[Content]) -> tuple[AdoptedRow, ...]:
    """Settle one table of engines, and return them."""
    return adopted(reading(columns, *rows)).engines


def one_engine(
    columns: Columns, *row: Content, pairs: Sequence[tuple[Content, Content]] = ()
) -> tuple[dict[str, object], list[str]]:
    """Settle one engine: its values, and the messages of its doubts each with its cell."""
    found = adopted(reading(columns, row, pairs=pairs))
    doubts = [f"{doubt.place.cell}: {doubt.message}" for doubt in found.doubts]
    return dict(found.engines[0].values), doubts

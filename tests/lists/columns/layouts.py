"""Layouts of lists as tests write them: headings and rows of texts."""

from collections.abc import Mapping, Sequence

from rosterkit.cell_names import column_letters
from rosterkit.lists.columns.recognise import recognised
from rosterkit.lists.plain import Place, PlainCell
from rosterkit.lists.reading import ColumnReading, Corrections, TableReading
from rosterkit.lists.tables import Heading, Layout, Located, Origin, Record, Table

NOTHING_SAID = Corrections({}, {})
Lines = Sequence[Sequence[str]]


def table(lines: Lines, sheet: str = "S", titles: Mapping[Origin, Sequence[str]] | None = None) -> Table:
    """A table whose first line has the headings; lines of a heading are parted by |.

    ``titles`` are what group rows and titles say of each record, by where they stand.
    """
    top, *below = lines
    headings = [
        Heading(
            f"{sheet}!{column_letters(number)}",
            " ".join(text.replace("|", " ").split()),
            Origin.COLUMN,
            tuple(_located(sheet, row, number, part) for row, part in enumerate(text.split("|"), 1) if part),
        )
        for number, text in enumerate(top, 1)
    ]
    said = dict(titles or {})
    headings += [Heading(f"{sheet}!{origin.value}", "", origin) for origin in said]
    extra = list(said.values())
    records = [
        Record(
            f"{sheet}!{row}",
            {
                number: _located(sheet, row, number + 1, text)
                for number, text in enumerate([*line[: len(top)], *(texts[row - 2] for texts in extra)])
                if text
            },
        )
        for row, line in enumerate(below, 2)
    ]
    return Table(sheet, tuple(headings), tuple(records), 1)


def _located(sheet: str, row: int, column: int, text: str) -> Located:
    return Located(Place(sheet, row, column), PlainCell(text, text))


def read(lines: Lines, sheet: str = "S", **said: str) -> TableReading:
    """What a list of one table comes to, with corrections by the letter of the column."""
    given = {f"{sheet}!{letter}": word for letter, word in said.items()}
    return recognised(Layout((table(lines, sheet),)), Corrections(given, {}))[0]


def words(lines: Lines, sheet: str = "S", **said: str) -> str:
    """What the columns are read as, parted by blanks."""
    return " ".join(one.read_as for one in read(lines, sheet, **said).columns)


def below(heading: str, *texts: str) -> ColumnReading:
    """How a column of engines is read that stands beside their railway, number and address."""
    names = [f"NE {5200 + number}" for number in range(len(texts))]
    lines = [["Railway", "Road number", "DCC address", heading]]
    lines += [["NE", name[3:], name[3:], text] for name, text in zip(names, texts, strict=True)]
    return read(lines).columns[3]

"""Titles that hold for every engine of a list, and so tell no two of them apart."""

from collections.abc import Container, Iterator, Sequence

from rosterkit.lists.reading import ENGINES, OWN, TableReading
from rosterkit.lists.tables import Heading, Origin, Skipped, Table

_TITLES = (Origin.TABLE_TITLE, Origin.SHEET_TITLE, Origin.BLOCK_TITLE)
_SHOWN = 60


def titles_of_all(readings: Sequence[TableReading]) -> frozenset[str]:
    """Return the texts of titles that stand over every table of engines, in all of its records."""
    found = [
        {text for heading in one.table.headings if (text := title_text(heading, one.table))}
        for one in readings
        if one.subject == ENGINES and one.table.records
    ]
    return frozenset(set.intersection(*found)) if found else frozenset()


def title_text(heading: Heading, table: Table) -> str:
    """Return what a title says of all the records of a table; blank where it differs, or is no title."""
    if heading.origin not in _TITLES:
        return ""
    number = table.headings.index(heading)
    texts = {one.cells[number].cell.text if number in one.cells else "" for one in table.records}
    return texts.pop() if len(texts) == 1 else ""


def same_for_all(heading: Heading, table: Table, told: Container[str]) -> bool:
    """Tell whether a heading is a title that is among those of all engines."""
    return heading.origin in _TITLES and title_text(heading, table) in told


def skipped_titles(readings: Sequence[TableReading], told: Container[str]) -> Iterator[Skipped]:
    """Return the titles that are read as a member's own and left out of the rows, each once."""
    places = set()
    for reading in readings:
        for column in reading.columns:
            heading = reading.table.headings[column.heading]
            if column.read_as != OWN or not same_for_all(heading, reading.table, told):
                continue
            one = next(one.cells[column.heading] for one in reading.table.records)
            if one.place not in places:
                places.add(one.place)
                text = f"{heading.text} {one.cell.text}".strip()[:_SHOWN]
                yield Skipped(one.place, one.place, text, "a title, the same for every engine")

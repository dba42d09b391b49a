"""What the colours of an engine's row mean, by a legend, also where the coloured cell is blank."""

import re
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from rosterkit.lists.plain import PlainList
from rosterkit.lists.reading import OWN, TableReading
from rosterkit.lists.tables import Heading, Layout, Origin, Record, Table

_SAYS = re.compile(r"[^=]{1,40}=\s*(\S[^=]*)")
"""Yellow = needs service."""


@dataclass(frozen=True, slots=True)
class Colours:
    """The meanings of colours, and the blank cells that have one of them."""

    meanings: Mapping[tuple[str, str], str] = field(default_factory=dict)
    """By sheet and colour."""
    blank: Mapping[tuple[str, int], Sequence[tuple[int, str]]] = field(default_factory=dict)
    """By sheet and row, the columns and colours of blank cells whose colour means something."""

    def of_blank_cells(self, record: Record, table: Table) -> Iterator[str]:
        """Return what the colours of blank cells in a record's rows mean, within the columns of its table."""
        if not self.blank:
            return
        columns = [one.at[-1].place.column for one in table.headings if one.at and _is_column(one)] or [0]
        rows = {one.place.row for number, one in record.cells.items() if _is_column(table.headings[number])}
        for row in sorted(rows):
            for column, fill in self.blank.get((table.sheet, row), ()):
                if min(columns) <= column <= max(columns):
                    yield self.meanings[table.sheet, fill]


def colours_of(layout: Layout, readings: Sequence[TableReading], plain: PlainList) -> Colours:
    """Return the colours that the layout's legends explain, and those that stand among headings.

    A coloured heading such as "yellow = needs service" with nothing below it is a legend.
    """
    meanings = dict(layout.colours)
    for reading in readings:
        for column in reading.columns:
            heading = reading.table.headings[column.heading]
            if column.read_as == OWN and (said := _legend(heading, reading.table, column.heading)):
                meanings.setdefault((reading.table.sheet, heading.at[-1].cell.fill), said)
    blank: dict[tuple[str, int], list[tuple[int, str]]] = defaultdict(list)
    for sheet in plain.sheets if meanings else ():
        for (row, place), cell in sheet.cells.items():
            if not cell.text and (sheet.title, cell.fill) in meanings:
                blank[sheet.title, row].append((place, cell.fill))
    return Colours(meanings, blank)


def _is_column(heading: Heading) -> bool:
    return heading.origin is Origin.COLUMN


def _legend(heading: Heading, table: Table, number: int) -> str:
    """Return what a heading says that its own colour means; blank where it is no legend."""
    found = _SAYS.fullmatch(heading.text)
    if found is None or not heading.at or not heading.at[-1].cell.fill:
        return ""
    return "" if any(number in record.cells for record in table.records) else found[1]

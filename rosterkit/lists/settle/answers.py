"""Letters for yes and no in the columns of a table: O and N, T and N, S and N."""

from collections.abc import Mapping
from functools import cache

from rosterkit.lists.reading import TableReading
from rosterkit.lists.settle.words import document
from rosterkit.roster.schema import folded, sheet


def letters_of(reading: TableReading) -> dict[int, Mapping[str, str]]:
    """Return, by the number of its heading, what the letters of each column of yes and no mean.

    Only where a column has both letters of one language and nothing else: an O alone may be a nought.
    """
    choices = {column.name for column in sheet(reading.subject).columns if len(column.choices) == 2}
    found = {}
    for column in reading.columns:
        if column.read_as not in choices:
            continue
        cells = (record.cells.get(column.heading) for record in reading.table.records)
        texts = frozenset(folded(one.cell.text) for one in cells if one is not None)
        if len(texts - {""}) == 2 and (meant := _pairs().get(texts - {""})):
            found[column.heading] = meant
    return found


@cache
def _pairs() -> Mapping[frozenset[str], Mapping[str, str]]:
    """Return by both letters, folded, what each says."""
    pairs = {pair for some in document()["letters of yes and no"].values() for pair in some}
    both = (pair.split("/") for pair in pairs)
    return {frozenset((yes, no)): {yes: "yes", no: "no"} for yes, no in both}

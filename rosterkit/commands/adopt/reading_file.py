"""Reads the sheet Reading of a workbook that came of a list, in whatever program it was edited since."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from rosterkit.commands.adopt.words import HEADING_ROW
from rosterkit.errors import CannotRunError
from rosterkit.roster.headings import heading_text
from rosterkit.roster.schema import folded
from rosterkit.xlsx.grid import Grid
from rosterkit.xlsx.package.opening import opened
from rosterkit.xlsx.read.workbook import read_workbook

TITLE = "Reading"
PLACE, HEADING, READ_AS = "Place", "Heading", "Read as"
_NEEDED = tuple(map(folded, (PLACE, HEADING, READ_AS)))


@dataclass(frozen=True, slots=True)
class ReadingLine:
    """One column of the list, as the sheet says it."""

    place: str
    heading: str
    read_as: str
    """As typed; blank where nothing is said."""


@dataclass(frozen=True, slots=True)
class Reading:
    """What a sheet Reading says."""

    name: str
    """The workbook's name."""
    columns: tuple[ReadingLine, ...]
    heading_rows: tuple[str, ...]
    """Such as Fleet!6."""


def reading_at(path: Path) -> Reading:
    """Read the sheet Reading of a workbook.

    Raises:
        CannotRunError: if it is no workbook, or has no such sheet.
    """
    package = opened(path)
    own = {sheet.title for sheet in package.sheets if sheet.is_own}
    titles = {one.title for one in package.sheets if folded(one.title).startswith(folded(TITLE))}
    # A program that drops hidden names leaves the title.
    for wanted in (own & titles, own, titles):
        grids = read_workbook(package, wanted.__contains__).grids
        for grid in grids.values():
            lines = list(_lines(grid))
            if lines:
                rows = tuple(line.place for line in lines if folded(line.read_as) == folded(HEADING_ROW))
                columns = tuple(line for line in lines if folded(line.read_as) != folded(HEADING_ROW))
                return Reading(path.name, columns, rows)
    raise CannotRunError(
        f"{path} has no sheet '{TITLE}' that rosterkit made",
        "Give the workbook that 'rosterkit adopt' made with -o.",
    )


def _lines(grid: Grid) -> Iterator[ReadingLine]:
    at: Mapping[str, int] | None = None
    for cells in grid.rows:
        texts = [heading_text(cell) for cell in cells]
        if at is None:
            places = {folded(text): n for n, text in reversed(list(enumerate(texts)))}
            at = places if all(one in places for one in _NEEDED) else None
        else:
            place, heading, read_as = (texts[at[one]] if at[one] < len(texts) else "" for one in _NEEDED)
            if not place:
                return
            yield ReadingLine(place, heading, read_as)

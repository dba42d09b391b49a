"""Sheets that copies have and the master lacks, made with headings and nothing below them."""

from collections.abc import Iterator, Mapping

from rosterkit.errors import CannotRunError
from rosterkit.roster.schema import SETTING_HEADINGS, Sheet, folded, is_known, sheet
from rosterkit.roster.tables import Book
from rosterkit.versions.merged import Merged
from rosterkit.writeback.new_sheet import new_sheet
from rosterkit.xlsx.changes import CellStyle, OwnCell, OwnSheet
from rosterkit.xlsx.grid import Grid

_SETTING_WIDTHS = (30.0, 16.0, 12.0, 60.0)


def missing_sheets(merged: Merged, book: Book, grids: Mapping[str, Grid]) -> tuple[OwnSheet, ...]:
    """Return the sheets that the master has to get for what copies come to.

    Args:
        merged: what they come to.
        book: the master.
        grids: its sheets, ours and the members' own, by title.

    Raises:
        CannotRunError: if the master has a sheet of that title in which nothing of ours is found.
    """
    there = {folded(title) for title in book.tables} | {folded(one.title) for one in book.tables.values()}
    there |= {folded(title) for title in grids if not is_known(title)}
    wanted = {folded(title): title for title in _titles(merged) if folded(title) not in there}
    return tuple(_made(book, title) for title in wanted.values())


def _titles(merged: Merged) -> Iterator[str]:
    for taken in merged.taken:
        yield taken.row.sheet
    for added in merged.added:
        yield added.row.sheet
    for conflict in merged.conflicts:
        yield conflict.row.sheet


def _made(book: Book, title: str) -> OwnSheet:
    if not is_known(title):
        return OwnSheet(title=title, rows=[], of_members=True, filled_by_members=True)
    known = sheet(title)
    needed = [column.heading for column in known.columns if column.required] or known.columns[0].heading
    made = new_sheet(book, known.title, (), needed if isinstance(needed, str) else " and ".join(needed))
    return _settings(known) if known.transposed else made


def _settings(known: Sheet) -> OwnSheet:
    heading = [OwnCell(text, CellStyle.HEADING) for text in SETTING_HEADINGS]
    rows = [
        [OwnCell(one.heading), OwnCell(), OwnCell(one.unit), OwnCell(one.description, CellStyle.WRAPPED)]
        for one in known.columns
    ]
    return OwnSheet(
        title=known.title,
        rows=[heading, *rows],
        widths=_SETTING_WIDTHS,
        frozen_rows=1,
        filled_by_members=True,
    )


def require_titles(made: tuple[OwnSheet, ...], titles: Mapping[str, str]) -> None:
    """See that sheets that were made bear the titles that they were to have.

    Raises:
        CannotRunError: if a sheet without cells, such as a chart, or one of ours has the title of one.
    """
    for one in made:
        if titles.get(one.title, one.title) != one.title:
            raise CannotRunError(
                f"a copy has a sheet '{one.title}', and the master something else of that title",
                "Give one of them another title, and merge again.",
            )

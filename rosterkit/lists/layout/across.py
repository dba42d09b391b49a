"""Engines side by side: labels down one column, a column for each engine."""

from dataclasses import replace

from rosterkit.lists.layout.bands import Band
from rosterkit.lists.layout.column_table import ColumnTable, Naming
from rosterkit.lists.layout.headings import HeadingLines
from rosterkit.lists.layout.skipping import CV_IN_WORDS, NOTE, TITLE, Skips
from rosterkit.lists.layout.texts import is_cv_word, is_label, is_number, is_sentence, plain_cv
from rosterkit.lists.layout.view import Spot, View
from rosterkit.lists.tables import Heading, Located, Table


def across_table(view: View, position: int, skips: Skips, *, beside: bool = False) -> Table | None:
    """Return the table of a sheet whose labels run down the column ``position``.

    With ``beside`` the records are named by their first row too, as other engines stand above or below.
    """
    above = _lone_above(view, position)
    notes = {spot for spot in _lone(view, position) if is_sentence(view.text(*spot))} - set(above)
    for spot in sorted(notes):
        skips.cells([view.cells[spot]], NOTE)
    titles = [view.cells[spot] for spot in above]
    return _turned_table(view.without({*notes, *above}), position, titles, skips, beside=beside)


def cvs_down_table(view: View, line: int, skips: Skips) -> Table | None:
    """Return the table of a sheet with CV numbers below the word CV in ``line``, an engine in each column.

    A column that says in words what each CV does is skipped.
    """
    position = view.lines[line][0]
    above = [spot for spot in view.cells if spot[0] < line]
    titles = []
    for spot in sorted(above):
        if len(view.lines[spot[0]]) == 1 and not is_number(view.cells[spot].cell):
            titles.append(view.cells[spot])
        else:
            skips.cells([view.cells[spot]], TITLE)
    words = [one for one in view.columns if one != position and _is_in_words(view, line, one)]
    moved: dict[Spot, Located] = {}
    for one in words:
        # A row without a CV ('Owner') has its label where the others have their words.
        cells = []
        for below in (below for below in view.columns[one] if below >= line):
            free = (below, position) not in view.cells and (below, position) not in moved
            if free and is_label(view.text(below, one)):
                moved[below, position] = view.cells[below, one]
            else:
                cells.append(view.cells[below, one])
        skips.cells(cells, CV_IN_WORDS)
    kept = view.without({*above, *(spot for spot in view.cells if spot[1] in words)})
    kept = replace(kept, cells={**kept.cells, **moved})
    table = _turned_table(kept, position, titles, skips)
    return table and replace(table, headings=tuple(_as_cv(one) for one in table.headings))


def _turned_table(
    view: View, position: int, titles: list[Located], skips: Skips, *, beside: bool = False
) -> Table | None:
    turned = view.turned()
    first = min(max(turned.order[0], position - 2), position)
    for line in turned.lines_between(0, first - 1):
        skips.line(turned, line, NOTE)
    body = tuple(one for one in turned.order if one > position)
    band = Band((), HeadingLines(first, position), body)
    return ColumnTable(turned, band, Naming(beside), skips).table(titles, all_records=True)


def _lone(view: View, position: int) -> list[Spot]:
    """Return the cells of the column of labels that stand alone in their row."""
    return [(line, position) for line in view.columns[position] if len(view.lines[line]) == 1]


def _lone_above(view: View, position: int) -> list[Spot]:
    """Return the lone texts above the first row with values: titles, unless they are labels."""
    first = next((line for line in view.order if len(view.lines[line]) > 1), 0)
    return [
        (line, one)
        for line in view.order
        if line < first
        for one in view.lines[line]
        if one != position or not is_label(view.text(line, one))
    ]


def _is_in_words(view: View, line: int, position: int) -> bool:
    """Whether a column beside CV numbers explains them: its heading is a word, or it holds texts."""
    cvs = view.lines[line][0]
    below = [
        view.cells[one, position].cell
        for one in view.columns[position]
        if one > line and (one, cvs) in view.cells and plain_cv(view.cells[one, cvs].cell) is not None
    ]
    texts = sum(not is_number(one) for one in below)
    return 2 * texts > len(below) or not below or is_label(view.text(line, position))


def _as_cv(heading: Heading) -> Heading:
    """Return the heading of a bare number as that of its CV; the word CV itself heads the engines' names."""
    if not heading.at:
        return heading
    cell = heading.at[-1].cell
    number = plain_cv(cell)
    if number is not None:
        return replace(heading, text=f"CV {number}")
    return replace(heading, text="") if is_cv_word(cell.text) else heading

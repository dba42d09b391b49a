"""A strip of a sheet cut into its tables one above the other: titles, headings, and what stands below."""

import re
from dataclasses import dataclass

from rosterkit.lists.layout.headings import HeadingFinder, HeadingLines
from rosterkit.lists.layout.label_columns import is_settings
from rosterkit.lists.layout.texts import is_number, is_sentence, normal
from rosterkit.lists.layout.view import View

MOST_TITLES = 4
"""So many lines above a table are its titles; more are notes."""
_PAGE = re.compile(
    r"(?:page|seite|blatt|sheet|feuille|pagina|página|pág|sida|side|strana|strona|\d+\s*/).*\d", re.IGNORECASE
)
"""What pages are counted with: 'Page 2', 'Seite 2 von 3', '2 / 3'."""


@dataclass(frozen=True, slots=True)
class Band:
    """One table of a strip, as lines of its view."""

    above: tuple[int, ...]
    """The lines between the table before and the headings that may be titles."""
    heading: HeadingLines | None
    body: tuple[int, ...]
    again: tuple[int, ...] = ()
    """Lines among the body that say titles or headings of it once more."""


def bands_of(view: View, finder: HeadingFinder, forced: int | None = None) -> list[Band]:
    """Return the tables of a strip from the top; one without headings where no line looks like any.

    ``forced`` is the last line of the first table's headings by what somebody said.
    """
    if is_settings(view):
        return [Band((), HeadingLines(view.order[0], view.order[0]), tuple(view.order[1:]))]
    if forced is not None:
        first: HeadingLines | None = finder.grown(forced, downwards=False)
    else:
        first = finder.first_heading()
    if first is None:
        return [Band((), None, tuple(view.order))]
    headings = _all_headings(view, finder, first)
    above = tuple(view.lines_between(0, first.first - 1))
    bands = []
    for number, heading in enumerate(headings):
        following = headings[number + 1] if number + 1 < len(headings) else None
        body = view.lines_between(heading.last + 1, following.first - 1 if following else view.order[-1])
        titles = _titles_before(view, body, following.first) if following else []
        body = body[: len(body) - len(titles)]
        bands.append(Band(above, heading, tuple(body)))
        above = tuple(titles)
    return _joined(view, bands)


def _all_headings(view: View, finder: HeadingFinder, first: HeadingLines) -> list[HeadingLines]:
    headings = [first]
    for line in view.lines_between(first.last + 1, view.order[-1]):
        before = headings[-1]
        if line <= before.last:
            continue
        again = _again(view, line, before)
        if again is not None:
            headings.append(again)
        elif finder.later_heading(line):
            grown = finder.grown(line)
            headings.append(HeadingLines(max(grown.first, before.last + 1), grown.last))
    return headings


def _again(view: View, line: int, heading: HeadingLines) -> HeadingLines | None:
    """Return the lines in which headings are repeated from this line on, None if they are not."""
    height = heading.last - heading.first
    pairs = zip(range(line, line + height + 1), range(heading.first, heading.last + 1), strict=True)
    if all(_same_line(view, one, other) and _same_line(view, other, one) for one, other in pairs):
        return HeadingLines(line, line + height)
    return None


def _same_line(view: View, line: int, other: int) -> bool:
    """Whether a line says at its places what the other one says at them, four cells in five."""
    positions = view.lines.get(line, [])
    alike = sum(normal(view.text(line, one)) == normal(view.text(other, one)) for one in positions)
    return len(positions) > 0 and 5 * alike >= 4 * len(positions)


def _titles_before(view: View, body: list[int], heading: int) -> list[int]:
    """Return the lone texts just above a later heading; a blank line may stand between."""
    titles: list[int] = []
    expected = heading - 2 if view.is_blank(heading - 1) else heading - 1
    for line in reversed(body):
        if line != expected or not is_lone_text(view, line):
            break
        titles.insert(0, line)
        expected -= 1
    return titles if len(titles) < len(body) else []


def is_lone_text(view: View, line: int) -> bool:
    """Whether a line holds one text that is no number, or one beside its label, and is no sentence."""
    cells = view.located(line)
    if len(cells) == 2:
        return cells[0].cell.text.endswith(":")
    return len(cells) == 1 and not is_number(cells[0].cell) and not is_sentence(cells[0].cell.text)


def _joined(view: View, bands: list[Band]) -> list[Band]:
    """Return the bands, with those that only repeat the headings (on each page) put to the one before."""
    whole = bands[:1]
    for band in bands[1:]:
        before = whole[-1]
        if band.heading is not None and _continues(view, band, before):
            repeated = (*band.above, *range(band.heading.first, band.heading.last + 1))
            whole[-1] = Band(
                before.above, before.heading, (*before.body, *band.body), (*before.again, *repeated)
            )
        else:
            whole.append(band)
    return whole


def _continues(view: View, band: Band, before: Band) -> bool:
    """Whether a band has the headings of the one before, and no title of its own."""
    if band.heading is None or before.heading is None:
        return False
    if _again(view, band.heading.first, before.heading) != band.heading:
        return False
    known = {_said(view, line) for line in before.above}
    return all(_said(view, line) in known or _PAGE.match(_said(view, line)) for line in band.above)


def _said(view: View, line: int) -> str:
    return normal(" ".join(one.cell.text for one in view.located(line)))

"""Legends: what a colour means, said beside the colour itself."""

import re
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

from rosterkit.lists.layout.skipping import LEGEND, Skips
from rosterkit.lists.layout.view import Spot, View
from rosterkit.lists.plain import PlainSheet

_COLOURS = (
    "red|yellow|green|blue|orange|grey|gray|purple|pink|brown|white|black|violet|turquoise|lilac|amber|"
    "rot|gelb|grün|blau|grau|lila|rosa|braun|weiß|weiss|schwarz|türkis|"
    "rouge|jaune|vert|bleu|gris|rose|marron|blanc|noir|"
    "rood|geel|groen|blauw|oranje|grijs|paars|roze|bruin|wit|zwart|"
    "rosso|giallo|verde|blu|azzurro|grigio|viola|arancione|rojo|amarillo|azul|naranja|"
    "röd|gul|grön|blå|grå|rött|gult|grönt|blått|grått|červená|žlutá|zelená|modrá|oranžová|šedá|czerwony|żółty|zielony|niebieski|szary"
)
_COLOUR = rf"(?:\w+[ -])?(?:{_COLOURS})(?:[ -]\w+)?"
_NAMES_COLOUR = re.compile(rf"{_COLOUR}\s*[:=]?", re.IGNORECASE)
_SAYS_COLOUR = re.compile(rf"{_COLOUR}\s*(?:=|:|–|—| - |->|→)\s*(\S.*)", re.IGNORECASE)
"""'red = needs work', 'light green: done'."""
_LEGEND_WORD = re.compile(
    r"(?:legend|legende|légende|leyenda|leggenda|key|colou?rs?|farben|couleurs|kleuren|colori|legenda)\s*:?",
    re.IGNORECASE,
)
_MEANING = re.compile(r"\s*[=:–—-]\s*(\S.*)")


@dataclass(frozen=True, slots=True)
class _Swatch:
    """A colour, and what may be its meaning."""

    line: int
    position: int
    fill: str
    meaning: str
    spots: tuple[Spot, ...]
    """The cells that say it."""
    sure: bool
    """Whether the colour is named."""


def legend_of(sheet: PlainSheet, view: View, skips: Skips) -> tuple[View, Mapping[tuple[str, str], str]]:
    """Return the view without its legend, and by sheet and colour what the legend says that it means."""
    used = Counter(cell.fill for cell in sheet.cells.values() if cell.fill)
    swatches = [
        found
        for line, positions in view.lines.items()
        for position in positions
        if (found := _swatch(sheet, view, line, position)) is not None
        and (found.sure or used[found.fill] > len(found.spots))
    ]
    swatches = [one for one in swatches if one.sure or _has_neighbour(view, one, swatches)]
    spots = {spot for one in swatches for spot in one.spots}
    spots |= _words_above(view, spots)
    for line, position in sorted(spots):
        skips.cells([view.cells[line, position]], LEGEND)
    colours: dict[tuple[str, str], str] = {}
    for one in swatches:
        if one.fill:
            colours.setdefault((sheet.title, one.fill), one.meaning)
    return view.without(spots), colours


def _swatch(sheet: PlainSheet, view: View, line: int, position: int) -> _Swatch | None:
    """Return the colour and meaning that a cell may say, alone or with its neighbour to the right."""
    text, fill = view.text(line, position), view.cells[line, position].cell.fill
    here, positions = (line, position), view.lines[line]
    said = _SAYS_COLOUR.fullmatch(text)
    if said:
        return _Swatch(line, position, fill, said[1], (here,), sure=True)
    if view.wide(line, position) > 1:
        return None
    if len(positions) == 1:
        left = sheet.cells.get((line, position - 1))
        colour = fill or (left.fill if left is not None and not left.text else "")
        found = _MEANING.fullmatch(text)
        meaning = found[1] if found else text
        return _Swatch(line, position, colour, meaning, (here,), sure=False) if colour else None
    if fill and positions == [position, position + 1] and view.is_blank(line - 1):
        meaning = view.text(line, position + 1)
        named = _NAMES_COLOUR.fullmatch(text) is not None
        return _Swatch(line, position, fill, meaning, (here, (line, position + 1)), sure=named)
    return None


def _has_neighbour(view: View, swatch: _Swatch, swatches: list[_Swatch]) -> bool:
    """Whether a swatch of another colour, or the word Legend, stands next to one."""
    near = {(swatch.line + step, swatch.position) for step in (-1, 1)}
    if any((one.line, one.position) in near and one.fill != swatch.fill for one in swatches):
        return True
    return any(_LEGEND_WORD.fullmatch(view.text(swatch.line - step, swatch.position)) for step in (1, 2))


def _words_above(view: View, spots: set[Spot]) -> set[Spot]:
    """Return the cells that say Legend right above a legend."""
    return {
        (line - 1, one)
        for line, position in spots
        for one in (position, position - 1)
        if _LEGEND_WORD.fullmatch(view.text(line - 1, one))
    }

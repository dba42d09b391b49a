"""Legends: what a colour means, said beside the colour itself."""

import re
from collections import Counter
from collections.abc import Mapping

from rosterkit.lists.layout.skipping import LEGEND, Skips
from rosterkit.lists.layout.view import Spot, View
from rosterkit.lists.plain import PlainSheet

_COLOURS = (
    "red|yellow|green|blue|orange|grey|gray|purple|pink|brown|white|black|violet|turquoise|lilac|"
    "rot|gelb|grün|blau|grau|lila|rosa|braun|weiß|weiss|schwarz|türkis|"
    "rouge|jaune|vert|bleu|gris|violet|rose|marron|blanc|noir|"
    "rood|geel|groen|blauw|oranje|grijs|paars|roze|bruin|wit|zwart|"
    "rosso|giallo|verde|blu|azzurro|grigio|viola|arancione|rojo|amarillo|azul|naranja|"
    "röd|gul|grön|blå|grå|červená|žlutá|zelená|modrá|oranžová|šedá|czerwony|żółty|zielony|niebieski|szary"
)
_SAYS_COLOUR = re.compile(
    rf"(?:\w+[ -])?(?:{_COLOURS})(?:[ -]\w+)?\s*(?:=|:|–|—| - |->|→)\s*(\S.*)", re.IGNORECASE
)
"""'red = needs work', 'light green: done'."""
_LEGEND_WORD = re.compile(
    r"(?:legend|legende|légende|leyenda|leggenda|key|colou?rs?|farben|couleurs|kleuren|colori|legenda)\s*:?",
    re.IGNORECASE,
)
_MEANING = re.compile(r"\s*[=:–—-]\s*(\S.*)")


def legend_of(sheet: PlainSheet, view: View, skips: Skips) -> tuple[View, Mapping[tuple[str, str], str]]:
    """Return the view without its legend, and by sheet and colour what the legend says that it means."""
    taken: dict[Spot, str] = {}
    used = Counter(cell.fill for cell in sheet.cells.values() if cell.fill)
    swatches: list[tuple[Spot, str, str]] = []
    for line, positions in view.lines.items():
        for position in positions:
            text, fill = view.text(line, position), view.cells[line, position].cell.fill
            said = _SAYS_COLOUR.fullmatch(text)
            if said:
                taken[line, position] = fill
                if fill:
                    swatches.append(((line, position), fill, said[1]))
            elif len(positions) == 1:
                colour = fill or _swatch_left_of(sheet, line, position)
                if colour and used[colour] > 1 and view.wide(line, position) == 1:
                    swatches.append(((line, position), colour, _meaning(text)))
    colours = _colours(sheet.title, view, taken, swatches)
    kept = {spot for spot, colour, _ in swatches if (sheet.title, colour) in colours}
    spots = sorted({*taken, *kept, *_words_above(view, {*taken, *kept})})
    for line, position in spots:
        skips.cells([view.cells[line, position]], LEGEND)
    return view.without(spots), colours


def _swatch_left_of(sheet: PlainSheet, line: int, position: int) -> str:
    """Return the colour of the blank cell to the left, blank for none."""
    cell = sheet.cells.get((line, position - 1))
    return cell.fill if cell is not None and not cell.text else ""


def _meaning(text: str) -> str:
    found = _MEANING.fullmatch(text)
    return found[1] if found else text


def _colours(
    title: str, view: View, taken: Mapping[Spot, str], swatches: list[tuple[Spot, str, str]]
) -> dict[tuple[str, str], str]:
    """Return what colours mean: said by name, or by texts in two or more colours below each other."""
    colours = {(title, fill): text for spot, fill, text in swatches if spot in taken}
    unnamed = [one for one in swatches if one[0] not in taken]
    for (spot, fill, text), near in zip(unnamed, _neighbours(view, unnamed), strict=True):
        del spot
        if near:
            colours.setdefault((title, fill), text)
    return colours


def _neighbours(view: View, swatches: list[tuple[Spot, str, str]]) -> list[bool]:
    """Return for each swatch whether one of another colour, or the word Legend, stands next to it."""
    by_spot = {spot: fill for spot, fill, _ in swatches}
    found = []
    for (line, position), fill, _ in swatches:
        others = {by_spot.get((line + step, position), fill) for step in (-1, 1)}
        word = any(_LEGEND_WORD.fullmatch(view.text(line - step, position)) for step in (1, 2))
        found.append(bool(others - {fill}) or word)
    return found


def _words_above(view: View, spots: set[Spot]) -> set[Spot]:
    """Return the cells that say Legend above the first of them."""
    return {
        (line - 1, one)
        for line, position in spots
        for one in (position, position - 1)
        if _LEGEND_WORD.fullmatch(view.text(line - 1, one))
    }

"""A sheet in which each cell holds its own formula, as most programs save it: no two share one."""

import re

from openpyxl.formula.translate import Translator

_SHARED = re.compile(
    rb'(?P<cell><c r="(?P<place>[A-Z]+[0-9]+)"[^>]*>)<f t="shared"(?P<area> ref="[^"]*")?'
    rb' si="(?P<group>[0-9]+)"(?:/>|>(?P<text>[^<]*)</f>)'
)


def spelt_alone(sheet: bytes) -> bytes:
    """Return the part of a sheet with all formulas spelt out, by openpyxl's Translator."""
    first = {
        one["group"]: Translator("=" + one["text"].decode(), origin=one["place"].decode())
        for one in _SHARED.finditer(sheet)
        if one["area"]
    }

    def alone(one: re.Match[bytes]) -> bytes:
        formula = first[one["group"]].translate_formula(one["place"].decode())
        return b"%b<f>%b</f>" % (one["cell"], formula.removeprefix("=").encode())

    return _SHARED.sub(alone, sheet)

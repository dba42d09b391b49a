"""Number formats: which of them show a number as a date, a time, a duration or in scientific notation."""

import re
from dataclasses import dataclass
from enum import Enum
from functools import cache

from rosterkit.xlsx.package.cache import cached
from rosterkit.xlsx.package.markup import elements, whole


class Kind(Enum):
    """What a cell's number means to the reader of the sheet."""

    NUMBER = 0
    DATE = 14
    TIME = 20
    DURATION = 46
    SCIENTIFIC = 11
    """The value is the number of a built-in format of that kind (ECMA-376 Part 1, 18.8.30)."""


_BUILT_IN: dict[int | None, Kind] = {
    **dict.fromkeys((*range(14, 18), 22, *range(27, 32), 36, *range(50, 59)), Kind.DATE),
    **dict.fromkeys((*range(18, 22), *range(32, 36), 45, 47), Kind.TIME),
    46: Kind.DURATION,
    11: Kind.SCIENTIFIC,
    48: Kind.SCIENTIFIC,
}
"""Formats without a code in the file; 27 to 36 and 50 to 58 are dates or times in East Asian languages."""

# Letters in quotes, after a backslash or in brackets are no parts of a date; [h], [m] and [s] are.
_LITERAL = re.compile(r'"[^"]*"|\\.|_.|\*.|\[(?!h+\]|m+\]|s+\])[^\]]*\]|general', re.IGNORECASE | re.DOTALL)
_ELAPSED = re.compile(r"\[(?:h+|m+|s+)\]", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Formats:
    """The kind of each cell format, by the index that cells use."""

    kinds: tuple[Kind, ...]

    def styles_part(self) -> bytes:
        """Make a styles part that says no more than these kinds, for a reader that needs nothing else."""
        formats = "".join(f'<xf numFmtId="{kind.value}"/>' for kind in self.kinds)
        return f"<styleSheet><cellXfs>{formats}</cellXfs></styleSheet>".encode()


NO_FORMATS = Formats(kinds=(Kind.NUMBER,))
"""What a workbook without a styles part has."""


def kind_of_code(code: str) -> Kind:
    """Tell what a number format's code makes of a positive number."""
    section = _LITERAL.sub(" ", code).partition(";")[0]
    if _ELAPSED.search(section):
        return Kind.DURATION
    letters = section.casefold()
    if "e+" in letters or "e-" in letters:
        return Kind.SCIENTIFIC
    if any(sign in letters for sign in "yde"):
        return Kind.DATE
    if any(sign in letters for sign in "hs"):
        return Kind.TIME
    return Kind.DATE if "m" in letters else Kind.NUMBER


def kind_of_format(number: int | None, code: str | None) -> Kind:
    """Tell what a number format makes of a number, by its code, or by its own number if it has none."""
    return _BUILT_IN.get(number, Kind.NUMBER) if code is None else kind_of_code(code)


@cached
def formats(data: bytes) -> Formats:
    """Read the cell formats of a styles part; MarkupError if the part is not well-formed."""
    codes: dict[str, str] = {}
    used: list[str] = []
    for _, kind, within, stated in elements(data):
        if kind == "numFmt" and within == "numFmts":
            codes[stated.get("numFmtId", "")] = stated.get("formatCode", "")
        elif kind == "xf" and within == "cellXfs":
            used.append(stated.get("numFmtId", "0"))

    @cache
    def kind_of(number: str) -> Kind:
        return kind_of_format(whole(number), codes.get(number))

    return Formats(kinds=tuple(map(kind_of, used or ["0"])))

"""Number formats in a style sheet: which cell formats have one, and which number stands for a code.

ISO/IEC 29500-1, 18.8.30 and 18.8.31: the numbers of built-in formats stand for their codes without an entry.
"""

from collections.abc import Iterable, Sequence

from rosterkit.xlsx.package.markup import whole
from rosterkit.xlsx.patch.cell_formats import WHOLE_NUMBER
from rosterkit.xlsx.xml.nodes import Node, node

_BUILT_IN = {"general": "0", WHOLE_NUMBER: "1"}
_OF_FILES = 164
"""The first number that stands for no built-in format in any language; programs begin with it."""

GENERAL = {"numFmtId": "0", "applyNumberFormat": "1"}
"""The attributes of a cell format that has no number format."""


def is_general(cell_format: Node, entries: Iterable[Node]) -> bool:
    """Tell whether a cell format has no number format of its own; some programs list General as one.

    Args:
        cell_format: An entry of cellXfs.
        entries: Those of numFmts.
    """
    number = cell_format.attribute("numFmtId") or _BUILT_IN["general"]
    codes = {one.attribute("numFmtId"): one.attribute("formatCode") for one in entries}
    return (codes.get(number) or "").casefold() == "general" or (
        number not in codes and number == _BUILT_IN["general"]
    )


def number_format(code: str, entries: Sequence[Node], conditional: Iterable[Node]) -> tuple[str, Node | None]:
    """Return the number that stands for a code, and the entry that has to be added for it.

    Args:
        code: The code of a number format.
        entries: Those of numFmts.
        conditional: Those of dxfs, which name number formats too.
    """
    if code.casefold() in _BUILT_IN:
        return _BUILT_IN[code.casefold()], None
    known = next((one for one in entries if one.attribute("formatCode") == code), None)
    if known is not None:
        return known.attribute("numFmtId") or _BUILT_IN["general"], None
    named = [one for entry in conditional for one in entry.children if one.name == "numFmt"]
    taken = (whole(one.attribute("numFmtId")) or 0 for one in (*entries, *named))
    number = str(max(_OF_FILES, 1 + max(taken, default=0)))
    return number, node("numFmt", formatCode=code, numFmtId=number)

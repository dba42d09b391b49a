"""Verifies formats of cells that became others: only in how they show numbers, and where that is meant."""

from collections.abc import Iterator, Mapping

from lxml import etree

from rosterkit.xlsx.changes import SHOWN_AS, CellStyle
from rosterkit.xlsx.patch.cell_formats import DRAWINGS
from rosterkit.xlsx.read.formats import NO_FORMATS, formats
from rosterkit.xlsx.verify.remainder import VerificationError
from rosterkit.xlsx.xml.nodes import Node, as_node, parsed

_BUILT_IN = {"0": "General", "1": "0"}
"""The codes of the numbers that need no entry (ISO/IEC 29500-1, 18.8.30), as far as they may come here."""


def verify_number_formats(
    styles: bytes,
    changed: Mapping[tuple[int, int, CellStyle | None], str],
    meant: Mapping[tuple[int, CellStyle], str],
) -> None:
    """Compare the formats that cells had with those in their place.

    Args:
        styles: The style sheet after the edit, in which all formats from before stand in their places.
        changed: By the format of cells before and after, and the look that was wanted: such a cell.
        meant: By the format of cells and a look that says what their number means: such a cell.

    Raises:
        VerificationError: one became another in more than its number format, or had one already, which gave
            the number the meaning that the look gives it; or a number means something else.
    """
    kinds = formats(styles).kinds if styles else NO_FORMATS.kinds
    for (style, said), cell in meant.items():
        if style >= len(kinds) or kinds[style] is not SHOWN_AS[said]:
            raise VerificationError(f"the number in the cell {cell} means something else")
    root = parsed(styles) if changed else None
    if root is None:
        return
    namespace = etree.QName(root).namespace or ""
    codes = dict(_BUILT_IN)
    for entry in _entries(root, namespace, "numFmts"):
        codes[entry.attribute("numFmtId") or ""] = entry.attribute("formatCode") or ""
    listed = list(_entries(root, namespace, "cellXfs"))
    for (old, new, look), cell in changed.items():
        code = None if look is None else DRAWINGS[look].number_format
        same = max(old, new) < min(len(listed), len(kinds)) and _bare(listed[old]) == _bare(listed[new])
        before, after = (codes.get(_number(listed[one])) if same else None for one in (old, new))
        other = (before or "").casefold() == "general"
        if look in SHOWN_AS and same:
            other = kinds[old] is not SHOWN_AS[look]
        if code is None or not other or after != code:
            raise VerificationError(f"the format of the cell {cell} changed")


def _entries(root: etree._Element, namespace: str, collection: str) -> Iterator[Node]:
    for entry in root.iterfind(f"{{{namespace}}}{collection}/{{{namespace}}}*"):
        yield as_node(entry, namespace)


def _number(cell_format: Node) -> str:
    return cell_format.attribute("numFmtId") or "0"


def _bare(cell_format: Node) -> Node:
    kept = (one for one in cell_format.attributes if one[0] not in {"numFmtId", "applyNumberFormat"})
    return cell_format._replace(attributes=tuple(kept))

"""Verifies a worksheet that was locked: only its protection came, and its open cells have other formats.

Old and new are read by a parser and gone through side by side, row by row and cell by cell.
"""

from collections.abc import Iterator, Mapping

from lxml import etree

from rosterkit.xlsx.changes import SheetLock
from rosterkit.xlsx.package.markup import whole
from rosterkit.xlsx.patch.format_protection import is_unlocked
from rosterkit.xlsx.patch.protection import LOCKED
from rosterkit.xlsx.verify.frame import ordered
from rosterkit.xlsx.verify.remainder import VerificationError, remainder
from rosterkit.xlsx.verify.sheet_data import SheetData, spelt_out
from rosterkit.xlsx.xml.areas import Area, area
from rosterkit.xlsx.xml.nodes import Node, as_node, parsed
from rosterkit.xlsx.xml.outline import Element, outline

_TRUE = {"1", "true"}
_KEPT_BY_FORMAT = {"protection"}

Styles = set[tuple[int, int]]
"""The formats that cells had, each with the one in its place."""


def verify_lock(old: bytes, new: bytes, lock: SheetLock) -> Styles:
    """Compare a worksheet part before and after, and return the formats of open cells.

    Raises:
        VerificationError: something else changed.
    """
    frames = [SheetData(data).frame for data in (old, new)]
    before, after = (outline(frame) for frame in frames)
    if _around(frames[0], before) != _around(frames[1], after):
        raise VerificationError("something beside the rows of a sheet changed")
    stated = [one.attributes for one in after.named("sheetProtection")]
    if stated != [dict(LOCKED)] or (ordered(before) and not ordered(after)):
        raise VerificationError("the protection of a sheet is not what it should be")
    (first, remarks), (second, now) = spelt_out(old), spelt_out(new)
    if remarks != now:
        raise VerificationError("a comment in a sheet changed")
    return _verify_rows(etree.fromstring(first), etree.fromstring(second), lock)


def _around(frame: bytes, root: Element) -> bytes:
    cut = list(root.named("sheetProtection"))
    return remainder(frame, cut, [(rows, ()) for rows in root.named("sheetData")])


def _verify_rows(old: etree._Element, new: etree._Element, lock: SheetLock) -> Styles:
    areas = [Area(*one) for one in lock.open]
    columns = _column_styles(old)
    rows = {row.get("r"): row for row in _children(old, "row")}
    seen: Styles = set()
    for row in _children(new, "row"):
        number = int(row.get("r", "0"))
        known = rows.pop(row.get("r"), None)
        if _said(row, "spans") != ({"r": str(number)} if known is None else _said(known, "spans")):
            raise VerificationError(f"row {number} changed, or is new")
        across = {column for one in areas if one.top <= number <= one.bottom for column in _across(one)}
        inherited = columns if known is None or known.get("customFormat") not in _TRUE else {}
        own = whole(known.get("s", "0")) or 0 if known is not None and not inherited else 0
        for name, before, after in _beside(known, row):
            column = area(name).left
            style = inherited.get(column, own) if before is None else _style(before)
            if column in across:
                seen.add((style, _style(after)))
                same = _same(before, after) if before is not None else _is_blank(after)
            else:
                same = before is not None and _style(before) == _style(after) and _same(before, after)
            if not same:
                raise VerificationError(f"the cell {name} changed, or is new")
        if not across <= {area(cell.get("r", "")).left for cell in _cells(row)}:
            raise VerificationError(f"a cell of row {number} that was to be open is missing")
    if rows:
        raise VerificationError(f"row {next(iter(rows))} is missing")
    numbers = {int(row.get("r", "0")) for row in _children(new, "row")}
    if any(not numbers.issuperset(range(one.top, one.bottom + 1)) for one in areas):
        raise VerificationError("a row that was to be open is missing")
    return seen


def _across(one: Area) -> range:
    return range(one.left, one.right + 1)


def _beside(
    old: etree._Element | None, new: etree._Element
) -> Iterator[tuple[str, etree._Element | None, etree._Element]]:
    """Return the cells of a row beside those that it had; all that it had must be there, in order."""
    before = {cell.get("r", ""): cell for cell in _cells(old)} if old is not None else {}
    places = [area(cell.get("r", "")).left for cell in _cells(new)]
    if places != sorted(set(places)):
        raise VerificationError(f"the cells of row {new.get('r')} are out of order")
    for cell in _cells(new):
        name = cell.get("r", "")
        yield name, before.pop(name, None), cell
    if before or _others(old) != _others(new):
        raise VerificationError(f"cells of row {new.get('r')} are missing")


def _children(root: etree._Element, name: str) -> Iterator[etree._Element]:
    namespace = str(root.tag).removesuffix("worksheet")
    return root.iterfind(f"{namespace}sheetData/{namespace}{name}")


def _cells(row: etree._Element) -> Iterator[etree._Element]:
    return row.iterchildren(str(row.tag).removesuffix("row") + "c")


def _others(row: etree._Element | None) -> list[bytes]:
    """Return what stands in a row beside its cells."""
    if row is None:
        return []
    name = str(row.tag).removesuffix("row") + "c"
    return [etree.tostring(one, with_tail=False) for one in row if one.tag != name]


def _style(cell: etree._Element) -> int:
    return whole(cell.get("s", "0")) or 0


def _said(element: etree._Element, *free: str) -> Mapping[str, str]:
    return {str(name): str(value) for name, value in element.attrib.items() if name not in free}


def _same(old: etree._Element, new: etree._Element) -> bool:
    """Tell whether two cells say the same but for their formats."""
    inside = [[etree.tostring(child) for child in cell] for cell in (old, new)]
    return _said(old, "s") == _said(new, "s") and old.text == new.text and inside[0] == inside[1]


def _is_blank(cell: etree._Element) -> bool:
    return not len(cell) and not cell.text and _said(cell).keys() <= {"r", "s"}


def _column_styles(root: etree._Element) -> Mapping[int, int]:
    namespace = str(root.tag).removesuffix("worksheet")
    found: dict[int, int] = {}
    for one in root.iterfind(f"{namespace}cols/{namespace}col"):
        run = range(int(one.get("min", "1")), int(one.get("max", "0")) + 1)
        for column in run:
            found.setdefault(column, whole(one.get("style", "0")) or 0)
    return found


def verify_unlocked(styles: bytes, seen: Styles) -> None:
    """Demand of each format in the place of another that it differs in nothing but in not being locked.

    Args:
        styles: The style sheet after the edit, in which all formats from before stand in their places.
        seen: The formats that cells had, each with the one in its place.

    Raises:
        VerificationError: one differs in more, or is locked.
    """
    root = parsed(styles)
    namespace = etree.QName(root).namespace or ""
    own = f"{{{namespace}}}"
    formats = [as_node(one, namespace) for one in root.iterfind(f"{own}cellXfs/{own}xf")]
    for old, new in seen:
        if old >= len(formats) and new == old:
            continue  # an error of the member's file
        fits = max(old, new) < len(formats) and is_unlocked(formats[new])
        if not fits or _bare(formats[old]) != _bare(formats[new]):
            raise VerificationError("the format of an open cell is not what it should be")


def _bare(cell_format: Node) -> Node:
    kept = tuple(one for one in cell_format.attributes if one[0] != "applyProtection")
    inside = [
        one._replace(attributes=tuple(stated for stated in one.attributes if stated[0] != "locked"))
        if one.name in _KEPT_BY_FORMAT
        else one
        for one in cell_format.children
    ]
    return cell_format._replace(
        attributes=kept, children=tuple(one for one in inside if one != Node("protection"))
    )

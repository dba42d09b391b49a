"""Verifies that small parts were only appended to, and only by what was meant."""

from collections.abc import Callable, Iterable

from lxml import etree

from rosterkit.xlsx.package.contents import MARKER
from rosterkit.xlsx.patch.filters import FILTER_NAME
from rosterkit.xlsx.xml.areas import Area, area
from rosterkit.xlsx.xml.nodes import parsed

OWN_NAMES = {MARKER, FILTER_NAME, "_xlnm.Print_Titles"}
"""Defined names that rosterkit gives to sheets."""


class VerificationError(Exception):
    """Something changed that was not meant to change; the text says what."""


def local(element: etree._Element) -> str:
    """Return the name of an element without its namespace."""
    return str(element.tag).rpartition("}")[2]


def children(element: etree._Element, name: str) -> list[etree._Element]:
    """Return the children of a name in the element's own namespace."""
    namespace = str(element.tag).rpartition("}")[0].removeprefix("{")
    return list(element.iterchildren(f"{{{namespace}}}{name}"))


def same(old: etree._Element, new: etree._Element, what: str) -> None:
    """Compare two elements with all that is in them, and what stands around the root of a part.

    Raises:
        VerificationError: they differ.
    """
    if _spelt(old) != _spelt(new):
        raise VerificationError(f"{what} changed")


def _spelt(element: etree._Element) -> bytes:
    whole = element.getroottree() if element.getparent() is None else element
    return etree.tostring(whole)


def take_out(elements: Iterable[etree._Element]) -> None:
    """Remove elements, but nothing that stands behind them."""
    for element in elements:
        parent = element.getparent()
        if parent is None:
            continue
        if element.tail:
            before = element.getprevious()
            if before is None:
                parent.text = (parent.text or "") + element.tail
            else:
                before.tail = (before.tail or "") + element.tail
        parent.remove(element)


def verify_styles(old: bytes, new: bytes) -> None:
    """Verify that a style sheet got entries behind those that it had, and that its counts are right."""
    before, after = parsed(old), parsed(new)
    collections = {local(one): one for one in before.iterchildren(etree.Element)}
    for collection in list(after.iterchildren(etree.Element)):
        entries = list(collection.iterchildren(etree.Element))
        known = collections.get(local(collection))
        if _grew(known, entries) and collection.get("count", str(len(entries))) != str(len(entries)):
            raise VerificationError(f"the count of {local(collection)} is wrong")
        if known is None:
            take_out([collection])
        elif _grew(known, entries):
            take_out(entries[len(list(known.iterchildren(etree.Element))) :])
            _set(collection, "count", known.get("count"))
    same(before, after, "the styles")


def _grew(known: etree._Element | None, entries: list[etree._Element]) -> bool:
    return known is None or len(list(known.iterchildren(etree.Element))) != len(entries)


def _set(element: etree._Element, name: str, value: str | None) -> None:
    if value is not None:
        element.set(name, value)
    elif name in element.attrib:
        del element.attrib[name]


def verify_workbook(old: bytes, new: bytes, positions: set[int]) -> None:
    """Verify that a workbook part got sheets at its end and names of ours, and asks for calculation at most.

    Args:
        old: The part before.
        new: The part after.
        positions: The sheets whose names of ours may change.
    """
    before, after = parsed(old), parsed(new)
    known = [sheet for sheets in children(before, "sheets") for sheet in children(sheets, "sheet")]
    listed = [sheet for sheets in children(after, "sheets") for sheet in children(sheets, "sheet")]
    take_out(listed[len(known) :])
    allowed = positions | set(range(len(known), len(listed)))
    for root in (before, after):
        for names in children(root, "definedNames"):
            take_out(name for name in children(names, "definedName") if _own(name, allowed))
            if not len(names):
                take_out([names])
        for calculation in children(root, "calcPr"):
            _set(calculation, "fullCalcOnLoad", None)
            if not calculation.attrib:
                take_out([calculation])
    same(before, after, "the workbook part")


def _own(name: etree._Element, positions: set[int]) -> bool:
    position = name.get("localSheetId", "")
    return name.get("name") in OWN_NAMES and position.isdigit() and int(position) in positions


def verify_list(old: bytes, new: bytes, allowed: Callable[[etree._Element], bool], what: str) -> None:
    """Verify that in a list of relationships or content types only such entries came and went as may.

    Args:
        old: The part before; empty if there was none.
        new: The part after.
        allowed: Whether an entry belongs to a part that was added or taken out.
        what: What the list is called in a message.
    """
    after = parsed(new)
    before = parsed(old) if old else None
    for root in (after, before):
        if root is not None:
            take_out([entry for entry in root.iterchildren(etree.Element) if allowed(entry)])
    if before is not None:
        same(before, after, what)
    elif len(after):
        raise VerificationError(f"{what} changed")


def verify_table(old: bytes, new: bytes, last_row: int = 0) -> None:
    """Verify that a table got columns and rows, down to the last that was added, and that its parts agree."""
    before, after = parsed(old), parsed(new)
    known, listed = (_columns(root) for root in (before, after))
    added = len(listed) - len(known)
    where = area(before.get("ref", ""))
    bottom = max(where.bottom, last_row) if area(after.get("ref", "")).bottom > where.bottom else where.bottom
    wide = Area(where.top, where.left, bottom, where.right + added)
    names = [column.get("name", "").casefold() for column in listed]
    if added < 0 or area(after.get("ref", "")) != wide or len(set(names)) != len(names):
        raise VerificationError("a table does not cover its columns")
    if children(after, "tableColumns")[0].get("count") != str(len(listed)):
        raise VerificationError("the count of a table's columns is wrong")
    take_out(listed[len(known) :])
    verify_sorted(before, after)
    for root in (before, after):
        _set(root, "ref", "")
        _set(children(root, "tableColumns")[0], "count", "")
        for filtered in children(root, "autoFilter"):
            _set(
                filtered, "ref", str(_corner(filtered, lower=bottom - where.bottom if root is before else 0))
            )
    same(before, after, "a table")


def _columns(table: etree._Element) -> list[etree._Element]:
    return [
        column for columns in children(table, "tableColumns") for column in children(columns, "tableColumn")
    ]


def _corner(filtered: etree._Element, lower: int) -> tuple[int, int, int]:
    covered = area(filtered.get("ref", ""))
    return covered.top, covered.left, covered.bottom + lower


def verify_sorted(before: etree._Element, after: etree._Element) -> None:
    """Verify that what was sorted only grew, to the right and downward, and let its areas be from then on."""
    pairs = zip(*([*root.iter("{*}sortState", "{*}sortCondition")] for root in (before, after)), strict=False)
    for known, wide in pairs:
        if known.get("ref") != wide.get("ref"):
            old, new = area(known.get("ref", "")), area(wide.get("ref", ""))
            if (old.top, old.left, old.around(new)) != (new.top, new.left, new):
                raise VerificationError("what was sorted changed")
        _set(known, "ref", "")
        _set(wide, "ref", "")

"""Verifies the small parts of a workbook: without the entries that an edit may add they are the same."""

from collections import Counter
from collections.abc import Collection, Mapping
from dataclasses import replace

from rosterkit.xlsx.package.contents import MARKER
from rosterkit.xlsx.package.markup import whole
from rosterkit.xlsx.patch.filters import FILTER_NAME
from rosterkit.xlsx.read.shared_strings import unescaped
from rosterkit.xlsx.verify.growth import DEPTH, Growth, sorts, verify_sorts
from rosterkit.xlsx.verify.remainder import VerificationError, emptied, remainder
from rosterkit.xlsx.xml import tags
from rosterkit.xlsx.xml.areas import area
from rosterkit.xlsx.xml.outline import Element, outline
from rosterkit.xlsx.xml.values import cell_text

PRINT_TITLES = "_xlnm.Print_Titles"
_REFERS = {"fontId": "fonts", "fillId": "fills", "borderId": "borders", "xfId": "cellStyleXfs"}
"""The collections of a style sheet whose entries a cell format names, by its attributes."""
_LISTED = 164
"""The first number of a number format that is not built in (ISO/IEC 29500-1, 18.8.30)."""
WORKBOOK = -1
"""In the place of a sheet's position: a name is one of the whole workbook."""
_GROWING = {*_REFERS.values(), "numFmts", "cellXfs", "dxfs"}


def counts(styles: bytes) -> Counter[str]:
    """Return how many entries each collection of a style sheet has."""
    return Counter({one.name: len(one.children) for one in outline(styles, depth=2).children})


def verify_styles(old: bytes, new: bytes) -> None:
    """Verify that a style sheet got entries behind those that it had, and that its counts are right."""
    before, after = outline(old, depth=2), outline(new, depth=2)
    known = {one.name: one for one in before.children}
    cut: list[Element] = []
    grown: list[tuple[Element, tuple[str, ...]]] = []
    for one in (one for one in after.children if one.name in _GROWING):
        standing = len(known[one.name].children) if one.name in known else 0
        if len(one.children) != standing:
            cut += one.children[standing:] if one.name in known else [one]
            grown.append((one, ("count",)))
            if one.attributes.get("count", str(len(one.children))) != str(len(one.children)):
                raise VerificationError(f"the count of {one.name} is wrong")
    same = [(before, ()), *((known[one.name], bare) for one, bare in grown if one.name in known)]
    grown = [(after, ()), *((one, bare) for one, bare in grown if one.name in known)]
    if remainder(old, (), same) != remainder(new, cut, grown):
        raise VerificationError("the styles changed")
    most = counts(new)
    codes = {one.attributes.get("numFmtId") for one in _inside(after, "numFmts", "numFmt")}
    for entry in cut:
        number = entry.attributes.get("numFmtId", "0") if entry.name == "xf" else "0"
        if int(number) >= _LISTED and number not in codes and b'numFmtId="%b"' % number.encode() not in old:
            raise VerificationError("a new format names a number format that there is not")
        for name, collection in _REFERS.items():
            place = int(entry.attributes.get(name, "0")) if entry.name == "xf" else 0
            # A format like one of a member's may share an error with it.
            if place and place >= most[collection] and b'%b="%d"' % (name.encode(), place) not in old:
                raise VerificationError(f"a new format names an entry that {collection} does not have")


def verify_workbook(
    old: bytes,
    new: bytes,
    own: Mapping[int, Mapping[str, str]],
    edited: Mapping[int, Growth],
    hidden: Mapping[tuple[str, int], str],
) -> None:
    """Verify that a workbook part got sheets at its end and names of ours, and asks for calculation at most.

    Args:
        old: The part before.
        new: The part after.
        own: The sheets of our own by their positions: what each of their names is to stand for.
        edited: How the lists in the members' sheets were to grow, by position.
        hidden: What hidden names are to stand for, by name and position of the sheet, ``WORKBOOK`` for none.
    """
    before, after = outline(old, depth=2), outline(new, depth=2)
    ours = {(name, position) for position in own for name in (MARKER, FILTER_NAME, PRINT_TITLES)}
    ours |= {(FILTER_NAME, position) for position in edited}
    listed = len(_inside(before, "sheets", "sheet"))
    free = ours | hidden.keys()
    if _book_rest(old, before, listed, free) != _book_rest(new, after, listed, free):
        raise VerificationError("the workbook part changed")
    earlier, asked = (
        [one.attributes.get("fullCalcOnLoad") for one in root.named("calcPr")] for root in (before, after)
    )
    if asked not in (earlier, ["1"]):
        raise VerificationError("when the workbook calculates changed")
    known, stated = _values(old, before), _values(new, after)
    for name, position in ours:
        value, now = known.get((name, position), []), stated.get((name, position), [])
        wanted = own.get(position, {}).get(name)
        if (
            now != ([wanted] if wanted else [])
            if position in own
            else not _wider(value, now, edited[position])
        ):
            raise VerificationError(f"the name {name} of a sheet is not what it should be")
    for key, formula in hidden.items():
        attributes = [one.attributes for one in _names(after) if _key(one) == key]
        if stated.get(key) != [formula] or attributes != [_hidden(*key)]:
            raise VerificationError(f"the name {key[0]} of the workbook is not what it should be")


def _hidden(name: str, position: int) -> dict[str, str]:
    scope = {} if position == WORKBOOK else {"localSheetId": str(position)}
    return {"name": name, **scope, "hidden": "1"}


def _names(root: Element) -> list[Element]:
    return _inside(root, "definedNames", "definedName")


def _inside(root: Element, name: str, child: str) -> list[Element]:
    return [one for parent in root.named(name) for one in parent.named(child)]


def _key(name: Element) -> tuple[str, int]:
    position = whole(name.attributes.get("localSheetId"))
    return name.attributes.get("name", ""), WORKBOOK if position is None else position


def _book_rest(data: bytes, root: Element, sheets: int, ours: Collection[tuple[str, int]]) -> bytes:
    cut = _inside(root, "sheets", "sheet")[sheets:]
    for names in root.named("definedNames"):
        gone = [one for one in names.named("definedName") if _key(one) in ours]
        cut += [names] if emptied(names, gone) else gone
    bare: list[tuple[Element, tuple[str, ...]]] = []
    for calculation in root.named("calcPr"):
        if calculation.attributes.keys() <= {"fullCalcOnLoad"}:
            cut.append(calculation)
        else:
            bare.append((calculation, ("fullCalcOnLoad",)))
    return remainder(data, cut, bare)


def _values(data: bytes, root: Element) -> Mapping[tuple[str, int], list[str]]:
    values: dict[tuple[str, int], list[str]] = {}
    for one in _names(root):
        values.setdefault(_key(one), []).append(tags.plain(data[one.inside : one.outside].decode()))
    return values


def _wider(known: list[str], now: list[str], growth: Growth) -> bool:
    """Tell whether the name of a filter is what it was, or grew with the list."""
    if known == now or len(known) != 1 or len(now) != 1:
        return known == now
    (sheet, _, old), (title, _, new) = known[0].rpartition("!"), now[0].rpartition("!")
    return sheet == title and growth.allows(area(old), area(new))


def verify_table(old: bytes, new: bytes, growth: Growth) -> None:
    """Verify that a table grew with the list that it lies over, and that its parts agree on how far.

    Args:
        old: The part before.
        new: The part after.
        growth: How the list in its sheet was to grow.
    """
    before, after = outline(old, DEPTH), outline(new, DEPTH)
    known, columns = (_inside(root, "tableColumns", "tableColumn") for root in (before, after))
    where, wide = (area(root.attributes.get("ref", "")) for root in (before, after))
    filters = [one.attributes for root in (before, after) for one in root.named("autoFilter")]
    reach = [area(stated["ref"]) for stated in filters if "ref" in stated]
    fits = growth.allows(where, wide) and wide.bottom >= growth.last_row
    fits &= wide.right - where.right == len(columns) - len(known)
    fits &= [one.attributes.get("count") for one in after.named("tableColumns")] == [str(len(columns))]
    lower = wide.bottom - where.bottom
    fits &= len(reach) != 2 or reach[1] == replace(reach[0], bottom=reach[0].bottom + lower, right=wide.right)
    totals = int(before.attributes.get("totalsRowCount", "0"))
    fits &= not (totals and lower)
    if not fits:
        raise VerificationError("a table does not cover its columns")
    added = columns[len(known) :]
    headings = [growth.headings[where.right + place] for place in range(1, len(added) + 1)]
    for column, heading in zip(added, headings, strict=True):
        named = unescaped(column.attributes.get("name", "")) == cell_text(str(heading))
        if not (named and column.empty and column.attributes.keys() == {"id", "name"}):
            raise VerificationError("a new column of a table holds more than its heading")
    for name in ("id", "name"):
        if len({one.attributes.get(name, "").casefold() for one in columns}) != len(columns):
            raise VerificationError("two columns of a table are alike")
    listed, grown = (replace(one, bottom=one.bottom - totals) for one in (where, wide))
    verify_sorts(sorts([before]), sorts([after]), listed, grown)
    if _table_rest(old, before, []) != _table_rest(new, after, added):
        raise VerificationError("a table changed")


def _table_rest(data: bytes, root: Element, added: list[Element]) -> bytes:
    bare = [(one, ("ref",)) for one in (root, *root.named("autoFilter"), *sorts([root]))]
    return remainder(data, added, [*bare, *((one, ("count",)) for one in root.named("tableColumns"))])

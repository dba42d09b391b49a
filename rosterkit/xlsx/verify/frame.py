"""Verifies a worksheet without its rows: only columns, highlights, hints and filters changed, as claimed."""

import re
from collections.abc import Iterable, Iterator, Mapping

from rosterkit.xlsx.changes import Highlight, SheetChange
from rosterkit.xlsx.package import limits
from rosterkit.xlsx.patch.conditional_formats import is_ours, marked_formula
from rosterkit.xlsx.patch.worksheet import ORDER
from rosterkit.xlsx.verify.claims import Cells
from rosterkit.xlsx.verify.growth import DEPTH, Growth, sorts, verify_sorts
from rosterkit.xlsx.verify.remainder import VerificationError, emptied, remainder
from rosterkit.xlsx.xml.areas import Area, area
from rosterkit.xlsx.xml.outline import Element, outline
from rosterkit.xlsx.xml.tags import text_markup

_WIDTH = ("width", "customWidth")
_PRIORITY = re.compile(rb"""<[^\s<>/]*cfRule\s[^>]*?\bpriority\s*=\s*["']([0-9]{1,9})["']""")

_Said = Mapping[int, list[dict[str, str]]]
"""What is said of columns, by column."""


def verify_frame(
    old: bytes, new: bytes, change: SheetChange, cells: Cells, growth: Growth, formats: int
) -> None:
    """Compare two worksheet parts from which the rows were taken.

    Args:
        old: The part before.
        new: The part after.
        change: What was to change.
        cells: Its cells by row and column.
        growth: How its list was to grow.
        formats: How many formats there are for highlights.

    Raises:
        VerificationError: more changed than may.
    """
    before, after = outline(old, DEPTH), outline(new, DEPTH)
    if ordered(before) and not ordered(after):
        raise VerificationError("the parts of a sheet are not in order")
    _verify_dimension(before, after, cells)
    _verify_filters(before, after, growth)
    _verify_columns(_said(before), _said(after), change.widths)
    cut, put = _earlier(old, before, change)
    theirs, ours = _rest(old, before, cut, put), _rest(new, after, [])
    found = _highlights(ours, () if change.keeps_highlights else change.highlights)
    rest = ours[: found.start()] + ours[found.end() :]
    if theirs != rest:
        raise VerificationError("something beside the rows of a sheet changed")
    numbers = list(map(int, found.groups()))
    priorities = [max(map(int, _PRIORITY.findall(rest)), default=0), *numbers[1::2]]
    if numbers and (priorities != sorted(set(priorities)) or max(numbers[::2]) >= formats):
        raise VerificationError("the highlights do not come after all others, or have no format")


def ordered(root: Element) -> bool:
    """Tell whether the children of a worksheet stand in the order of the format."""
    ranks = [ORDER.index(child.name) for child in root.children if child.name in ORDER]
    return ranks == sorted(ranks)


def _earlier(
    data: bytes, root: Element, change: SheetChange
) -> tuple[list[Element], list[tuple[Element, bytes]]]:
    """Return our earlier highlights that were to go, and those to stay without effect, with what they become.

    A group has one rule at least: where somebody put something beside ours, the first of ours stays.
    """
    cut: list[Element] = []
    put: list[tuple[Element, bytes]] = []
    for formatting in () if change.keeps_highlights else root.named("conditionalFormatting"):
        rules = list(formatting.named("cfRule"))
        ours = [rule for rule in rules if is_ours(data[rule.start : rule.end])]
        if not ours or ours != rules:
            cut += ours
        elif remainder(data[: formatting.outside], ours)[formatting.inside :].strip():
            cut += ours[1:]
            put.append((ours[0], _without_effect(data, root, ours[0])))
        else:
            cut.append(formatting)
    return cut, put


def _without_effect(data: bytes, root: Element, rule: Element) -> bytes:
    formula = b"<%(p)bformula>%(f)b</%(p)bformula>" % {
        b"p": _prefix(data, root),
        b"f": text_markup(marked_formula("FALSE")).encode(),
    }
    return data[rule.start : rule.inside] + formula + data[rule.outside : rule.end]


def _prefix(data: bytes, root: Element) -> bytes:
    return data[root.start + 1 : root.inside].partition(b"worksheet")[0]


def _rest(data: bytes, root: Element, cut: list[Element], put: Iterable[tuple[Element, bytes]] = ()) -> bytes:
    for columns in root.named("cols"):
        gone = list(columns.named("col"))
        cut += [columns] if emptied(columns, gone) else gone
    reach = [*root.named("dimension"), *root.named("autoFilter"), *_sorts(root)]
    bare = [(child, ("ref",)) for child in reach]
    return remainder(data, cut, [*bare, *((rows, ()) for rows in root.named("sheetData"))], put)


def _highlights(frame: bytes, highlights: tuple[Highlight, ...]) -> re.Match[bytes]:
    """Return where our highlights stand together, with the format and the priority of each."""
    root = outline(frame, depth=0)
    prefix = re.escape(_prefix(frame, root))
    pattern = (
        rb'<%(p)bconditionalFormatting sqref="%(a)b"><%(p)bcfRule type="expression"'
        rb' dxfId="([0-9]{1,9})" priority="([0-9]{1,9})"><%(p)bformula>%(f)b</%(p)bformula>'
        rb"</%(p)bcfRule></%(p)bconditionalFormatting>"
    )
    wanted = [
        {
            b"p": prefix,
            b"a": re.escape(" ".join(highlight.ranges).encode()),
            b"f": re.escape(text_markup(marked_formula(highlight.formula)).encode()),
        }
        for highlight in highlights
    ]
    found = re.search(b"".join(pattern % one for one in wanted), frame)
    if found is None:
        raise VerificationError("the highlights are not what they should be")
    return found


def _verify_dimension(before: Element, after: Element, cells: Cells) -> None:
    """Let the dimension grow as far as our cells reach."""
    for known, wide in _stated("dimension", before, after):
        if known != wide and not _around(area(known), area(wide), cells):
            raise VerificationError("the dimension changed")


def _verify_filters(before: Element, after: Element, growth: Growth) -> None:
    """Let filters grow with the list that they lie over, and what was sorted with them."""
    for ref, new in _stated("autoFilter", before, after):
        if ref != new and not growth.allows(area(ref), area(new)):
            raise VerificationError("the filter changed")
    known, wide = growth.filtered(before), growth.filtered(after)
    nothing = Area(0, 0, 0, 0)
    if not growth.allows(known or nothing, wide or nothing):
        raise VerificationError("what was sorted changed")
    verify_sorts(_sorts(before), _sorts(after), known or nothing, wide or nothing)


def _stated(name: str, before: Element, after: Element) -> Iterator[tuple[str, str]]:
    old, new = ([one.attributes.get("ref", "") for one in root.named(name)] for root in (before, after))
    if len(old) != len(new):
        raise VerificationError(f"the {name} came or went")
    return zip(old, new, strict=True)


def _sorts(root: Element) -> Iterator[Element]:
    return sorts([*root.named("autoFilter"), *root.named("sortState")])


def _around(known: Area, wide: Area, cells: Cells) -> bool:
    columns = [column for row in cells.values() for column in (min(row), max(row))]
    most = known.around(Area(min(cells), min(columns), max(cells), max(columns))) if columns else known
    return known.around(wide) == wide and most.around(wide) == most


def _said(root: Element) -> _Said:
    said: dict[int, list[dict[str, str]]] = {}
    for column in (column for columns in root.named("cols") for column in columns.named("col")):
        stated = dict(column.attributes)
        first, last = int(stated.pop("min")), int(stated.pop("max"))
        for number in range(first, min(last, limits.LAST_COLUMN + 1) + 1):
            said.setdefault(number, []).append(stated)
    return said


def _verify_columns(before: _Said, after: _Said, widths: Mapping[int, float]) -> None:
    """Let claimed columns have their width, or the one that they had; all else said of columns stays."""
    for column in {*before, *after, *widths}:
        old, new = before.get(column, []), after.get(column, [])
        if column in widths and new != old:
            wide = {"width": f"{widths[column]:g}", "customWidth": "1"}
            old = [{**stated, **wide} for stated in old or [{}]]
        if new != old or (column in widths and not new):
            raise VerificationError("the columns changed")

"""Verifies a worksheet without its rows: only columns, highlights, hints and filters changed, as claimed."""

import re
from collections.abc import Mapping

from rosterkit.xlsx.changes import Highlight, SheetChange
from rosterkit.xlsx.package import limits
from rosterkit.xlsx.patch.conditional_formats import is_ours, marked_formula
from rosterkit.xlsx.patch.worksheet import ORDER
from rosterkit.xlsx.verify.claims import Cells
from rosterkit.xlsx.verify.remainder import VerificationError, emptied, remainder
from rosterkit.xlsx.xml.areas import Area, area
from rosterkit.xlsx.xml.outline import Element, outline
from rosterkit.xlsx.xml.tags import text_markup
from rosterkit.xlsx.xml.values import blank

_WIDTH = ("width", "customWidth")
_PRIORITY = re.compile(rb"""<[^\s<>/]*cfRule\s[^>]*?\bpriority\s*=\s*["']([0-9]{1,9})["']""")

_Said = Mapping[int, list[dict[str, str]]]
"""What is said of columns, by column."""


def verify_frame(old: bytes, new: bytes, change: SheetChange, cells: Cells, formats: int) -> None:
    """Compare two worksheet parts from which the rows were taken.

    Args:
        old: The part before.
        new: The part after.
        change: What was to change.
        cells: Its cells by row and column.
        formats: How many formats there are for highlights.

    Raises:
        VerificationError: more changed than may.
    """
    before, after = outline(old, depth=2), outline(new, depth=2)
    if ordered(before) and not ordered(after):
        raise VerificationError("the parts of a sheet are not in order")
    _verify_reach(before, after, cells)
    _verify_columns(_said(before), _said(after), change.widths)
    theirs, ours = _rest(old, before, _earlier(old, before, change)), _rest(new, after, [])
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


def _earlier(data: bytes, root: Element, change: SheetChange) -> list[Element]:
    """Return our earlier highlights, if they were to go."""
    cut: list[Element] = []
    for formatting in () if change.keeps_highlights else root.named("conditionalFormatting"):
        rules = list(formatting.named("cfRule"))
        ours = [rule for rule in rules if is_ours(data[rule.start : rule.end])]
        cut += [formatting] if ours and ours == rules else ours
    return cut


def _rest(data: bytes, root: Element, cut: list[Element]) -> bytes:
    for columns in root.named("cols"):
        gone = list(columns.named("col"))
        cut += [columns] if emptied(columns, gone) else gone
    reach = [(child, ("ref",)) for name in ("dimension", "autoFilter") for child in root.named(name)]
    return remainder(data, cut, [*reach, *((rows, ()) for rows in root.named("sheetData"))])


def _highlights(frame: bytes, highlights: tuple[Highlight, ...]) -> re.Match[bytes]:
    """Return where our highlights stand together, with the format and the priority of each."""
    root = outline(frame, depth=0)
    prefix = re.escape(frame[root.start + 1 : root.inside].partition(b"worksheet")[0])
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


def _verify_reach(before: Element, after: Element, cells: Cells) -> None:
    """Let the dimension grow as far as our cells reach, and filters over headings of ours at their right."""
    for name in ("dimension", "autoFilter"):
        old, new = ([one.attributes.get("ref", "") for one in root.named(name)] for root in (before, after))
        fits = widened if name == "autoFilter" else _around
        if len(old) != len(new) or not all(
            known == wide or fits(area(known), area(wide), cells)
            for known, wide in zip(old, new, strict=True)
        ):
            raise VerificationError(f"{name} changed")


def _around(known: Area, wide: Area, cells: Cells) -> bool:
    columns = [column for row in cells.values() for column in (min(row), max(row))]
    most = known.around(Area(min(cells), min(columns), max(cells), max(columns))) if columns else known
    return known.around(wide) == wide and most.around(wide) == most


def widened(known: Area, wide: Area, cells: Cells) -> bool:
    """Tell whether an area grew to the right only, by columns whose headings are claimed."""
    headings = cells.get(known.top, {})
    return (
        (known.top, known.left, known.bottom) == (wide.top, wide.left, wide.bottom)
        and known.right <= wide.right
        and not any(blank(headings.get(column)) for column in range(known.right + 1, wide.right + 1))
    )


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

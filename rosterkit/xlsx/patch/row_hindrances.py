"""What is bound to the place of rows, so that they cannot change their order without harm."""

import re
from collections.abc import Iterator

from rosterkit.cell_names import column_letters
from rosterkit.formulas.references import corners, split, title_of
from rosterkit.formulas.tokens import Kind, tokens
from rosterkit.xlsx.changes import RowOrder
from rosterkit.xlsx.package.markup import utf8
from rosterkit.xlsx.package.opening import Package, SheetPart
from rosterkit.xlsx.patch.conditional_formats import is_ours
from rosterkit.xlsx.patch.draft import Draft
from rosterkit.xlsx.patch.worksheet import SheetText
from rosterkit.xlsx.read.anchors import drawn_on
from rosterkit.xlsx.read.drawings import drawing_areas
from rosterkit.xlsx.read.notes import notes_of
from rosterkit.xlsx.xml import tags
from rosterkit.xlsx.xml.areas import Area, area_or_none
from rosterkit.xlsx.xml.outline import Element

_REFUSED = {
    "protectedRanges": "cells with protection of their own",
    "rowBreaks": "the end of a printed page",
    "cellWatches": "a watched cell",
    "scenarios": "a scenario",
    "oleObjects": "an object",
    "controls": "a button",
}
_AREAS = {
    "mergeCell": "merged cells",
    "hyperlink": "a link",
    "ignoredError": "a remark on an error",
}
_FORMULA = re.compile(
    rb"<(?:[^\s<>/:!?]+:)?(?:f|formula1?|formula2|sqref|definedName(?![^<>]*_FilterDatabase))(?:\s[^<>]*)?>"
    rb"([^<]+)</"
)
"""Where formulas stand; the name of what a filter covers binds no row: what it hides goes along."""
_CELL = re.compile(rb'<(?:[^\s<>/:!?]+:)?c r="([A-Z]+)([0-9]+)"[^<>]*>\s*<(?:[^\s<>/:!?]+:)?f(?=[\s/>])')
_LAST = 1_048_576


def hindrances(draft: Draft, part: SheetPart, sheet: SheetText, order: RowOrder) -> Iterator[str]:
    """Return what is bound to a place among the rows to be moved, each in words with its place."""
    rows = [new for new, old in order.rows.items() if new != old]
    block = Area(min(rows), 1, max(rows), 16_384)
    yield from _drawn(draft.package, part, sheet, block)
    yield from _formulas(sheet, order, set(rows))
    yield from _in_frame(sheet, block)
    yield from _references(draft, part, order, block)


def _bound(area: Area | None, block: Area) -> bool:
    """Tell whether an area lies over some of the rows, but not over all of them."""
    return (
        area is not None and area.meets(block) and not (area.top <= block.top and area.bottom >= block.bottom)
    )


def _drawn(package: Package, part: SheetPart, sheet: SheetText, block: Area) -> Iterator[str]:
    for row, column in notes_of(package, part.part):
        if block.holds(row, column):
            yield f"a note at {column_letters(column)}{row}"
    for one in drawn_on(package, part.part, controls=True):
        if block.holds(one.row, one.column):
            yield f"a {one.kind.value} at {column_letters(one.column)}{one.row}"
    for place in drawing_areas(package, part.part, utf8(sheet.data)):
        over = Area(place.top, place.left, place.bottom, place.right)
        if _bound(over, block):
            yield f"a table or a drawing over {over}"


def _formulas(sheet: SheetText, order: RowOrder, rows: set[int]) -> Iterator[str]:
    for letters, row in _CELL.findall(sheet.data, sheet.sheet_data.inside, sheet.sheet_data.outside):
        area = area_or_none(f"{letters.decode()}{row.decode()}")
        if area is not None and area.top in rows and area.left not in order.staying:
            yield f"a formula in {area}"


def _in_frame(sheet: SheetText, block: Area) -> Iterator[str]:
    for child in sheet.root.children:
        if child.name in _REFUSED:
            yield _REFUSED[child.name]
        for one in child.children:
            if one.name in _AREAS:
                stated = one.attributes.get("ref") or one.attributes.get("sqref") or ""
                areas = [area_or_none(each) for each in stated.split()]
                if any(area is not None and area.meets(block) for area in areas):
                    yield f"{_AREAS[one.name]} ({stated[:30]})"
            if one.name == "dataValidation":
                yield from _partly(one.attributes.get("sqref", ""), block, "a drop-down list or a limit")
        if child.name == "conditionalFormatting" and not _ours(sheet, child):
            yield from _partly(child.attributes.get("sqref", ""), block, "a conditional format")


def _ours(sheet: SheetText, child: Element) -> bool:
    rules = list(child.named("cfRule"))
    return bool(rules) and all(is_ours(sheet.data[rule.start : rule.end]) for rule in rules)


def _partly(stated: str, block: Area, what: str) -> Iterator[str]:
    if any(_bound(area_or_none(one), block) for one in stated.split()):
        yield f"{what} for some of the rows ({stated[:30]})"


def _references(draft: Draft, part: SheetPart, order: RowOrder, block: Area) -> Iterator[str]:
    """Return formulas, names and charts of the members' that refer to some of the rows only."""
    package = draft.package
    own = {sheet.part for sheet in package.sheets if sheet.is_own}
    for name in package.names:
        xml = name.lower().endswith(".xml") and name not in own
        if not xml or name in {package.shared_strings_part, package.styles_part}:
            continue
        data = draft.text(name)
        # Within quotes an apostrophe of the title is doubled.
        spelt = part.title.casefold().partition("'")[0]
        here = name == part.part
        for piece, is_frame in _pieces(data, order) if here else [(data, False)]:
            for text in _FORMULA.findall(piece):
                formula = tags.plain(text.decode())
                if not here and spelt not in formula.casefold():
                    continue
                areas = _in_formula(formula, part.title, here=here, fixed=is_frame)
                if any(area is None or _bound(area, block) for area in areas):
                    yield f"a formula or a name that refers to some of the rows ({formula[:40]})"


def _pieces(data: bytes, order: RowOrder) -> list[tuple[bytes, bool]]:
    """Return the rows of a sheet, and what stands around them, in which formulas count from cell to cell."""
    begin, end = data.find(b"sheetData"), data.rfind(b"sheetData")
    return [(_without(data[begin:end], order.staying), False), (data[:begin] + data[end:], True)]


def _without(data: bytes, staying: frozenset[int]) -> bytes:
    """Return a sheet without the cells of columns whose formulas count by place."""
    letters = b"|".join(column_letters(column).encode() for column in staying) or b"-"
    cell = rb'<((?:[^\s<>/:!?]+:)?)c r="(?:%b)[0-9]+"[^<>]*?(?:/>|(?<!/)>.*?</\1c>)' % letters
    return re.sub(cell, b"", data, flags=re.DOTALL)


def _in_formula(text: str, title: str, *, here: bool, fixed: bool) -> Iterator[Area | None]:
    """Return the areas of a sheet that a formula refers to; None where it may reach anywhere.

    Args:
        text: The formula, without an equals sign.
        title: The title of the sheet.
        here: The formula stands on that sheet.
        fixed: Only rows with a $ count.
    """
    folded = title.casefold()
    for word in tokens(text):
        if word.kind is Kind.NAME and word.text.upper() in {"INDIRECT", "OFFSET"}:
            yield None
        if word.kind is not Kind.REFERENCE:
            continue
        prefix, cells = split(word.text)
        named = title_of(prefix)
        if (named is None and not here) or (named is not None and named.casefold() != folded):
            continue
        ends = [one for one in corners(cells) if one.row_fixed or not fixed or one.row is None]
        if ends:
            rows = [one.row for one in ends if one.row is not None] or [1, _LAST]
            yield Area(min(rows), 1, max(rows), 1)

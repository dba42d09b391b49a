"""Locks a worksheet without a password: only some of its cells may be typed into."""

import re
from bisect import bisect_right
from collections.abc import Mapping

from rosterkit.cell_names import column_letters
from rosterkit.xlsx.changes import SheetLock
from rosterkit.xlsx.package.markup import whole
from rosterkit.xlsx.package.opening import SheetPart
from rosterkit.xlsx.patch.columns import column_styles
from rosterkit.xlsx.patch.draft import Draft
from rosterkit.xlsx.patch.splices import Splice, opened, place_for, spliced
from rosterkit.xlsx.patch.styles import Styles
from rosterkit.xlsx.patch.worksheet import ORDER, Place, SheetText, sheet_text
from rosterkit.xlsx.xml import tags

_TRUE = {"1", "true"}
_PASSWORDS = {"password", "algorithmName", "hashValue", "saltValue", "spinCount"}
_ALLOWED = (
    "formatCells", "formatColumns", "formatRows", "insertColumns", "insertRows", "insertHyperlinks",
    "deleteRows", "sort", "autoFilter", "pivotTables",
)  # fmt: skip
"""What people may still do, as far as a program finds no locked cell in its way; the format states what is
forbidden (ISO/IEC 29500-1, 18.3.1.85). Photos, drawings and notes are not protected."""

LOCKED: Mapping[str, str] = {"sheet": "1", **dict.fromkeys(_ALLOWED, "0")}
"""The attributes of our own protection."""
_SPANS = re.compile(rb"""\sspans\s*=\s*["'][^"']*["']""")


def is_protected(sheet: SheetText) -> bool:
    """Tell whether a sheet is protected, by whomever."""
    return any(one.attributes.get("sheet") in _TRUE for one in sheet.root.named("sheetProtection"))


def has_password(sheet: SheetText) -> bool:
    """Tell whether the protection of a sheet has a password."""
    return any(_PASSWORDS & one.attributes.keys() for one in sheet.root.named("sheetProtection"))


def lock_sheet(draft: Draft, part: SheetPart, lock: SheetLock, styles: Styles) -> None:
    """Lock a sheet's part in the draft, but for the cells that stay open.

    Raises:
        MarkupError: the part is not such as can be edited.
        OutOfOrderError: its rows or cells are out of order.
    """
    sheet = sheet_text(draft.text(part.part))
    writer = _Unlocking(sheet, styles)
    writer.unlock(_by_row(lock))
    draft.write(part.part, spliced(sheet.data, [*_protection(sheet), *writer.splices]))


def _protection(sheet: SheetText) -> list[Splice]:
    stated = b"".join(b' %b="%b"' % (name.encode(), value.encode()) for name, value in LOCKED.items())
    new = b"<%bsheetProtection%b/>" % (sheet.prefix, stated)
    # Some programs say of each sheet that it is not protected.
    standing = [Splice(one.start, one.end, b"") for one in sheet.root.named("sheetProtection")]
    if standing:
        return [standing[0]._replace(new=new), *standing[1:]]
    place = max(place_for(sheet.root, "sheetProtection", ORDER), sheet.sheet_data.end)
    return [Splice(place, place, new)]


def _by_row(lock: SheetLock) -> dict[int, list[int]]:
    rows: dict[int, set[int]] = {}
    for top, left, bottom, right in lock.open:
        for row in range(top, bottom + 1):
            rows.setdefault(row, set()).update(range(left, right + 1))
    return {row: sorted(columns) for row, columns in sorted(rows.items())}


class _Unlocking:
    """The cells of one sheet, unlocked row by row."""

    def __init__(self, sheet: SheetText, styles: Styles) -> None:
        self.sheet = sheet
        self.styles = styles
        self.splices: list[Splice] = []
        self.of_column: dict[int, int] = {}
        for first, last, style in reversed(column_styles(sheet)):
            self.of_column |= dict.fromkeys(range(first, last + 1), style)

    def unlock(self, wanted: dict[int, list[int]]) -> None:
        for row in self.sheet.rows():
            for number in [number for number in wanted if number < row.number]:
                self.splices.append(Splice(row.start, row.start, self.new_row(number, wanted.pop(number))))
            if row.number in wanted:
                self.change(row, wanted.pop(row.number))
        rest = b"".join(self.new_row(number, columns) for number, columns in wanted.items())
        element = self.sheet.sheet_data
        if rest and element.empty:
            new = opened(self.sheet.data[element.start : element.end], rest)
            self.splices.append(Splice(element.start, element.end, new))
        elif rest:
            self.splices.append(Splice(element.outside, element.outside, rest))

    def new_row(self, number: int, columns: list[int]) -> bytes:
        prefix = self.sheet.prefix
        cells = b"".join(self.new_cell(number, column, None) for column in columns)
        return b'<%brow r="%d">%b</%brow>' % (prefix, number, cells, prefix)

    def new_cell(self, row: int, column: int, row_style: int | None) -> bytes:
        style = self.styles.unlocked(row_style or self.of_column.get(column, 0))
        place = column_letters(column).encode(), row
        return b'<%bc r="%b%d" s="%d"/>' % (self.sheet.prefix, *place, style)

    def change(self, row: Place, wanted: list[int]) -> None:
        columns = self.sheet.columns(row)
        places = {column: place for place, column in enumerate(columns)}
        tag = self.sheet.data[row.start : row.inside]
        stated = tags.attributes(tag)
        row_style = whole(stated.get("s")) if stated.get("customFormat") in _TRUE else None
        added: dict[int, list[bytes]] = {}
        for column in wanted:
            if column in places:
                self.restyle(self.sheet.cell(row, columns, places[column]))
            else:
                new = self.new_cell(row.number, column, row_style)
                added.setdefault(bisect_right(columns, column), []).append(new)
        if not added:
            return
        # The spans of a row are a hint that need not be there (ISO/IEC 29500-1, 18.3.1.73).
        bare = _SPANS.sub(b"", tag)
        if row.outside == row.end:
            new = opened(bare, b"".join(cell for cells in added.values() for cell in cells))
            self.splices.append(Splice(row.start, row.end, new))
            return
        if bare != tag:
            self.splices.append(Splice(row.start, row.inside, bare))
        for position, cells in added.items():
            place = self.place(row, columns, position)
            self.splices.append(Splice(place, place, b"".join(cells)))

    def place(self, row: Place, columns: list[int], position: int) -> int:
        if position < len(columns):
            return self.sheet.cell(row, columns, position).start
        return self.sheet.cell(row, columns, len(columns) - 1).end if columns else row.inside

    def restyle(self, cell: Place) -> None:
        tag = self.sheet.data[cell.start : cell.inside]
        style = self.styles.unlocked(whole(tags.attributes(tag).get("s")) or 0)
        new = tags.with_attribute(tag, "s", str(style))
        if new != tag:
            self.splices.append(Splice(cell.start, cell.inside, new))

"""Splices changed cells into the rows of a worksheet; each byte of every other cell stays as it is."""

import re
from bisect import bisect_right
from collections import deque
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from rosterkit.cell_names import column_letters
from rosterkit.xlsx.changes import CellChange, leaves_blank
from rosterkit.xlsx.package.errors import REPAIR
from rosterkit.xlsx.package.markup import whole
from rosterkit.xlsx.patch.refusal import MOVE, EditRefused
from rosterkit.xlsx.patch.splices import Splice, opened
from rosterkit.xlsx.patch.stored_cells import StoredCells, Texts
from rosterkit.xlsx.patch.worksheet import Place, SheetText
from rosterkit.xlsx.xml import tags
from rosterkit.xlsx.xml.areas import area_or_none
from rosterkit.xlsx.xml.values import blank, cell_markup, formula_markup

RowChanges = Mapping[int, CellChange]
"""The changes of one row by column."""

StyleOf = Callable[[CellChange, int | None, int | None], int | None]
"""Gives the style of a cell from its change, its own style, and its row's; None leaves the attribute out."""

# A row may state several spans; the first and the last number are its ends.
_SPANS = re.compile(rb"""\sspans\s*=\s*["']([0-9]+):(?:[0-9: ]*:)?([0-9]+)["']""")


@dataclass(slots=True)
class CellSplices:
    """The splices of one sheet's cells, and what they come to."""

    splices: list[Splice] = field(default_factory=list)
    written: dict[int, list[int]] = field(default_factory=dict)
    """Columns of the cells that change, by row; cells that already are as wanted are not among them."""
    formulas_changed: bool = False
    """A formula came, went or became another."""


def cell_splices(
    sheet: SheetText, changes: Mapping[int, RowChanges], style_of: StyleOf, texts: Texts
) -> CellSplices:
    """Work out the splices for all changed cells of a sheet.

    Args:
        sheet: The worksheet.
        changes: The changes by row and column.
        style_of: Gives the style of a written cell.
        texts: Gives the shared texts; called only if a cell to be written holds one of them.

    Raises:
        OutOfOrderError: the rows, or the cells of a row to be changed, do not stand in order.
        EditRefused: a cell holds an image or a formula that others are derived from.
    """
    writer = _Writer(sheet, style_of, texts)
    waiting = sorted(changes, reverse=True)
    rows = sheet.rows()
    for row in rows:
        while waiting and waiting[-1] < row.number:
            number = waiting.pop()
            writer.insert(row.start, writer.new_row(number, changes[number]))
        if waiting and waiting[-1] == row.number:
            writer.change(row, changes[waiting.pop()])
        if not waiting:
            if not sheet.in_order_after(row):
                deque(rows, maxlen=0)
            break
    rest = b"".join(writer.new_row(number, changes[number]) for number in reversed(waiting))
    element = sheet.sheet_data
    if rest and element.empty:
        writer.replace(element.start, element.end, opened(sheet.data[element.start : element.end], rest))
    else:
        writer.insert(element.outside, rest)
    return writer.out


class _Writer:
    def __init__(self, sheet: SheetText, style_of: StyleOf, texts: Texts) -> None:
        prefix = sheet.prefix
        self.sheet = sheet
        self.style_of = style_of
        self.stored = StoredCells(sheet, texts)
        self.out = CellSplices()
        self.name = prefix + b"c"
        self.usual = re.compile(rb'(<%bc r="[A-Z]+[0-9]+")(?: s="([0-9]+)")?(?: t="[A-Za-z]+")?/?>' % prefix)
        self.content = re.compile(rb"<%b(?:v|f|is)(?=[\s/>])" % prefix)
        self.formula = re.compile(rb"<%bf(?=[\s/>])[^>]*>" % prefix)
        self.extension = b"<%bextLst" % prefix

    def replace(self, start: int, end: int, new: bytes) -> None:
        self.out.splices.append(Splice(start, end, new))

    def insert(self, place: int, new: bytes) -> None:
        if new:
            self.replace(place, place, new)

    def new_row(self, number: int, changes: RowChanges) -> bytes:
        columns = sorted(changes)
        cells = b"".join(self.new_cell(changes[column], None) for column in columns)
        prefix = self.sheet.prefix
        return b'<%brow r="%d">%b</%brow>' % (prefix, number, cells, prefix) if cells else b""

    def new_cell(self, change: CellChange, row_style: int | None) -> bytes:
        if leaves_blank(change):
            return b""
        self.note(change)
        self.out.formulas_changed |= change.formula is not None
        start = b'<%b r="%b%d"' % (self.name, column_letters(change.column).encode(), change.row)
        return self.filled(start, self.style_of(change, None, row_style), change)

    def filled(self, start: bytes, style: int | None, change: CellChange, rest: bytes = b"") -> bytes:
        """Write a cell from the first bytes of its tag; ``rest`` stands behind its content."""
        number = b"" if style is None else b' s="%d"' % style
        kind, content = b"", b""
        if change.formula is not None:
            kind, content = formula_markup(change.formula, change.value, self.sheet.prefix)
        elif change.value is not None and not blank(change.value):
            kind, content = cell_markup(change.value, self.sheet.prefix)
        if not content and not rest:
            return b"%b%b/>" % (start, number)
        return b"%b%b%b>%b%b</%b>" % (start, number, kind, content, rest, self.name)

    def note(self, change: CellChange) -> None:
        self.out.written.setdefault(change.row, []).append(change.column)

    def change(self, row: Place, changes: RowChanges) -> None:
        columns = self.sheet.columns(row)
        row_style = self.row_style(row)
        added: dict[int, bytes] = {}
        for column in sorted(changes):
            position = bisect_right(columns, column)
            if position and columns[position - 1] == column:
                self.rewrite(self.sheet.cell(row, columns, position - 1), changes[column], row_style)
            elif new := self.new_cell(changes[column], row_style):
                added[column] = new
        if added:
            self.add(row, columns, added)

    def row_style(self, row: Place) -> int | None:
        tag = self.sheet.data[row.start : row.inside]
        if b"customFormat" not in tag:
            return None
        stated = tags.attributes(tag)
        return whole(stated.get("s")) if stated.get("customFormat") in {"1", "true"} else None

    def add(self, row: Place, columns: list[int], added: Mapping[int, bytes]) -> None:
        tag = self.sheet.data[row.start : row.inside]
        wide = _widened(tag, min(added), max(added))
        if row.outside == row.end:
            self.replace(row.start, row.end, opened(wide, b"".join(added.values())))
            return
        if wide != tag:
            self.replace(row.start, row.inside, wide)
        behind: dict[int, list[bytes]] = {}
        for column, new in added.items():
            behind.setdefault(bisect_right(columns, column), []).append(new)
        for position, cells in behind.items():
            self.insert(self.place(row, columns, position), b"".join(cells))

    def place(self, row: Place, columns: list[int], position: int) -> int:
        """Return the place for a new cell; blanks at the row's end and an extension of it keep theirs."""
        if position < len(columns):
            return self.sheet.cell(row, columns, position).start
        extension = self.sheet.masked.rfind(self.extension, row.inside, row.outside)
        end = self.sheet.cell(row, columns, len(columns) - 1).end if columns and extension > 0 else row.inside
        return row.outside if extension < end else end

    def rewrite(self, cell: Place, change: CellChange, row_style: int | None) -> None:
        tag = self.sheet.data[cell.start : cell.inside]
        content = self.sheet.masked[cell.inside : cell.outside]
        if leaves_blank(change) and not self.content.search(content):
            return
        start, own = self.kept(tag, change)
        extension = content.find(self.extension)
        rest = self.sheet.data[cell.inside + extension : cell.outside] if extension >= 0 else b""
        style = own if leaves_blank(change) else self.style_of(change, own, row_style)
        new = self.filled(start, style, change, rest)
        if new == self.sheet.data[cell.start : cell.end]:
            return
        if style == own and self.stored.holds(tag, content, change):
            return
        overwritten = self.free_formula(content, change)
        self.replace(cell.start, cell.end, new)
        self.note(change)
        self.out.formulas_changed |= overwritten or change.formula is not None

    def kept(self, tag: bytes, change: CellChange) -> tuple[bytes, int | None]:
        """Return the first bytes of a cell's tag, all but style and type, and its own style."""
        usual = self.usual.fullmatch(tag)
        if usual is not None:
            return usual[1], None if usual[2] is None else int(usual[2])
        stated = tags.attributes(tag)
        if "vm" in stated:
            raise EditRefused(change.row, change.column, "holds an image or another rich value", MOVE)
        bare = (
            tags.without_attributes(tag, "r", "s", "t", "cm", "ph")[len(self.name) + 1 :]
            .rstrip(b"/>")
            .rstrip()
        )
        reference = f"{column_letters(change.column)}{change.row}".encode()
        own = whole(stated.get("s"))
        if own is None and "s" in stated:
            raise EditRefused(change.row, change.column, "has a format that no workbook can have", REPAIR)
        return b'<%b r="%b"%b' % (self.name, reference, bare), own

    def free_formula(self, content: bytes, change: CellChange) -> bool:
        """Tell whether a formula is overwritten; refuse one that other cells take theirs from."""
        tag = self.formula.search(content)
        if tag is None:
            return False
        stated = tags.attributes(tag[0])
        shared = area_or_none(stated.get("ref"))
        if stated.get("t") == "shared" and "ref" in stated and not (shared and shared.single):
            why = "holds a formula that the formulas of other cells are derived from"
            raise EditRefused(change.row, change.column, why, MOVE)
        return True


def _widened(tag: bytes, first: int, last: int) -> bytes:
    spans = _SPANS.search(tag)
    if spans is None or (int(spans[1]) <= first and last <= int(spans[2])):
        return tag
    return tags.with_attribute(tag, "spans", f"{min(first, int(spans[1]))}:{max(last, int(spans[2]))}")

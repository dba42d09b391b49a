"""Writes the cells of a worksheet that change, with all that they keep, as splices into its rows."""

import re
from bisect import bisect_right
from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass, field

from rosterkit.cell_names import column_letters
from rosterkit.xlsx.changes import CellChange, leaves_blank
from rosterkit.xlsx.package.errors import REPAIR
from rosterkit.xlsx.package.markup import whole
from rosterkit.xlsx.patch.refusal import MOVE, EditRefused
from rosterkit.xlsx.patch.shared_formulas import Group
from rosterkit.xlsx.patch.sharing import Sharing
from rosterkit.xlsx.patch.splices import Splice, opened
from rosterkit.xlsx.patch.stored_cells import StoredCells
from rosterkit.xlsx.patch.worksheet import Place, SheetText
from rosterkit.xlsx.xml import tags
from rosterkit.xlsx.xml.areas import area_or_none
from rosterkit.xlsx.xml.values import blank, cell_markup, result_markup

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


class CellWriter:
    """Takes in the changes of one sheet row by row, in the order of the rows."""

    def __init__(
        self,
        sheet: SheetText,
        style_of: StyleOf,
        stored: StoredCells,
        changes: Mapping[int, RowChanges],
        rewritten: Collection[tuple[int, int]],
    ) -> None:
        """Begin with a sheet.

        Args:
            sheet: The worksheet.
            style_of: Gives the style of a written cell.
            stored: What its cells hold.
            changes: All changes by row and column.
            rewritten: Rows and columns of cells that are written also if they are as wanted.
        """
        prefix = sheet.prefix
        self.sheet = sheet
        self.style_of = style_of
        self.stored = stored
        self.changes = changes
        self.rewritten = rewritten
        self.freed: set[tuple[int, int]] = set()
        """Those that took their formula from one that is overwritten."""
        self.sharing = Sharing(_formulas(changes), lambda: stored.groups)
        self.out = CellSplices()
        self.name = prefix + b"c"
        self.usual = re.compile(rb'(<%bc r="[A-Z]+[0-9]+")(?: s="([0-9]+)")?(?: t="[A-Za-z]+")?/?>' % prefix)
        self.content = re.compile(rb"<%b(?:v|f|is)(?=[\s/>])" % prefix)
        self.formula = re.compile(rb"<%bf(?=[\s/>])[^>]*>" % prefix)
        self.extension = b"<%bextLst" % prefix

    def replace(self, start: int, end: int, new: bytes) -> None:
        """Put something in the place of some bytes."""
        self.out.splices.append(Splice(start, end, new))

    def insert(self, place: int, new: bytes) -> None:
        """Put something in at a place."""
        if new:
            self.replace(place, place, new)

    def new_row(self, number: int, changes: RowChanges) -> bytes:
        """Return a row that is not there yet; nothing if none of its cells is to hold anything."""
        columns = sorted(changes)
        cells = b"".join(self.new_cell(changes[column], None) for column in columns)
        prefix = self.sheet.prefix
        return b'<%brow r="%d">%b</%brow>' % (prefix, number, cells, prefix) if cells else b""

    def new_cell(self, change: CellChange, row_style: int | None) -> bytes:
        """Return a cell that is not there yet; nothing if it is to hold nothing."""
        if leaves_blank(change):
            return b""
        self._note(change)
        self.out.formulas_changed |= change.formula is not None
        start = b'<%b r="%b%d"' % (self.name, column_letters(change.column).encode(), change.row)
        return self._filled(start, self.style_of(change, None, row_style), change)

    def _filled(
        self,
        start: bytes,
        style: int | None,
        change: CellChange,
        element: bytes | None = None,
        rest: bytes = b"",
    ) -> bytes:
        """Return a cell.

        Args:
            start: The first bytes of its tag.
            style: Its style; None for none.
            change: What it holds.
            element: That of its formula, if that stands already.
            rest: What stands behind its content.
        """
        number = b"" if style is None else b' s="%d"' % style
        kind, content = b"", b""
        if change.formula is not None:
            kind, result = result_markup(change.value, self.sheet.prefix)
            place = change.row, change.column
            content = element or self.sharing.element(*place, change.formula, self.sheet.prefix)
            content += result
        elif change.value is not None and not blank(change.value):
            kind, content = cell_markup(change.value, self.sheet.prefix)
        if not content and not rest:
            return b"%b%b/>" % (start, number)
        return b"%b%b%b>%b%b</%b>" % (start, number, kind, content, rest, self.name)

    def _note(self, change: CellChange) -> None:
        self.out.written.setdefault(change.row, []).append(change.column)

    def change(self, row: Place, changes: RowChanges) -> None:
        """Change the cells of a row that is there."""
        columns = self.sheet.columns(row)
        row_style = self._row_style(row)
        added: dict[int, bytes] = {}
        for column in sorted(changes):
            position = bisect_right(columns, column)
            if position and columns[position - 1] == column:
                self._rewrite(self.sheet.cell(row, columns, position - 1), changes[column], row_style)
            elif new := self.new_cell(changes[column], row_style):
                added[column] = new
        if added:
            self._add(row, columns, added)

    def _row_style(self, row: Place) -> int | None:
        tag = self.sheet.data[row.start : row.inside]
        if b"customFormat" not in tag:
            return None
        stated = tags.attributes(tag)
        return whole(stated.get("s")) if stated.get("customFormat") in {"1", "true"} else None

    def _add(self, row: Place, columns: list[int], added: Mapping[int, bytes]) -> None:
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
            self.insert(self._place(row, columns, position), b"".join(cells))

    def _place(self, row: Place, columns: list[int], position: int) -> int:
        """Return the place for a new cell; blanks at the row's end and an extension of it keep theirs."""
        if position < len(columns):
            return self.sheet.cell(row, columns, position).start
        extension = self.sheet.masked.rfind(self.extension, row.inside, row.outside)
        end = self.sheet.cell(row, columns, len(columns) - 1).end if columns and extension > 0 else row.inside
        return row.outside if extension < end else end

    def _rewrite(self, cell: Place, change: CellChange, row_style: int | None) -> None:
        tag = self.sheet.data[cell.start : cell.inside]
        content = self.sheet.masked[cell.inside : cell.outside]
        if leaves_blank(change) and not self.content.search(content):
            return
        start, own = self._kept(tag, change)
        extension = content.find(self.extension)
        rest = self.sheet.data[cell.inside + extension : cell.outside] if extension >= 0 else b""
        style = own if leaves_blank(change) else self.style_of(change, own, row_style)
        stays = (change.row, change.column) not in self.rewritten
        if stays and style == own and self.stored.holds(tag, content, change):
            return
        element = self.stored.shared_element(content, change) if stays else None
        new = self._filled(start, style, change, element, rest)
        if new == self.sheet.data[cell.start : cell.end]:
            return
        overwritten = element is None and self._free_formula(content, change)
        self.replace(cell.start, cell.end, new)
        self._note(change)
        self.out.formulas_changed |= overwritten or change.formula is not None

    def _kept(self, tag: bytes, change: CellChange) -> tuple[bytes, int | None]:
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

    def _free_formula(self, content: bytes, change: CellChange) -> bool:
        """Tell whether a formula is overwritten; refuse one from which cells take theirs that stay."""
        tag = self.formula.search(content)
        if tag is None:
            return False
        stated = tags.attributes(tag[0])
        shared = area_or_none(stated.get("ref"))
        if stated.get("t") == "shared" and "ref" in stated and not (shared and shared.single):
            group = self.stored.groups.get(stated.get("si", ""), Group())
            ours = all(column in self.changes.get(row, {}) for row, column in group.others)
            if ours and len(group.firsts) == 1:
                self.freed |= group.others
                return True
            why = "holds a formula that the formulas of other cells are derived from"
            raise EditRefused(change.row, change.column, why, MOVE)
        return True


def _formulas(changes: Mapping[int, RowChanges]) -> Iterator[tuple[int, int, str]]:
    """Return row, column and formula of the cells that are to hold one, in the order of the rows."""
    for row in sorted(changes):
        for column, change in changes[row].items():
            if change.formula is not None:
                yield row, column, change.formula


def _widened(tag: bytes, first: int, last: int) -> bytes:
    spans = _SPANS.search(tag)
    if spans is None or (int(spans[1]) <= first and last <= int(spans[2])):
        return tag
    return tags.with_attribute(tag, "spans", f"{min(first, int(spans[1]))}:{max(last, int(spans[2]))}")

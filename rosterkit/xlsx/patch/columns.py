"""The columns of a worksheet: their formats, and the widths of columns that were added."""

from collections.abc import Mapping
from dataclasses import dataclass

from rosterkit.xlsx.package.errors import shown
from rosterkit.xlsx.package.markup import MarkupError, whole
from rosterkit.xlsx.patch.splices import Splice, added_to_child
from rosterkit.xlsx.patch.worksheet import ORDER, SheetText
from rosterkit.xlsx.xml import tags
from rosterkit.xlsx.xml.outline import Element


@dataclass(frozen=True, slots=True, kw_only=True)
class Columns:
    """What a sheet says of a run of columns."""

    first: int
    last: int
    tag: bytes
    """As a single tag, however it is spelt."""
    element: Element

    def part(self, first: int, last: int) -> bytes:
        """Write what is said of some of the columns only."""
        return tags.with_attribute(tags.with_attribute(self.tag, "min", str(first)), "max", str(last))


def stated_columns(sheet: SheetText) -> list[Columns]:
    """Return what a sheet says of its columns, in its order.

    Raises:
        MarkupError: it says something of what is no run of columns.
    """
    found: list[Columns] = []
    for element in (column for columns in sheet.root.named("cols") for column in columns.named("col")):
        stated = [element.attributes.get(name, "") for name in ("min", "max")]
        first, last = map(whole, stated)
        if first is None or last is None:
            raise MarkupError(f"speaks of the columns {shown(stated[0], 20)} to {shown(stated[1], 20)}")
        tag = sheet.data[element.start : element.inside].rstrip(b"/>") + b"/>"
        found.append(Columns(first=first, last=last, tag=tag, element=element))
    return found


def column_styles(sheet: SheetText) -> list[tuple[int, int, int]]:
    """Return first column, last column and format for all columns that have a format."""
    return [
        (columns.first, columns.last, style)
        for columns in stated_columns(sheet)
        if (style := whole(columns.element.attributes.get("style")))
    ]


def width_splices(sheet: SheetText, widths: Mapping[int, float]) -> list[Splice]:
    """Work out the splices that give columns their widths; a column with a width of its own keeps it.

    Args:
        sheet: The worksheet.
        widths: Widths in characters by column.
    """
    wanted = dict(widths)
    stated = stated_columns(sheet)
    splices: list[Splice] = []
    for columns in stated:
        inside = {
            column: wanted.pop(column) for column in sorted(wanted) if columns.first <= column <= columns.last
        }
        if inside and not _of_its_own(columns):
            splices.append(Splice(columns.element.start, columns.element.end, _split(columns, inside)))
    return [*splices, *_added(sheet, stated, wanted)]


def _of_its_own(columns: Columns) -> bool:
    custom = columns.element.attributes.get("customWidth")
    return columns.first == columns.last and custom in {"1", "true"}


def _split(columns: Columns, widths: Mapping[int, float]) -> bytes:
    pieces: list[bytes] = []
    begin = columns.first
    for column, width in widths.items():
        if begin < column:
            pieces.append(columns.part(begin, column - 1))
        wide = tags.with_attribute(columns.part(column, column), "width", f"{width:g}")
        pieces.append(tags.with_attribute(wide, "customWidth", "1"))
        begin = column + 1
    if begin <= columns.last:
        pieces.append(columns.part(begin, columns.last))
    return b"".join(pieces)


def _added(sheet: SheetText, stated: list[Columns], widths: Mapping[int, float]) -> list[Splice]:
    prefix = sheet.prefix
    new = {
        column: b'<%bcol min="%d" max="%d" width="%b" customWidth="1"/>'
        % (prefix, column, column, b"%g" % width)
        for column, width in sorted(widths.items())
    }
    if not new:
        return []
    if not stated:
        return [added_to_child(sheet.data, sheet.root, "cols", ORDER, b"".join(new.values()))]
    splices: list[Splice] = []
    for column, markup in new.items():
        behind = next((one.element.start for one in stated if one.first > column), stated[-1].element.end)
        splices.append(Splice(behind, behind, markup))
    return splices

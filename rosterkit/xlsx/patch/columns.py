"""The columns of a worksheet: their formats, and the widths of columns that were added."""

from collections.abc import Mapping
from dataclasses import dataclass

from rosterkit.xlsx.patch.splices import Splice, place_for
from rosterkit.xlsx.patch.worksheet import ORDER, SheetText
from rosterkit.xlsx.xml import tags
from rosterkit.xlsx.xml.outline import Element


@dataclass(frozen=True, slots=True, kw_only=True)
class Columns:
    """What a sheet says of a run of columns."""

    first: int
    last: int
    tag: bytes

    def part(self, first: int, last: int) -> bytes:
        """Write what is said of some of the columns only."""
        return tags.with_attribute(tags.with_attribute(self.tag, "min", str(first)), "max", str(last))


def stated_columns(sheet: SheetText) -> list[Columns]:
    """Return what a sheet says of its columns, in its order; what is not a run of columns is left out."""
    found: list[Columns] = []
    for element in _elements(sheet):
        first, last = (element.attributes.get(name, "") for name in ("min", "max"))
        if first.isascii() and first.isdigit() and last.isascii() and last.isdigit():
            tag = sheet.data[element.start : element.inside]
            found.append(Columns(first=int(first), last=int(last), tag=tag))
    return found


def _elements(sheet: SheetText) -> list[Element]:
    return [column for columns in sheet.root.named("cols") for column in columns.named("col")]


def column_styles(sheet: SheetText) -> list[tuple[int, int, int]]:
    """Return first column, last column and format for all columns that have a format."""
    found: list[tuple[int, int, int]] = []
    for columns in stated_columns(sheet):
        style = tags.attributes(columns.tag).get("style", "0")
        if style.isascii() and style.isdigit() and int(style):
            found.append((columns.first, columns.last, int(style)))
    return found


def width_splices(sheet: SheetText, widths: Mapping[int, float]) -> list[Splice]:
    """Work out the splices that give columns their widths; a column with a width of its own keeps it.

    Args:
        sheet: The worksheet.
        widths: Widths in characters by column.
    """
    wanted = dict(widths)
    splices: list[Splice] = []
    elements = [one for one in _elements(sheet) if one.empty]
    for columns, element in zip(stated_columns(sheet), elements, strict=True):
        inside = {
            column: wanted.pop(column) for column in sorted(wanted) if columns.first <= column <= columns.last
        }
        if inside and not _of_its_own(columns):
            splices.append(Splice(element.start, element.end, _split(columns, inside)))
    return [*splices, *_added(sheet, wanted)]


def _of_its_own(columns: Columns) -> bool:
    stated = tags.attributes(columns.tag)
    return columns.first == columns.last and stated.get("customWidth") in {"1", "true"}


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


def _added(sheet: SheetText, widths: Mapping[int, float]) -> list[Splice]:
    prefix = sheet.prefix
    new = [
        (
            column,
            b'<%bcol min="%d" max="%d" width="%b" customWidth="1"/>'
            % (prefix, column, column, b"%g" % width),
        )
        for column, width in sorted(widths.items())
    ]
    if not new:
        return []
    if not _elements(sheet):
        whole = b"<%bcols>%b</%bcols>" % (prefix, b"".join(markup for _, markup in new), prefix)
        empty = sheet.root.child("cols")
        place = place_for(sheet.root, "cols", ORDER)
        return [Splice(empty.start, empty.end, whole) if empty else Splice(place, place, whole)]
    return [Splice(place, place, markup) for column, markup in new for place in [_place(sheet, column)]]


def _place(sheet: SheetText, column: int) -> int:
    elements = _elements(sheet)
    behind = [one for one in elements if int(one.attributes.get("min", "0")) > column]
    return behind[0].start if behind else elements[-1].end

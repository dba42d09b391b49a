"""A worksheet's part as text that can be edited at exact places: its outline, and where its rows stand."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import islice
from operator import lt

from rosterkit.cell_names import column_letters
from rosterkit.xlsx.package import limits, markup
from rosterkit.xlsx.package.errors import shown
from rosterkit.xlsx.patch.splices import masked
from rosterkit.xlsx.xml import tags
from rosterkit.xlsx.xml.outline import Element, outline
from rosterkit.xlsx.xml.references import column_number

ORDER = (
    "sheetPr", "dimension", "sheetViews", "sheetFormatPr", "cols", "sheetData", "sheetCalcPr",
    "sheetProtection", "protectedRanges", "scenarios", "autoFilter", "sortState", "dataConsolidate",
    "customSheetViews", "mergeCells", "phoneticPr", "conditionalFormatting", "dataValidations", "hyperlinks",
    "printOptions", "pageMargins", "pageSetup", "headerFooter", "rowBreaks", "colBreaks", "customProperties",
    "cellWatches", "ignoredErrors", "smartTags", "drawing", "drawingHF", "picture", "oleObjects", "controls",
    "webPublishItems", "tableParts", "extLst",
)  # fmt: skip
"""The children of a worksheet in the order of the format (ISO/IEC 29500-1, 18.3.1.99)."""


_SLASH = ord("/")


class OutOfOrderError(Exception):
    """Rows or cells of a sheet do not stand in order; the text names the place."""


@dataclass(frozen=True, slots=True)
class Place:
    """Where the element of a row or of a cell stands."""

    number: int
    """Of the row, or of the cell's column."""
    start: int
    inside: int
    outside: int
    end: int


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetText:
    """A worksheet's part, in UTF-8."""

    data: bytes
    masked: bytes
    """The same length, with all that is not markup but looks like it blanked out."""
    prefix: bytes
    """The prefix of the format's namespace with its colon; empty where it is the default namespace."""
    root: Element
    """The worksheet with its children and theirs, without the rows."""
    sheet_data: Element

    def rows(self) -> Iterator[Place]:
        """Return the rows in order.

        Raises:
            OutOfOrderError: two rows are out of order or bear one number.
        """
        pattern = re.compile(rb'<%brow(?:\s+r="([0-9]{1,7})")?(?=[\s/>])[^>]*>' % self.prefix)
        closing = b"</%brow" % self.prefix
        number = end = 0
        for tag in pattern.finditer(self.masked, self.sheet_data.inside, self.sheet_data.outside):
            start, inside = tag.span()
            if start < end:
                raise OutOfOrderError(f"a row stands inside row {number}")
            before, number = number, int(tag[1]) if tag[1] else self._stated(start, inside, number + 1)
            if not before < number <= limits.LAST_ROW:
                raise OutOfOrderError(f"row {number} follows row {before}")
            if self.masked[inside - 2] == _SLASH:
                outside = end = inside
            else:
                outside = self.masked.index(closing, inside)
                end = self.masked.index(b">", outside) + 1
            yield Place(number, start, inside, outside, end)

    def in_order_after(self, row: Place) -> bool:
        """Tell whether all rows after one bear their numbers in the usual spelling, and in order.

        False also where that cannot be told at a glance.
        """
        pattern = re.compile(rb'<%brow r="([0-9]{1,7})"(?=[\s/>])' % self.prefix)
        numbers = list(map(int, pattern.findall(self.masked, row.end, self.sheet_data.outside)))
        count = self.masked.count(b"<%brow" % self.prefix, row.end, self.sheet_data.outside)
        rising = all(map(lt, [row.number, *numbers], numbers))
        return count == len(numbers) and rising and (not numbers or numbers[-1] <= limits.LAST_ROW)

    def _stated(self, start: int, inside: int, implied: int) -> int:
        stated = tags.attributes(self.data[start:inside]).get("r")
        if stated is None:
            return implied
        number = markup.whole(stated)
        if number is None:
            raise OutOfOrderError(f"a row bears the number {shown(stated, 20)}")
        return number

    def columns(self, row: Place) -> list[int]:
        """Return the columns of a row's cells in order.

        Raises:
            OutOfOrderError: two cells are out of order or bear one reference.
        """
        number = b"%d" % row.number
        found = _cell_tags(self.prefix).findall(self.masked, row.inside, row.outside)
        columns = [_COLUMNS[letters] for letters, stated in found if stated == number]
        if len(columns) != len(found) or not all(map(lt, columns, columns[1:])):
            columns = self._checked_columns(row)
        return columns

    def _checked_columns(self, row: Place) -> list[int]:
        columns: list[int] = []
        for tag in _cell_tags(self.prefix).finditer(self.masked, row.inside, row.outside):
            before = columns[-1] if columns else 0
            column = self._column(row, tag.start(), before)
            if not before < column <= limits.LAST_COLUMN:
                raise OutOfOrderError(f"the cells of row {row.number} are out of order")
            columns.append(column)
        return columns

    def cell(self, row: Place, columns: list[int], position: int) -> Place:
        """Return one cell of a row by its position among the row's columns."""
        column = columns[position]
        usual = b'<%bc r="%b%d"' % (self.prefix, column_letters(column).encode(), row.number)
        start = self.masked.find(usual, row.inside, row.outside)
        if start < 0:
            tags_of_row = _cell_tags(self.prefix).finditer(self.masked, row.inside, row.outside)
            start = next(islice(tags_of_row, position, None)).start()
        inside = self.masked.index(b">", start) + 1
        if self.masked[inside - 2] == _SLASH:
            return Place(column, start, inside, inside, inside)
        closing = b"</%bc>" % self.prefix
        outside = self.masked.index(closing, inside)
        return Place(column, start, inside, outside, outside + len(closing))

    def _column(self, row: Place, start: int, before: int) -> int:
        tag = self.data[start : self.masked.index(b">", start) + 1]
        reference = tags.attributes(tag).get("r")
        if reference is None:
            return before + 1
        match = re.fullmatch(r"([A-Z]{1,3})([0-9]{1,7})", reference)
        if match is None or int(match[2]) != row.number:
            raise OutOfOrderError(f"row {row.number} holds a cell that calls itself {shown(reference, 20)}")
        return column_number(match[1])


@lru_cache(maxsize=16)
def _cell_tags(prefix: bytes) -> re.Pattern[bytes]:
    return re.compile(rb'<%bc(?:\s+r="([A-Z]{1,3})([0-9]{1,7})")?(?=[\s/>])' % prefix)


class _Columns(dict[bytes, int]):
    def __missing__(self, letters: bytes) -> int:
        number = self[letters] = column_number(letters.decode())
        return number


_COLUMNS = _Columns()


def sheet_text(data: bytes) -> SheetText:
    """Read a worksheet's part so far that it can be edited.

    Args:
        data: The part in UTF-8.

    Raises:
        MarkupError: it is not well-formed, is no worksheet, or has too odd a spelling to be edited.
    """
    markup.finish(markup.parser(), data)
    hidden = masked(data)
    opening = re.search(rb"<((?:[^\s/<>:!?]+:)?)sheetData(?=[\s/>])[^>]*>", hidden)
    if opening is None or hidden.count(b"<" + opening[1] + b"sheetData") != 1:
        raise markup.MarkupError("does not hold its rows in one place")
    begin = end = opening.end()
    if not opening[0].endswith(b"/>"):
        end = hidden.rindex(b"</" + opening[1] + b"sheetData")
    frame = data[:begin] + data[end:]
    root = outline(frame, depth=2, cut=(begin, end - begin))
    sheet_data = root.child("sheetData")
    if root.name != "worksheet" or sheet_data is None or sheet_data.inside != begin:
        raise markup.MarkupError("is no worksheet")
    text = SheetText(data=data, masked=hidden, prefix=opening[1], root=root, sheet_data=sheet_data)
    _refuse_odd_namespaces(text)
    return text


def _refuse_odd_namespaces(text: SheetText) -> None:
    """Refuse cells that a prefix other than the sheet's own could name."""
    place = text.sheet_data.inside, text.sheet_data.outside

    def among_rows(*wanted: bytes) -> bool:
        return any(text.masked.find(one, *place) >= 0 for one in wanted)

    for name, uri in tags.attributes(text.data[text.root.start : text.root.inside]).items():
        other = name.removeprefix("xmlns").removeprefix(":").encode()
        if name.startswith("xmlns") and uri == text.root.namespace and other != text.prefix[:-1]:
            start = b"<" + (other + b":" if other else b"")
            if among_rows(start + b"row", start + b"c ", start + b"c>"):
                raise markup.MarkupError("names its cells with two different prefixes")
    if among_rows(*(b"</%bc%b" % (text.prefix, blank) for blank in (b" ", b"\t", b"\n", b"\r"))):
        raise markup.MarkupError("spells the ends of its cells in a way that is not edited here")
    main = re.escape(text.root.namespace.encode())
    declared = re.compile(rb"<[^>]*\sxmlns(?:\s*=|[^>]*=\s*[\"']%b[\"'])" % main)
    if among_rows(b"AlternateContent") or (among_rows(b"xmlns") and declared.search(text.masked, *place)):
        raise markup.MarkupError("declares a namespace among its cells")

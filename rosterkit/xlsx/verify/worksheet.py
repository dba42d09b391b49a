"""Verifies a worksheet after an edit: without the cells that were to change, its rows are as they were.

The cells of the columns concerned are taken out of both parts by one search for their tags, which needs parts
in which each < begins a tag and each cell names its place. What is left has to be the same bytes; of what was
taken out, cells that were not to change have to be the same, and the others are read for what they hold.
"""

import re
from collections.abc import Iterable, Iterator, Mapping
from itertools import zip_longest

from lxml import etree

from rosterkit.cell_names import column_letters
from rosterkit.xlsx.package import limits
from rosterkit.xlsx.verify.parts import VerificationError
from rosterkit.xlsx.verify.values import holds
from rosterkit.xlsx.verify.worksheet_frame import verify_frame
from rosterkit.xlsx.xml.nodes import parsed
from rosterkit.xlsx.xml.references import column_number
from rosterkit.xlsx.xml.tags import quoted
from rosterkit.xlsx.xml.values import Value, blank

Cells = Mapping[int, Mapping[int, Value]]
"""Values by row and column."""

_Place = tuple[int, int]
"""Row and column."""

# The attribute, not one whose name ends alike: white space stands directly before it.
_STATED = re.compile(rb"""\sr\s*=\s*["']([A-Z]*)([0-9]+)["']""")
_STYLE = re.compile(rb"""\ss\s*=\s*["']([0-9]+)["']""")
# Most cells of ours; parsing them all would take longer than all the rest.
_PLAIN_NUMBER = re.compile(rb'<c r="[A-Z]+[0-9]+"(?: s="[0-9]+")?><v>([-+.0-9eE]+)</v></c>')
# Comments, CDATA and processing instructions could hold what looks like a tag.
_REMARK = re.compile(rb"<[!?]")
_REFERENCE = re.compile(rb'r="([A-Z]+)([0-9]+)"')


def verify_worksheet(old: bytes, new: bytes, cells: Cells, widths: frozenset[int], last_row: int = 0) -> None:
    """Compare a sheet before and after an edit.

    Args:
        old: The part before, in UTF-8.
        new: The part after.
        cells: The cells that were to change, and their values.
        widths: The columns that were given a width.
        last_row: The last row that was added below a list; 0 if none was.

    Raises:
        VerificationError: something else changed, or a cell does not hold what it should.
    """
    if not (_is_plain(old) and _is_plain(new)):
        if _remarks(old) != _remarks(new):
            raise VerificationError("a comment in a sheet changed")
        old, new = _plain(old), _plain(new)
    before, after = _Worksheet(old), _Worksheet(new)
    verify_frame(before.frame, after.frame, widths, last_row)
    after.verify_order()
    columns = {column for row in cells.values() for column in row}
    theirs, ours = before.take_out(columns, cells), after.take_out(columns, cells)
    _verify_cells(theirs, ours, cells, after.around)
    if before.rest != after.rest:
        raise VerificationError(_first_difference(before, after))


def _is_plain(data: bytes) -> bool:
    """Tell whether each < of a part begins a tag."""
    return _REMARK.search(data, 1) is None  # the declaration of XML stands at the very beginning


def _remarks(data: bytes) -> list[bytes]:
    return [etree.tostring(one, with_tail=False) for one in parsed(data).iter(etree.Comment, etree.PI)]


def _plain(data: bytes) -> bytes:
    """Return a part without comments, processing instructions and CDATA sections, so that each < is a tag."""
    parser = etree.XMLParser(
        remove_comments=True, remove_pis=True, resolve_entities=False, load_dtd=False, no_network=True
    )
    return etree.tostring(etree.fromstring(data, parser), encoding="UTF-8")


class _Worksheet:
    """A worksheet's part: what stands around its rows, and the rows."""

    def __init__(self, data: bytes) -> None:
        parser = etree.XMLPullParser(("start",), resolve_entities=False, load_dtd=False, no_network=True)
        parser.feed(data[: 1 << 16])
        root = next(iter(parser.read_events()))[1]
        self.prefix = f"{root.prefix}:".encode() if root.prefix else b""
        name = self.prefix + b"sheetData"
        opening = data.find(b"<" + name)
        if opening < 0:
            raise VerificationError("a sheet has no rows")
        begin = data.find(b">", opening) + 1
        end = begin if data[begin - 2 : begin] == b"/>" else data.rfind(b"</" + name)
        first = self._compiled(rb"<%(p)brow[\s/>]").search(data, begin, end)
        first_row = first.start() if first else end
        self.frame = data[:first_row] + data[end:]
        self.rest = data[first_row:end]
        """The rows; once cells were taken out, without them."""
        declared = b"".join(
            b' xmlns%b="%b"' % (f":{short}".encode() if short else b"", quoted(uri))
            for short, uri in root.nsmap.items()
        )
        self.around = (b"<%b%b>" % (name, declared), b"</%b>" % name)
        """What makes cells a document of their own."""

    def _compiled(self, pattern: bytes) -> re.Pattern[bytes]:
        return re.compile(pattern % {b"p": re.escape(self.prefix)}, re.DOTALL)

    def verify_order(self) -> None:
        """Demand rows in order, and none that a sheet cannot have."""
        last = 0
        for tag in self._compiled(rb"<%(p)brow(?=[\s/>])[^>]*>").finditer(self.rest):
            stated = _STATED.search(tag[0])
            number = int(stated[2]) if stated else last + 1
            if not last < number <= limits.LAST_ROW:
                raise VerificationError("the rows are not in order")
            last = number

    def take_out(self, columns: Iterable[int], cells: Cells) -> dict[_Place, bytes]:
        """Take the cells of some columns out of the rows, and rows that are empty without them.

        Raises:
            VerificationError: rows or these cells are not in order, or beyond what a sheet can have.
        """
        self._name_places()
        letters = b"|".join(column_letters(column).encode() for column in sorted(columns))
        pattern = rb'(<%%(p)bc r="(%b)([0-9]+)"(?:[^>]*/>|.*?</%%(p)bc>))' % (letters or b"-")
        # What stands between the cells, then a cell, its letters and its number, by turns.
        pieces = self._compiled(pattern).split(self.rest)
        taken = dict(self._placed(pieces, cells))
        if len(taken) != len(pieces) // 4:
            raise VerificationError("a cell is there twice")
        rest = self._without_hints(b"".join(pieces[::4]))
        empty = self._compiled(rb'<%(p)brow r="([0-9]+)"></%(p)brow>')
        self.rest = empty.sub(lambda row: b"" if int(row[1]) in cells else row[0], rest)
        return taken

    def _without_hints(self, rows: bytes) -> bytes:
        """Drop the spans of rows, which grow with their cells, and open rows that were closed at once."""
        usual = self._compiled(rb'(<%(p)brow r="[0-9]+") spans="[0-9: ]*"')
        spans = self._compiled(rb"""(<%(p)brow [^>]*?)\s*\bspans\s*=\s*(?:"[^"]*"|'[^']*')""")
        single = self._compiled(rb"(<%(p)brow\b[^>]*?)\s*/>")
        rows = usual.sub(rb"\1", rows)
        if b"spans" in rows:
            rows = spans.sub(rb"\1", rows)
        return single.sub(rb"\1></%brow>" % self.prefix, rows)

    def rows(self) -> Iterator[tuple[int, bytes]]:
        """Return the rows with their numbers, each with what stands behind it."""
        number = 0
        for row in self._compiled(rb"(?=<%(p)brow[\s>])").split(self.rest)[1:]:
            stated = _STATED.search(row, 0, row.find(b">"))
            number = int(stated[2]) if stated else number + 1
            yield number, row

    def _name_places(self) -> None:
        """Have each cell begin with its place, where some say it later or not at all."""
        row, column, prefix = 0, 0, self.prefix
        if self.rest.count(b"<%bc" % prefix) == self.rest.count(b'<%bc r="' % prefix):
            return

        def named(tag: re.Match[bytes]) -> bytes:
            nonlocal row, column
            stated = _STATED.search(tag[0])
            if tag[1] == b"row":
                row, column = int(stated[2]) if stated else row + 1, 0
                return tag[0]
            column = column_number(stated[1].decode()) if stated else column + 1
            rest = tag[2] if stated is None else _STATED.sub(b"", tag[0], count=1)[len(prefix) + 2 :]
            return b'<%bc r="%b%d"%b' % (prefix, column_letters(column).encode(), row, rest)

        self.rest = self._compiled(rb"<%(p)b(row|c)(?=[\s/>])([^>]*>)").sub(named, self.rest)
        self.rest = self._compiled(rb"</%(p)bc\s+>").sub(b"</%bc>" % prefix, self.rest)

    def _placed(self, pieces: list[bytes], cells: Cells) -> Iterator[tuple[_Place, bytes]]:
        """Return cells by their places; each of ours stands in its row and between its neighbours."""
        row, before = b"0", 0
        row_tag, cell_tag = b"<%brow" % self.prefix, b"<%bc " % self.prefix
        taken = zip(pieces[::4], pieces[1::4], pieces[2::4], pieces[3::4], strict=False)
        for position, (between, cell, letters, number) in enumerate(taken):
            if between:
                begun = between.rfind(row_tag)
                if begun >= 0:
                    stated = _STATED.search(between, begun, between.find(b">", begun))
                    row, before = stated[2] if stated else b"%d" % (int(row) + 1), 0
                beside = between.rfind(cell_tag, max(begun, 0))
                if beside >= 0:
                    before = _column(_REFERENCE.search(between, beside))
            column = column_number(letters.decode())
            behind = pieces[4 * position + 4]
            following = behind.find(cell_tag, 0, max(behind.find(row_tag), 0) or None)
            after = _column(_REFERENCE.search(behind, following)) if following >= 0 else column + 1
            misplaced = number != row or cell.find(cell_tag, 1) >= 0 or not before < column < after
            misplaced |= column > limits.LAST_COLUMN
            if misplaced and column in cells.get(int(number), {}):
                raise VerificationError(f"the cell {letters.decode()}{number.decode()} is out of order")
            before = column
            yield (int(number), column), cell


def _column(reference: re.Match[bytes] | None) -> int:
    return column_number(reference[1].decode()) if reference else 0


def _first_difference(before: _Worksheet, after: _Worksheet) -> str:
    """Say what the first row is in which what is left of two sheets differs."""
    for old, new in zip_longest(before.rows(), after.rows(), fillvalue=(limits.LAST_ROW, b"")):
        if old[0] != new[0]:
            return "a row is missing" if old[0] < new[0] else f"row {new[0]} is new"
        if old[1] != new[1]:
            return f"other cells of row {new[0]} changed"
    return "the rows changed"


def _verify_cells(
    theirs: Mapping[_Place, bytes], ours: Mapping[_Place, bytes], cells: Cells, around: tuple[bytes, bytes]
) -> None:
    wanted = {(row, column): value for row, columns in cells.items() for column, value in columns.items()}
    for place in (theirs.keys() | ours.keys()) - wanted.keys():
        if theirs.get(place) != ours.get(place):
            raise VerificationError(f"other cells of row {place[0]} changed")
    unread = [
        (place, ours[place])
        for place, value in wanted.items()
        if _changed(place, value, theirs.get(place), ours.get(place)) and not _is_number(ours[place], value)
    ]
    read = parsed(around[0] + b"".join(cell for _, cell in unread) + around[1])
    if len(read) != len(unread):
        raise VerificationError("cells cannot be told apart")
    for (place, _), cell in zip(unread, read, strict=True):
        if not holds(cell, wanted[place]):
            raise VerificationError(f"the cell {_named(place)} does not hold what it should")


def _changed(place: _Place, value: Value, old: bytes | None, new: bytes | None) -> bool:
    """Tell whether a cell is to be read; one that is the same bytes as before already was as wanted."""
    if old == new and not (new is None and not blank(value)):
        return False
    if new is None:
        raise VerificationError(f"the cell {_named(place)} is missing")
    if old is not None and _style(old) not in (b"0", _style(new)):
        raise VerificationError(f"the format of the cell {_named(place)} changed")
    return True


def _is_number(cell: bytes, value: Value) -> bool:
    """Tell whether a cell plainly holds a number, as most of ours do, without parsing it."""
    number = _PLAIN_NUMBER.fullmatch(cell)
    return number is not None and type(value) in (int, float) and float(number[1]) == value


def _named(place: _Place) -> str:
    return f"{column_letters(place[1])}{place[0]}"


def _style(cell: bytes) -> bytes:
    stated = _STYLE.search(cell, 0, cell.find(b">"))
    return stated[1] if stated else b"0"

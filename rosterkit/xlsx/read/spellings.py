"""Spells a sheet's part more plainly where that takes no understanding of its cells.

Some programs indent the elements, give their names a prefix, or forget to say that blanks at the ends of a
text are to be kept. A cell without a format of its own has the first one (ECMA-376 Part 1, 18.3.1.4);
Gnumeric means the format of its column instead: a column of dates would be read as a column of numbers.
"""

import re
from collections.abc import Iterator

from rosterkit.xlsx.package import limits
from rosterkit.xlsx.read.formats import Formats, Kind
from rosterkit.xlsx.xml.references import column_number

# A prefix on every element is legal, and some programs write one.
_ROOT = re.compile(rb"<([A-Za-z][A-Za-z0-9]*):worksheet\s([^<>]*)>")
# White space between elements means nothing; within <t> it is the text, hence that tag is not opened here.
_INDENTED = re.compile(rb"(</(?:row|c|is|v|f|t)>|<(?:row|c|is|sheetData)(?: [^<>]*)?>)[ \t\r\n]++(?=<|\Z)")

_GNUMERIC = b"http://www.gnumeric.org/ext/spreadsheetml"
# Only the order in which the one program concerned writes its attributes.
_COLUMN = re.compile(rb'<col min="([0-9]{1,5})" max="([0-9]{1,5})" style="([0-9]{1,5})"')
_UNSTATED = re.compile(rb'<c r="([A-Z]{1,3})[0-9]{1,7}"(?! s=)')


def spellings(data: bytes, formats: Formats) -> Iterator[bytes]:
    """Return a sheet's part in UTF-8 as it is, and then in a more canonical form if there is one."""
    yield formats_stated(data, formats)
    if b"<!" in data:
        return
    plain = _without_prefix(data)
    begin = plain.find(b"<sheetData")
    if _INDENTED.search(plain, begin, begin + 1000):
        plain = b"".join(_INDENTED.sub(rb"\1", piece) for piece in _pieces(plain))
    plain = plain.replace(b"<t>", b'<t xml:space="preserve">')
    if plain != data:
        yield formats_stated(plain, formats)


def _pieces(data: bytes) -> Iterator[bytes]:
    """Cut a part at the beginnings of rows; matches take much memory until they are put together."""
    begin = 0
    while begin < len(data):
        end = data.find(b"<row", begin + limits.MIB)
        end = len(data) if end < 0 else end
        yield data[begin:end]
        begin = end


def _without_prefix(data: bytes) -> bytes:
    root = _ROOT.search(data, 0, 4000)
    if root is None or b"xmlns=" in root[2]:
        return data
    prefix = root[1]
    return data.replace(b"<" + prefix + b":", b"<").replace(b"</" + prefix + b":", b"</")


def formats_stated(data: bytes, formats: Formats) -> bytes:
    """Return a sheet's part in UTF-8 in which each cell whose number is more than a number says so itself."""
    by_column = dict(_by_column(data[: data.find(b"<sheetData")], formats))
    first = b"0" if formats.kinds[0] is not Kind.NUMBER else None
    if not by_column and first is None:
        return data

    def stated(tag: re.Match[bytes]) -> bytes:
        index = by_column.get(column_number(tag[1].decode()), first)
        return tag[0] if index is None else tag[0] + b' s="' + index + b'"'

    return _UNSTATED.sub(stated, data)


def _by_column(head: bytes, formats: Formats) -> Iterator[tuple[int, bytes]]:
    if _GNUMERIC not in head:
        return
    for column in _COLUMN.finditer(head):
        first, last, index = (int(number) for number in column.groups())
        if index < len(formats.kinds) and Kind.NUMBER is not formats.kinds[index]:
            for number in range(first, min(last, limits.LAST_COLUMN) + 1):
                yield number, column[3]

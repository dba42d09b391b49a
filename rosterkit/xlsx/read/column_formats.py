"""States the format of the cells that leave it to their column, or to the workbook's first format.

A cell without a format of its own has the first one (ECMA-376 Part 1, 18.3.1.4). Gnumeric means the format of
its column instead: a column of dates would be read as a column of numbers.
"""

import re
from collections.abc import Iterator

from rosterkit.xlsx.package import limits
from rosterkit.xlsx.read.formats import Formats, Kind
from rosterkit.xlsx.xml.references import column_number

_GNUMERIC = b"http://www.gnumeric.org/ext/spreadsheetml"
# Only the order in which the one program concerned writes its attributes.
_COLUMN = re.compile(rb'<col min="([0-9]{1,5})" max="([0-9]{1,5})" style="([0-9]{1,5})"')
_UNSTATED = re.compile(rb'<c r="([A-Z]{1,3})[0-9]{1,7}"(?! s=)')


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

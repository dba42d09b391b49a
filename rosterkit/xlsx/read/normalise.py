"""Puts a sheet's part into the canonical form where that takes no understanding of its cells.

Some programs indent the elements, give their names a prefix, or forget to say that blanks at the ends of a
text are to be kept.
"""

import re
from collections.abc import Iterator

from rosterkit.xlsx.package import limits

# A prefix on every element is legal, and some programs write one.
_ROOT = re.compile(rb"<([A-Za-z][A-Za-z0-9]*):worksheet\s([^<>]*)>")
# White space between elements means nothing; within <t> it is the text, hence that tag is not opened here.
_INDENTED = re.compile(rb"(</(?:row|c|is|v|f|t)>|<(?:row|c|is|sheetData)(?: [^<>]*)?>)[ \t\r\n]++(?=<|\Z)")
_TEXT = b"<t>"
_KEPT_TEXT = b'<t xml:space="preserve">'


def normalised(data: bytes) -> bytes | None:
    """Return a sheet's part in UTF-8 in a more canonical form that means the same.

    None if there is none.
    """
    if b"<!" in data:
        return None
    plain = _without_prefix(data)
    begin = plain.find(b"<sheetData")
    if _INDENTED.search(plain, begin, begin + 1000):
        plain = b"".join(_INDENTED.sub(rb"\1", piece) for piece in _pieces(plain))
    plain = plain.replace(_TEXT, _KEPT_TEXT)
    return None if plain == data else plain


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

"""The XML of a workbook's parts: brought to UTF-8, and read by events without any trust in it."""

import codecs
import re
from collections.abc import Callable
from xml.parsers import expat

from rosterkit.xlsx import limits

_DECLARATION = re.compile(rb"""\s*<\?xml\s[^>]*?encoding\s*=\s*["']([A-Za-z0-9._-]+)["'][^>]*\?>""")
_BOMS = (
    (codecs.BOM_UTF8, "utf-8"),
    (codecs.BOM_UTF16_LE, "utf-16-le"),
    (codecs.BOM_UTF16_BE, "utf-16-be"),
)
_BARE = ((b"<\x00", "utf-16-le"), (b"\x00<", "utf-16-be"))

Started = Callable[[str, dict[str, str]], object]
"""Called with the name and the attributes of an element; a name with a namespace is "namespace local"."""


class MarkupError(Exception):
    """A part is not XML that a workbook may hold; the text says why, as a clause about the part."""


def utf8(data: bytes) -> bytes:
    """Give an XML part in UTF-8 without byte order mark; most are so already and come back unchanged.

    Raises:
        MarkupError: the part is not in the encoding that it states.
    """
    encoding = _encoding(data)
    if encoding is None:
        return data
    try:
        text = data.decode(encoding)
    except (UnicodeDecodeError, LookupError):
        raise MarkupError(f"is not the {encoding} text that it says it is") from None
    text = re.sub(r"^\ufeff?\s*<\?xml[^>]*\?>", "", text, count=1).removeprefix("\ufeff")
    return b'<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n' + text.encode("utf-8", "replace")


def _encoding(data: bytes) -> str | None:
    for mark, encoding in _BOMS:
        if data.startswith(mark):
            return encoding
    for mark, encoding in _BARE:
        if data.startswith(mark):
            return encoding
    stated = _DECLARATION.match(data, 0, 400)
    if stated is None or stated[1].lower() in {b"utf-8", b"us-ascii", b"ascii"}:
        return None
    return stated[1].decode("ascii").lower()


def parser() -> expat.XMLParserType:
    """Make a parser that gives names as "namespace local" and refuses document type declarations."""
    made = expat.ParserCreate(namespace_separator=" ")
    made.buffer_text = True
    made.StartDoctypeDeclHandler = _refuse_doctype
    return made


def _refuse_doctype(*_: object) -> None:
    raise MarkupError("declares a document type, which no workbook does")


def walked(data: bytes, started: Started) -> None:
    """Call ``started`` for each element of a part, in order.

    Raises:
        MarkupError: the part is not well-formed, is nested too deeply, or declares a document type.
    """
    depth = 0

    def begin(name: str, attributes: dict[str, str]) -> None:
        nonlocal depth
        depth += 1
        if depth > limits.MAX_DEPTH:
            raise MarkupError(f"is nested more than {limits.MAX_DEPTH} levels deep")
        started(name, attributes)

    def end(_: str) -> None:
        nonlocal depth
        depth -= 1

    made = parser()
    made.StartElementHandler = begin
    made.EndElementHandler = end
    finish(made, data)


def finish(made: expat.XMLParserType, data: bytes) -> None:
    """Run a parser over a whole part.

    Raises:
        MarkupError: the part is not well-formed.
    """
    try:
        made.Parse(data, True)
    except expat.ExpatError as error:
        why = expat.ErrorString(error.code) if error.code else str(error)
        raise MarkupError(f"is not well-formed XML at line {error.lineno} ({why})") from None


def local(name: str) -> str:
    """Give an element's or attribute's name without its namespace."""
    return name.rpartition(" ")[2]

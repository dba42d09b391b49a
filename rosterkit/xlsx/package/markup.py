"""The XML of a workbook's parts: brought to UTF-8, and read by events without any trust in it."""

import codecs
import re
import sys
from collections.abc import Callable
from xml.parsers import expat

from rosterkit.xlsx.package import limits

# Read as bytes, before anything is decoded: it says itself how.
_DECLARATION = re.compile(rb"""\s*<\?xml\s[^>]*?encoding\s*=\s*["']([A-Za-z0-9._-]+)["'][^>]*\?>""")
_BOMS = (
    (codecs.BOM_UTF8, "utf-8"),
    (codecs.BOM_UTF16_LE, "utf-16-le"),
    (codecs.BOM_UTF16_BE, "utf-16-be"),
)
# What processors of XML 1.0 must or commonly do read. Python knows many more, some of which take a minute for
# a few kilobytes (punycode) or are no encodings of texts at all.
_KNOWN = re.compile(r"utf-8|utf-16(-[lb]e)?|ascii|iso8859-[0-9]+|cp125[0-9]")
_BARE = ((b"<\x00", "utf-16-le"), (b"\x00<", "utf-16-be"))

Started = Callable[[str, dict[str, str]], object]
"""Called with the name and the attributes of an element; a name with a namespace is "namespace local"."""

Ended = Callable[[str], object]
Text = Callable[[str], object]


class MarkupError(Exception):
    """A part is not XML that a workbook may hold; the text says why, as a clause about the part."""


class TooMuchError(MarkupError):
    """A part holds more than the limits allow."""


def utf8(data: bytes) -> bytes:
    """Return an XML part in UTF-8 without byte order mark; most are so already and come back unchanged.

    Raises:
        MarkupError: the part is not in the encoding that it states.
    """
    encoding = _encoding(data)
    if encoding is None:
        return data
    if not _is_known(encoding):
        raise MarkupError(f"is in the encoding {encoding}, in which no workbook is written")
    try:
        text = data.decode(encoding)
    except UnicodeDecodeError:
        raise MarkupError(f"is not the {encoding} text that it says it is") from None
    text = re.sub(r"^\ufeff?\s*<\?xml[^>]*\?>", "", text, count=1).removeprefix("\ufeff")
    return b'<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n' + text.encode("utf-8", "replace")


def _is_known(encoding: str) -> bool:
    try:
        return _KNOWN.fullmatch(codecs.lookup(encoding).name) is not None
    except (LookupError, ValueError):
        return False


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


def walked(data: bytes, started: Started, ended: Ended | None = None, text: Text | None = None) -> None:
    """Go through the elements of a part in UTF-8, in order.

    Args:
        data: The part.
        started: Called with name and attributes where an element begins.
        ended: Called with the name where it ends.
        text: Called with each piece of the text between tags.

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

    def end(name: str) -> None:
        nonlocal depth
        depth -= 1
        if ended is not None:
            ended(name)

    made = parser()
    made.StartElementHandler = begin
    made.EndElementHandler = end
    made.CharacterDataHandler = text
    finish(made, data)


def parser() -> expat.XMLParserType:
    """Make a parser for UTF-8 that names elements "namespace local" and refuses document types."""
    made = expat.ParserCreate("utf-8", " ")
    made.buffer_text = True
    made.StartDoctypeDeclHandler = _refuse_doctype
    return made


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


def _refuse_doctype(*_: object) -> None:
    raise MarkupError("declares a document type, which no workbook does")


def local(name: str) -> str:
    """Return an element's or attribute's name without its namespace."""
    return name.rpartition(" ")[2]


# Without a document type, which is refused, there are no entities but these.
_ENTITY = re.compile(r"&(?:(amp|lt|gt|quot|apos)|#([0-9]{1,7})|#x([0-9A-Fa-f]{1,6}));")
_NAMED = {"amp": "&", "lt": "<", "gt": ">", "quot": '"', "apos": "'"}


def entities_resolved(text: bytes) -> str:
    """Return the text that stands between two tags of a part in UTF-8."""
    return _ENTITY.sub(_resolved, text.decode("utf-8", "replace"))


def _resolved(entity: re.Match[str]) -> str:
    named, decimal, hexadecimal = entity.groups()
    if named:
        return _NAMED[named]
    return chr(min(int(decimal) if decimal else int(hexadecimal, 16), sys.maxunicode))

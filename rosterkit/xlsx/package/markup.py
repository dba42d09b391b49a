"""The XML of a workbook's parts: brought to UTF-8, and read by events without any trust in it."""

import codecs
import re
from collections.abc import Callable, Iterator
from typing import NamedTuple
from xml.parsers import expat

from rosterkit.xlsx.package import limits

# Read as bytes, before anything is decoded: it says itself how.
_DECLARATION = re.compile(rb"""\s*<\?xml\s[^>]*?encoding\s*=\s*["']([A-Za-z0-9._-]+)["'][^>]*\?>""")
_BEGINNINGS = (
    (codecs.BOM_UTF8, "utf-8"),
    (codecs.BOM_UTF16_LE, "utf-16-le"),
    (codecs.BOM_UTF16_BE, "utf-16-be"),
    (b"<\x00", "utf-16-le"),
    (b"\x00<", "utf-16-be"),
)
# What processors of XML 1.0 must or commonly do read. Python knows many more, some of which take a minute for
# a few kilobytes (punycode) or are no encodings of texts at all.
_KNOWN = re.compile(r"utf-8|utf-16(-[lb]e)?|ascii|iso8859-[0-9]+|cp125[0-9]")

_PIECE = 64 * 1024
"""Bytes that are parsed at a time where what is found in them is asked for one by one."""

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

    MarkupError if the part is not in the encoding that it states.
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
    for mark, encoding in _BEGINNINGS:
        if data.startswith(mark):
            return encoding
    stated = _DECLARATION.match(data, 0, 400)
    if stated is None or stated[1].lower() in {b"utf-8", b"us-ascii", b"ascii"}:
        return None
    return stated[1].decode("ascii").lower()


def walked(data: bytes, started: Started, ended: Ended = lambda _: None, text: Text | None = None) -> None:
    """Call what is to be told of the elements of a part in UTF-8, and of the pieces of text between tags.

    MarkupError if the part is not well-formed, is nested too deeply, or declares a document type.
    """
    finish(_handled(started, ended, text), data)


def _handled(started: Started, ended: Ended, text: Text | None = None) -> expat.XMLParserType:
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
        ended(name)

    made = parser()
    made.StartElementHandler = begin
    made.EndElementHandler = end
    made.CharacterDataHandler = text
    return made


def parser() -> expat.XMLParserType:
    """Make a parser for UTF-8 that names elements "namespace local" and refuses document types."""
    made = expat.ParserCreate("utf-8", " ")
    made.buffer_text = True
    made.StartDoctypeDeclHandler = _refuse_doctype
    return made


def finish(made: expat.XMLParserType, data: bytes, *, last: bool = True) -> None:
    """Run a parser over a whole part, or the next piece of one; MarkupError if it is not well-formed."""
    try:
        made.Parse(data, last)
    except expat.ExpatError as error:
        why = expat.ErrorString(error.code) if error.code else str(error)
        raise MarkupError(f"is not well-formed XML at line {error.lineno} ({why:.100})") from None


def _refuse_doctype(*_: object) -> None:
    raise MarkupError("declares a document type, which no workbook does")


def local(name: str) -> str:
    """Return an element's or attribute's name without its namespace."""
    return name.rpartition(" ")[2]


def whole(text: str | None) -> int | None:
    """Return the whole number that a text of up to 11 ASCII digits is; None for any other text, or none."""
    return int(text) if text is not None and text.isascii() and text.isdigit() and len(text) < 12 else None


class Found(NamedTuple):
    """An element where it begins."""

    name: str
    """With its namespace before it, as "namespace local"."""
    kind: str
    """The name alone."""
    within: str
    """That of the element around it, "" for the root."""
    attributes: dict[str, str]


def elements(data: bytes) -> Iterator[Found]:
    """Go through the elements of a part in UTF-8, in order, without keeping those that have passed.

    MarkupError if the part is not well-formed, is nested too deeply, or declares a document type.
    """
    found: list[Found] = []
    around = [""]

    def started(name: str, attributes: dict[str, str]) -> None:
        found.append(Found(name, local(name), around[-1], attributes))
        around.append(found[-1].kind)

    made = _handled(started, lambda _: around.pop())
    for begin in range(0, len(data) + 1, _PIECE):
        fault = None
        try:
            finish(made, data[begin : begin + _PIECE], last=begin + _PIECE > len(data))
        except MarkupError as error:
            fault = error
        # What stands before a fault is judged first.
        yield from found
        found.clear()
        if fault is not None:
            raise fault

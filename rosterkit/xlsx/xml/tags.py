"""Start tags as bytes: their attributes read, and one attribute set while all others stay as they are."""

import re
import sys

WHOLE = re.compile(rb"""<[^<>"']*(?:"[^"]*"[^<>"']*|'[^']*'[^<>"']*)*>""")
"""A tag from its < to its >, whatever its attributes hold."""

# A value may hold > and the other quote, so a tag does not end at its first >.
_ATTRIBUTE = re.compile(rb"""\s([^\s=/>"']+)\s*=\s*("[^"]*"|'[^']*')""")
_NAME = re.compile(rb"<([^\s/>:]+:)?([^\s/>]+)")
_QUOTES = str.maketrans(
    {"&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;", "\t": "&#9;", "\n": "&#10;", "\r": "&#13;"}
)
# A part without a document type has no entities but these.
_ENTITY = re.compile(r"&(?:(amp|lt|gt|quot|apos)|#0*([0-9]{1,7})|#x0*([0-9A-Fa-f]{1,6}));")
_NAMED = {"lt": "<", "gt": ">", "quot": '"', "apos": "'", "amp": "&"}
_BY_NAME = [(f"&{name};", sign) for name, sign in _NAMED.items()]


def attributes(tag: bytes) -> dict[str, str]:
    """Return the attributes of a start tag in its order, by their names as written."""
    return {match[1].decode(): plain(match[2][1:-1].decode()) for match in _ATTRIBUTE.finditer(tag)}


def plain(value: str) -> str:
    """Return a text of the markup as it is meant, its entities replaced."""
    if "&#" in value:
        return _ENTITY.sub(_meant, value)
    # Formulas are long and full of entities: this is ten times as fast. The last one may make others.
    for name, sign in _BY_NAME:
        value = value.replace(name, sign)
    return value


def _meant(entity: re.Match[str]) -> str:
    named, decimal, hexadecimal = entity.groups()
    if named:
        return _NAMED[named]
    return chr(min(int(decimal) if decimal else int(hexadecimal, 16), sys.maxunicode))


def text_markup(text: str) -> str:
    """Write a text as the content of an element."""
    return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


def quoted(value: str) -> bytes:
    """Write a text as an attribute's value, without the quotes around it."""
    return value.translate(_QUOTES).encode()


def with_attribute(tag: bytes, name: str, value: str) -> bytes:
    """Return a start tag with one attribute set, in its place if it is there and at the end if not."""
    wanted = name.encode()
    for match in _ATTRIBUTE.finditer(tag):
        if match[1] == wanted:
            return tag[: match.start(2)] + b'"' + quoted(value) + b'"' + tag[match.end(2) :]
    end = tag.rstrip(b"/>").rstrip()
    return end + b" " + wanted + b'="' + quoted(value) + b'"' + (b"/>" if tag.endswith(b"/>") else b">")


def without_attributes(tag: bytes, *names: str) -> bytes:
    """Return a start tag without some of its attributes."""
    unwanted = {name.encode() for name in names}
    kept: list[bytes] = []
    end = 0
    for match in _ATTRIBUTE.finditer(tag):
        if match[1] in unwanted:
            kept.append(tag[end : match.start()])
            end = match.end()
    return b"".join([*kept, tag[end:]])


def prefix(tag: bytes) -> bytes:
    """Return the namespace prefix of a tag's name with its colon, empty if it has none."""
    match = _NAME.match(tag)
    return (match[1] or b"") if match else b""

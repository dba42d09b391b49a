"""Start tags as bytes: their attributes read, and one attribute set while all others stay as they are."""

import re

WHOLE = re.compile(rb"""<[^<>"']*(?:"[^"]*"[^<>"']*|'[^']*'[^<>"']*)*>""")
"""A tag from its < to its >, whatever its attributes hold."""

# A value may hold > and the other quote, so a tag does not end at its first >.
_ATTRIBUTE = re.compile(rb"""\s([^\s=/>"']+)\s*=\s*("[^"]*"|'[^']*')""")
_NAME = re.compile(rb"<([^\s/>:]+:)?([^\s/>]+)")
_QUOTES = str.maketrans(
    {"&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;", "\t": "&#9;", "\n": "&#10;", "\r": "&#13;"}
)
_SIGN = re.compile(r"&(?:#x([0-9A-Fa-f]+)|#([0-9]+)|([a-z]+));")
_NAMED = {"amp": "&", "lt": "<", "gt": ">", "quot": '"', "apos": "'"}


def attributes(tag: bytes) -> dict[str, str]:
    """Return the attributes of a start tag in its order, by their names as written."""
    return {match[1].decode(): plain(match[2][1:-1].decode()) for match in _ATTRIBUTE.finditer(tag)}


def whole(text: str | None) -> int | None:
    """Return the whole number that an attribute states, of up to 15 digits; None if it states none."""
    return int(text) if text is not None and re.fullmatch("[0-9]{1,15}", text) else None


def plain(value: str) -> str:
    """Return a text of the markup as it is meant, its entities replaced."""
    if "&" not in value:
        return value
    return _SIGN.sub(_meant, value)


def _meant(match: re.Match[str]) -> str:
    if match[3]:
        return _NAMED.get(match[3], match[0])
    return chr(int(match[1], 16) if match[1] else int(match[2]))


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

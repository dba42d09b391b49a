"""Which encoding a text file is in: by its byte order mark, by its bytes, or as a guess that is said."""

import codecs
import re
from typing import NamedTuple

from rosterkit.lists.files.code_pages import guessed
from rosterkit.xlsx.package.errors import unreadable

_MARKS = (
    (codecs.BOM_UTF32_LE, "utf-32-le"),
    (codecs.BOM_UTF32_BE, "utf-32-be"),
    (codecs.BOM_UTF8, "utf-8"),
    (codecs.BOM_UTF16_LE, "utf-16-le"),
    (codecs.BOM_UTF16_BE, "utf-16-be"),
)
_LOOKED_AT = 4096
# What no text has, but for a stray one: tab, line ends, and breaks within a cell (0B, 0C) it may have.
_CONTROLS = re.compile(r"[\x00-\x08\x0e-\x1f]")
_STRAY = 500
"""Signs of a text to one such sign at most."""
_OLD_END = "\x1a"
"""Ends texts of old programs."""
_AS_TEXT = "Open it in a program that shows it, and save the list as .xlsx or as .csv in UTF-8."
_SAMPLES = 3


class Decoded(NamedTuple):
    """A text, and how it was read."""

    text: str
    remark: str = ""
    """A sentence, blank where there was no choice."""


def decoded(raw: bytes, name: str) -> Decoded:
    """Return the text of a file.

    Args:
        raw: Its bytes.
        name: The file, as messages call it.

    Raises:
        CannotRunError: it is no text, or a damaged one.
    """
    found = _by_mark(raw, name) or _by_nulls(raw) or _by_bytes(raw)
    text = found.text.rstrip(_OLD_END)
    odd = _CONTROLS.findall(text)
    if "\x00" in odd or len(odd) * _STRAY > len(text):
        first = text.index(odd[0])
        line = text.count("\n", 0, first) + 1
        why = f"it is no text (the sign {ord(odd[0]):02X} in its line {line:,}), or it is damaged"
        raise unreadable(name, why, _AS_TEXT)
    return found._replace(text=text)


def _by_mark(raw: bytes, name: str) -> Decoded | None:
    for mark, encoding in _MARKS:
        if raw.startswith(mark):
            rest = raw[len(mark) :]
            try:
                return Decoded(rest.decode(encoding))
            except UnicodeDecodeError as error:
                unicode = encoding[:6].removesuffix("-").upper()
                why = f"it begins as text in {unicode} and is none from its byte {error.start:,} on"
                raise unreadable(name, why, _AS_TEXT) from None
    return None


def _by_nulls(raw: bytes) -> Decoded | None:
    """Return text in UTF-16 that does not say so: nearly every second byte of plain text is then 0."""
    begin = raw[:_LOOKED_AT]
    even, odd = begin[::2].count(0), begin[1::2].count(0)
    if len(raw) % 2 or not (even or odd):
        return None
    encoding = "utf-16-le" if odd > even else "utf-16-be"
    try:
        text = raw.decode(encoding)
    except UnicodeDecodeError:
        return None
    if min(even, odd) > max(even, odd) // 8 or _CONTROLS.search(text):
        return None
    return Decoded(text, "Its encoding is a guess by its bytes: UTF-16 without a byte order mark.")


def _by_bytes(raw: bytes) -> Decoded:
    try:
        return Decoded(raw.decode("utf-8"))
    except UnicodeDecodeError:
        guess = guessed(raw)
    samples = [f"'{word}'" for word in guess.samples[:_SAMPLES]]
    shown = f", in which it says {', '.join(samples)}" if samples else ""
    fix = "if that is wrong, save it as .csv in UTF-8"
    return Decoded(guess.text, f"Its encoding is a guess: code page {guess.page}{shown}; {fix}.")

"""Verifies one cell that was put in or rewritten, in the one spelling that we write."""

import re
from functools import lru_cache

from rosterkit.xlsx.read.shared_strings import unescaped
from rosterkit.xlsx.xml import tags
from rosterkit.xlsx.xml.values import Value, blank, cell_text

_SHORT = 8_000
"""Signs of a text that no limit shortens."""
_CONTENT = re.compile(rb"<(?:[^\s<>/:]+:)?(f|v|is)(?=[\s/>])")


@lru_cache(maxsize=16)
def _pattern(prefix: bytes) -> re.Pattern[bytes]:
    """Return the pattern of a cell behind its place as we write it: format, number, truth value or text."""
    return re.compile(
        rb'(?: s="([0-9]{1,9})")?(?:/>|></%(p)bc>'
        rb"|><%(p)bv>(-?[0-9]+(?:\.[0-9]+)?(?:e[-+]?[0-9]+)?)</%(p)bv></%(p)bc>"
        rb'| t="b"><%(p)bv>([01])</%(p)bv></%(p)bc>'
        rb'| t="inlineStr"><%(p)bis><%(p)bt xml:space="preserve">([^<>\x00-\x08\x0b-\x1f]*)'
        rb"</%(p)bt></%(p)bis></%(p)bc>)" % {b"p": re.escape(prefix)}
    )


@lru_cache(maxsize=4096, typed=True)
def style_of(prefix: bytes, old: bytes | None, new: bytes, wanted: Value) -> int | None:
    """Return the format of a cell that was put in or rewritten; None if it does not hold what it should.

    Args:
        prefix: The prefix of the format's namespace with its colon.
        old: The cell before, behind its place; None if there was none.
        new: The cell after, behind its place.
        wanted: What it is to hold.
    """
    if old == new and not _pattern(prefix).fullmatch(new):
        return stated_style(new) if _stands(new, wanted) else None
    read = _pattern(prefix).fullmatch(new if old in (None, new) else _bare(prefix, old or b"", new))
    return int(read[1] or 0) if read is not None and _holds(read, wanted) else None


def stated_style(cell: bytes) -> int:
    """Return the format that a cell states, given from behind its place; 0 if it states none."""
    style = tags.attributes(cell[: cell.index(b">")]).get("s", "0")
    return int(style)


def _stands(cell: bytes, wanted: Value) -> bool:
    """Tell whether a cell in the spelling of another program, which an edit left, can hold a value."""
    content = set(_CONTENT.findall(cell))
    if blank(wanted):
        return not content
    kind = tags.attributes(cell[: cell.index(b">") + 1]).get("t", "n")
    return content == {b"v"} and kind == ("s" if isinstance(wanted, str) else "n")


def _bare(prefix: bytes, old: bytes, new: bytes) -> bytes:
    """Return a rewritten cell without what it had to keep: attributes that nobody knows, and an extension."""
    tag = tags.WHOLE.match(b"<c" + old)
    if tag is None:
        return b""
    others = tags.without_attributes(tag[0][2:], "s", "t", "cm", "ph").rstrip(b"/>").rstrip()
    extension = old.find(b"<%bextLst" % prefix)
    kept = old[extension:] if extension >= 0 else b""
    if not new.startswith(others) or not new.endswith(kept):
        return b""
    new = new.removeprefix(others)
    return new.removesuffix(kept) + b"</%bc>" % prefix if kept else new


def _holds(cell: re.Match[bytes], wanted: Value) -> bool:
    number, truth, text = cell.group(2, 3, 4)
    if wanted is None or wanted == "":
        return number is truth is text is None
    if isinstance(wanted, str):
        return text is not None and _means(text.decode(), wanted)
    if isinstance(wanted, bool):
        return truth == b"%d" % wanted
    return number is not None and float(number) == wanted


def _means(markup: str, wanted: str) -> bool:
    if "&" not in markup and "_x" not in markup and len(markup) < _SHORT:
        return markup == wanted or markup == cell_text(wanted)
    return unescaped(tags.plain(markup)) == cell_text(wanted)

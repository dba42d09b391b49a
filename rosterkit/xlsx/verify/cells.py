"""Verifies one cell that was put in or rewritten, in the one spelling that we write."""

import re
from collections.abc import Callable
from functools import lru_cache

from rosterkit.xlsx.changes import Wanted
from rosterkit.xlsx.read.shared_strings import unescaped
from rosterkit.xlsx.xml import tags
from rosterkit.xlsx.xml.values import Value, blank, cell_text

_SHORT = 8_000
"""Signs of a text that no limit shortens."""
_STYLE = re.compile(rb' s="([0-9]{1,9})"')
_NUMBER = re.compile(rb"-?[0-9]+(?:\.[0-9]+)?(?:e[-+]?[0-9]+)?")
_CONTENT = re.compile(rb"<(?:[^\s<>/:]+:)?(f|v|is)(?=[\s/>])")


@lru_cache(maxsize=16)
def _computed(prefix: bytes) -> re.Pattern[bytes]:
    """Return the pattern of a cell with a formula as we write it: format, type, formula and result."""
    return re.compile(
        rb'(?: s="([0-9]{1,9})")?(?: t="(str|b)")?><%(p)bf>([^<>\x00-\x08\x0b-\x1f]+)</%(p)bf>'
        rb"<%(p)bv(?:/>|>([^<>\x00-\x08\x0b-\x1f]*)</%(p)bv>)</%(p)bc>" % {b"p": re.escape(prefix)}
    )


@lru_cache(maxsize=16)
def _shared(prefix: bytes) -> re.Pattern[bytes]:
    """Return the pattern of a cell that shares its formula: format, type, area, group, formula and result."""
    return re.compile(
        rb'(?: s="([0-9]{1,9})")?(?: t="(str|b)")?><%(p)bf t="shared"(?: ref="([A-Z0-9:]+)")? si="([0-9]+)"'
        rb"(?:/>|>([^<>\x00-\x08\x0b-\x1f]+)</%(p)bf>)"
        rb"<%(p)bv(?:/>|>([^<>\x00-\x08\x0b-\x1f]*)</%(p)bv>)</%(p)bc>" % {b"p": re.escape(prefix)}
    )


@lru_cache(maxsize=16)
def _computed_elsewhere(prefix: bytes) -> re.Pattern[bytes]:
    """Return the pattern of such a cell as other programs write it: tag, tag of formula, formula, result."""
    return re.compile(
        rb"([^<>]*)>\s*(<%(p)bf(?:\s[^<>]*)?>)(?:(?<=/>)|([^<]*)</%(p)bf>)\s*"
        rb"(?:<%(p)bv>([^<]*)</%(p)bv>|<%(p)bv\s?/>)?\s*</%(p)bc>" % {b"p": re.escape(prefix)}
    )


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


def style_of(
    prefix: bytes,
    old: bytes | None,
    new: bytes,
    wanted: Wanted,
    derived: Callable[[str], str | None] = lambda _: None,
) -> int | None:
    """Return the format of a cell that was put in or rewritten; None if it does not hold what it should.

    Args:
        prefix: The prefix of the format's namespace with its colon.
        old: The cell before, behind its place; None if there was none.
        new: The cell after, behind its place.
        wanted: What it is to hold.
        derived: Gives the formula of the cell by the number of a group that shares one, None for none.
    """
    if wanted.formula is None:
        return _style_of_value(prefix, old, new, wanted.value)
    shown = new if old in (None, new) else _bare(prefix, old or b"", new)
    style = _STYLE.match(shown)
    if shown[style.end() if style else 0 :] == _plainly_spelt(prefix, wanted):
        return int(style[1]) if style else 0
    read = _computed(prefix).fullmatch(shown)
    if read is not None:
        return int(read[1] or 0) if _computes(read, wanted) else None
    return stated_style(new) if old == new and _stands_computed(prefix, new, wanted, derived) else None


def shared_style_of(
    prefix: bytes, old: bytes | None, new: bytes, wanted: Wanted, derived: Callable[[str], str | None]
) -> tuple[int, str] | None:
    """Return format and group of a cell that was put in or rewritten and shares its formula with others.

    None if it is no such cell, or does not hold what it should. Of the arguments see ``style_of``.
    """
    cell = _shared(prefix).fullmatch(new if old in (None, new) else _bare(prefix, old or b"", new))
    if cell is None:
        return None
    style, kind, area, group, formula, result = cell.groups()
    first = area is not None and formula is not None
    text = tags.plain(formula.decode()) if first else None if area or formula else derived(group.decode())
    if text is None or text != wanted.formula or not _gives(kind, result or b"", wanted.value):
        return None
    return int(style or 0), group.decode()


def _plainly_spelt(prefix: bytes, wanted: Wanted) -> bytes | None:
    """Return a cell with a formula behind its format, as nearly all are spelt; None where it may differ."""
    formula, value = wanted.formula or "", wanted.value
    if isinstance(value, bool | float) or "\r" in formula or "_x" in formula:
        return None
    if isinstance(value, int):
        kind, result = b"", b"%d" % value
    elif value and not (
        value.isascii() and value.isprintable() and "_x" not in value and len(value) < _SHORT
    ):
        return None
    else:
        kind, result = b' t="str"', _escaped(value or "")
    names = {b"p": prefix, b"k": kind, b"f": _escaped(formula), b"r": result}
    return b"%(k)b><%(p)bf>%(f)b</%(p)bf><%(p)bv>%(r)b</%(p)bv></%(p)bc>" % names


def _escaped(text: str) -> bytes:
    return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;").encode()


@lru_cache(maxsize=4096, typed=True)
def _style_of_value(prefix: bytes, old: bytes | None, new: bytes, wanted: Value) -> int | None:
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


def _computes(cell: re.Match[bytes], wanted: Wanted) -> bool:
    """Tell whether a cell as we write it holds a formula and its result, sign by sign."""
    return tags.plain(cell[3].decode()) == wanted.formula and _gives(cell[2], cell[4] or b"", wanted.value)


def _gives(kind: bytes | None, result: bytes, value: Value) -> bool:
    """Tell whether a type and a stored result as we write them are those of a value."""
    if value is None or isinstance(value, str):
        return kind == b"str" and _means(result.decode(), value or "")
    if isinstance(value, bool):
        return kind == b"b" and result == b"%d" % value
    return kind is None and _NUMBER.fullmatch(result) is not None and float(result) == value


def _stands_computed(
    prefix: bytes, cell: bytes, wanted: Wanted, derived: Callable[[str], str | None]
) -> bool:
    """Tell whether a cell in the spelling of another program, which an edit left, can hold a formula.

    It is to be an ordinary one, with the same text; a result among the shared texts is not looked up.
    """
    read = _computed_elsewhere(prefix).fullmatch(cell)
    if read is None:
        return False
    stated, text = tags.attributes(read[2]), tags.plain((read[3] or b"").decode())
    shared = stated.get("t") == "shared"
    known = derived(stated.get("si", "")) if shared and not text else text
    if known != wanted.formula or not (shared or stated.get("t", "normal") == "normal"):
        return False
    kind, result, value = tags.attributes(read[1] + b">").get("t", "n"), read[4] or b"", wanted.value
    if value is None or isinstance(value, str):
        return kind == "s" or (kind == "str" and _means(result.decode(), value or ""))
    if isinstance(value, bool):
        return kind == "b" and result == b"%d" % value
    return kind == "n" and bool(result) and float(result) == value

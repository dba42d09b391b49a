"""Writes the values of cells as the format stores them: numbers as numbers, text never as a formula."""

import math
import re
from functools import lru_cache

from rosterkit.errors import CannotRunError
from rosterkit.xlsx.xml.tags import text_markup

Value = str | int | float | None

LONGEST_FORMULA = 8_192
"""Signs of a formula; a limit of spreadsheet programs."""
LONGEST_TEXT = 32_767
"""Signs that a cell can hold, counted as UTF-16 does; a limit of spreadsheet programs."""

# What XML 1.0 cannot hold: control characters, lone surrogates and two noncharacters.
_FORBIDDEN = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff]")
# The format escapes a character as _x000D_, and a member may have typed just that.
_LOOKS_ESCAPED = re.compile(r"_(?=x[0-9A-Fa-f]{4}_)")
_EXACT = 2**53
# Programs take a formula's text as it stands, so that no escape can stand for a sign in it.
_NOT_IN_FORMULAS = re.compile("[\x00-\x08\x0b-\x1f\ud800-\udfff\ufffe\uffff]")


def cell_text(text: str) -> str:
    """Return a text as a cell can hold it: no control characters, line ends as LF, cut at the limit."""
    clean = _FORBIDDEN.sub("", text.replace("\r\n", "\n").replace("\r", "\n"))
    if len(clean) <= LONGEST_TEXT // 2:
        return clean
    return clean.encode("utf-16-le")[: 2 * LONGEST_TEXT].decode("utf-16-le", "ignore")


def escaped(text: str) -> str:
    """Return text with the format's own escape for what looks like one, such as _x000D_ typed by a member."""
    return _LOOKS_ESCAPED.sub("_x005F_", text)


def text_formula(text: str) -> str:
    """Return a formula, without its equals sign, that is a text and nothing else."""
    return '"' + cell_text(text).replace('"', '""') + '"'


def number_text(number: float) -> str:
    """Write a number so that reading gives the same one; CannotRunError if it is not finite."""
    if isinstance(number, int):
        return str(number)
    # No cell can hold an infinite one.
    if not math.isfinite(number):
        raise CannotRunError(
            "a number to be written is not finite", "Please report this, with the workbook if you can."
        )
    if number.is_integer() and abs(number) < _EXACT:
        return str(int(number))
    return repr(number)


def blank(value: Value) -> bool:
    """Whether a value leaves its cell empty."""
    return value is None or value == ""


@lru_cache(maxsize=4096, typed=True)
def cell_markup(value: str | int | float, prefix: bytes = b"") -> tuple[bytes, bytes]:
    """Return the type attribute (with a space before it, or nothing) and the content of a cell's element."""
    if isinstance(value, bool):
        return b' t="b"', b"<%bv>%d</%bv>" % (prefix, value, prefix)
    if isinstance(value, int | float):
        return b"", b"<%bv>%b</%bv>" % (prefix, number_text(value).encode(), prefix)
    text = text_markup(escaped(cell_text(value))).encode()
    return (
        b' t="inlineStr"',
        b'<%bis><%bt xml:space="preserve">%b</%bt></%bis>' % (prefix, prefix, text, prefix, prefix),
    )


def formula_element(formula: str, prefix: bytes = b"", attributes: bytes = b"") -> bytes:
    """Return the element of a formula (ISO/IEC 29500-1, 18.3.1.40).

    Args:
        formula: Its text without an equals sign, as the file has it.
        prefix: The prefix of the format's namespace with its colon.
        attributes: Those of the element, each with a space before it.

    Raises:
        CannotRunError: it is empty, or no cell can hold it.
    """
    if not formula or len(formula) > LONGEST_FORMULA or _NOT_IN_FORMULAS.search(formula):
        raise CannotRunError(
            f"a formula to be written is none that a cell can hold ({formula[:40]!a})",
            "Please report this, with the workbook if you can.",
        )
    return b"<%bf%b>%b</%bf>" % (prefix, attributes, text_markup(formula).encode(), prefix)


@lru_cache(maxsize=4096, typed=True)
def result_markup(result: Value, prefix: bytes = b"") -> tuple[bytes, bytes]:
    """Return the type attribute of a formula's cell (with a space before it) and the element of its result.

    A blank one is stored as a text without any character.
    """
    kind, stored = b"", b""
    if result is None or isinstance(result, str):
        kind, stored = b' t="str"', text_markup(escaped(cell_text(result or ""))).encode()
    elif isinstance(result, bool):
        kind, stored = b' t="b"', b"%d" % result
    else:
        stored = number_text(result).encode()
    return kind, b"<%bv>%b</%bv>" % (prefix, stored, prefix)

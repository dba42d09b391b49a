"""Two things typed into one cell, such as 'short 44': what each column would take."""

import re
import unicodedata

from rosterkit.roster.schema import Column, folded, sheet
from rosterkit.standards.addresses import LONG_ADDRESSES, SHORT_ADDRESSES

_WORD_FIRST = re.compile(r"\(?([a-z]+)\)?(?:\s+addr(?:ess)?)?[\s:.,;=/-]*([0-9]{1,5})")
_NUMBER_FIRST = re.compile(r"([0-9]{1,5})[\s,;/-]*\(?([a-z]+)\)?(?:\s+addr(?:ess)?)?")
_ADDRESSES = {"short": SHORT_ADDRESSES, "long": LONG_ADDRESSES}


def number_and_kind(column: Column, text: str) -> tuple[int, Column, str] | None:
    """Read a number with its kind out of one cell, in either order: 'short 44', '44 short', 'L2107'.

    Gives the number, the column that takes the kind (``kindIn`` in the schema) and the kind; None where the
    column has none beside it, or where the text may mean something else, such as a short address of 200.
    """
    if "kindIn" not in column.schema:
        return None
    beside = sheet(column.sheet)[column.schema["kindIn"]]
    plain = unicodedata.normalize("NFKC", text).strip().casefold()
    if match := _WORD_FIRST.fullmatch(plain):
        word, digits = match[1], match[2]
    elif match := _NUMBER_FIRST.fullmatch(plain):
        digits, word = match[1], match[2]
    else:
        return None
    kind, number = beside.synonyms.get(folded(word)), int(digits)
    return (number, beside, kind) if kind and number in _ADDRESSES[kind] else None

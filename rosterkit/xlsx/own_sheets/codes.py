"""Short codes of texts and formulas, by which those that we wrote are known again."""

import re
import zlib
from base64 import b64encode
from functools import lru_cache

from rosterkit.formulas.tokens import Kind, canonical, tokens

_REFERENCE = "A1"
_LOST = "#REF!"
# All formulas of a column that was filled down have one shape but for the numbers of the rows.
_ROWS = re.compile(r"(?<=[A-Z$])[0-9]+")


def four_signs(text: str) -> str:
    """Return four signs for a text: letters, digits, plus and slash, by 24 bits of its checksum."""
    return b64encode(zlib.crc32(text.encode("utf-8", "replace")).to_bytes(4)[1:]).decode()


@lru_cache(maxsize=1 << 12)
def code_of_formula(formula: str) -> str:
    """Return four signs for a formula, which it keeps wherever its references come to lead.

    Rows and columns come and go, sheets are renamed and moved: programs change the references, and spell
    words in their own way, and we wrote the formula all the same.
    """
    return _code_of_shape(_ROWS.sub("1", formula))


@lru_cache(maxsize=1 << 12)
def _code_of_shape(formula: str) -> str:
    pieces: list[str] = []
    for token in tokens(formula):
        if token.kind is Kind.REFERENCE or token.text.upper() == _LOST:
            # Where a sheet went, the loss stands before the cells as one more word.
            pieces += [_REFERENCE] if pieces[-1:] != [_REFERENCE] else []
        else:
            pieces.append(token.text)
    return four_signs("=" + " ".join(canonical("".join(pieces))))

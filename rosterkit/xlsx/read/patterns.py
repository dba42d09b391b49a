"""The canonical form of a sheet's rows and cells, as patterns over the bytes of its part."""

import re
from collections.abc import Sequence
from functools import lru_cache

from rosterkit.xlsx.read.shared_strings import SHOWN, TEXT

_NUMBER = rb"-?[0-9]{1,30}(?:\.[0-9]{1,40})?(?:[Ee][+-]?[0-9]{1,2})?"
_FORMULA = rb'<f(?: [A-Za-z0-9]++="[^"<&]*+")*+(?:/>|>%s</f>)' % TEXT
_MAYBE = rb"(?:%s)?+" % _FORMULA
_EMPTY = rb"(?:<v></v>|<v ?/>)?+"
# The mark of a dynamic array formula, which changes no value.
_DYNAMIC = rb'(?: cm="[0-9]{1,6}")?+'
# Possessive: the many attributes of a row are passed over without trying again.
_ROW_ATTRIBUTES = rb'(?: (?:x14ac:)?[A-Za-z]++="[^"<&]*+")*+'

_CONTENTS = (
    rb' t="s"><v>[0-9]{1,9}</v></c>',
    rb'(?: t="n")?+><v>%s</v></c>' % _NUMBER,
    rb'(?: t="[a-z]+")?+(?: ?/>|></c>)',
    rb'()(?: t="n")?+%s>%s(?:<v>%s</v>|%s)</c>' % (_DYNAMIC, _MAYBE, _NUMBER, _EMPTY),
    rb'() t="inlineStr"><is>%s</is></c>' % SHOWN,
    rb'() t="str"%s>%s(?:<v>%s</v>|%s)</c>' % (_DYNAMIC, _MAYBE, TEXT, _EMPTY),
    rb'() t="b"%s>%s<v>[01]</v></c>' % (_DYNAMIC, _MAYBE),
    rb'() t="e"%s>%s<v>#[^<&]++</v></c>' % (_DYNAMIC, _MAYBE),
    rb'() t="s">%s<v>[0-9]{1,9}</v></c>' % _MAYBE,
)
"""What follows a cell's reference and format; a group of no characters marks a kind to look at closely."""

MARKS = ("computed", "inline", "text", "boolean", "error", "shared")
"""The kinds of the marks, in the order of the groups."""

MOST_COLUMNS = 702
"""Cells in columns of one or two letters, A to ZZ, are ordinary; hardly a sheet goes further."""

TAG = re.compile(rb'<c r="([A-Z]+)([0-9]+)"(?: s="([0-9]+)")?(?: t="([a-zA-Z]+)")?')
ERROR_VALUE = re.compile(rb' t="e"%s>%s<v>([^<]*)</v>' % (_DYNAMIC, _MAYBE))
WITHOUT_VALUE = re.compile(rb"%s%s</c>" % (_FORMULA, _EMPTY))
SHARING_CELL = re.compile(rb'<c r="([A-Z]+)([0-9]+)"[^<>]*><f t="shared" si="([0-9]+)"/>')
FORMULA_CELL = re.compile(
    rb'<c r="([A-Z]+)([0-9]+)"[^<>]*>(?!<f t="shared" si="[0-9]+"/>)'
    rb'<f((?: [A-Za-z0-9]++="[^"<&]*+")*+)(?:/>|>([^<]*+)</f>)'
)
SHARED_FORMULA = re.compile(rb'<f [^<>]*t="shared"[^<>]*+(?<!/)>[^<]++')
# The group of a shared formula.
_GROUP = re.compile(rb' si="([0-9]+)"')

_SAFE_DATE = rb"(?:6[1-9]|[789][0-9]|[1-9][0-9]{2,5}|1[0-9]{6}|2[0-8][0-9]{5})(?:\.[0-9]+)?<"
"""A number that is a date in both date systems, and that every reader takes for the same one."""

_FEW = 100


@lru_cache(maxsize=64)
def row_pattern(formats: int) -> re.Pattern[bytes]:
    """Make the pattern of one row whose cells have formats below ``formats``.

    Its groups are the row's number, the letters of its last cell, and marks: each is None if no cell of the
    row is of that kind.
    """
    cell = rb'<c r="([A-Z]{1,2})\1"(?: s="(?:%s)")?+(?:%s)' % (_below(formats), b"|".join(_CONTENTS))
    return re.compile(
        rb'<row r="([1-9][0-9]{0,6})"%s(?:/>|>(?:%s)*+</row>)[ \t\r\n]*+' % (_ROW_ATTRIBUTES, cell)
    )


def numbers_of_formats(formats: Sequence[int], *, unsafe_dates_only: bool) -> re.Pattern[bytes]:
    """Make the pattern of cells with a number in one of these formats (in any format where they are many).

    The numbers that are a date without doubt can be left out.
    """
    styles = b"|".join(b"%d" % index for index in formats) if len(formats) <= _FEW else b"[0-9]+"
    left_out = rb"(?!%s)" % _SAFE_DATE if unsafe_dates_only else b""
    return re.compile(rb' s="(%s)"(?: t="n")?+%s>%s<v>%s([^<]+)</v>' % (styles, _DYNAMIC, _MAYBE, left_out))


def shared_texts(indices: bytes) -> re.Pattern[bytes]:
    """Make the pattern of a cell's type and content if its text is one of these, such as ``1|7``."""
    return re.compile(rb' t="s">%s<v>(?:%s)</v>' % (_MAYBE, indices))


def _below(limit: int) -> bytes:
    """Spell a pattern of the numbers from 0 to ``limit`` - 1, without leading zeros."""
    digits = str(limit - 1)
    parts = ["[0-9]"] if len(digits) > 1 else []
    parts += [f"[1-9][0-9]{{{length - 1}}}" for length in range(2, len(digits))]
    for place, digit in enumerate(digits):
        lowest = 1 if place == 0 and len(digits) > 1 else 0
        if int(digit) > lowest:
            parts.append(f"{digits[:place]}[{lowest}-{int(digit) - 1}][0-9]{{{len(digits) - place - 1}}}")
    return "|".join([*parts, digits]).encode()


def beyond(column: str) -> re.Pattern[bytes]:
    """Make the pattern of the beginning of a cell in a column beyond this one."""
    parts = [f"[A-Z]{{{length}}}" for length in range(len(column) + 1, 3)]
    for place, letter in enumerate(column):
        if letter < "Z":
            rest = len(column) - place - 1
            parts.append(f"{column[:place]}[{chr(ord(letter) + 1)}-Z][A-Z]{{{rest}}}")
    return re.compile(f'<c r="(?:{"|".join(parts) or "-"})[0-9]'.encode())


def group(attributes: bytes) -> str | None:
    """Return the group of cells that the attributes of a formula name; None if it is of no group."""
    named = _GROUP.search(attributes) if b' t="shared"' in attributes else None
    return named[1].decode() if named else None


def formula(element: bytes) -> tuple[bytes, bytes]:
    """Return the group of cells that a formula element names (b"" if none), and its text."""
    tag, _, rest = element.partition(b">")
    named = _GROUP.search(tag) if b't="shared"' in tag else None
    return named[1] if named else b"", rest.partition(b"<")[0] if not tag.endswith(b"/") else b""

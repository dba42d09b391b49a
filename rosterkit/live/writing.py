"""Pieces of formula text: references, texts, and what a cell typed by a member comes to.

``{r}`` in a template stands for the number of the row that it is filled into. Only functions are used that
every spreadsheet program has had for long; nothing that a member typed is ever put into the text.
"""

import re
from collections.abc import Iterable, Sequence
from string import ascii_lowercase

from rosterkit.cell_names import column_letters
from rosterkit.live.places import SheetPlace
from rosterkit.roster.schema import Column

ROW = "{r}"
SPACE = '" "'
"""A blank between two texts."""
SPARE_BELOW = 1
"""Ranges end so many rows below the last formula: a row inserted there still lies within them."""
_BARE = re.compile(r"[A-Za-z]{4,30}")
"""Titles that need no quotes: of letters only, and more of them than a column has."""
_IN_NO_NUMBER = ascii_lowercase + ",:/#$%&()*?!'_=<>"
"""Signs with which no whole number is written, however it is spelt."""
_MOST_PARTS = 30
"""Arguments that every program takes in one function."""
_SLOT = 200
"""Signs that the spellings of one choice take in a list of spellings."""


def quoted(title: str) -> str:
    """Write a sheet's title as references begin with it: bare where it can be nothing but a title."""
    if _BARE.fullmatch(title):
        return f"{title}!"
    return "'" + title.replace("'", "''") + "'!"


def text(words: str) -> str:
    """Write a text of ours as a formula has it."""
    return '"' + words.replace('"', '""') + '"'


def filled(template: str, row: int) -> str:
    """Return the formula of one row."""
    return template.replace(ROW, str(row))


def cell(place: SheetPlace, name: str, *, row: str | int = ROW, titled: bool = False) -> str:
    """Refer to a cell of a column: of the row that is filled, or of a fixed one."""
    fixed = "" if row == ROW else "$"
    return f"{quoted(place.title) if titled else ''}${column_letters(place.columns[name])}{fixed}{row}"


def column_range(place: SheetPlace, name: str, *, titled: bool = False, beyond: int = SPARE_BELOW) -> str:
    """Refer to a column from its heading to so many rows below the last one with formulas."""
    letters = column_letters(place.columns[name])
    first, last = place.heading_row, place.last_row + beyond
    return f"{quoted(place.title) if titled else ''}${letters}${first}:${letters}${last}"


def typed(reference: str) -> str:
    """Return what is typed in a cell without blanks at its ends; a blank cell is an empty text."""
    return f"TRIM({reference})"


def whole(reference: str) -> str:
    """Return the whole number in a cell, typed as a number or as its digits; an error for anything else."""
    return f"IF({is_whole(reference)},VALUE(TRIM({reference})),1/0)"


def is_whole(reference: str) -> str:
    """Tell whether a cell that is not blank holds a whole number, as a number or as its digits.

    A text is one if nothing is left of it without its digits: what VALUE makes of other texts, such as 1e3 or
    3,5, depends on the program and the country.
    """
    left = _without_digits(f"TRIM({reference})")
    return f'IF(ISNUMBER({reference}),INT({reference})={reference},{left}="")'


def is_digits(reference: str) -> str:
    """Tell whether the text in a cell, not an empty one, is of digits only: a whole number to everybody."""
    return f'IF({reference}="",FALSE,{_without_digits(reference)}="")'


def _without_digits(words: str) -> str:
    for digit in "0123456789":
        words = f'SUBSTITUTE({words},"{digit}","")'
    return words


def is_no_number(reference: str) -> str:
    """Tell whether the text in a cell has a sign with which no whole number from 0 up is written."""
    found = [f"FIND({text(sign)},LOWER({reference})&{text(sign)})" for sign in _IN_NO_NUMBER]
    groups = [f"MIN({','.join(found[at : at + _MOST_PARTS])})" for at in range(0, len(found), _MOST_PARTS)]
    return f'OR(LEFT({reference},1)="-",MIN({",".join(groups)})<=LEN({reference}))'


def key(reference: str) -> str:
    """Return a label as it is compared: in small letters, without blanks, and without signs of wildcards.

    A letter before it keeps a label of digits from being taken for a number.
    """
    plain = f'SUBSTITUTE({reference}&""," ","")'
    for sign, other in (("~", "<1>"), ("*", "<2>"), ("?", "<3>")):
        plain = f'SUBSTITUTE({plain},"{sign}","{other}")'
    return f'"k"&LOWER({plain})'


def label_key(label: str | None) -> str:
    """Return the same of a label that is known, to be stored as a value."""
    plain = "".join((label or "").split(" "))
    return "k" + re.sub(r"[~*?]", lambda sign: f"<{'~*?'.index(sign[0]) + 1}>", plain).lower()


def spellings(column: Column, order: Sequence[str | None]) -> str:
    """Return the list in which ``choice`` finds how a choice may be written; None is a blank cell.

    Each spelling stands between semicolons, and a blank, which no key holds, parts it from the next.
    """
    slots = []
    for wanted in order:
        some = [""] if wanted is None else [s for s, choice in column.synonyms.items() if choice == wanted]
        slots.append("".join(f";{spelling}; " for spelling in some).ljust(_SLOT))
    assert all(len(slot) == _SLOT for slot in slots)  # noqa: S101 - a longer list would be read wrongly
    # A program strips blanks at the end of a stored text.
    return "".join(slots).rstrip()


def choice(reference: str, listed: str) -> str:
    """Return which choice a cell holds, from 0 in the order of the list; an error for anything else."""
    return f'INT(FIND(";"&LOWER(SUBSTITUTE({reference}&""," ",""))&";",{listed})/{_SLOT})'


def looked_up(wanted: str, keys: str, values: str) -> str:
    """Return what stands in a column beside a key; an error where the key is not there."""
    return f"INDEX({values},MATCH({wanted},{keys},0))"


def sentence(template: str, **parts: str) -> str:
    """Join a sentence with places in braces, such as ``{address} is taken``, from pieces of formula."""
    pieces = []
    for piece in re.split(r"(\{[a-z_]+\})", template):
        if piece.startswith("{") and piece.endswith("}"):
            pieces.append(parts[piece[1:-1]])
        elif piece:
            pieces.append(text(piece))
    return "&".join(pieces)


def both(conditions: Iterable[str]) -> str:
    """Demand all of some conditions."""
    return f"AND({','.join(conditions)})"


def either(conditions: Iterable[str]) -> str:
    """Demand any of some conditions."""
    return f"OR({','.join(conditions)})"

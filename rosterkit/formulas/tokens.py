"""The words of a formula, as the format of workbooks spells them (ECMA-376-1, 18.17.2)."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from rosterkit.formulas.references import REFERENCE, SHEET, spelt_alike, within_sheet


class Kind(StrEnum):
    """What a word of a formula is."""

    BLANK = "blank"
    TEXT = "text"
    ERROR = "error"
    REFERENCE = "reference"
    NUMBER = "number"
    NAME = "name"
    """A function, TRUE or FALSE, or a defined name."""
    OPERATOR = "operator"
    """Operators, commas, brackets."""
    OTHER = "other"
    """What formulas of ours never have: structured references, constants of arrays, signs out of place."""


@dataclass(frozen=True, slots=True)
class Token:
    """One word of a formula, as it stands there."""

    kind: Kind
    text: str


# Names may have a sheet before them; the last alternatives take any sign, so that nothing is left over.
_TOKEN = re.compile(
    r"(?P<blank>[ \t\r\n]+)"
    r'|(?P<text>"(?:[^"]|"")*+")'
    r"|(?P<error>#(?:REF!|N/A|DIV/0!|NAME\?|NULL!|NUM!|VALUE!))"
    rf"|(?P<reference>{REFERENCE}(?![\w.(\[!\\?]))"
    r"|(?P<number>(?:[0-9]+\.?[0-9]*|\.[0-9]+)(?:[eE][+-]?[0-9]+)?)"
    rf"|(?P<name>(?:{SHEET})?[^\W\d][\w.\\?]*)"
    r"|(?P<operator><>|<=|>=|[-+*/^&=<>%:,()])"
    r"|(?P<other>\[(?:[^\[\]']|'.|\[(?:[^\[\]']|'.)*\])*\]|'+|.)",
    re.DOTALL,
)
_KINDS: Mapping[str | None, Kind] = {kind.value: kind for kind in Kind}
_NAME = re.compile(r"[^\W\d][\w.\\?]*")
_LONGEST = 16_384
"""Signs of a formula that is looked into; programs take fewer (8,192, from memory)."""
_NO_ARGUMENTS = ("(", ")")


def tokens(text: str) -> Sequence[Token]:
    """Return the words of a formula (without the equals sign before it), blanks too.

    Any text has them: joined again they are the text, whether or not it is a formula.
    """
    found = []
    if len(text) > _LONGEST:
        return [Token(Kind.OTHER, text)]
    at = 0
    while at < len(text):
        match = _TOKEN.match(text, at)
        if match is None:
            raise AssertionError("the last alternative takes any sign")
        kind, end = _KINDS[match.lastgroup], match.end()
        if kind is Kind.REFERENCE and not within_sheet(match[0]):
            # Three letters and a number that no sheet reaches are a name.
            name = _NAME.match(text, at)
            kind, end = (Kind.OTHER, at + 1) if name is None else (Kind.NAME, name.end())
        found.append(Token(kind, text[at:end]))
        at = end
    return found


def canonical(text: str) -> tuple[str, ...]:
    """Return a formula's words such that two formulas have the same ones if they differ in spelling only.

    Such differences are the case of names and of sheets' titles, blanks between words, quotes round a title
    that needs none, zeros of numbers, and TRUE written as a function.
    """
    words: list[str] = []
    for token in tokens(text):
        if token.kind is not Kind.BLANK:
            words.append(_spelt_alike(token))
        if tuple(words[-2:]) == _NO_ARGUMENTS and words[-3:-2] in (["TRUE"], ["FALSE"]):
            del words[-2:]
    return tuple(words)


def _spelt_alike(token: Token) -> str:
    if token.kind is Kind.NUMBER:
        return repr(float(token.text))
    if token.kind is Kind.REFERENCE:
        return spelt_alike(token.text)
    return token.text.upper() if token.kind in {Kind.NAME, Kind.ERROR} else token.text

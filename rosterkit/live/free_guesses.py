"""What the digits of an engine's number can be made into, as formulas: the first candidates."""

from dataclasses import dataclass

from rosterkit.cv.number_to_address import (
    BY_RULE,
    DROPPED,
    ITSELF,
    LAST_FOUR,
    RULES,
    SHORTENED,
    THOUSAND,
    Choice,
)
from rosterkit.live.free_wanted import ANY, CONSIST, LONG, wanted
from rosterkit.live.machinery import Machinery
from rosterkit.live.settings import setting
from rosterkit.live.specimens import worded
from rosterkit.live.writing import text
from rosterkit.standards.addresses import LONG_ADDRESSES

_DIGITS = "54321"
"""The number of the specimens."""
GUESSES = 19
"""How many there are at most."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Guess:
    """A number made of digits."""

    grade: int
    condition: str
    """Whether the digits give one, beside those of an engine's number at all."""
    number: str
    because: str
    """How it comes from the digits, in words."""


def guesses(machinery: Machinery, number: str) -> list[Guess]:
    """Return all in the order of ``choices_of``; ``number`` refers to the address that is found."""
    digits, rule = wanted(machinery, "digits"), wanted(machinery, "rule")
    length, same = f"LEN({digits})", {_DIGITS: digits}

    def guess(grade: int, condition: str, of: str, because: str) -> Guess:
        return Guess(grade=grade, condition=condition, number=f"VALUE({of})", because=because)

    def said(number: int, grade: int) -> str:
        return Choice(number, grade, _DIGITS, "").because

    kept = f"CHOOSE(1+{rule},{','.join(map(str, RULES.values()))},0)"
    four, dropped = worded(said(4321, LAST_FOUR), same), said(777, DROPPED)
    some = [
        guess(ITSELF, "TRUE", digits, worded(said(54321, ITSELF), same)),
        guess(BY_RULE, f"{rule}<{len(RULES)}", f"RIGHT({digits},{kept})", _by_rule(rule, digits)),
        guess(LAST_FOUR, f"{length}>4", f"RIGHT({digits},4)", four),
    ]
    for place in range(1, 6):
        condition = f"AND({length}>2,{length}<6,{length}>={place})"
        left = f"LEFT({digits},{place - 1})&MID({digits},{place + 1},9)"
        because = worded(dropped, {**same, "777": f"ABS({number})"})
        some.append(guess(DROPPED, condition, left, because))
    last = f"VALUE(RIGHT({digits},3))"
    for thousands in range(1000, 10000, 1000):
        because = worded(said(321 + thousands, THOUSAND), {"321": last})
        some.append(guess(THOUSAND, "TRUE", f"{thousands}+{last}", because))
    for many, number_kept in ((3, 321), (2, 21)):
        because = worded(said(number_kept, SHORTENED), same)
        some.append(guess(SHORTENED, f"{length}>{many}", f"RIGHT({digits},{many})", because))
    return some


def guessed(machinery: Machinery, guess: Guess) -> str:
    """Return the address of a guess as Answers has it; 0 where the digits give none."""
    digits, kind = wanted(machinery, "digits"), wanted(machinery, "kind")
    in_range = f"AND({guess.number}>={LONG_ADDRESSES[0]},{guess.number}<={LONG_ADDRESSES[-1]})"
    long = f"OR({kind}={LONG},AND({kind}={ANY},{guess.number}>={setting(machinery, 'first_long')}))"
    found = f"IF({in_range},IF({long},-{guess.number},{guess.number}),0)"
    of_digits = f"IF(VALUE({digits})=0,0,IF({guess.condition},IFERROR({found},0),0))"
    no_digits = f'OR({digits}="",{wanted(machinery, "usable")}=0,{kind}>={CONSIST})'
    return f"IF({no_digits},0,{of_digits})"


def _by_rule(rule: str, digits: str) -> str:
    names = ",".join(text(Choice(1, BY_RULE, "", one).because) for one in RULES)
    return f'CHOOSE(1+{rule},{names},"")&{digits}'

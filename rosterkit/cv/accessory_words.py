"""What is said of accessory decoders alike by checks, cards and ``decode``."""

from collections.abc import Sequence

from rosterkit.standards.accessories import (
    BROADCAST_USER_NUMBERS,
    DECODER_ADDRESSES,
    user_number,
)

BROADCAST_DECODER = DECODER_ADDRESSES[-1]
"""The decoder address 511 (NMRA S-9.2.1 (Jul 2012), section D)."""
RESERVED_FIX = f"Use a number from 1 to {BROADCAST_USER_NUMBERS.start - 1}."
"""What to do about a number that is the broadcast, or that comes out as decoder address 0."""

MISSING_BIT_FIX = "Add 128, unless it is an engine's: there CV513 to CV768 are the maker's own."
"""What to do about a CV29 without bit 7 (what CVs from 513 on are in an engine: NMRA S-9.2.2 (Jul 2012))."""


def numbers_words(numbers: Sequence[int]) -> str:
    """Name some numbers in a sentence, those in a row by the first and the last; at least one."""
    runs: list[list[int]] = []
    for number in numbers:
        if runs and runs[-1][-1] + 1 == number:
            runs[-1][1:] = [number]
        else:
            runs.append([number])
    named = [" to ".join(map(str, run)) for run in runs]
    return named[0] if len(named) == 1 else f"{', '.join(named[:-1])} and {named[-1]}"


def are(numbers: Sequence[int]) -> str:
    """Return the verb of a sentence whose subject some numbers are."""
    return "is" if len(numbers) == 1 else "are"


def broadcast_words(numbers: Sequence[int]) -> str:
    """Say of numbers that they are decoder address 511, by both editions of the standard.

    NMRA S-9.2.1 (Jul 2012), section D, has the broadcast; of the edition of 2025 it is known at second hand
    only that it has dropped it.
    """
    return (
        f"{numbers_words(numbers)} {are(numbers)} decoder address {BROADCAST_DECODER}, by NMRA S-9.2.1 of "
        "2012 the broadcast to every accessory decoder; its edition of 2025 is reported to have dropped that"
    )


def decoder_zero_words(numbers: Sequence[int]) -> str:
    """Say of numbers that they come out as decoder address 0 (RCN-213, from memory)."""
    come = "comes" if len(numbers) == 1 else "come"
    return f"{numbers_words(numbers)} {come} out as decoder address 0, which not every system can call"


def missing_bit_words(cv: int, value: int) -> str:
    """Say of CV29, or of CV541, its alias, what an accessory decoder does without its bit 7.

    RCN-225 (27.07.2025), section 3.1.
    """
    return (
        f"CV{cv} = {value} is without bit 7 (128): an accessory decoder is then called by the commands of "
        "locomotives, not of accessories"
    )


def answers_words(packets: Sequence[int], *, extended: bool) -> str:
    """Say which numbers call some packet addresses, 0 to 2047, under both ways to count them.

    RCN-225 (27.07.2025), section 3.1: user address 1 is packet address 4. That some systems count from packet
    address 0 is common practice, no source.
    """
    by_rcn, lower = ([user_number(packet, offset=offset) for packet in packets] for offset in (0, 4))
    what = ("extended number" if extended else "turnout") + ("s" if len(packets) > 1 else "")
    return f"{what} {numbers_words(by_rcn)} ({numbers_words(lower)} where turnout 1 is packet address 0)"

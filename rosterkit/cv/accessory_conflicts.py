"""Faults of an accessory decoder's CV values, judged as the checks judge a row of Accessories."""

from collections.abc import Iterator, Mapping, Sequence

from rosterkit.cv.accessory_words import (
    BROADCAST_DECODER,
    MISSING_BIT_FIX,
    RESERVED_FIX,
    broadcast_words,
    decoder_zero_words,
    missing_bit_words,
)
from rosterkit.cv.conflicts import CONFIGURATION, CombinationFault, error, warning
from rosterkit.standards.accessories import (
    ALIAS_OFFSET,
    packet_address_of_cvs,
    packet_addresses_of,
    user_number,
)
from rosterkit.standards.configuration import is_accessory

_ALIASES = frozenset(cv + ALIAS_OFFSET for cv in (1, 9, CONFIGURATION))


def packets_of(number: int, *, by_output: bool) -> Sequence[int]:
    """Return the packet addresses that an accessory decoder certainly answers, 0 to 2047.

    The number is the decoder address, 0 to 511, whose four they are (NMRA S-9.2.1 (Jul 2012), section D); or
    by output what CV1 and CV9 hold, 0 to 2047, which is the first one of as many as the decoder has outputs.
    """
    return [packet_address_of_cvs(number % 256, number // 256)] if by_output else packet_addresses_of(number)


def accessory_faults(number: int, *, by_output: bool) -> Iterator[CombinationFault]:
    """Return what is wrong with an address, as ``packets_of`` takes it, on any layout."""
    packets = packets_of(number, by_output=by_output)
    numbers = [user_number(packet) for packet in packets]
    decoder = packets[0] // 4
    if decoder == BROADCAST_DECODER:
        yield error((1, 9), broadcast_words(numbers), RESERVED_FIX)
    elif decoder == 0:
        yield warning((1, 9), decoder_zero_words(numbers), RESERVED_FIX)


def missing_bit_faults(values: Mapping[int, int]) -> Iterator[CombinationFault]:
    """Return the fault of a CV29 without bit 7 where CV513, CV521 or CV541 is given, as accessories have."""
    for cv in (CONFIGURATION, CONFIGURATION + ALIAS_OFFSET):
        if cv in values and not is_accessory(values[cv]) and not _ALIASES.isdisjoint(values):
            yield warning((cv,), missing_bit_words(cv, values[cv]), MISSING_BIT_FIX)
            return

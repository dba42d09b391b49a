"""Free numbers for turnouts, signals and other devices, the best first, each with its reason."""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass

from rosterkit.cv.address_ranges import Holder, gives_to, is_for, smallest_first
from rosterkit.cv.number_to_address import ITSELF, choices_of, digits_of
from rosterkit.planning.addresses.free import FreeAddress, Wanted, first_reasons, nearest_words
from rosterkit.planning.addresses.model import LayoutRules, NumberRange
from rosterkit.roster.schema import folded
from rosterkit.standards.accessories import (
    BROADCAST_USER_NUMBERS,
    output_pair,
    packet_address,
    packet_addresses_of,
    user_number,
)

_NUMBERS = range(1, BROADCAST_USER_NUMBERS.start)
"""Those after them are the broadcast or begin again at packet address 0, whichever the offset."""
_IN_USE = "; with Method output only: another of its four is in use"
_NOT_GIVEN_OUT = "; with Method output only: not all of its four are given out"


@dataclass(frozen=True, slots=True, kw_only=True)
class Devices:
    """What the devices of a layout answer."""

    taken: frozenset[int] = frozenset()
    """Packet addresses, 0 to 2047, all four of a decoder that has one address for them."""
    offset: int = 0
    """How many packet addresses lower the layout's turnout numbers are counted: 0 or 4."""


def free_accessories(
    devices: Devices, rules: LayoutRules, wanted: Wanted, most: int = 10
) -> list[FreeAddress]:
    """Return at most so many free numbers, as they are called from a throttle, the best first.

    The number wanted itself; the member's own ranges; the nearest. Never the broadcast, never a number of
    which a device answers the packet (NMRA S-9.2.1 (Jul 2012), section D), never what is kept for something
    or somebody else; and where ranges give out numbers, to whomever, none outside them. Of four numbers that
    one decoder has, not all of which could be offered, the others suit decoders of the method output only.
    """
    ranges = smallest_first(one for one in rules.ranges if one.kind == "accessory")
    given_out = any(gives_to(one, Holder.DEVICE) for one in ranges)
    # By number the range that rules it, as ``ruling_of`` says.
    rulings = {
        number: one
        for one in reversed(ranges)
        for number in range(max(one.first, _NUMBERS.start), min(one.last + 1, _NUMBERS.stop))
    }
    free = [
        number
        for number in _NUMBERS
        if packet_address(number, offset=devices.offset) not in devices.taken
        and (_suits(rulings[number], wanted) if number in rulings else not given_out)
    ]
    offered = frozenset(free)
    return [
        FreeAddress(kind="accessory", number=number, because=because + _limit_of(number, devices, offered))
        for number, because in first_reasons(_ranked(free, rulings, wanted), most)
    ]


def _suits(ruling: NumberRange, wanted: Wanted) -> bool:
    return gives_to(ruling, Holder.DEVICE, at_home=not wanted.for_meet) and is_for(ruling, wanted.member)


def _limit_of(number: int, devices: Devices, offered: Collection[int]) -> str:
    """Say that a number suits Method output only; nothing where all four of its decoder can be offered."""
    four = packet_addresses_of(output_pair(number, offset=devices.offset).decoder)
    if not devices.taken.isdisjoint(four):
        return _IN_USE
    whole = all(user_number(packet, offset=devices.offset) in offered for packet in four)
    return "" if whole else _NOT_GIVEN_OUT


def _ranked(free: list[int], rulings: Mapping[int, NumberRange], wanted: Wanted) -> Iterator[tuple[int, str]]:
    # The number that a nearest one is measured from, six digits of it at most; 0 for none.
    reference = int((digits_of(wanted.near) or "").lstrip("0")[:6] or "0")
    outward = sorted(free, key=lambda number: abs(number - reference))
    among = set(free)
    for choice in choices_of(wanted.near):
        if choice.grade == ITSELF and choice.number in among:
            yield choice.number, choice.because
    for number in outward:
        ruling = rulings.get(number)
        if ruling and ruling.member and folded(ruling.member) == folded(wanted.member or ""):
            yield number, f"in {wanted.member}'s range {ruling}"
    for number in outward:
        yield number, nearest_words(wanted, reference, rulings.get(number))

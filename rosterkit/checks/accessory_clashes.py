"""Which devices are in each other's way, each with all the numbers that its decoder answers."""

from bisect import bisect_right
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from enum import Enum, auto

from rosterkit.checks.clashes import MOST_RELATED, grouped
from rosterkit.cv.accessory import Device
from rosterkit.standards.accessories import PACKET_ADDRESSES


class InTheWay(Enum):
    """How another device is in the way of one."""

    SAME_NUMBER = auto()
    """Both are called by one number."""
    ANSWERS_ALIKE = auto()
    """Their decoders both answer a number of theirs."""
    ON_ITS_FOUR = auto()
    """It is on a number that the other's decoder answers if it has the usual four."""
    OTHER_PACKETS = auto()
    """The same number, one by basic and one by extended packets."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Clash:
    """Some devices that are in the way of one, in the same way."""

    device: Device
    others: Sequence[Device]
    """Those below it in the sheet first, then those above; 20 at most."""
    count: int
    """How many there are of them."""
    way: InTheWay


@dataclass(frozen=True, slots=True)
class _Claim:
    """Devices that claim the same numbers in the same way, and are so in the same devices' way."""

    rows: list[Device]
    answered: int
    """A bit for each packet address that their decoders answer."""
    sure: int
    """A bit for each of those that their rows state."""
    reach: int
    """How many packet addresses there are from the first of them to the last."""

    @property
    def device(self) -> Device:
        """One of them."""
        return self.rows[0]


def clashes_among(devices: Sequence[Device]) -> Iterator[Clash]:
    """Return what is in the way of each device, in the order of the sheet.

    Basic and extended packets differ (NMRA S-9.2.1 (Jul 2012), section D), and so do the outputs of one
    decoder address.
    """
    claims = {key: _claim(rows) for key, rows in grouped(devices, _key).items()}
    by_first = grouped(claims.values(), lambda one: one.device.packets[0])
    longest = max((one.reach for one in claims.values()), default=0)
    found = {key: _in_the_way(claim, by_first, longest) for key, claim in claims.items()}
    for device in devices:
        for way, sharing in found[_key(device)].items():
            at = bisect_right(sharing, device.row.index, key=lambda one: one.row.index)
            before = sharing[: at - 1] if at and sharing[at - 1] is device else sharing[:at]
            after = sharing[at : at + MOST_RELATED]
            others = [*after, *before[: MOST_RELATED - len(after)]]
            if others:
                yield Clash(device=device, others=others, count=len(sharing) - at + len(before), way=way)


def _key(device: Device) -> tuple[int, int, bool, bool, bool]:
    stated = device.row.outputs is not None
    return device.called, len(device.packets), device.by_output, device.extended, stated


def _claim(rows: list[Device]) -> _Claim:
    one = rows[0]
    answered = sum(1 << packet for packet in {one.called, *one.packets})
    beyond = (one.called - one.packets[0]) % len(PACKET_ADDRESSES) + 1
    sure = sum(1 << packet for packet in one.sure)
    return _Claim(rows=rows, answered=answered, sure=sure, reach=max(len(one.packets), beyond))


def _in_the_way(
    claim: _Claim, by_first: Mapping[int, Sequence[_Claim]], longest: int
) -> dict[InTheWay, list[Device]]:
    first = claim.device.packets[0]
    found: dict[InTheWay, list[Device]] = {}
    # What answers one of its packet addresses begins among them, or so near before them that it reaches them.
    for at in range(first - longest + 1, first + claim.reach):
        for other in by_first.get(at % len(PACKET_ADDRESSES), ()):
            way = _way(claim, other) if claim.answered & other.answered else None
            if way is not None:
                found.setdefault(way, []).extend(other.rows)
    return {way: sorted(found[way], key=lambda each: each.row.index) for way in InTheWay if way in found}


def _way(one: _Claim, other: _Claim) -> InTheWay | None:
    same = one.device.called == other.device.called
    if one.device.is_same_decoder(other.device):
        return InTheWay.SAME_NUMBER if same else None
    if one.device.extended != other.device.extended:
        return InTheWay.OTHER_PACKETS
    if same:
        return InTheWay.SAME_NUMBER
    if one.sure & other.sure:
        return InTheWay.ANSWERS_ALIKE
    return InTheWay.ON_ITS_FOUR if one.sure & other.answered else None

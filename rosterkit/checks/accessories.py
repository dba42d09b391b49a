"""Checks of the numbers of turnouts, signals and other devices; engines never clash with them."""

from collections.abc import Iterator

from rosterkit.checks.framework import Check, Hit, Scope, hit_at, others
from rosterkit.cv.accessory import packet_of, pair_of
from rosterkit.findings import Severity
from rosterkit.roster.model import Accessory, Roster
from rosterkit.standards.accessories import DECODER_ADDRESSES, WRAPPED_USER_NUMBERS


def accessory_address_shared(scope: Scope) -> Iterator[Hit]:
    """Two devices answer the same number.

    Why: both move at one key. Turnout numbers and engine addresses are apart (NMRA S-9.2.1 (Jul 2012),
    section A), so only devices are compared. Four numbers share one decoder of the method decoder, which
    answers all four, also where another decoder sits on one of them (section D).
    Fix: Give one of them another number.
    """
    for roster in scope.rosters:
        yield from _same_number(roster)
        yield from _within_another_decoder(roster)


def _same_number(roster: Roster) -> Iterator[Hit]:
    groups: dict[int, list[Accessory]] = {}
    for accessory in roster.accessories:
        packet = packet_of(accessory, roster.layout)
        if packet is not None:
            groups.setdefault(packet, []).append(accessory)
    for same in groups.values():
        places = [accessory.place("address") for accessory in same]
        for n, accessory in enumerate(same if len(same) > 1 else ()):
            where, other = others(places, n), same[n - 1] if n else same[1]
            message = f"{accessory.address} is also the number of '{other.accessory}' ({where[0].cell})"
            fix = f"Give '{accessory.accessory}' or '{other.accessory}' another number."
            yield hit_at(accessory, "address", message, fix, related=where)


def _within_another_decoder(roster: Roster) -> Iterator[Hit]:
    by_decoder: dict[int, list[Accessory]] = {}
    for accessory in roster.accessories:
        pair = pair_of(accessory, roster.layout)
        if pair and accessory.method == "decoder":
            by_decoder.setdefault(pair.decoder, []).append(accessory)
    for accessory in roster.accessories:
        pair = pair_of(accessory, roster.layout)
        sharing = by_decoder.get(pair.decoder, []) if pair and accessory.method == "output" else []
        apart = [other for other in sharing if other.address != accessory.address]
        if apart:
            named = f"'{apart[0].accessory}' ({apart[0].place('address').cell})"
            message = f"{accessory.address} is one of the four numbers that the decoder of {named} answers"
            yield hit_at(
                accessory,
                "address",
                message,
                "Use a number from another four, unless that pair of outputs is free there.",
                related=[other.place("address") for other in apart],
                severity=Severity.WARNING,
            )


def accessory_address_reserved(scope: Scope) -> Iterator[Hit]:
    """A device has one of the topmost numbers.

    Why: decoder address 511 is the broadcast to every accessory decoder (NMRA S-9.2.1 (Jul 2012), section
    D), which is 2041 to 2044 where turnout 1 is packet address 4 (RCN-225 (27.07.2025), section 3.1,
    derived). The numbers after them come out as packet addresses 0 to 3 (RCN-213, from memory), which
    systems number differently.
    Fix: Use a number from 1 to 2040.
    """
    for roster in scope.rosters:
        for accessory in roster.accessories:
            pair = pair_of(accessory, roster.layout)
            if pair and pair.decoder == DECODER_ADDRESSES[-1]:
                message = f"{accessory.address} is the broadcast: every accessory decoder answers it"
                yield hit_at(accessory, "address", message, "Use a number from 1 to 2040.")
            elif pair and pair.decoder == 0 and accessory.address in WRAPPED_USER_NUMBERS:
                message = f"{accessory.address} comes out as decoder 0, which not every system can call"
                yield hit_at(
                    accessory,
                    "address",
                    message,
                    "Use a number from 1 to 2040.",
                    severity=Severity.WARNING,
                )


def accessory_outside_range(scope: Scope) -> Iterator[Hit]:
    """A device has a number that no range of the kind accessory gives out.

    Why: the club gives out numbers by range, and this one is in none, or in one that is never used.
    Fix: Choose a number from a range of the kind accessory.
    """
    for roster in scope.rosters:
        ranges = [
            (one.first, one.last, one)
            for one in roster.ranges
            if one.kind == "accessory" and one.first is not None and one.last is not None and one.use
        ]
        offered = [one for one in ranges if one[2].use not in ("never", "new decoders")]
        for accessory in roster.accessories if offered else ():
            number = accessory.address
            if number is None:
                continue
            holding = min((one for one in ranges if one[0] <= number <= one[1]), key=_size, default=None)
            if holding is None or holding not in offered:
                ends = " or ".join(f"{first} to {last}" for first, last, _ in offered[:3])
                message = f"{number} is in no range for accessories"
                yield hit_at(accessory, "address", message, f"Choose from {ends}.")


def _size(one: tuple[int, int, object]) -> int:
    return one[1] - one[0]


CHECKS = (
    Check(slug="accessory-address-shared", severity=Severity.ERROR, hits=accessory_address_shared),
    Check(slug="accessory-address-reserved", severity=Severity.ERROR, hits=accessory_address_reserved),
    Check(slug="accessory-outside-range", severity=Severity.WARNING, hits=accessory_outside_range),
)

"""Free addresses, the best first, each with its reason."""

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass
from itertools import islice
from typing import TypeVar

import numpy as np

from rosterkit.cv.address_sentences import IN_RULING, LOWEST, NEAREST, OWN_RANGE
from rosterkit.cv.addresses import Address, Space, first_long
from rosterkit.cv.number_to_address import choices_of, reference_of
from rosterkit.planning.addresses.allowed import SIZE, AllowedAddresses, Flags, ambiguous
from rosterkit.planning.addresses.model import LayoutRules

_Ranked = TypeVar("_Ranked")


@dataclass(frozen=True, slots=True, kw_only=True)
class FreeAddress:
    """An address that nobody uses, and why it comes at this place of the list."""

    kind: str
    """short, long, consist or accessory."""
    number: int
    because: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Wanted:
    """What kind of address is looked for."""

    kind: str | None = None
    """short, long, consist or accessory; None for the kind that a number is taken for by itself."""
    member: str | None = None
    near: str | None = None
    """The number on the engine, or an address to be near to."""
    for_meet: bool = False
    """Addresses that are lent for a meet only count too."""
    ambiguous: bool = False
    """Addresses that some systems take for the other kind count too."""


def free_addresses(
    used: Collection[Address], rules: LayoutRules, wanted: Wanted, most: int = 10
) -> list[FreeAddress]:
    """Return at most so many free addresses, the best first.

    The number on the engine; what the layout's address rule and its second choices make of it; the member's
    own range; the nearest. Never short 3, never what the layout cannot call or what is kept for something
    or somebody else; never one that is used, by a consist either if it is in ``used`` as a short address.
    ValueError if the kind is none of short, long, consist.
    """
    if wanted.kind not in (None, "short", "long", "consist"):
        raise ValueError(f"kind {wanted.kind}, not one of short, long, consist")
    permitted = AllowedAddresses(rules)
    free = {space: _free(space, used, permitted, wanted) for space in _spaces(wanted)}
    kind = "consist" if wanted.kind == "consist" else None
    return [
        FreeAddress(kind=kind or address.space.value, number=address.number, because=because)
        for address, because in first_reasons(_ranked(free, permitted, wanted), most)
    ]


def _spaces(wanted: Wanted) -> tuple[Space, ...]:
    if wanted.kind == "consist":
        return (Space.SHORT,)
    return (Space(wanted.kind),) if wanted.kind else (Space.SHORT, Space.LONG)


def _free(space: Space, used: Collection[Address], permitted: AllowedAddresses, wanted: Wanted) -> Flags:
    if wanted.kind == "consist":
        free = permitted.for_consists(wanted.member).copy()
    else:
        free = permitted.allowed(space, wanted.member, at_home=not wanted.for_meet).copy()
        if not wanted.ambiguous:
            free &= ~ambiguous(space)
        if wanted.kind is None:
            free &= _by_number(space, permitted.rules)
    free[[address.number for address in used if address.space is space and address.encodable]] = False
    return free


def _by_number(space: Space, rules: LayoutRules) -> Flags:
    """Flag the numbers that are taken for this kind where nobody names one."""
    short: Flags = np.arange(SIZE) < first_long(rules.shorts, rules.long_from)
    return short if space is Space.SHORT else ~short


def _ranked(
    free: dict[Space, Flags], permitted: AllowedAddresses, wanted: Wanted
) -> Iterator[tuple[Address, str]]:
    reference = reference_of(wanted.near, None)
    if wanted.kind != "consist":
        choices = choices_of(wanted.near, permitted.rules.address_rule)
        for choice in sorted(choices, key=lambda one: (one.grade, abs(one.number - reference))):
            for space, flagged in free.items():
                if flagged[choice.number]:
                    yield Address(space, choice.number), choice.because
    for space, flagged in free.items():
        if wanted.kind != "consist" and permitted.has_own(space, wanted.member):
            own = flagged & permitted.own(space, wanted.member)
            for number in _outward(own, reference):
                ruling = permitted.ruling(Address(space, number))
                yield Address(space, number), OWN_RANGE.format(member=wanted.member, ruling=ruling)
    everywhere = [
        (abs(number - reference), space, number)
        for space, flagged in free.items()
        for number in _outward(flagged, reference)
    ]
    for _, space, number in sorted(everywhere):
        address = Address(space, number)
        yield address, nearest_words(wanted, reference, permitted.ruling(address))


def _outward(flagged: Flags, reference: int) -> list[int]:
    numbers = np.flatnonzero(flagged)
    outward: list[int] = numbers[np.argsort(np.abs(numbers - reference), kind="stable")].tolist()
    return outward


def first_reasons(ranked: Iterable[tuple[_Ranked, str]], most: int) -> Iterable[tuple[_Ranked, str]]:
    """Return at most so many different ones of what is ranked, each with the first reason for it."""
    found: dict[_Ranked, str] = {}
    for one, because in ranked:
        found.setdefault(one, because)
        if len(found) == most:
            break
    return islice(found.items(), most)


def nearest_words(wanted: Wanted, reference: int, ruling: object) -> str:
    """Say that a number is the nearest one, or the lowest, and in which range; None for in none."""
    nearest = NEAREST.format(reference=reference) if wanted.near else LOWEST
    return nearest if ruling is None else IN_RULING.format(why=nearest, ruling=ruling)

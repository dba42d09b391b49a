"""Rosters as planning takes them: the rules on each layout, and the addresses that are in use."""

from collections.abc import Iterator, Sequence

from rosterkit.cv.addresses import Address, consist_on_the_rails, home_address, layout_key, meet_address
from rosterkit.planning.addresses.model import LayoutRules, NumberRange
from rosterkit.roster.model import AddressRange, Roster
from rosterkit.roster.schema import folded


def layout_rules_by_key(rosters: Sequence[Roster]) -> dict[str, LayoutRules]:
    """Return the rules on each layout: the settings of the first workbook given for it, the ranges of all."""
    together: dict[str, list[Roster]] = {}
    for roster in rosters:
        together.setdefault(layout_key(roster.layout), []).append(roster)
    return {layout: layout_rules_of(some) for layout, some in together.items()}


def layout_rules_of(rosters: Sequence[Roster]) -> LayoutRules:
    """Return the rules on one layout: the settings of the first workbook that has any, the ranges of all."""
    layout = next((one.layout for one in rosters if one.layout.table is not None), rosters[0].layout)
    ranges: dict[tuple[object, ...], NumberRange] = {}
    for one in (one for roster in rosters for one in roster.ranges):
        span = _range_of(one)
        if span is not None:
            what = span.kind, span.first, span.last, span.use, folded(span.member or "")
            ranges.setdefault(what, span)
    return LayoutRules(
        shorts=layout.shorts,
        longs=layout.longs,
        long_from=layout.long_from,
        address_rule=layout.address_rule,
        ranges=tuple(ranges.values()),
    )


def used_addresses(roster: Roster) -> Iterator[Address]:
    """Return every address that a workbook's engines and consists have, at home and at meets."""
    for engine in roster.engines:
        for address in (home_address(engine, roster.layout), meet_address(engine, roster.layout)):
            if address is not None:
                yield address
    for member in roster.consist_members:
        for number in (member.address, member.meet_address):
            if number is not None:
                yield consist_on_the_rails(number)


def _range_of(one: AddressRange) -> NumberRange | None:
    if one.kind is None or one.use is None or one.first is None or one.last is None or one.last < one.first:
        return None
    return NumberRange(kind=one.kind, first=one.first, last=one.last, use=one.use, member=one.member)

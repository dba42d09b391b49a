"""Rosters as planning takes them: the rules on each layout."""

from collections.abc import Sequence

from rosterkit.cv.addresses import rails_of
from rosterkit.planning.addresses.model import Ground, Stretch
from rosterkit.roster.model import AddressRange, Roster
from rosterkit.roster.schema import folded


def grounds_of(rosters: Sequence[Roster]) -> dict[str, Ground]:
    """Return the rules on each layout: the settings of the first workbook given for it, the ranges of all."""
    together: dict[str, list[Roster]] = {}
    for roster in rosters:
        together.setdefault(rails_of(roster.layout), []).append(roster)
    return {rails: ground_of(some) for rails, some in together.items()}


def ground_of(rosters: Sequence[Roster]) -> Ground:
    """Return the rules on one layout: the settings of the first workbook that has any, the ranges of all."""
    layout = next((one.layout for one in rosters if one.layout.table is not None), rosters[0].layout)
    stretches: dict[tuple[object, ...], Stretch] = {}
    for one in (one for roster in rosters for one in roster.ranges):
        stretch = _stretch(one)
        if stretch is not None:
            what = stretch.kind, stretch.first, stretch.last, stretch.use, folded(stretch.member or "")
            stretches.setdefault(what, stretch)
    return Ground(
        shorts=layout.shorts,
        longs=layout.longs,
        long_from=layout.long_from,
        address_rule=layout.address_rule,
        stretches=tuple(stretches.values()),
    )


def _stretch(one: AddressRange) -> Stretch | None:
    if one.kind is None or one.use is None or one.first is None or one.last is None or one.last < one.first:
        return None
    return Stretch(kind=one.kind, first=one.first, last=one.last, use=one.use, member=one.member)

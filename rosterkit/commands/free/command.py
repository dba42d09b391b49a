"""What the command about free addresses does: workbooks in, the addresses that nobody in them uses out."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from rosterkit.cv.accessory import ADDRESS_COLUMNS, packets_taken
from rosterkit.cv.address_sentences import LOWEST, NEXT
from rosterkit.cv.addresses import Address, layout_key
from rosterkit.cv.number_to_address import digits_of
from rosterkit.errors import CannotRunError
from rosterkit.findings import Place
from rosterkit.parallel import map_parallel
from rosterkit.planning.addresses import (
    Devices,
    FreeAddress,
    LayoutRules,
    Wanted,
    free_accessories,
    free_addresses,
)
from rosterkit.planning.addresses.from_roster import layout_rules_of, used_addresses
from rosterkit.roster.cell_rules import CellRule
from rosterkit.roster.load import roster_at
from rosterkit.roster.model import Roster


@dataclass(frozen=True, slots=True, kw_only=True)
class AddressUse:
    """What a workbook says of addresses."""

    layout: str
    used: frozenset[Address]
    """At home and at meets, by engines and by consists."""
    devices: Devices
    rules: LayoutRules
    unusable: tuple[Place, ...]
    """Cells of addresses that cannot be understood: what is in them may be in use."""


@dataclass(frozen=True, slots=True, kw_only=True)
class FreeAddresses:
    """Free addresses, and what may be in use of them all the same."""

    addresses: Sequence[FreeAddress]
    """The best first."""
    unusable: tuple[Place, ...]
    """Cells of addresses that cannot be understood, on the same layout."""


_ADDRESSES = {
    "Locomotives": {"address", "address_kind", "meet_address", "meet_kind"},
    "Consists": {"address", "meet_address"},
    "Accessories": ADDRESS_COLUMNS,
}
"""The columns that say what is in use."""
_BLANK = (CellRule.ADDRESS_MISSING, CellRule.VALUE_MISSING)
"""The checks of cells in which nothing stands, which takes nothing."""


def claims_in(path: Path) -> AddressUse:
    """Read what a workbook says of addresses.

    Raises:
        CannotRunError: if it cannot be read.
    """
    roster = roster_at(path)
    return AddressUse(
        layout=layout_key(roster.layout),
        used=frozenset(used_addresses(roster)),
        devices=devices_of(roster),
        rules=layout_rules_of([roster]),
        unusable=tuple(
            fault.table.place(fault.column.name, fault.index)
            for title, columns in _ADDRESSES.items()
            for fault in roster.faults_in(title)
            if fault.column.name in columns and fault.rule not in _BLANK
        ),
    )


def devices_of(roster: Roster) -> Devices:
    """Return what the devices of a workbook answer."""
    return Devices(taken=packets_taken(roster), offset=int(roster.layout.accessory_offset))


def free(paths: Sequence[Path], wanted: Wanted, most: int, *, processes: int = 0) -> FreeAddresses:
    """Find free addresses on the rails of the first workbook.

    The settings are those of the first workbook, the ranges those of all on the same layout.

    Raises:
        CannotRunError: if one of the workbooks cannot be read: what it uses would be called free; or if
            what the address is to be near to has no number.
    """
    if wanted.near is not None and digits_of(wanted.near) is None:
        raise CannotRunError(
            f"'{wanted.near}' has no number that an address can be made of", "Give one, such as --near 2107."
        )
    claims = map_parallel(claims_in, paths, processes=processes)
    here = [one for one in claims if one.layout == claims[0].layout]
    ranges = dict.fromkeys(span for one in here for span in one.rules.ranges)
    rules = replace(here[0].rules, ranges=tuple(ranges))
    return FreeAddresses(
        addresses=_each_in_turn(_free(here, rules, wanted, most)),
        unusable=tuple(at for one in here for at in one.unusable),
    )


def _each_in_turn(found: Sequence[FreeAddress]) -> list[FreeAddress]:
    """Say of the first only that it is the lowest free one, and of those after it that they come next."""
    first = next((at for at, one in enumerate(found) if one.because.startswith(LOWEST)), len(found))
    return [
        replace(one, because=one.because.replace(LOWEST, NEXT, 1)) if at > first else one
        for at, one in enumerate(found)
    ]


def _free(claims: Sequence[AddressUse], rules: LayoutRules, wanted: Wanted, most: int) -> list[FreeAddress]:
    if wanted.kind == "accessory":
        taken = frozenset().union(*(one.devices.taken for one in claims))
        return free_accessories(replace(claims[0].devices, taken=taken), rules, wanted, most)
    used = frozenset().union(*(one.used for one in claims))
    return free_addresses(used, rules, wanted, most)

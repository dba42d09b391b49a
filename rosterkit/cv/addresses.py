"""Which address an engine answers: its number and kind, at home or at a meet."""

from enum import StrEnum
from typing import NamedTuple

from rosterkit.cv.address_sentences import KIND_DOUBT
from rosterkit.roster.model import Layout, Locomotive
from rosterkit.roster.schema import folded
from rosterkit.standards.addresses import KIND_DIFFERS, LONG_ADDRESSES, SHORT_ADDRESSES
from rosterkit.standards.consists import CONSIST_ADDRESSES
from rosterkit.standards.scales import SCALES


class Space(StrEnum):
    """The addresses that can clash with each other (NMRA S-9.2.1 (Jul 2012), section A)."""

    SHORT = "short"
    """One-byte addresses 1 to 127; consists of the 7-bit form use the same ones."""
    LONG = "long"
    """Two-byte addresses 1 to 10239."""


class Address(NamedTuple):
    """An address on the rails. Short 25 and long 25 are different ones."""

    space: Space
    number: int

    def __str__(self) -> str:
        return f"{self.space.value} {self.number}"

    @property
    def encodable(self) -> bool:
        """Whether the CVs can hold it (short 1 to 127, long 1 to 10239)."""
        return self.number in (SHORT_ADDRESSES if self.space is Space.SHORT else LONG_ADDRESSES)


def space_by_number(number: int, shorts: range, long_from: int) -> Space:
    """Return the kind that a number is taken for where nobody says which: short below the first long one."""
    return Space.SHORT if 0 < number < first_long(shorts, long_from) else Space.LONG


def first_long(shorts: range, long_from: int) -> int:
    """Return the lowest number that is taken for long on a layout, at most 128.

    The layout drives ``shorts``, and takes addresses for long from ``long_from`` on.
    """
    # A range of the layout that ends before it begins is a finding of its own, and sets no limit.
    return min(shorts.stop if shorts else SHORT_ADDRESSES.stop, long_from, SHORT_ADDRESSES.stop)


def kind_doubt(address: Address) -> tuple[str, str] | None:
    """Say why an address is short on some command stations and long on others, and what to do about it.

    Short 100 to 127 and long 1 to 127 are legal (NMRA S-9.2.2 (Jul 2012), CV1 and CV17/18), but stations
    differ in which of the two they send for such a number (common practice, no source). None for others.
    """
    short = address.space is Space.SHORT
    if address.number not in (KIND_DIFFERS if short else SHORT_ADDRESSES):
        return None
    other = Address(Space.LONG if short else Space.SHORT, address.number)
    return (
        KIND_DOUBT.format(address=address, other=other),
        "Use short 1 to 99 or long 128 to 9999.",
    )


def kind_is_settled(address: Address, layout: Layout) -> bool:
    """Tell whether a layout settles an address's kind: by its Long addresses from, where that is typed."""
    table = layout.table
    typed = table is not None and table.values["long_from"][0] is not None
    return typed and space_by_number(address.number, layout.shorts, layout.long_from) is address.space


def layout_key(layout: Layout) -> str:
    """Name the rails on which the engines of a workbook run at a meet; others never answer beside them.

    They are those of one layout, and of one track gauge: HO, H0 and OO share them.
    """
    gauge = f"{SCALES[layout.scale].gauge:g} mm"
    return f"{folded(layout.meet_layout)}, {gauge}" if layout.meet_layout else gauge


def consist_on_the_rails(number: int) -> Address:
    """Return a consist's address as it is on the rails: short up to 127, long from 128 on.

    NMRA S-9.2.2 (Jul 2012), CV19; RCN-225 (27.07.2025), CV19/20.
    """
    return Address(Space.SHORT if number in CONSIST_ADDRESSES else Space.LONG, number)


def home_address(engine: Locomotive, layout: Layout) -> Address | None:
    """Return the address in an engine's Address and Address kind; None where either cannot be used."""
    usable = "address_kind" not in engine.unusable
    return _address(engine.address, engine.address_kind, layout) if usable else None


def meet_address(engine: Locomotive, layout: Layout) -> Address | None:
    """Return the address in an engine's Meet address; None where there is none or it cannot be used."""
    usable = "meet_kind" not in engine.unusable
    return _address(engine.meet_address, engine.meet_kind, layout) if usable else None


def address_of(engine: Locomotive, layout: Layout, *, meet: bool) -> Address | None:
    """Return the address that an engine answers: its home address, or its meet address if it has one."""
    if meet and ("meet_address" in engine.unusable or engine.meet_address is not None):
        return meet_address(engine, layout)
    return home_address(engine, layout)


def answer(engine: Locomotive, layout: Layout) -> int | None:
    """Return the home address as the column Answers stores it: 25 is short 25, -25 is long 25.

    1 to 127, or -10239 to -1; None where the row gives no address that CVs can hold.
    """
    address = home_address(engine, layout)
    if address is None or not address.encodable:
        return None
    return address.number if address.space is Space.SHORT else -address.number


def address_column(engine: Locomotive, *, meet: bool) -> str:
    """Name the column that holds the address an engine answers."""
    return "meet_address" if meet and engine.meet_address is not None else "address"


def _address(number: int | None, kind: str | None, layout: Layout) -> Address | None:
    if number is None:
        return None
    space = Space(kind) if kind else space_by_number(number, layout.shorts, layout.long_from)
    return Address(space, number)

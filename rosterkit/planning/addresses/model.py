"""What planning works on: engines, consists and the rules they meet on, wherever they were written down."""

from dataclasses import dataclass

from rosterkit.cv.addresses import Address

NEVER_REGISTERED = 10**9
"""The place in the order of registration of whatever was not registered: after all that were."""


@dataclass(frozen=True, slots=True, kw_only=True)
class NumberRange:
    """A run of addresses and what it is for, as in the sheet Address ranges."""

    kind: str
    """short, long, consist or accessory."""
    first: int
    last: int
    use: str
    """engines, meet only, consists, devices, bench or never."""
    member: str | None = None
    """Whose it is; None for everybody's."""

    def __str__(self) -> str:
        return f"{self.kind} {self.first}" + (f" to {self.last}" if self.last > self.first else "")


@dataclass(frozen=True, slots=True, kw_only=True)
class LayoutRules:
    """What rules the addresses on one layout: what it can drive, the club's rule, and the ranges."""

    shorts: range = range(1, 128)
    longs: range = range(1, 10240)
    long_from: int = 128
    """A number is taken for long from here on, where nobody says which kind it is."""
    address_rule: str = "none"
    """none, last four digits, last three digits or last two digits."""
    ranges: tuple[NumberRange, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Engine:
    """An engine that needs an address of its own."""

    key: str
    """A name by which the plan speaks of it, each only once."""
    address: Address | None
    """What it answers now; None where that is not known."""
    number: str | None = None
    """The number on it, as written there."""
    owner: str | None = None
    layout: str = ""
    """The layout that it runs on: engines on different layout never meet."""
    takes_long: bool = True
    club: bool = False
    """It belongs to the club, and its address is in the club's papers."""
    registered: int = NEVER_REGISTERED
    """Its place in the order of registration: the smaller was first; the same for those of one day."""
    agreed: bool = False
    """Its address was agreed for this meet, and may be keyed in already."""
    shares: str | None = None
    """Engines with the same word here and the same address share it on purpose."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Consist:
    """Engines that answer one more address together, by CV19 or by CV19 and CV20."""

    key: str
    address: Address | None
    """Short for 7-bit consists, which use the numbers of short addresses; long for those from 128 on."""
    engines: tuple[str, ...]
    """Keys of its engines; all of them are keyed in again if it moves."""
    owner: str | None = None
    layout: str = ""
    registered: int = NEVER_REGISTERED
    agreed: bool = False
    """Its address was agreed for this meet, and may be keyed in already."""

"""An engine's row, made into the values of its registers, each with the reason for it."""

from collections.abc import Iterator
from dataclasses import dataclass

from rosterkit.addressing import Address, Space, address_column, address_of
from rosterkit.meanings import meaning_of
from rosterkit.roster import Layout, Locomotive
from rosterkit.standards.addresses import cv1_of, long_address_registers
from rosterkit.standards.configuration import Configuration, configuration_words, cv29_of

COMPUTED = (1, 17, 18, 29)
"""The registers that have a computed column, in the order in which they are keyed in."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Register:
    """A value to key in."""

    cv: int
    value: int
    meaning: str

    @property
    def bits(self) -> str:
        """The value's eight bits, bit 7 first, as two groups of four."""
        return f"{self.value >> 4:04b} {self.value & 15:04b}"


@dataclass(frozen=True, slots=True, kw_only=True)
class Registers:
    """What an engine's row comes to: its registers in the order for keying in, or why there are none."""

    address: Address | None
    values: tuple[Register, ...]
    hindrances: tuple[str, ...]
    """Columns (schema names) because of which nothing could be computed."""

    def value(self, cv: int) -> int | None:
        """Give the value of a register; None where it is not set."""
        return next((register.value for register in self.values if register.cv == cv), None)


_CONFIGURED_BY = ("address_kind", "direction", "speed_steps", "dc_running", "bidi", "speed_curve")


def registers_of(engine: Locomotive, layout: Layout, *, meet: bool = False) -> Registers:
    """Compute an engine's registers in the order in which they must be keyed in.

    The short address comes before the configuration because a decoder that is given a new CV1 must
    clear the long-address bit of CV29 (NMRA S-9.2.3 (Jul 2012), section E); CV17 comes directly before
    CV18 because the pair takes effect with CV18 (NMRA S-9.2.1 (Jul 2012), footnote 8).

    An engine with a cell from which nothing can be computed gets no value at all: half of an address
    is worse than none.
    """
    address = address_of(engine, layout, meet=meet)
    hindrances = [name for name in _CONFIGURED_BY if name in engine.unusable]
    if address is None:
        column = address_column(engine, meet=meet)
        hindrances.insert(0, "meet_address" if meet and "meet_address" in engine.unusable else column)
    elif not address.encodable:
        hindrances.insert(0, address_column(engine, meet=meet))
    if address is None or hindrances:
        return Registers(address=address, values=(), hindrances=tuple(dict.fromkeys(hindrances)))
    values = (*_address(address), _configuration(engine, layout, address), *_motor(engine))
    return Registers(address=address, values=values, hindrances=())


def configuration_of(engine: Locomotive, layout: Layout, address: Address) -> Configuration:
    """Give what an engine's columns say about the configuration byte, CV29."""
    return Configuration(
        reversed=engine.direction == "reversed",
        steps_28=(engine.speed_steps or layout.speed_steps) == "28/128",
        dc_running=engine.dc_running == "on",
        bidi=engine.bidi == "on",
        speed_table=engine.speed_curve == "table",
        long_address=address.space is Space.LONG,
    )


def _address(address: Address) -> Iterator[Register]:
    if address.space is Space.SHORT:
        yield Register(cv=1, value=cv1_of(address.number), meaning=f"short address {address.number}")
        return
    high, low = long_address_registers(address.number)
    yield Register(cv=17, value=high, meaning=f"long address {address.number}, high byte")
    yield Register(cv=18, value=low, meaning=f"long address {address.number}, low byte")


def _configuration(engine: Locomotive, layout: Layout, address: Address) -> Register:
    configuration = configuration_of(engine, layout, address)
    return Register(
        cv=29, value=cv29_of(configuration), meaning=", ".join(configuration_words(configuration))
    )


def _motor(engine: Locomotive) -> Iterator[Register]:
    values = (engine.start, engine.acceleration, engine.braking, engine.top, engine.middle)
    for cv, value in enumerate(values, 2):
        if value is not None:
            yield Register(cv=cv, value=value, meaning=meaning_of(cv, value))

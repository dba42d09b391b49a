"""CVs of an engine as the columns that hold what they say: by CV29, CV2 to CV6 and CV16."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from rosterkit.cv.extra_values import COLUMN_OF
from rosterkit.lists.reading import ENGINES
from rosterkit.roster.schema import sheet
from rosterkit.standards.configuration import RESERVED, bits_named, configuration, is_accessory
from rosterkit.standards.identity import LOCK_IDENTITY_CV, is_lock_identity

CONFIGURATION_CV = 29
_NAMES = {column.heading: column.name for column in sheet(ENGINES).columns}
BY_CV = {cv: _NAMES[heading] for cv, heading in COLUMN_OF.items() if cv in range(2, 7)}
"""The columns of Locomotives that hold what CV2 to CV6 hold."""


@dataclass(frozen=True, slots=True)
class Derived:
    """What a CV says for a column of Locomotives."""

    name: str
    value: str | int
    cv: int


@dataclass(frozen=True, slots=True)
class Odd:
    """A CV that says something that no column takes."""

    cv: int
    message: str
    fix: str


def derived_of(values: Mapping[int, int]) -> Iterator[Derived | Odd]:
    """Return what CVs, 0 to 255 by their number, say for the columns of an engine, the address left out.

    CV29 by NMRA S-9.2.2 (Jul 2012) and RCN-225 (27.07.2025); with bit 7 it is an accessory decoder's, or
    nothing was read, and says nothing of an engine.
    """
    byte = values.get(CONFIGURATION_CV)
    if byte is not None and is_accessory(byte):
        message = f"CV29 = {byte} is an accessory decoder's, or nothing was read"
        yield Odd(CONFIGURATION_CV, message, "Read CV29 again.")
    elif byte is not None:
        yield from _configured(byte)
    for cv, name in BY_CV.items():
        if cv in values:
            yield Derived(name, values[cv], cv)
    lock = values.get(LOCK_IDENTITY_CV, 0)
    if lock and is_lock_identity(lock):
        yield Derived("lock", lock, LOCK_IDENTITY_CV)


def _configured(byte: int) -> Iterator[Derived | Odd]:
    said = configuration(byte)
    yield Derived("direction", "reversed" if said.reversed else "normal", CONFIGURATION_CV)
    yield Derived("speed_steps", "28/128" if said.steps_28 else "14", CONFIGURATION_CV)
    yield Derived("dc_operation", "on" if said.dc_operation else "off", CONFIGURATION_CV)
    yield Derived("bidi", "on" if said.bidi else "off", CONFIGURATION_CV)
    yield Derived("speed_curve", "table" if said.speed_table else "3-point", CONFIGURATION_CV)
    if said.reserved:
        message = f"CV29 = {byte} has {bits_named(RESERVED)} set, which is reserved and has no column"
        yield Odd(CONFIGURATION_CV, message, "Read CV29 before keying it in, so that the bit is kept.")

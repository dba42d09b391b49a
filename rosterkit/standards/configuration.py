"""The configuration CV CV29 of locomotive and accessory decoders, and CV28 beside it."""

from dataclasses import dataclass, fields
from operator import attrgetter, lshift

from rosterkit.standards.bounds import BYTE, within
from rosterkit.standards.families import StandardFamily

REVERSED, STEPS_28, DC_OPERATION, BIDI, SPEED_TABLE, LONG_ADDRESS, RESERVED, ACCESSORY = (
    1 << n for n in range(8)
)
"""The bits of a locomotive decoder's CV29 (NMRA S-9.2.2, Jul 2012, CV29; RCN-225, 27.07.2025, CV29)."""

EVERY_BIT = 255

USUAL_FACTORY_CV29 = (2, 6, 10, 14)
"""28 steps, with or without DC operation and BiDi (common practice; no standard prints a factory value)."""

EXTENDED, OUTPUT_ADDRESSING = 32, 64
"""Bits 5 and 6 of an accessory decoder's CV29 (NMRA S-9.2.2, Jul 2012, CV29[541]); BiDi and bit 7 are as
above."""

BIDI_CV = 28
"""How a decoder answers over the rails (NMRA S-9.2.2, Jul 2012, CV28; RCN-225, 27.07.2025, CV28)."""

PROGRAMMING_ADDRESS = 16
"""Bit 4 of CV28, while BiDi is on (RCN-225, 27.07.2025, CV28: long 0; reserved in NMRA S-9.2.2, Jul 2012)."""

ACCESSORY_RESERVED = 0b0001_0111
"""Bits 0 to 2 and 4, reserved in an accessory decoder's CV29."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Configuration:
    """CV29 of a locomotive decoder (NMRA S-9.2.2, Jul 2012, CV29; RCN-225, 27.07.2025, CV29).

    No standard prints a factory value; 6 is only usual. A decoder keeps the bits of features it lacks at 0,
    so what is read back may differ from what was written. The fields stand in the order of the bits.
    """

    reversed: bool = False
    """Bit 0: runs the other way round; in digital mode only (NMRA), or on DC as well (RCN)."""
    steps_28: bool = False
    """Bit 1: 28 speed steps rather than 14; on for 128 steps too (common practice)."""
    dc_operation: bool = False
    """Bit 2: runs on another power source, which CV12 names."""
    bidi: bool = False
    """Bit 3: bi-directional communication."""
    speed_table: bool = False
    """Bit 4: speed table (CV67 to CV94.

    NMRA prints CV66 to CV95, the trims with it) rather than CV2, CV5, CV6.
    """
    long_address: bool = False
    """Bit 5: answers CV17 and CV18 rather than CV1."""
    reserved: bool = False
    """Bit 6: reserved, kept so that what was read can be written again."""


@dataclass(frozen=True, slots=True, kw_only=True)
class AccessoryConfiguration:
    """CV29 of an accessory decoder (NMRA S-9.2.2, Jul 2012, CV29[541]; RCN-225, 27.07.2025, section 3.1)."""

    bidi: bool = False
    """Bit 3: bi-directional communication."""
    extended: bool = False
    """Bit 5: extended packets (signal aspects) rather than basic ones."""
    output_addressing: bool = False
    """Bit 6: CV1 and CV9 hold the number of the first output rather than that of the decoder."""
    reserved: int = 0
    """Bits 0 to 2 and 4 as they stood, kept so that what was read can be written again."""


_NAMES = tuple(setting.name for setting in fields(Configuration))
_SETTINGS = attrgetter(*_NAMES)


def cv29_of(configuration: Configuration) -> int:
    """Return CV29, 0 to 127, of a locomotive decoder (NMRA S-9.2.2, Jul 2012, CV29)."""
    return sum(map(lshift, _SETTINGS(configuration), range(len(_NAMES))))


def configuration(cv29: int) -> Configuration:
    """Read CV29, 0 to 127, of a locomotive decoder, its reserved bit 6 too (NMRA S-9.2.2, Jul 2012, CV29).

    ValueError outside; 128 and over is an accessory decoder, see ``accessory_configuration``.
    """
    if is_accessory(cv29):
        raise ValueError(f"CV29 {cv29} is outside 0 to 127: bit 7 marks an accessory decoder")
    return Configuration(**{name: bool(cv29 >> bit & 1) for bit, name in enumerate(_NAMES)})


def bits_named(bits: int) -> str:
    """Name the bits of a byte, 1 to 255, such as ``bits 0 and 3``, as NMRA S-9.2.2 (Jul 2012) numbers them.

    ValueError where there is none.
    """
    *first, last = (str(bit) for bit in range(8) if bits >> bit & 1)
    return f"bits {', '.join(first)} and {last}" if first else f"bit {last}"


def is_accessory(cv29: int) -> bool:
    """Tell whether CV29, 0 to 255, is that of an accessory decoder: bit 7 (NMRA S-9.2.2, Jul 2012, CV29).

    ValueError outside.
    """
    return bool(within(cv29, BYTE, "CV29") & ACCESSORY)


def cv29_of_accessory(configuration: AccessoryConfiguration) -> int:
    """Return CV29, 128 to 255, of an accessory decoder (NMRA S-9.2.2, Jul 2012, CV29[541]).

    ValueError where ``reserved`` has a bit that is not reserved.
    """
    if configuration.reserved & ~ACCESSORY_RESERVED:
        raise ValueError(f"reserved bits {configuration.reserved} are outside bits 0 to 2 and 4")
    return (
        ACCESSORY
        + configuration.bidi * BIDI
        + configuration.extended * EXTENDED
        + configuration.output_addressing * OUTPUT_ADDRESSING
        + configuration.reserved
    )


def accessory_configuration(cv29: int) -> AccessoryConfiguration:
    """Read CV29, 128 to 255, of an accessory decoder (NMRA S-9.2.2, Jul 2012, CV29[541]).

    ValueError outside; below 128 it is a locomotive decoder, see ``configuration``.
    """
    if not is_accessory(cv29):
        raise ValueError(f"CV29 {cv29} is outside 128 to 255: without bit 7 it is a locomotive decoder")
    return AccessoryConfiguration(
        bidi=bool(cv29 & BIDI),
        extended=bool(cv29 & EXTENDED),
        output_addressing=bool(cv29 & OUTPUT_ADDRESSING),
        reserved=cv29 & ACCESSORY_RESERVED,
    )


def configuration_words(configuration: Configuration) -> list[str]:
    """Say in plain words, bit by bit from 0, what CV29 sets (NMRA S-9.2.2, Jul 2012, CV29)."""
    words = [
        "direction reversed" if configuration.reversed else "direction normal",
        "28 or 128 speed steps" if configuration.steps_28 else "14 speed steps",
        "DC operation on" if configuration.dc_operation else "DC operation off",
        "BiDi on" if configuration.bidi else "BiDi off",
        "speed table (CV67 to CV94)" if configuration.speed_table else "3-point curve (CV2, CV6, CV5)",
        "long address (CV17 and CV18)" if configuration.long_address else "short address (CV1)",
    ]
    return [*words, "reserved bit 6 set"] if configuration.reserved else words


def accessory_configuration_words(configuration: AccessoryConfiguration) -> list[str]:
    """Say in plain words what CV29 of an accessory decoder sets (NMRA S-9.2.2, Jul 2012, CV29[541])."""
    words = [
        "BiDi on" if configuration.bidi else "BiDi off",
        "extended packets" if configuration.extended else "basic packets",
        "address of the first output" if configuration.output_addressing else "address of the decoder",
        "accessory decoder",
    ]
    if configuration.reserved:
        words.append(f"reserved bits set (value {configuration.reserved})")
    return words


_CV28 = {
    StandardFamily.NMRA: (
        "unsolicited transmission",
        "broadcast by an asymmetrical signal",
        "broadcast by signal-controlled influence",
    ),
    StandardFamily.RCN: (
        "address broadcast in channel 1",
        "data and acknowledgement in channel 2",
        "channel 1 switches off by itself",
        "ID 3 in channel 1",
        "programming address (long 0)",
        "reserved bit 5",
        "high current",
        "automatic registration",
    ),
}


def cv28_words(cv28: int, family: StandardFamily) -> list[str]:
    """Say what the bits set in CV28, 0 to 255, turn on while BiDi is on; ValueError outside.

    NMRA S-9.2.2 (Jul 2012), CV28, and RCN-225 (27.07.2025), CV28, give the bits different meanings.
    """
    within(cv28, BYTE, "CV28")
    named = _CV28[family]
    return [named[bit] if bit < len(named) else f"reserved bit {bit}" for bit in range(8) if cv28 >> bit & 1]

"""What CV values say of an engine that nobody knows: direction, steps, curve, momentum, consist."""

from collections.abc import Iterator, Mapping

from rosterkit.cv.accessory_conflicts import packets_of
from rosterkit.cv.accessory_words import answers_words
from rosterkit.cv.conflicts import CONFIGURATION
from rosterkit.cv.meanings import consist_way
from rosterkit.cv.stored_addresses import stored_words
from rosterkit.standards.configuration import configuration, is_accessory
from rosterkit.standards.consists import consist_of_pair
from rosterkit.standards.functions import consist_functions
from rosterkit.standards.identity import lock_is_open, maker_words
from rosterkit.standards.momentum import adjusted_momentum, momentum_seconds
from rosterkit.standards.speed_curve import SPEED_TABLE_CVS, falling_steps, is_used_in_curve


def description(values: Mapping[int, int]) -> dict[str, str]:
    """Say by subject what a locomotive decoder's CVs (CV 1 to 1024, 0 to 255) come to.

    Only subjects that the values given speak of are in it.
    """
    return dict(_subjects(values))


def _subjects(values: Mapping[int, int]) -> Iterator[tuple[str, str]]:
    if stored := stored_words(values):
        yield "stored address", stored
    if 8 in values:
        version = f", version {values[7]}" if 7 in values else ""
        yield "decoder", f"{maker_words(values[8])}{version}"
    byte = values.get(CONFIGURATION)
    table_in_use: bool | None = None
    if byte is not None and not is_accessory(byte):
        settings = configuration(byte)
        table_in_use = settings.speed_table
        yield "direction", "reversed" if settings.reversed else "normal"
        yield "speed steps", "28 or 128" if settings.steps_28 else "14"
        yield "DC operation", "on" if settings.dc_operation else "off"
        yield "BiDi", "on" if settings.bidi else "off"
    if curve := _curve(values, table_in_use=table_in_use):
        yield "speed curve", curve
    if momentum := _momentum(values):
        yield "momentum", momentum
    if 19 in values:
        yield "consist", _consist(values)
    if 15 in values and 16 in values:
        yield "lock", "open" if lock_is_open(values[15], values[16]) else "closed"


def _curve(values: Mapping[int, int], *, table_in_use: bool | None) -> str | None:
    table = [values[cv] for cv in SPEED_TABLE_CVS if cv in values]
    if table_in_use or (table_in_use is None and table):
        if not table:
            return "speed table, not given"
        if len(table) < len(SPEED_TABLE_CVS):
            return f"speed table, {len(table)} of 28 values given"
        shape = "falls" if falling_steps(table) else "rises"
        return f"speed table, {shape} from {_percent(table[0])} at step 1 to {_percent(table[-1])} at step 28"
    points = [
        f"{_percent(values[cv])} at {where}"
        for cv, where in ((2, "the first step"), (6, "the middle"), (5, "the top"))
        if cv in values and (cv == 2 or is_used_in_curve(values[cv]))
    ]
    return f"3-point: {', '.join(points)}" if points else None


def _percent(value: int) -> str:
    return f"{100 * value / 255:.0f} %"


def _momentum(values: Mapping[int, int]) -> str:
    """Return seconds of CV3 with CV23 and CV4 with CV24 (NMRA S-9.2.2 (Jul 2012), CV3, CV4, CV23, CV24)."""
    parts = [
        f"{momentum_seconds(adjusted_momentum(values[cv], values.get(adjustment, 0))):.1f} s {way}"
        for cv, adjustment, way in ((3, 23, "from stop to top"), (4, 24, "from top to stop"))
        if cv in values
    ]
    return ", ".join(parts)


def _consist(values: Mapping[int, int]) -> str:
    place = consist_of_pair(values[19], values.get(20, 0))
    if place.address is None:
        return "none"
    words = f"{place.address}, {consist_way(place)}"
    if place.lead:
        words += ", marked as the lead"
    if 21 in values or 22 in values:
        functions = consist_functions(values.get(21, 0), values.get(22, 0))
        words += f", functions {' '.join(functions) or 'none'}"
    return words


def accessory_words(number: int, *, by_output: bool, extended: bool = False) -> str:
    """Say which turnouts an accessory decoder's address means, with output addressing by CV29 bit 6.

    The number is the decoder address, 0 to 511, or by output what CV1 and CV9 hold, 0 to 2047. RCN-225
    (27.07.2025), section 3.1: user address 1 is packet address 4; some systems count four lower (common
    practice). An extended decoder (CV29 bit 5) is called by other packets.
    """
    words = answers_words(packets_of(number, by_output=by_output), extended=extended)
    if by_output:
        return f"{words}, and the next for its further outputs"
    return f"decoder {number}, {words}"

"""Faults of CV values in combination: what was written, but will not do what is meant."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import partial

from rosterkit.findings import Severity
from rosterkit.standards.addresses import DEFAULT_SHORT_ADDRESS, HIGH_BYTES, SHORT_ADDRESSES, long_address
from rosterkit.standards.configuration import DC_OPERATION, LONG_ADDRESS, RESERVED, SPEED_TABLE, STEPS_28
from rosterkit.standards.consists import consist_of_pair, decimal_consist_number
from rosterkit.standards.identity import RESET_IN_PROGRESS, lock_is_open
from rosterkit.standards.speed_curve import SPEED_TABLE_CVS, curve_rises, falls_among

CONFIGURATION = 29


@dataclass(frozen=True, slots=True)
class CombinationFault:
    """CVs that do not go together, or that will not do what is meant."""

    severity: Severity
    cvs: tuple[int, ...]
    message: str
    fix: str


error = partial(CombinationFault, Severity.ERROR)
warning = partial(CombinationFault, Severity.WARNING)
note = partial(CombinationFault, Severity.NOTE)


def long_address_in(values: Mapping[int, int]) -> int | None:
    """Return the long address in CV17 and CV18; None where they are not both there, or hold none."""
    if 17 not in values or 18 not in values or values[17] not in HIGH_BYTES:
        return None
    return long_address(values[17], values[18]) if (values[17], values[18]) != (192, 0) else None


def combination_faults(values: Mapping[int, int]) -> Iterator[CombinationFault]:
    """Return every fault in the combination of a locomotive decoder's CVs."""
    yield from _long_address_faults(values)
    yield from _short_address_faults(values)
    if CONFIGURATION in values:
        yield from _configuration_faults(values, values[CONFIGURATION])
    yield from _consist_faults(values)
    yield from _curve_faults(values)
    yield from _table_faults(values)
    yield from _identity_faults(values)


def _long_address_faults(values: Mapping[int, int]) -> Iterator[CombinationFault]:
    high, low, configuration = values.get(17), values.get(18), values.get(CONFIGURATION)
    if high is not None and high not in HIGH_BYTES:
        message = f"CV17 = {high} is outside 192 to 231, so the pair is no long address"
        yield error((17,), message, "Key in CV17 and CV18 again, as a pair.")
    if (high is None) != (low is None):
        there, absent = (17, 18) if low is None else (18, 17)
        message = f"CV{there} is given without CV{absent}, and only both make a long address"
        yield warning((there,), message, f"Read CV{absent} too.")
    if (high, low) == (192, 0):
        yield error((17, 18), "long address 0 is not allowed", "Choose a long address from 1 to 10239.")
    pair = long_address_in(values)
    if configuration is not None and not configuration & LONG_ADDRESS and pair is not None:
        yield error(
            (17, 18, 29),
            f"long address {pair} is written, but CV29 = {configuration} says short: the engine answers CV1",
            f"Set bit 5 of CV29 for the long address (add {LONG_ADDRESS}).",
        )
    if configuration is not None and configuration & LONG_ADDRESS and high is None and low is None:
        message = f"CV29 = {configuration} says long, but CV17 and CV18 are not given"
        yield warning((29,), message, "Read CV17 and CV18 too.")


def _short_address_faults(values: Mapping[int, int]) -> Iterator[CombinationFault]:
    short, configuration = values.get(1), values.get(CONFIGURATION)
    if short is not None and short not in SHORT_ADDRESSES:
        message = f"CV1 = {short} is no short address: the engine does not answer by CV1"
        yield error((1,), message, "Set CV1 to an address from 1 to 127.")
    if configuration is None:
        return
    says_long = configuration & LONG_ADDRESS
    if short == DEFAULT_SHORT_ADDRESS and not says_long:
        message = "the engine answers 3, as every new decoder does"
        yield warning((1, 29), message, "Give it an address of its own.")
    if short is None and not says_long and 17 not in values:
        yield warning((29,), f"CV29 = {configuration} says short, but CV1 is not given", "Read CV1 too.")
    if short in SHORT_ADDRESSES and says_long:
        yield note((1, 29), f"CV1 = {short} is not used: CV29 = {configuration} says long", "")


def _configuration_faults(values: Mapping[int, int], configuration: int) -> Iterator[CombinationFault]:
    if configuration & DC_OPERATION:
        message = "DC operation is on: a glitch on the rails can start the engine at full speed"
        yield warning((29,), message, f"Clear bit 2 of CV29 (take {DC_OPERATION} off).")
    if not configuration & STEPS_28:
        message = "14 speed steps: the lights blink on a layout that sends 28 or 128"
        yield warning((29,), message, f"Set bit 1 of CV29 (add {STEPS_28}).")
    if configuration & RESERVED:
        fix = f"Clear bit 6 of CV29 (take {RESERVED} off)."
        yield warning((29,), "bit 6 is reserved and should be 0", fix)
    if configuration & SPEED_TABLE and values.keys().isdisjoint(SPEED_TABLE_CVS):
        yield note((29,), "the speed table is in use, but CV67 to CV94 are not given", "Read them too.")


def _consist_faults(values: Mapping[int, int]) -> Iterator[CombinationFault]:
    cvs = tuple(cv for cv in (19, 20) if cv in values)
    cv19, cv20 = values.get(19, 0), values.get(20, 0)
    if 19 not in values and cv20 & 127:
        message = f"CV20 = {cv20} is the beginning of a consist address, and CV19 with its end is not given"
        yield warning(cvs, message, "Read CV19 too.")
        return
    place = consist_of_pair(cv19, cv20)
    if place.address is not None:
        message = f"in consist {place.address}: it ignores speed and direction sent to its own address"
        yield warning(cvs, message, "Set CV19 (and CV20) to 0 if it is in no consist.")
    elif decimal_consist_number(cv19, cv20) > 10239:
        message = "the number in CV19 and CV20 is beyond 10239, so it is in no consist"
        yield warning(cvs, message, "Set CV19 and CV20 to 0.")


def _curve_faults(values: Mapping[int, int]) -> Iterator[CombinationFault]:
    given = [cv for cv in (2, 6, 5) if cv in values]
    table_in_use = values.get(CONFIGURATION, 0) & SPEED_TABLE
    rises = curve_rises(cv2=values.get(2, 0), cv6=values.get(6, 0), cv5=values.get(5, 0))
    if len(given) > 1 and not table_in_use and not rises:
        shown = ", ".join(f"CV{cv} = {values[cv]}" for cv in given)
        message = f"the curve does not rise ({shown}, in the order of speed)"
        yield error(tuple(given), message, "Make CV2 smaller than CV6, and CV6 smaller than CV5.")


def _table_faults(values: Mapping[int, int]) -> Iterator[CombinationFault]:
    """Find where a speed table falls, also among some of its CVs only."""
    entries = {cv - 66: values[cv] for cv in SPEED_TABLE_CVS if cv in values}
    falls = falls_among(entries)
    if falls:
        places = [
            (f"at step {high}" if high == low + 1 else f"between steps {low} and {high}")
            + f" ({entries[high]} after {entries[low]})"
            for low, high in falls
        ]
        message = f"the speed table falls {', '.join(places)}"
        cvs = tuple(66 + high for _, high in falls)
        yield error(cvs, message, "Make each entry at least as large as the one before.")


def _identity_faults(values: Mapping[int, int]) -> Iterator[CombinationFault]:
    if 15 in values and 16 in values and not lock_is_open(values[15], values[16]):
        key, lock = values[15], values[16]
        message = f"the lock is closed: CV15 = {key} is not CV16 = {lock}, so nothing can be written"
        yield error((15, 16), message, f"Set CV15 to {lock}.")
    if values.get(8) == RESET_IN_PROGRESS:
        message = "CV8 reads 255: a reset has not ended, or nothing was read"
        yield warning((8,), message, "Switch the track off and on, and read again.")

"""Faults of CV values in combination: what was written, but will not do what is meant."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import partial

from rosterkit.findings import Severity
from rosterkit.standards.configuration import DC_OPERATION, RESERVED, SPEED_TABLE, STEPS_28
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


def combination_faults(values: Mapping[int, int]) -> Iterator[CombinationFault]:
    """Return every fault in the combination of a locomotive decoder's CVs, but for those of its address."""
    if CONFIGURATION in values:
        yield from _configuration_faults(values, values[CONFIGURATION])
    yield from _curve_faults(values)
    yield from _table_faults(values)
    yield from _identity_faults(values)


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

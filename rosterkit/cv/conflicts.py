"""Faults of CV values in combination: what was written, but will not do what is meant."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import partial

from rosterkit.cv.meanings import (
    ACCESSORY_BIT,
    DC_OPERATION_ON,
    UNFINISHED_RESET,
    lock_closed_words,
    lock_opening_words,
    steps_mismatch_words,
    unused_cv28_words,
)
from rosterkit.findings import Severity
from rosterkit.standards.configuration import (
    ACCESSORY,
    BIDI,
    DC_OPERATION,
    RESERVED,
    SPEED_TABLE,
    STEPS_28,
)
from rosterkit.standards.identity import LOCK_IDENTITY_CV, RESET_IN_PROGRESS, is_lock_identity, lock_is_open
from rosterkit.standards.motor_cvs import CV12, cv11_words, permits_dc
from rosterkit.standards.speed_curve import SPEED_TABLE_CVS, curve_rises, falls_among

CONFIGURATION = 29
ACCESSORY_ADDRESS_HIGH = (9, 521)
"""The high bits of an accessory decoder's address, and their alias (NMRA S-9.2.2 (Jul 2012), Table 3)."""
LOCOMOTIVE_CVS = (19, 20, 21, 22, 23, 24, 25, 66, *SPEED_TABLE_CVS, 95)
"""CVs of a consist, of momentum and of the speed curve (NMRA S-9.2.2 (Jul 2012), Table 1)."""


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
        yield from _bidi_faults(values, values[CONFIGURATION])
    yield from _curve_faults(values)
    yield from _table_faults(values)
    yield from _identity_faults(values)


def _configuration_faults(values: Mapping[int, int], configuration: int) -> Iterator[CombinationFault]:
    if configuration & DC_OPERATION and permits_dc(values.get(CV12)):
        yield warning((29,), DC_OPERATION_ON, f"Clear bit 2 of CV29 (take {DC_OPERATION} off).")
    if not configuration & STEPS_28:
        symptom = steps_mismatch_words(decoder="14", sent="28/128")
        yield warning((29,), f"14 speed steps: {symptom}", f"Set bit 1 of CV29 (add {STEPS_28}).")
    if configuration & RESERVED:
        fix = f"Clear bit 6 of CV29 (take {RESERVED} off)."
        yield warning((29,), "bit 6 is reserved and should be 0", fix)
    if configuration & SPEED_TABLE and values.keys().isdisjoint(SPEED_TABLE_CVS):
        yield note((29,), "the speed table is in use, but CV67 to CV94 are not given", "Read them too.")


def _bidi_faults(values: Mapping[int, int], configuration: int) -> Iterator[CombinationFault]:
    """Find a CV28 that does nothing: it counts only with bit 3 of CV29 set (NMRA S-9.2.2, RCN-225, CV28)."""
    cv28 = values.get(28, 0)
    if cv28 and not configuration & BIDI:
        message = f"{unused_cv28_words(cv28)}: CV29 = {configuration}"
        fix = f"Only if the engine is to answer over the rails, set bit 3 of CV29 (add {BIDI})."
        yield note((28, 29), message, fix)


def locomotive_cvs_beside(values: Mapping[int, int]) -> Iterator[CombinationFault]:
    """Find what may be of a locomotive decoder beside a CV29 whose bit 7 says accessory decoder.

    NMRA S-9.2.2 (Jul 2012), Tables 1 and 3; RCN-225 (27.07.2025), section 3.1: an accessory decoder's CV17 is
    below 8.
    """
    fix = f"If it is in a locomotive, clear bit 7 of CV29 (take {ACCESSORY} off)."
    found = [cv for cv in sorted(values) if cv in LOCOMOTIVE_CVS or (cv == 17 and values[cv] > 7)]
    if found and CONFIGURATION in values:
        message = f"{ACCESSORY_BIT}, and CV{found[0]} = {values[found[0]]} is a locomotive decoder's"
        yield warning((found[0], CONFIGURATION), message, fix)
    elif CONFIGURATION in values and values.keys().isdisjoint(ACCESSORY_ADDRESS_HIGH):
        yield note((CONFIGURATION,), ACCESSORY_BIT, fix)


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
        yield error((15, 16), lock_closed_words(key, lock), lock_opening_words(lock))
    if not is_lock_identity(values.get(LOCK_IDENTITY_CV, 0)):
        message = (
            f"CV16 = {values[LOCK_IDENTITY_CV]} is no identity: 240 to 255 are commands to CV15 (RCN-225)"
        )
        yield warning((LOCK_IDENTITY_CV,), message, "Give the decoder an identity from 1 to 239.")
    if values.get(11) == 0:
        yield note((11,), f"CV11 = 0: the engine {cv11_words(0)}", "")
    if values.get(8) == RESET_IN_PROGRESS:
        yield warning((8,), *UNFINISHED_RESET)

"""What one CV's value means in words, for a locomotive decoder."""

from collections.abc import Callable, Iterable, Mapping
from functools import lru_cache, partial

from rosterkit.standards.addresses import SHORT_ADDRESSES
from rosterkit.standards.configuration import configuration, configuration_words, cv28_words, is_accessory
from rosterkit.standards.consists import ConsistPlace, consist_of
from rosterkit.standards.cv_names import cv_name
from rosterkit.standards.families import StandardFamily
from rosterkit.standards.functions import (
    MAPPING_CVS,
    consist_functions,
    functions_of_cv13,
    functions_of_cv14,
    mapped_outputs,
)
from rosterkit.standards.identity import LOCK_IDENTITIES, UNLOCK_ALL, is_lock_identity, maker_words
from rosterkit.standards.momentum import adjustment_of, momentum_seconds
from rosterkit.standards.motor_cvs import (
    cv10_words,
    cv11_words,
    cv12_words,
    cv25_words,
    cv27_words,
    pwm_period,
)
from rosterkit.standards.speed_curve import SPEED_TABLE_CVS, is_used_in_curve, trim_factor
from rosterkit.standards.speed_steps import step_mismatch

NEW_DECODERS = "most new decoders"
"""Whose address short 3 is (NMRA S-9.2.2 (Jul 2012), CV1: unless made for, or built into, a locomotive)."""

DC_RUNAWAY = "a glitch on the rails can start the engine at full speed, until valid packets come again"
"""What DC operation risks (common practice, no source)."""

DC_OPERATION_ON = f"DC operation is on: {DC_RUNAWAY}"
"""NMRA S-9.2.2 (Jul 2012), CV29 bit 2."""

ACCESSORY_BIT = "bit 7 marks an accessory decoder; a locomotive decoder with it may not answer on DCC"
"""NMRA S-9.2.2 (Jul 2012), CV29; RCN-225 (27.07.2025), CV29; that it may not answer is common practice."""

UNFINISHED_RESET = (
    "CV8 reads 255: a reset has not ended, or nothing was read",
    "Switch the track off and on, and read again.",
)
"""Message and fix (NMRA S-9.2.3 (Jul 2012), Decoder Factory Reset)."""

NOTHING_READ_FIX = "Look for a buffer capacitor, dirty wheels or a motor that is not connected; read again."
"""Common practice, no source."""


def unused_cv28_words(cv28: int) -> str:
    """Say that a CV28 counts only with bit 3 of CV29 set (NMRA S-9.2.2 (Jul 2012), CV28; RCN-225, CV28)."""
    return f"CV28 = {cv28} does nothing while BiDi is off"


def lock_closed_words(cv15: int, cv16: int) -> str:
    """Say what a closed lock means (NMRA S-9.2.2 (Jul 2012), CV15/16; RCN-225 (27.07.2025), CV15/16)."""
    return f"the lock is closed: CV15 = {cv15} is not CV16 = {cv16}, so only CV15 can be written"


def lock_opening_words(cv16: int) -> str:
    """Say what opens a closed lock: CV16, 0 to 255, keyed in as CV15, unless CV15 takes that as a command.

    NMRA S-9.2.2 (Jul 2012), CV15/16; RCN-225 (27.07.2025), CV15/16: 240 to 255 are commands, and 255 opens.
    """
    if is_lock_identity(cv16):
        return f"Key in CV15 = {cv16} before anything else."
    return f"Do not key in CV15 = {cv16}, a command by RCN-225; there CV15 = {UNLOCK_ALL} opens every lock."


@lru_cache(maxsize=4096)
def meaning_of(cv: int, value: int) -> str:
    """Say what a CV holds, its name first: CV 1 to 1024, value 0 to 255; ValueError outside."""
    words = _words(cv, value)
    name = cv_name(cv)
    return f"{name}: {words}" if words else name


def _words(cv: int, value: int) -> str:
    if cv in _WORDS:
        return _WORDS[cv](value)
    if cv in MAPPING_CVS:
        return _names(map(str, mapped_outputs(cv, value)))
    return _drive(value) if cv in SPEED_TABLE_CVS else ""


def _drive(value: int) -> str:
    return f"{100 * value / 255:.0f} % of full drive"


def _curve_drive(value: int) -> str:
    return _drive(value) if is_used_in_curve(value) else "not used in the curve"


def _adjustment(value: int) -> str:
    return f"{adjustment_of(value):+d} units, {adjustment_of(value) * momentum_seconds(1):+.1f} s"


def steps_mismatch_words(*, decoder: str, sent: str) -> str | None:
    """Say what a decoder set to 14 or 28/128 speed steps does where 14 or 28/128 are sent; None: all is well.

    NMRA S-9.2.1 (Jul 2012), derived; the symptoms are common practice. Only 28 steps share a bit with the
    headlight of a 14-step decoder, so where 28/128 are sent it is said of 28.
    """
    station = 14 if sent == "14" else 28
    symptom = step_mismatch(decoder_has_28=decoder != "14", station_steps=station)
    return f"where 28 are sent, {symptom}" if symptom and station == 28 else symptom


def _configuration(value: int) -> str:
    if is_accessory(value):
        return ACCESSORY_BIT
    return _names(configuration_words(configuration(value)))


def consist_words(place: ConsistPlace) -> str:
    """Say which consist a place is in, and which way round."""
    if place.address is None:
        return "not in a consist"
    return f"consist {place.address}, {consist_way(place)}"


def consist_way(place: ConsistPlace) -> str:
    """Say which way an engine runs in its consist: forward or in reverse (NMRA S-9.2.2 (Jul 2012), CV19)."""
    return "in reverse" if place.reversed else "forward"


def _trim(value: int) -> str:
    factor = trim_factor(value)
    return "no trim" if factor is None else f"{factor:.3f} times"


def _names(names: Iterable[str], absent: str = "none") -> str:
    return ", ".join(names) or absent


def _by_both(words: Callable[[int, StandardFamily], list[str]], value: int) -> str:
    """Say what a CV means by NMRA S-9.2.2 and by RCN-225, which give its bits other meanings."""
    nmra, rcn = (_names(words(value, family)) for family in (StandardFamily.NMRA, StandardFamily.RCN))
    if nmra == rcn:
        return f"{nmra} (NMRA S-9.2.2 and RCN-225)" if value else nmra
    return f"{nmra} (NMRA S-9.2.2); {rcn} (RCN-225)"


def _lock_identity(value: int) -> str:
    if not is_lock_identity(value):
        return f"{value} is no identity but a command to CV15 (RCN-225)"
    return LOCK_IDENTITIES.get(value, str(value))


def _lock_key(value: int) -> str:
    return str(value) if is_lock_identity(value) else f"{value}, a command (RCN-225)"


def _for_the_owner(value: int) -> str:
    return f"{value}, free for the owner"


_WORDS: Mapping[int, Callable[[int], str]] = {
    1: lambda value: str(value) if value in SHORT_ADDRESSES else f"{value} is no short address",
    2: _drive,
    3: lambda value: f"{momentum_seconds(value):.1f} s from stop to top",
    4: lambda value: f"{momentum_seconds(value):.1f} s from top to stop",
    5: _curve_drive,
    6: _curve_drive,
    7: str,
    8: maker_words,
    9: lambda value: f"{pwm_period(value)} microseconds (NMRA S-9.2.2); manufacturer unique (RCN-225)",
    10: lambda value: _by_both(lambda cv10, family: [cv10_words(cv10, family)], value),
    11: cv11_words,
    12: partial(_by_both, cv12_words),
    13: lambda value: _names(functions_of_cv13(value)),
    14: lambda value: _names(functions_of_cv14(value & 63)),
    15: _lock_key,
    16: _lock_identity,
    19: lambda value: consist_words(consist_of(value)),
    21: lambda value: _names(consist_functions(value, 0)),
    22: lambda value: _names(consist_functions(0, value)),
    23: _adjustment,
    24: _adjustment,
    25: cv25_words,
    27: lambda value: _names(cv27_words(value), "off"),
    28: partial(_by_both, cv28_words),
    29: _configuration,
    66: _trim,
    95: _trim,
    105: _for_the_owner,
    106: _for_the_owner,
}

"""What one CV's value means in words, for a locomotive decoder."""

from collections.abc import Callable, Iterable, Mapping
from functools import lru_cache

from rosterkit.standards.addresses import SHORT_ADDRESSES
from rosterkit.standards.configuration import configuration, configuration_words, is_accessory
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
from rosterkit.standards.identity import LOCK_IDENTITIES, maker_words
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

NEW_DECODERS = "most new decoders"
"""Whose address short 3 is (NMRA S-9.2.2 (Jul 2012), CV1: unless made for, or built into, a locomotive)."""

ACCESSORY_BIT = "bit 7 marks an accessory decoder; a locomotive decoder with it may not answer on DCC"
"""NMRA S-9.2.2 (Jul 2012), CV29; RCN-225 (27.07.2025), CV29; that it may not answer is common practice."""


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


def _configuration(value: int) -> str:
    if is_accessory(value):
        return ACCESSORY_BIT
    return _names(configuration_words(configuration(value)))


def consist_words(place: ConsistPlace) -> str:
    """Say which consist a place is in, and which way round."""
    if place.address is None:
        return "not in a consist"
    return f"consist {place.address}, {'reversed' if place.reversed else 'normal'} direction"


def _trim(value: int) -> str:
    factor = trim_factor(value)
    return "no trim" if factor is None else f"{factor:.3f} times"


def _names(names: Iterable[str], absent: str = "none") -> str:
    return ", ".join(names) or absent


_WORDS: Mapping[int, Callable[[int], str]] = {
    1: lambda value: str(value) if value in SHORT_ADDRESSES else f"{value} is no short address",
    2: _drive,
    3: lambda value: f"{momentum_seconds(value):.1f} s from stop to top",
    4: lambda value: f"{momentum_seconds(value):.1f} s from top to stop",
    5: _curve_drive,
    6: _curve_drive,
    7: str,
    8: maker_words,
    9: lambda value: f"{pwm_period(value)} microseconds",
    10: lambda value: cv10_words(value, StandardFamily.NMRA),
    11: cv11_words,
    12: lambda value: _names(cv12_words(value, StandardFamily.NMRA)),
    13: lambda value: _names(functions_of_cv13(value)),
    14: lambda value: _names(functions_of_cv14(value & 63)),
    15: str,
    16: lambda value: LOCK_IDENTITIES.get(value, str(value)),
    19: lambda value: consist_words(consist_of(value)),
    21: lambda value: _names(consist_functions(value, 0)),
    22: lambda value: _names(consist_functions(0, value)),
    23: _adjustment,
    24: _adjustment,
    25: cv25_words,
    27: lambda value: _names(cv27_words(value), "off"),
    29: _configuration,
    66: _trim,
    95: _trim,
}

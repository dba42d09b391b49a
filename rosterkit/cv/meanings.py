"""What one CV's value means in words, for a locomotive decoder."""

from collections.abc import Callable, Mapping
from functools import lru_cache

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
        outputs = mapped_outputs(cv, value)
        return ", ".join(str(output) for output in outputs) or "none"
    return _drive(value) if cv in SPEED_TABLE_CVS else ""


def _drive(value: int) -> str:
    return f"{100 * value / 255:.0f} % of full drive"


def _curve_drive(value: int) -> str:
    return _drive(value) if is_used_in_curve(value) else "not used in the curve"


def _acceleration(value: int) -> str:
    return f"{momentum_seconds(value):.1f} s from stop to top"


def _braking(value: int) -> str:
    return f"{momentum_seconds(value):.1f} s from top to stop"


def _adjustment(value: int) -> str:
    return f"{adjustment_of(value):+d} units, {adjustment_of(value) * momentum_seconds(1):+.1f} s"


def _configuration(value: int) -> str:
    if is_accessory(value):
        return "bit 7 marks an accessory decoder"
    return ", ".join(configuration_words(configuration(value)))


def _consist(value: int) -> str:
    place: ConsistPlace = consist_of(value)
    if place.address is None:
        return "not in a consist"
    return f"consist {place.address}, {'reversed' if place.reversed else 'normal'} direction"


def _trim(value: int) -> str:
    factor = trim_factor(value)
    return "no trim" if factor is None else f"{factor:.3f} times"


def _short_address(value: int) -> str:
    return str(value) if 1 <= value <= 127 else f"{value} is no short address"


def _identity(value: int) -> str:
    return LOCK_IDENTITIES.get(value, str(value))


_WORDS: Mapping[int, Callable[[int], str]] = {
    1: _short_address,
    2: _drive,
    3: _acceleration,
    4: _braking,
    5: _curve_drive,
    6: _curve_drive,
    7: str,
    8: maker_words,
    9: lambda value: f"{pwm_period(value)} microseconds",
    10: lambda value: cv10_words(value, StandardFamily.NMRA),
    11: cv11_words,
    12: lambda value: ", ".join(cv12_words(value, StandardFamily.NMRA)) or "none",
    13: lambda value: ", ".join(functions_of_cv13(value)) or "none",
    14: lambda value: ", ".join(functions_of_cv14(value & 63)) or "none",
    15: str,
    16: _identity,
    19: _consist,
    21: lambda value: ", ".join(consist_functions(value, 0)) or "none",
    22: lambda value: ", ".join(consist_functions(0, value)) or "none",
    23: _adjustment,
    24: _adjustment,
    25: cv25_words,
    27: lambda value: ", ".join(cv27_words(value)) or "off",
    29: _configuration,
    66: _trim,
    95: _trim,
}

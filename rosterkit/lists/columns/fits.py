"""How well the cells below a heading fit a column of ours: the share of them that it could take."""

import re
from collections.abc import Callable, Mapping

from rosterkit.lists.columns.choice_fits import direction_fit, kind_fit, steps_fit
from rosterkit.lists.columns.contents import Contents
from rosterkit.lists.columns.values import (
    halves,
    has_letters,
    is_answer,
    is_byte,
    is_cv_value,
    is_fraction,
    is_hexadecimal,
    is_measure,
    is_number,
    is_street,
    means,
    whole,
)
from rosterkit.lists.heading_text import without_unit

_WHEELS = re.compile(r"\d+-\d+-\d+")
"""Wheels counted, such as 2-8-0."""
_LONGEST_NAME = 40
"""A code, a railway, a label of a decoder: longer texts are notes."""
_OF_PROTOTYPE = frozenset({"m", "ft", "feet", "meter", "metre", "metres", "meters"})
_FEW = 0.1
_LONGEST_NUMBER = 16
_HIGHEST_STALL = 20.0
"""Amperes; more below a heading that names no milliamperes is something else."""


def fit_of(field: str, contents: Contents, heading: str) -> float:
    """Return the share of the filled cells, 0 to 1, that a word of ``ColumnReading.read_as`` could take."""
    if field.startswith("cv:"):
        if contents.share(is_hexadecimal):
            return 0.0
        return contents.share(_is_halves) if "/" in field else contents.share(is_cv_value)
    test = _FITS.get(field)
    if test is None:
        return 1.0
    return test(contents, heading)


def _is_halves(text: str) -> bool:
    pair = halves(text)
    return pair is not None and max(pair) <= 255


def _by(test: Callable[[str], object]) -> Callable[[Contents, str], float]:
    return lambda contents, _: contents.share(test)


def _name(contents: Contents, _: str) -> float:
    short = contents.share(lambda text: len(text) <= _LONGEST_NAME and not is_fraction(text))
    return min(contents.lettered, short)


def _railway(contents: Contents, _: str) -> float:
    """Like a name, but NE, which is a no in Czech, may well be one."""
    if contents.share(lambda text: len(text) > 1 and text.isupper()) > 0.9:
        return 1.0
    return _name(contents, "")


def _owner(contents: Contents, _: str) -> float:
    return max(_name(contents, ""), 0.8 * contents.figures)


def _decoder(contents: Contents, _: str) -> float:
    if contents.answers > 0.4 or contents.dated > 0.2 or contents.share(is_fraction) > 0.2:
        return 0.0
    return max(_name(contents, ""), 0.5 * contents.share(lambda text: len(text) <= _LONGEST_NAME))


def _model(contents: Contents, _: str) -> float:
    if contents.answers > 0.4 or contents.dated > 0.2 or contents.share(is_fraction) > 0.2:
        return 0.0
    named = contents.share(lambda text: has_letters(text) or bool(_WHEELS.search(text)))
    return named + 0.7 * contents.figures if contents.answers < 0.9 else 0.7 * contents.figures


def _prose(contents: Contents, _: str) -> float:
    return 1.0 - contents.share(is_number) if contents.texts else 1.0


def _fault(contents: Contents, _: str) -> float:
    return contents.lettered


def _number(contents: Contents, _: str) -> float:
    if contents.share(is_fraction) > 0.2 or contents.answers > 0.5 or contents.dated > 0.5:
        return 0.0
    shares = contents.share(lambda text: any(sign.isdigit() for sign in text))
    return min(shares, contents.share(lambda text: len(text) <= _LONGEST_NUMBER))


def _loco(contents: Contents, _: str) -> float:
    if contents.dated > 0.5 or contents.answers > 0.3 or contents.share(is_fraction) > 0.2:
        return 0.0
    short = contents.share(lambda text: len(text) <= _LONGEST_NAME)
    return min(short, contents.different if contents.different < 0.8 else 1.0)


def _engine(contents: Contents, _: str) -> float:
    if contents.dated > 0.5 or contents.answers > 0.3:
        return 0.0
    return max(contents.labels, 0.6 * contents.lettered)


def _days(contents: Contents, _: str) -> float:
    return contents.dated


def _addresses(contents: Contents, _: str) -> float:
    """A few streets are enough to make it a column of those."""
    return contents.addresses if contents.share(is_street) < _FEW else 0.0


def _person(contents: Contents, _: str) -> float:
    return 0.0 if contents.answers > 0.3 or contents.dated > 0.3 else _owner(contents, "")


def _length(contents: Contents, heading: str) -> float:
    """Metres and feet are lengths of the prototype."""
    return 0.0 if without_unit(heading)[1].casefold() in _OF_PROTOTYPE else contents.share(is_measure)


def _stall(contents: Contents, heading: str) -> float:
    if "ma" in heading.casefold().replace("(", " ").replace(")", " ").split():
        return contents.share(is_measure)
    return contents.share(lambda text: is_measure(text) and _amperes(text) <= _HIGHEST_STALL)


def _amperes(text: str) -> float:
    plain = text.casefold().replace(",", ".")
    number = float("".join(sign for sign in plain if sign.isdigit() or sign == ".").strip(".") or 0)
    return number / 1000 if "ma" in plain else number


_FITS: Mapping[str, Callable[[Contents, str], float]] = {
    "owner": _owner,
    "railway": _railway,
    "number": _number,
    "loco": _loco,
    "engine": _engine,
    "model": _model,
    "length": _length,
    "stall": _stall,
    "decoder": _decoder,
    "address": _addresses,
    "meet_address": _addresses,
    "address_kind": kind_fit,
    "meet_kind": _by(means("short", "long")),
    "direction": direction_fit,
    "speed_steps": steps_fit,
    "dc_operation": _by(is_answer),
    "bidi": _by(is_answer),
    "at_meet": _by(is_answer),
    "speed_curve": _by(means("3-point", "table")),
    "speed_table": _name,
    "vstart": _by(is_byte),
    "acceleration": _by(is_byte),
    "deceleration": _by(is_byte),
    "vhigh": _by(is_byte),
    "vmid": _by(is_byte),
    "lock": _by(is_byte),
    "value": _by(is_byte),
    "cv": _by(lambda text: 1 <= (whole(text.casefold().removeprefix("cv")) or 0) <= 1024),
    "registered_on": _days,
    "checked_on": _days,
    "checked_by": _person,
    "drivers": _by(means("owner", "anyone")),
    "fault": _fault,
    "notes": _prose,
}

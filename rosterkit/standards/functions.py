"""Functions: which outputs they switch, and which of them work on DC or in a consist."""

from collections.abc import Iterable, Sequence

from rosterkit.standards.bounds import BYTE, within

MAPPING_CVS = range(33, 47)
"""NMRA S-9.2.2 (Jul 2012), CV33 to CV46."""

MAPPED_FUNCTIONS = ("F0f", "F0r", *(f"F{n}" for n in range(1, 13)))
"""What CV33 to CV46 map, in their order: the headlight forward and in reverse, then F1 to F12."""

LOW_FUNCTIONS = tuple(f"F{n}" for n in range(1, 9))
"""Bits 0 to 7 of CV13 and CV21."""

HIGH_FUNCTIONS = ("F0f", "F0r", "F9", "F10", "F11", "F12")
"""Bits 0 to 5 of CV14 and CV22."""

CONSIST_HIGH_FUNCTIONS = (*HIGH_FUNCTIONS, "F13-F20", "F21-F28")
"""Bits of CV22 with the two groups that RCN-225 (27.07.2025) adds; NMRA S-9.2.2 (Jul 2012) leaves bits 6 and
7 open."""


def function_of_mapping_cv(cv: int) -> str:
    """Return what a CV, 33 to 46, maps (NMRA S-9.2.2, Jul 2012, CV33-46); ValueError outside."""
    return MAPPED_FUNCTIONS[within(cv, MAPPING_CVS, "function mapping CV") - 33]


def output_window(cv: int) -> range:
    """Return the eight outputs that a CV, 33 to 46, can switch; the lowest is bit 0. ValueError outside.

    NMRA S-9.2.2 (Jul 2012), CV33-46; RCN-225 (27.07.2025): 1 to 8, then 4 to 11 from CV38, 7 to 14 from
    CV43.
    """
    within(cv, MAPPING_CVS, "function mapping CV")
    first = 1 if cv <= 37 else 4 if cv <= 42 else 7
    return range(first, first + 8)


def mapped_outputs(cv: int, value: int) -> tuple[int, ...]:
    """Return the outputs that a CV, 33 to 46, switches with a value of 0 to 255.

    NMRA S-9.2.2 (Jul 2012), CV33-46. ValueError outside.
    """
    window = output_window(cv)
    within(value, BYTE, f"CV{cv}")
    return tuple(window[bit] for bit in range(8) if value >> bit & 1)


def functions_of_cv13(cv13: int) -> tuple[str, ...]:
    """Return those of F1 to F8 that CV13, 0 to 255, turns on (NMRA S-9.2.2, Jul 2012); ValueError outside."""
    return _functions(cv13, LOW_FUNCTIONS, "CV13")


def functions_of_cv14(cv14: int) -> tuple[str, ...]:
    """Return those of F0f, F0r, F9 to F12 that CV14, 0 to 63, turns on (NMRA S-9.2.2, Jul 2012, CV14).

    ValueError outside: bits 6 and 7 stand for nothing.
    """
    return _functions(cv14, HIGH_FUNCTIONS, "CV14")


def cv21_of(functions: Iterable[str]) -> int:
    """Return CV21 for those of F1 to F8 that answer a consist (NMRA S-9.2.2, Jul 2012); else ValueError."""
    return _value(functions, LOW_FUNCTIONS)


def functions_of_cv21(cv21: int) -> tuple[str, ...]:
    """Return what ``cv21_of`` makes CV21, 0 to 255, from (NMRA S-9.2.2, Jul 2012); ValueError outside."""
    return _functions(cv21, LOW_FUNCTIONS, "CV21")


def cv22_of(functions: Iterable[str]) -> int:
    """Return CV22 for those of F0f, F0r, F9 to F12, F13-F20, F21-F28 that answer the consist address.

    NMRA S-9.2.2 (Jul 2012), CV22; the groups RCN-225 (27.07.2025), CV22. ValueError for others.
    """
    return _value(functions, CONSIST_HIGH_FUNCTIONS)


def functions_of_cv22(cv22: int) -> tuple[str, ...]:
    """Return what ``cv22_of`` makes CV22, 0 to 255, from (NMRA S-9.2.2, Jul 2012); ValueError outside."""
    return _functions(cv22, CONSIST_HIGH_FUNCTIONS, "CV22")


def consist_function_cvs(functions: Iterable[str]) -> tuple[int, int]:
    """Return CV21 and CV22 for functions, F0f to F12, F13-F20 and F21-F28, that answer the consist address.

    NMRA S-9.2.1 (Jul 2012) lets them answer the engine's own address too, RCN-225 (27.07.2025) one of the two
    only. ValueError for others.
    """
    wanted = tuple(functions)
    low = [function for function in wanted if function in LOW_FUNCTIONS]
    return cv21_of(low), cv22_of(function for function in wanted if function not in LOW_FUNCTIONS)


def consist_functions(cv21: int, cv22: int) -> tuple[str, ...]:
    """Return the functions that answer the consist address with CV21 and CV22, 0 to 255, from F0f up.

    NMRA S-9.2.2 (Jul 2012), CV21 and CV22; RCN-225 (27.07.2025). ValueError outside.
    """
    answering = {*functions_of_cv21(cv21), *functions_of_cv22(cv22)}
    return tuple(f for f in (*MAPPED_FUNCTIONS, *CONSIST_HIGH_FUNCTIONS[6:]) if f in answering)


def _value(functions: Iterable[str], order: Sequence[str]) -> int:
    value = 0
    for function in functions:
        if function not in order:
            raise ValueError(f"function {function!r} is not one of {', '.join(order)}")
        value |= 1 << order.index(function)
    return value


def _functions(value: int, order: Sequence[str], cv: str) -> tuple[str, ...]:
    within(value, range(1 << len(order)), cv)
    return tuple(function for bit, function in enumerate(order) if value >> bit & 1)

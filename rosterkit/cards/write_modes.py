"""The ways of writing CVs: how each names a CV, and what it cannot or should not write."""

from collections.abc import Iterable, Mapping
from enum import StrEnum

from rosterkit.cv.extra_values import CvKey
from rosterkit.standards.configuration import LONG_ADDRESS
from rosterkit.standards.service_mode import (
    PAGED_CVS,
    ServiceMode,
    page_and_register,
    physical_register,
    reaches,
)


class WriteMode(StrEnum):
    """A way of writing CVs: four on the programming track, one on the running track."""

    DIRECT = "direct"
    ADDRESS_ONLY = "address-only"
    REGISTER = "register"
    PAGED = "paged"
    OPERATIONS = "operations"


LIMITS: Mapping[WriteMode, str] = {
    WriteMode.PAGED: "Paged mode ends at CV1020.",
    WriteMode.REGISTER: "Register mode reaches CV1 to CV4, CV7, CV8 and CV29 only, as registers R1 to R8: "
    "no long address, consist, lock, Vhigh, Vmid, table or extra value.",
    WriteMode.ADDRESS_ONLY: "Address-only mode writes the short address and nothing else. The decoder may "
    "then leave its long address and its consist (CV29 bit 5 and CV19 become 0): NMRA S-9.2.3 asks for it, "
    "RCN-225 leaves bit 5 to the maker.",
    WriteMode.OPERATIONS: "In operations mode the address (CV1, CV17, CV18), the choice between short and "
    "long in CV29, and a decoder's number for the lock (CV16) are left alone: many decoders refuse them "
    "while they are called by that address.",
}
"""What a mode cannot do (NMRA S-9.2.3 (Jul 2012); operations mode: common practice, no source)."""

PAGE_BACK = "Page register (R6) back to 1, where the station leaves that to you."
"""How paged mode ends (NMRA S-9.2.3 (Jul 2012)): an old station takes the page that it finds there."""

_ADDRESS_AND_LOCK_CVS = (1, 16, 17, 18)
"""CV15, the key to the lock, can always be written (RCN-225 (27.07.2025), CV15/16)."""


def entry_of(mode: WriteMode, cv: int) -> str:
    """Name a CV as it is keyed in: CV29, in register mode R5, in address-only mode address.

    NMRA S-9.2.3 (Jul 2012), table of registers.
    """
    if mode is WriteMode.ADDRESS_ONLY and cv == 1:
        return "address"
    register = physical_register(cv) if mode is WriteMode.REGISTER else None
    return f"CV{cv}" if register is None else f"R{register}"


def hint_of(mode: WriteMode, cv: int) -> str | None:
    """Say where a CV is found in a mode that does not call it by its number; None elsewhere.

    NMRA S-9.2.3 (Jul 2012): in paged mode the page goes into register 6 and the value into one of four data
    registers, counted from 1 here.
    """
    if mode is WriteMode.REGISTER:
        return f"CV{cv}"
    if mode is WriteMode.PAGED and cv in PAGED_CVS:
        page, register = page_and_register(cv)
        return f"page {page}, R{register}"
    return None


def is_reached(mode: WriteMode, cv: int) -> bool:
    """Tell whether a mode can write a CV, 1 to 1024, at all (NMRA S-9.2.3 (Jul 2012), S-9.2.1)."""
    return mode is WriteMode.OPERATIONS or reaches(ServiceMode(mode.value), cv)


def unreached_words(mode: WriteMode, cvs: Iterable[int], what: str = "keyed in") -> str:
    """Name the CVs that a mode does not reach, in one line, and what is to be done with them by another."""
    return f"Not within reach of {mode.value} mode, and to be {what} by another: {cvs_words(cvs)}."


def cvs_words(cvs: Iterable[int]) -> str:
    """Name CVs in rising order, such as CV3, CV67 to CV94."""
    runs: list[list[int]] = []
    for cv in sorted(set(cvs)):
        if runs and cv == runs[-1][-1] + 1:
            runs[-1].append(cv)
        else:
            runs.append([cv])
    parts = [
        part
        for run in runs
        for part in ([f"CV{run[0]} to CV{run[-1]}"] if len(run) > 2 else [f"CV{cv}" for cv in run])
    ]
    return ", ".join(parts)


def refusal_of(mode: WriteMode, cv: int, value: int | None, last_read: Mapping[CvKey, int]) -> str | None:
    """Say why a CV, 1 to 1024, is not to be written in a mode; None if it may.

    A value of None is only read; ``last_read`` is what the engine's CVs read last.
    """
    read = last_read.get((29, None))
    may_change = cv == 29 and value is not None and (read is None or (read ^ value) & LONG_ADDRESS)
    if mode is WriteMode.OPERATIONS:
        if value is None:
            return "cannot be read in operations mode without BiDi"
        if cv in _ADDRESS_AND_LOCK_CVS:
            return "not in operations mode: use the programming track"
        if may_change:
            return "not in operations mode unless bit 5 is known to stay: use the programming track"
        return None
    if not is_reached(mode, cv):
        return f"not within reach of {mode.value} mode"
    if may_change and (value or 0) & LONG_ADDRESS and not is_reached(mode, 17):
        return f"only after CV17 and CV18, which are not within reach of {mode.value} mode"
    return None

"""The ways of writing CVs: how each names a CV, and what it cannot or should not write."""

from collections.abc import Mapping
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

    @property
    def service_mode(self) -> ServiceMode | None:
        """The mode on the programming track; None for operations mode."""
        return None if self is WriteMode.OPERATIONS else ServiceMode(self.value)


LIMITS: Mapping[WriteMode, str] = {
    WriteMode.PAGED: "Paged mode ends at CV1020.",
    WriteMode.REGISTER: "Register mode reaches CV1 to CV4, CV7, CV8 and CV29 only, as registers R1 to R8: "
    "no long address, consist, lock, Vhigh, Vmid, table or extra value.",
    WriteMode.ADDRESS_ONLY: "Address-only mode writes the short address and nothing else, and the decoder "
    "then leaves its long address and its consist (CV29 bit 5 and CV19 become 0).",
    WriteMode.OPERATIONS: "In operations mode the address (CV1, CV17, CV18), the choice between short and "
    "long in CV29, and the lock are left alone: many decoders refuse them while they are called by that "
    "address.",
}
"""What a mode cannot do (NMRA S-9.2.3 (Jul 2012); operations mode: common practice, no source)."""

_ADDRESS_CVS = (1, 17, 18)
_LOCK_CVS = (15, 16)


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


def refusal_of(mode: WriteMode, cv: int, value: int | None, last_read: Mapping[CvKey, int]) -> str | None:
    """Say why a CV is not to be written in a mode; None if it may.

    Args:
        mode: the way of writing.
        cv: the CV, 1 to 1024.
        value: what is to be written; None to read only.
        last_read: what the engine's CVs read last.
    """
    if mode.service_mode is None:
        return _not_on_the_running_track(cv, value, last_read)
    if not reaches(mode.service_mode, cv):
        return f"not within reach of {mode.value} mode"
    pair_out_of_reach = not reaches(mode.service_mode, 17)
    if cv == 29 and value is not None and value & LONG_ADDRESS and pair_out_of_reach:
        read = last_read.get((29, None))
        if read is None or not read & LONG_ADDRESS:
            return f"only after CV17 and CV18, which are not within reach of {mode.value} mode"
    return None


def _not_on_the_running_track(cv: int, value: int | None, last_read: Mapping[CvKey, int]) -> str | None:
    if value is None:
        return "cannot be read in operations mode without BiDi"
    if cv in _ADDRESS_CVS or cv in _LOCK_CVS:
        return "not in operations mode: use the programming track"
    if cv == 29:
        read = last_read.get((29, None))
        if read is None or (read ^ value) & LONG_ADDRESS:
            return "not in operations mode unless bit 5 is known to stay: use the programming track"
    return None

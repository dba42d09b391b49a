"""Service mode, on the programming track: which mode reaches which register, and by what page."""

from collections.abc import Collection, Mapping
from enum import StrEnum

from rosterkit.standards.bounds import BYTE, CV_NUMBERS, within

PAGED_CVS = range(1, 1021)
"""What 255 pages of four hold (arithmetic; CV1021 to CV1024 would need page 256)."""

DEFAULT_PAGE = 1
"""To be set again at the end (NMRA S-9.2.3, Jul 2012)."""


REGISTERS = {1: 1, 2: 2, 3: 3, 4: 4, 5: 29, 7: 7, 8: 8}
"""The CV of each physical register of a locomotive decoder (NMRA S-9.2.3, Jul 2012); register 6 holds the
page."""

INDEXED_CVS = range(257, 513)
"""Their meaning depends on CV31 and CV32 (NMRA S-9.2.2, Jul 2012, CV31/32)."""

INDEXES = range(65536)
RESERVED_INDEXES = range(4096)
"""CV31 from 16 up is the maker's, below it reserved (NMRA S-9.2.2, Jul 2012, CV31/32)."""

_RCN_INDEXES = {
    0: "CV1 to CV256",
    1: "CV257 to CV512",
    2: "CV513 to CV768",
    3: "CV769 to CV1024",
    **dict.fromkeys(range(40, 44), "function mapping"),
    254: "capabilities",
    255: "BiDi",
    **dict.fromkeys((256, 257), "in use"),
    **dict.fromkeys(range(512, 768), "data spaces"),
}


class ServiceMode(StrEnum):
    """The ways of writing a register on the programming track."""

    DIRECT = "direct"
    ADDRESS_ONLY = "address-only"
    REGISTER = "register"
    PAGED = "paged"


_REACHED: Mapping[ServiceMode, Collection[int]] = {
    ServiceMode.DIRECT: CV_NUMBERS,
    ServiceMode.ADDRESS_ONLY: (1,),
    ServiceMode.REGISTER: REGISTERS.values(),
    ServiceMode.PAGED: PAGED_CVS,
}


def reaches(mode: ServiceMode, cv: int) -> bool:
    """Tell whether a mode can write a locomotive decoder's CV, 1 to 1024 (NMRA S-9.2.3, Jul 2012).

    ValueError outside. Direct mode reaches all, paged mode CV1 to CV1020, register mode CV1 to CV4, CV7, CV8
    and CV29, address-only mode CV1.
    """
    return within(cv, CV_NUMBERS, "CV") in _REACHED[mode]


def physical_register(cv: int) -> int | None:
    """Return the physical register, 1 to 8, of a locomotive decoder's CV, 1 to 1024; None where it has none.

    NMRA S-9.2.3 (Jul 2012), table of registers: CV29 is register 5, the long address cannot be reached.
    ValueError outside.
    """
    within(cv, CV_NUMBERS, "CV")
    return next((register for register, of in REGISTERS.items() if of == cv), None)


def page_and_register(cv: int) -> tuple[int, int]:
    """Return the page, 1 to 255, and data register, 1 to 4, of CV1 to CV1020; ValueError outside.

    CV65 is register 1 of page 17. NMRA S-9.2.3 (Jul 2012), paged mode, which counts data registers from
    0.
    """
    page, place = divmod(within(cv, PAGED_CVS, "CV in paged mode") - 1, 4)
    return page + 1, place + 1


def index_number(cv31: int, cv32: int) -> int:
    """Return the index, 0 to 65535, of CV31, the high byte, and CV32, 0 to 255; ValueError outside.

    NMRA S-9.2.2 (Jul 2012), CV31/32; RCN-225 (27.07.2025), CV31/32.
    """
    return within(cv31, BYTE, "CV31") * 256 + within(cv32, BYTE, "CV32")


def is_reserved_index(index: int) -> bool:
    """Tell whether an index, 0 to 65535, is reserved rather than the maker's: CV31 is below 16.

    NMRA S-9.2.2 (Jul 2012), CV31/32; RCN-225 (27.07.2025), CV31/32. ValueError outside.
    """
    return within(index, INDEXES, "index") in RESERVED_INDEXES


def index_use(index: int) -> str:
    """Say what an index, 0 to 65535, is for (RCN-225, 27.07.2025, CV31/32); ValueError outside."""
    return _RCN_INDEXES.get(index, "reserved") if is_reserved_index(index) else "manufacturer unique"

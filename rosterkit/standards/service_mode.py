"""Service mode, on the programming track: which mode reaches which register, and by what page."""

from enum import StrEnum

from rosterkit.standards.bounds import BYTE, CV_NUMBERS, within

ACKNOWLEDGEMENT_MILLIAMPS = 60
"""At least so much more is drawn (NMRA S-9.2.3, Jul 2012, section D)."""

ACKNOWLEDGEMENT_MILLISECONDS = 6
ACKNOWLEDGEMENT_TOLERANCE_MILLISECONDS = 1
"""For so long, give or take (NMRA S-9.2.3, Jul 2012, section D)."""

CURRENT_LIMIT_MILLIAMPS = 250
CURRENT_LIMIT_AFTER_MILLISECONDS = 100
"""More than this, sustained for longer, is a fault (NMRA S-9.2.3, Jul 2012, sections B and E)."""

IDLE_CURRENT_MILLIAMPS = 100
"""What a decoder with its outputs off may draw (NMRA S-9.2.3, Jul 2012, section E)."""

POWER_ON_PACKETS = 20
"""Valid packets before the first instruction (NMRA S-9.2.3, Jul 2012, section E)."""

LEAVES_AFTER_MILLISECONDS = 20
"""Without a packet the decoder leaves service mode (NMRA S-9.2.3, Jul 2012, section C)."""

PAGED_CVS = range(1, 1021)
"""What 255 pages of four hold (arithmetic; CV1021 to CV1024 would need page 256)."""

DEFAULT_PAGE = 1
"""To be set again at the end (NMRA S-9.2.3, Jul 2012)."""

PAGE_REGISTER = 6

ADDRESS_QUERY = range(1, 112)
"""Short addresses that old decoders can be asked for (NMRA S-9.2.3, Jul 2012, appendix A)."""

REGISTERS = {1: 1, 2: 2, 3: 3, 4: 4, 5: 29, 7: 7, 8: 8}
"""The CV of each physical register of a locomotive decoder (NMRA S-9.2.3, Jul 2012); register 6 holds the
page."""

INDEXED_CVS = range(257, 513)
"""Their meaning depends on CV31 and CV32 (NMRA S-9.2.2, Jul 2012, CV31/32)."""

INDEXES = range(65536)
RESERVED_INDEXES = range(4096)
MAKER_INDEXES = range(4096, 65536)
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


def reaches(mode: ServiceMode, cv: int) -> bool:
    """Tell whether a mode can write a locomotive decoder's CV, 1 to 1024 (NMRA S-9.2.3, Jul 2012).

    ValueError outside. Direct mode reaches all, paged mode CV1 to CV1020, register mode CV1 to CV4, CV7, CV8
    and CV29, address-only mode CV1.
    """
    within(cv, CV_NUMBERS, "CV")
    match mode:
        case ServiceMode.DIRECT:
            return True
        case ServiceMode.PAGED:
            return cv in PAGED_CVS
        case ServiceMode.REGISTER:
            return physical_register(cv) is not None
        case ServiceMode.ADDRESS_ONLY:
            return cv == 1


def physical_register(cv: int) -> int | None:
    """Return the physical register, 1 to 8, of a locomotive decoder's CV, 1 to 1024; None where it has none.

    NMRA S-9.2.3 (Jul 2012), table of registers: CV29 is register 5, the long address cannot be reached.
    ValueError outside.
    """
    within(cv, CV_NUMBERS, "CV")
    return next((register for register, of in REGISTERS.items() if of == cv), None)


def cv_of_register(register: int) -> int | None:
    """Return CV of a physical register, 1 to 8, of a locomotive decoder; None for 6, which holds the page.

    NMRA S-9.2.3 (Jul 2012), table of registers. ValueError outside.
    """
    return REGISTERS.get(within(register, range(1, 9), "physical register"))


def page_and_register(cv: int) -> tuple[int, int]:
    """Return the page, 1 to 255, and the data register, 1 to 4, of CV1 to CV1020.

    CV65 is register 1 of page 17. NMRA S-9.2.3 (Jul 2012), paged mode, which counts data registers from 0.
    ValueError outside.
    """
    page, place = divmod(within(cv, PAGED_CVS, "CV in paged mode") - 1, 4)
    return page + 1, place + 1


def cv_of_page(page: int, register: int) -> int:
    """Return the CV, 1 to 1020, at a page, 1 to 255, and data register, 1 to 4.

    NMRA S-9.2.3, Jul 2012, paged mode. ValueError outside.
    """
    within(register, range(1, 5), "data register")
    return (within(page, range(1, 256), "page") - 1) * 4 + register


def needs_page(cv: int) -> bool:
    """Tell whether CV31 and CV32 are to be written right before a CV, 1 to 1024: CV257 to CV512.

    NMRA S-9.2.2 (Jul 2012), CV31/32; S-9.2.1 (Jul 2012), derived: they last until changed. ValueError
    outside.
    """
    return within(cv, CV_NUMBERS, "CV") in INDEXED_CVS


def index_number(cv31: int, cv32: int) -> int:
    """Return the number, 0 to 65535, of the index that CV31 and CV32, 0 to 255, point at.

    CV31 is the high byte. NMRA S-9.2.2 (Jul 2012), CV31/32; RCN-225 (27.07.2025), CV31/32. ValueError
    outside.
    """
    return within(cv31, BYTE, "CV31") * 256 + within(cv32, BYTE, "CV32")


def index_cvs(page: int) -> tuple[int, int]:
    """Return CV31 and CV32 of an index, 0 to 65535 (NMRA S-9.2.2, Jul 2012, CV31/32).

    ValueError outside.
    """
    return divmod(within(page, INDEXES, "index"), 256)


def is_reserved_index(page: int) -> bool:
    """Tell whether an index, 0 to 65535, is reserved rather than the maker's: CV31 is below 16.

    NMRA S-9.2.2 (Jul 2012), CV31/32; RCN-225 (27.07.2025), CV31/32. ValueError outside.
    """
    return within(page, INDEXES, "index") in RESERVED_INDEXES


def index_use(page: int) -> str:
    """Say what an index, 0 to 65535, is for (RCN-225, 27.07.2025, CV31/32); ValueError outside."""
    return _RCN_INDEXES.get(page, "reserved") if is_reserved_index(page) else "manufacturer unique"

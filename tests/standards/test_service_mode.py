"""Service mode: reach, registers, pages; and indexs."""

from collections.abc import Callable
from itertools import product

import pytest

from rosterkit.standards import service_mode
from rosterkit.standards.service_mode import ServiceMode

TABLE = "NMRA S-9.2.3 (Jul 2012), table of physical registers"
PAGED = "NMRA S-9.2.3 (Jul 2012), paged CV addressing; derived"
INDEX = "NMRA S-9.2.2 (Jul 2012), CV31/32; RCN-225 (27.07.2025), CV31/32"


@pytest.mark.parametrize(
    ("source", "register", "cv"),
    [
        pytest.param(TABLE, 1, 1, id="register 1 is CV1"),
        pytest.param(TABLE, 2, 2, id="register 2 is CV2"),
        pytest.param(TABLE, 3, 3, id="register 3 is CV3"),
        pytest.param(TABLE, 4, 4, id="register 4 is CV4"),
        pytest.param(TABLE, 5, 29, id="register 5 is CV29"),
        pytest.param(TABLE, 7, 7, id="register 7 is CV7"),
        pytest.param(TABLE, 8, 8, id="register 8 is CV8"),
    ],
)
def test_a_physical_register_is_a_cv(source: str, register: int, cv: int) -> None:
    assert service_mode.physical_register(cv) == register, source


def test_no_other_cv_has_a_physical_register() -> None:
    reached = [cv for cv in range(1, 1025) if service_mode.physical_register(cv) is not None]

    # NMRA S-9.2.3 (Jul 2012): neither CV6 nor CV17, CV18 and CV19.
    assert reached == [1, 2, 3, 4, 7, 8, 29]


@pytest.mark.parametrize(
    ("source", "cv", "page", "register"),
    [
        pytest.param(
            "NMRA S-9.2.3 (Jul 2012), as printed", 65, 17, 1, id="CV65 is page 17, the first register"
        ),
        pytest.param(PAGED, 1, 1, 1, id="CV1 is page 1"),
        pytest.param(PAGED, 5, 2, 1, id="CV5 begins page 2"),
        pytest.param(PAGED, 17, 5, 1, id="CV17 is page 5"),
        pytest.param(PAGED, 19, 5, 3, id="CV19 is page 5, the third register"),
        pytest.param(PAGED, 67, 17, 3, id="CV67 is page 17, the third register"),
        pytest.param(PAGED, 94, 24, 2, id="CV94 is page 24, the second register"),
        pytest.param(PAGED, 513, 129, 1, id="CV513 is page 129"),
        pytest.param(PAGED, 1020, 255, 4, id="CV1020 is the end of page 255"),
    ],
)
def test_a_cv_has_its_page(source: str, cv: int, page: int, register: int) -> None:
    assert service_mode.page_and_register(cv) == (page, register), source


def test_all_1020_cvs_stand_in_order_on_255_pages_of_four() -> None:
    places = [service_mode.page_and_register(cv) for cv in range(1, 1021)]

    assert places == list(product(range(1, 256), range(1, 5))), PAGED


@pytest.mark.parametrize(
    "cv", [pytest.param(cv, id=f"CV{cv} would need page 256") for cv in range(1021, 1025)]
)
def test_the_last_four_cvs_have_no_page(cv: int) -> None:
    with pytest.raises(ValueError, match=f"^CV in paged mode {cv} is outside 1 to 1020$"):
        service_mode.page_and_register(cv)


@pytest.mark.parametrize(
    ("source", "mode", "count", "reached", "missed"),
    [
        pytest.param(f"{TABLE}; derived", ServiceMode.DIRECT, 1024, 1024, None, id="direct mode reaches all"),
        pytest.param(PAGED, ServiceMode.PAGED, 1020, 1020, 1021, id="paged mode reaches CV1020"),
        pytest.param(TABLE, ServiceMode.REGISTER, 7, 29, 17, id="register mode reaches CV29 but not CV17"),
        pytest.param(
            "NMRA S-9.2.3 (Jul 2012), section E",
            ServiceMode.ADDRESS_ONLY,
            1,
            1,
            29,
            id="address-only reaches CV1",
        ),
    ],
)
def test_the_reach_of_each_mode(
    source: str, mode: ServiceMode, count: int, reached: int, missed: int | None
) -> None:
    cvs = [cv for cv in range(1, 1025) if service_mode.reaches(mode, cv)]

    assert len(cvs) == count, source
    assert reached in cvs, source
    assert missed not in cvs, source


@pytest.mark.parametrize(
    ("source", "constant", "expected"),
    [
        pytest.param("paged mode", service_mode.DEFAULT_PAGE, 1, id="the page is 1 at rest"),
    ],
)
def test_the_figures_of_service_mode(source: str, constant: object, expected: object) -> None:
    assert constant == expected, f"NMRA S-9.2.3 (Jul 2012), {source}"


@pytest.mark.parametrize(
    ("source", "page", "cv31", "cv32"),
    [
        pytest.param(INDEX, 0, 0, 0, id="index 0"),
        pytest.param(INDEX, 255, 0, 255, id="index 255 is CV32 alone"),
        pytest.param(INDEX, 256, 1, 0, id="index 256 is CV31 = 1"),
        pytest.param(INDEX, 4096, 16, 0, id="index 4096 is the first of the maker's"),
        pytest.param(INDEX, 65535, 255, 255, id="index 65535 is the last"),
    ],
)
def test_an_index_page_is_cv31_and_cv32(source: str, page: int, cv31: int, cv32: int) -> None:
    assert service_mode.index_number(cv31, cv32) == page, source


def test_all_65536_index_pages_come_back() -> None:
    pages = [service_mode.index_number(cv31, cv32) for cv31, cv32 in product(range(256), range(256))]

    assert pages == list(range(65536)), INDEX


def test_4096_pages_are_reserved_and_61440_the_makers() -> None:
    reserved = [page for page in range(65536) if service_mode.is_reserved_index(page)]

    assert reserved == list(range(4096)) == list(service_mode.RESERVED_INDEXES), INDEX


USES = "RCN-225 (27.07.2025), CV31/32"


@pytest.mark.parametrize(
    ("source", "page", "use"),
    [
        pytest.param(USES, 0, "CV1 to CV256", id="index 0 shows CV1 to CV256"),
        pytest.param(USES, 3, "CV769 to CV1024", id="index 3 shows the last quarter"),
        pytest.param(USES, 4, "reserved", id="index 4 is reserved"),
        pytest.param(USES, 40, "function mapping", id="index 40 is function mapping"),
        pytest.param(USES, 43, "function mapping", id="index 43 is function mapping"),
        pytest.param(USES, 44, "reserved", id="index 44 is reserved"),
        pytest.param(USES, 254, "capabilities", id="index 254 tells what a decoder can do"),
        pytest.param(USES, 255, "BiDi", id="index 255 is for BiDi"),
        pytest.param(USES, 256, "in use", id="CV31 = 1, CV32 = 0 is in use"),
        pytest.param(USES, 258, "reserved", id="CV31 = 1, CV32 = 2 is reserved"),
        pytest.param(USES, 512, "data spaces", id="CV31 = 2 is for data spaces"),
        pytest.param(USES, 4096, "manufacturer unique", id="CV31 = 16 is the maker's"),
    ],
)
def test_what_an_index_page_is_for(source: str, page: int, use: str) -> None:
    assert service_mode.index_use(page) == use, source


@pytest.mark.parametrize(
    ("call", "message"),
    [
        pytest.param(lambda: service_mode.physical_register(0), "^CV 0 is outside 1 to 1024$", id="CV0"),
        pytest.param(
            lambda: service_mode.reaches(ServiceMode.DIRECT, 1025),
            "^CV 1025 is outside 1 to 1024$",
            id="CV1025",
        ),
        pytest.param(
            lambda: service_mode.index_number(256, 0), "^CV31 256 is outside 0 to 255$", id="CV31 of 256"
        ),
        pytest.param(
            lambda: service_mode.index_number(0, -1), "^CV32 -1 is outside 0 to 255$", id="CV32 of -1"
        ),
        pytest.param(lambda: service_mode.index_use(-1), "^index -1 is outside 0 to 65535$", id="index -1"),
    ],
)
def test_numbers_outside_are_refused(call: Callable[[], object], message: str) -> None:
    with pytest.raises(ValueError, match=message):
        call()

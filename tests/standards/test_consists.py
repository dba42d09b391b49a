"""Consist addresses in CV19 and CV20."""

import pytest

from rosterkit.standards import consists
from rosterkit.standards.consists import ConsistPlace

CV19 = "NMRA S-9.2.2 (Jul 2012), CV19; RCN-225 (27.07.2025), CV19/20; derived"
CV20 = "RCN-225 (27.07.2025), CV19/20; derived"


@pytest.mark.parametrize(
    ("source", "address", "against", "cv19"),
    [
        pytest.param(CV19, 1, False, 1, id="consist 1 is 1"),
        pytest.param(CV19, 10, False, 10, id="consist 10 is 10"),
        pytest.param(CV19, 10, True, 138, id="consist 10 reversed is 138"),
        pytest.param(CV19, 37, True, 165, id="consist 37 reversed is 165"),
        pytest.param(CV19, 127, True, 255, id="consist 127 reversed is 255"),
        pytest.param("NMRA S-9.2.2 (Jul 2012), CV19", None, False, 0, id="0 is no consist"),
        pytest.param(CV19, None, True, 128, id="128 is no consist either"),
    ],
)
def test_a_7_bit_consist_in_cv19(source: str, address: int | None, against: bool, cv19: int) -> None:
    assert consists.cv19_of(address, against) == cv19, source
    assert consists.consist_of(cv19) == ConsistPlace(address=address, reversed=against), source


def test_all_256_values_of_cv19_come_back_bit_by_bit() -> None:
    for cv19 in range(256):
        place = consists.consist_of(cv19)
        bits = (
            f"{cv19:08b}"  # NMRA S-9.2.2 (Jul 2012), CV19: bit 7 direction, bits 0 to 6 address, 0 for none
        )
        assert (place.address or 0, place.reversed) == (int(bits[1:], 2), bits[0] == "1")
        assert consists.cv19_of(place.address, place.reversed) == cv19
        assert consists.consist_of_pair(cv19, 0) == place


@pytest.mark.parametrize(
    ("source", "address", "against", "lead", "pair"),
    [
        pytest.param(CV20, 128, False, False, (28, 1), id="consist 128 is 28 and 1"),
        pytest.param(CV20, 200, False, False, (0, 2), id="consist 200 is 0 and 2"),
        pytest.param(CV20, 1234, False, False, (34, 12), id="consist 1234 is 34 and 12"),
        pytest.param(CV20, 1234, True, False, (162, 12), id="consist 1234 reversed is 162 and 12"),
        pytest.param(CV20, 1234, False, True, (34, 140), id="the lead of consist 1234 is 34 and 140"),
        pytest.param(
            CV20, 1234, True, True, (162, 140), id="the lead of consist 1234 reversed is 162 and 140"
        ),
        pytest.param(CV20, 9999, False, False, (99, 99), id="consist 9999 is 99 and 99"),
        pytest.param(CV20, 10239, False, False, (39, 102), id="consist 10239 is 39 and 102"),
    ],
)
def test_a_14_bit_consist_is_split_in_decimal(
    source: str, address: int, against: bool, lead: bool, pair: tuple[int, int]
) -> None:
    assert consists.cv19_cv20_of(address, against, lead) == pair, source
    assert consists.consist_of_pair(*pair) == ConsistPlace(
        address=address, reversed=against, lead=lead, long=True
    ), source


@pytest.mark.parametrize(
    ("source", "address", "against", "lead", "pair"),
    [
        pytest.param(CV20, 25, False, False, (25, 0), id="consist 25 has nothing in CV20"),
        pytest.param(CV20, 25, True, True, (153, 128), id="the lead of consist 25 reversed is 153 and 128"),
        pytest.param(CV20, 127, False, False, (127, 0), id="consist 127 is 7-bit though over 99"),
        pytest.param(CV20, None, False, False, (0, 0), id="no consist is 0 and 0"),
    ],
)
def test_a_7_bit_consist_in_the_pair(
    source: str, address: int | None, against: bool, lead: bool, pair: tuple[int, int]
) -> None:
    assert consists.cv19_cv20_of(address, against, lead) == pair, source
    assert consists.consist_of_pair(*pair) == ConsistPlace(address=address, reversed=against, lead=lead), (
        source
    )


def test_every_consist_address_comes_back_from_its_pair_with_all_marks() -> None:
    for address in range(1, 10240):
        for against in (False, True):
            for lead in (False, True):
                place = consists.consist_of_pair(*consists.cv19_cv20_of(address, against, lead))
                # RCN-225 (27.07.2025), CV19/20: up to 127 a 7-bit address, above it a 14-bit one.
                assert place == ConsistPlace(address=address, reversed=against, lead=lead, long=address > 127)


def test_every_pair_as_it_is_meant_comes_back_from_its_address() -> None:
    for cv20 in range(256):
        for cv19 in (*range(100), *range(128, 228)):
            place = consists.consist_of_pair(cv19, cv20)
            if place.long and place.address is not None and place.address > 127:
                assert consists.cv19_cv20_of(place.address, place.reversed, place.lead) == (cv19, cv20)


@pytest.mark.parametrize(
    ("source", "cv19", "cv20", "place"),
    [
        pytest.param(CV20, 40, 102, ConsistPlace(address=None), id="10240 is no consist"),
        pytest.param(CV20, 127, 127, ConsistPlace(address=None), id="12827 is no consist"),
        pytest.param(
            CV20, 127, 1, ConsistPlace(address=227, long=True), id="127 in CV19 is borne and adds to 100"
        ),
        pytest.param(
            CV20, 0, 1, ConsistPlace(address=100, long=True), id="0 and 1 is long 100, unlike 100 and 0"
        ),
        pytest.param(CV20, 128, 0, ConsistPlace(address=None, reversed=True), id="128 and 0 is no consist"),
        pytest.param(
            "RCN-225 (27.07.2025), CV19/20, not defined there; read as no consist",
            0,
            128,
            ConsistPlace(address=None, lead=True),
            id="0 and 128 is read as no consist",
        ),
    ],
)
def test_pairs_that_are_not_as_they_are_meant(source: str, cv19: int, cv20: int, place: ConsistPlace) -> None:
    assert consists.consist_of_pair(cv19, cv20) == place, source


@pytest.mark.parametrize(
    ("source", "cv19", "cv20", "number"),
    [
        pytest.param(CV20, 40, 102, 10240, id="40 and 102 is 10240"),
        pytest.param(CV20, 255, 129, 227, id="bits 7 do not count"),
        pytest.param(CV20, 0, 0, 0, id="nothing is 0"),
    ],
)
def test_the_number_before_it_is_judged(source: str, cv19: int, cv20: int, number: int) -> None:
    assert consists.decimal_consist_number(cv19, cv20) == number, source


CONTROL = "NMRA S-9.2.1 (Jul 2012), Consist Control"


@pytest.mark.parametrize(
    ("source", "cv19", "cv20", "ignores"),
    [
        pytest.param(CONTROL, 10, 0, True, id="an engine in consist 10 looks dead at its own address"),
        pytest.param(CONTROL, 138, 0, True, id="so does one running against it"),
        pytest.param(CONTROL, 0, 12, True, id="so does one in a 14-bit consist"),
        pytest.param(CONTROL, 0, 0, False, id="an engine in none answers"),
        pytest.param(f"{CONTROL}, derived", 128, 0, False, id="an engine with 128 answers"),
    ],
)
def test_an_engine_in_a_consist_ignores_its_own_address(
    source: str, cv19: int, cv20: int, ignores: bool
) -> None:
    assert consists.ignores_own_address(cv19, cv20) is ignores, source


@pytest.mark.parametrize(
    "address", [pytest.param(0, id="0"), pytest.param(128, id="128"), pytest.param(-1, id="-1")]
)
def test_no_other_address_fits_cv19(address: int) -> None:
    with pytest.raises(ValueError, match=f"^consist address {address} is outside 1 to 127$"):
        consists.cv19_of(address)


@pytest.mark.parametrize("address", [pytest.param(0, id="0"), pytest.param(10240, id="10240")])
def test_no_other_address_fits_the_pair(address: int) -> None:
    with pytest.raises(ValueError, match=f"^consist address {address} is outside 1 to 10239$"):
        consists.cv19_cv20_of(address)


def test_cv19_and_cv20_are_bytes() -> None:
    with pytest.raises(ValueError, match=r"^CV19 256 is outside 0 to 255$"):
        consists.consist_of(256)
    with pytest.raises(ValueError, match=r"^CV20 256 is outside 0 to 255$"):
        consists.consist_of_pair(1, 256)

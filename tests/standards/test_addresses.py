"""Locomotive addresses in CV1, CV17 and CV18."""

import re

import pytest

from rosterkit.standards import addresses

CV1 = "NMRA S-9.2.2 (Jul 2012), CV1; RCN-225 (27.07.2025), CV1"
CV17 = "NMRA S-9.2.2 (Jul 2012), CV17/18"
CV17_RCN = "RCN-225 (27.07.2025), CV17/18"
LONG = "RCN-225 (27.07.2025), CV17/18; NMRA S-9.2.1 (Jul 2012), section C; derived"
PARTITION = "NMRA S-9.2.1 (Jul 2012), section A"
PRACTICE = "common practice, no source"


@pytest.mark.parametrize(
    ("source", "address"),
    [
        pytest.param(CV1, 1, id="the lowest short address is 1"),
        pytest.param(f"{CV1}, derived", 3, id="3 is a short address"),
        pytest.param(f"{CV1}, derived", 99, id="99 is a short address"),
        pytest.param(f"{CV1}, derived", 111, id="111 is a short address"),
        pytest.param(f"{CV1}, derived", 112, id="112 is a short address though old systems mistake it"),
        pytest.param(CV1, 127, id="the highest short address is 127"),
    ],
)
def test_a_short_address_is_cv1_itself(source: str, address: int) -> None:
    assert addresses.cv1_of(address) == address, source


@pytest.mark.parametrize(
    ("source", "value"),
    [
        pytest.param(f"{CV1}, derived", -1, id="a negative number"),
        pytest.param(CV1, 0, id="0, which leaves DCC"),
        pytest.param(f"{CV1}, derived", 128, id="128, which needs bit 7"),
        pytest.param(f"{CV1}, derived", 255, id="255"),
    ],
)
def test_what_is_no_short_address_is_refused_with_its_value_and_range(source: str, value: int) -> None:
    with pytest.raises(ValueError, match=f"^short address {value} is outside 1 to 127$"):
        addresses.cv1_of(value)


@pytest.mark.parametrize(
    ("source", "address", "cv17", "cv18"),
    [
        pytest.param(LONG, 1, 192, 1, id="long 1 is not forbidden: 192 and 1"),
        pytest.param(LONG, 3, 192, 3, id="long 3 is 192 and 3"),
        pytest.param(LONG, 99, 192, 99, id="long 99 is 192 and 99"),
        pytest.param(LONG, 127, 192, 127, id="long 127 is 192 and 127"),
        pytest.param(LONG, 128, 192, 128, id="long 128 is 192 and 128"),
        pytest.param(LONG, 255, 192, 255, id="long 255 is 192 and 255"),
        pytest.param(LONG, 256, 193, 0, id="long 256 carries into CV17: 193 and 0"),
        pytest.param(LONG, 511, 193, 255, id="long 511 is 193 and 255"),
        pytest.param(LONG, 512, 194, 0, id="long 512 is 194 and 0"),
        pytest.param(LONG, 844, 195, 76, id="long 844 is 195 and 76"),
        pytest.param(f"{CV17_RCN}, the default as printed", 1000, 195, 232, id="long 1000 is 195 and 232"),
        pytest.param(LONG, 1234, 196, 210, id="long 1234 is 196 and 210"),
        pytest.param(LONG, 2345, 201, 41, id="long 2345 is 201 and 41"),
        pytest.param(LONG, 3985, 207, 145, id="long 3985 is 207 and 145"),
        pytest.param(LONG, 4014, 207, 174, id="long 4014 is 207 and 174"),
        pytest.param(LONG, 5771, 214, 139, id="long 5771 is 214 and 139"),
        pytest.param(LONG, 6219, 216, 75, id="long 6219 is 216 and 75"),
        pytest.param(LONG, 9999, 231, 15, id="long 9999 is 231 and 15"),
        pytest.param(LONG, 10239, 231, 255, id="long 10239, the highest, is 231 and 255"),
    ],
)
def test_a_long_address_is_cv17_and_cv18(source: str, address: int, cv17: int, cv18: int) -> None:
    assert addresses.long_address_cvs(address) == (cv17, cv18), source
    assert addresses.long_address(cv17, cv18) == address, source


@pytest.mark.parametrize("address", [pytest.param(range(1, 10240), id="all 10,239 long addresses")])
def test_every_long_address_is_two_high_bits_six_and_eight_both_ways(address: range) -> None:
    for each in address:
        bits = f"{each:014b}"  # RCN-225 (27.07.2025), CV17/18: 14 bits, bits 6 and 7 of CV17 always 1
        cvs = int("11" + bits[:6], 2), int(bits[6:], 2)
        assert addresses.long_address_cvs(each) == cvs
        assert addresses.long_address(*cvs) == each


@pytest.mark.parametrize(
    ("source", "address"),
    [
        pytest.param(CV17_RCN, 0, id="0 is not allowed"),
        pytest.param(f"{CV17}, derived", 10240, id="10240 would need CV17 = 232"),
        pytest.param(f"{CV17}, derived", -5, id="a negative number"),
    ],
)
def test_what_is_no_long_address_is_refused_with_its_value_and_range(source: str, address: int) -> None:
    with pytest.raises(ValueError, match=f"^long address {address} is outside 1 to 10239$"):
        addresses.long_address_cvs(address)


@pytest.mark.parametrize(
    ("source", "cv17", "cv18", "message"),
    [
        pytest.param(CV17, 191, 5, "CV17 191 is outside 192 to 231", id="CV17 = 191 is an accessory's byte"),
        pytest.param(CV17, 232, 5, "CV17 232 is outside 192 to 231", id="CV17 = 232 is reserved"),
        pytest.param(CV17, 0, 5, "CV17 0 is outside 192 to 231", id="CV17 = 0 was never set"),
        pytest.param(CV17, 192, 256, "CV18 256 is outside 0 to 255", id="CV18 holds one byte"),
        pytest.param(CV17, 192, -1, "CV18 -1 is outside 0 to 255", id="CV18 is not negative"),
        pytest.param(CV17_RCN, 192, 0, "long address 0 is outside 1 to 10239", id="192 and 0 is address 0"),
    ],
)
def test_cvs_that_hold_no_long_address_are_refused(source: str, cv17: int, cv18: int, message: str) -> None:
    with pytest.raises(ValueError, match=f"^{re.escape(message)}$"):
        addresses.long_address(cv17, cv18)


@pytest.mark.parametrize(
    ("source", "cv17"),
    [
        pytest.param(CV17, 192, id="192, 11000000, is the lowest CV17"),
        pytest.param(CV17, 231, id="231, 11100111, is the highest CV17"),
    ],
)
def test_cv17_at_its_limits_is_taken(source: str, cv17: int) -> None:
    assert addresses.long_address(cv17, 1) == (cv17 - 192) * 256 + 1, source


@pytest.mark.parametrize(
    ("source", "constant", "expected"),
    [
        pytest.param(CV1, addresses.DEFAULT_SHORT_ADDRESS, 3, id="a new decoder answers short 3"),
        pytest.param(
            CV17_RCN, addresses.DEFAULT_LONG_ADDRESS, 1000, id="the long address in a new one is 1000"
        ),
        pytest.param(CV1, addresses.SHORT_ADDRESSES, range(1, 128), id="short addresses are 1 to 127"),
        pytest.param(CV17_RCN, addresses.LONG_ADDRESSES, range(1, 10240), id="long addresses are 1 to 10239"),
        pytest.param(
            PRACTICE, addresses.USUAL_LONG_ADDRESSES, range(128, 10000), id="usual long ones are 128 to 9999"
        ),
        pytest.param(
            "NMRA S-9.2.3 (Jul 2012), section E; S-9.2.1 (Jul 2012), footnote 8; derived",
            addresses.WRITE_ORDER,
            (1, 17, 18, 29, 19, 20),
            id="CV1 is written first and CV19 after CV29",
        ),
    ],
)
def test_the_figures_of_addresses(source: str, constant: object, expected: object) -> None:
    assert constant == expected, source


@pytest.mark.parametrize(
    ("source", "cv1", "cv29", "by_nmra", "by_rcn"),
    [
        pytest.param(CV1, 0, 6, True, True, id="0 with a short address leaves DCC by both"),
        pytest.param(CV1, 0, 38, True, False, id="0 with a long address leaves DCC by NMRA only"),
        pytest.param(CV1, 200, 6, False, True, id="over 127 blocks DCC by RCN only"),
        pytest.param(CV1, 200, 38, False, False, id="over 127 with a long address harms nobody"),
        pytest.param(CV1, 3, 6, False, False, id="3 harms nobody"),
    ],
)
def test_a_cv1_that_is_no_address_takes_the_engine_off_dcc(
    source: str, cv1: int, cv29: int, by_nmra: bool, by_rcn: bool
) -> None:
    assert addresses.leaves_dcc_by_nmra(cv1) is by_nmra, source
    assert addresses.leaves_dcc_by_rcn(cv1, cv29) is by_rcn, source


CLEARING = 'NMRA S-9.2.3 (Jul 2012), section E, address-only mode ("using any method"), derived'


@pytest.mark.parametrize(
    ("source", "before", "address", "after"),
    [
        pytest.param(
            CLEARING,
            {1: 3, 29: 38, 19: 10},
            7,
            {1: 7, 29: 6, 19: 0},
            id="the long address goes off, the consist too",
        ),
        pytest.param(CLEARING, {1: 3, 29: 6, 19: 0}, 7, {1: 7, 29: 6, 19: 0}, id="what is clear stays clear"),
        pytest.param(
            CLEARING,
            {17: 195, 18: 232, 29: 255, 20: 12},
            99,
            {1: 99, 17: 195, 18: 232, 29: 223, 20: 12},
            id="other CVs and other bits stay",
        ),
        pytest.param(CLEARING, {}, 7, {1: 7}, id="CVs that are not known stay unknown"),
    ],
)
def test_writing_cv1_clears_the_long_address_bit_and_the_consist(
    source: str, before: dict[int, int], address: int, after: dict[int, int]
) -> None:
    assert addresses.cvs_after_writing_cv1(before, address) == after, source


def test_writing_cv1_leaves_the_cvs_given_alone() -> None:
    before = {1: 3, 29: 38, 19: 10}

    addresses.cvs_after_writing_cv1(before, 7)

    assert before == {1: 3, 29: 38, 19: 10}

"""Turnout numbers, packet addresses, and CV1 and CV9 of accessory decoders."""

from collections.abc import Callable

import pytest

from rosterkit.standards import accessories
from rosterkit.standards.accessories import OutputPair

BY_DECODER = "NMRA S-9.2.2 (Jul 2012), CV1[513]/CV9[521]; RCN-225 (27.07.2025), section 3.1; derived"
BY_OUTPUT = "NMRA S-9.2.2 (Jul 2012), CV1[513]/CV9[521]; RCN-225 (27.07.2025), section 3.1"
NUMBERS = "RCN-225 (27.07.2025), section 3.1, CV1 (add 3; user 1 is packet address 4); derived"
OFFSET_4 = "common practice, no source: systems whose turnout 1 is packet address 0"


@pytest.mark.parametrize(
    ("source", "decoder", "cv1", "cv9"),
    [
        pytest.param(BY_DECODER, 0, 0, 0, id="decoder 0 is 0 and 0"),
        pytest.param("NMRA S-9.2.2 (Jul 2012), Table 3", 1, 1, 0, id="decoder 1 is 1 and 0, the default"),
        pytest.param(BY_DECODER, 63, 63, 0, id="decoder 63 is 63 and 0"),
        pytest.param(BY_DECODER, 64, 0, 1, id="decoder 64 carries into CV9: 0 and 1"),
        pytest.param(BY_DECODER, 65, 1, 1, id="decoder 65 is 1 and 1"),
        pytest.param(BY_DECODER, 100, 36, 1, id="decoder 100 is 36 and 1"),
        pytest.param(BY_DECODER, 511, 63, 7, id="decoder 511 is 63 and 7"),
    ],
)
def test_a_decoder_address_in_cv1_and_cv9(source: str, decoder: int, cv1: int, cv9: int) -> None:
    assert accessories.decoder_cvs(decoder) == (cv1, cv9), source
    assert accessories.decoder_of_cvs(cv1, cv9) == decoder, source


def test_all_512_decoder_addresses_are_six_bits_and_three_both_ways() -> None:
    for decoder in range(512):
        bits = f"{decoder:09b}"  # NMRA S-9.2.2 (Jul 2012), CV9[521]: the high three bits, not inverted
        cvs = int(bits[3:], 2), int(bits[:3], 2)
        assert accessories.decoder_cvs(decoder) == cvs
        assert accessories.decoder_of_cvs(*cvs) == decoder


@pytest.mark.parametrize(
    ("source", "output", "cv1", "cv9"),
    [
        pytest.param(BY_OUTPUT, 2, 2, 0, id="output 2 is 2 and 0"),
        pytest.param(BY_OUTPUT, 5, 5, 0, id="output 5 is 5 and 0"),
        pytest.param(BY_OUTPUT, 255, 255, 0, id="output 255 is 255 and 0"),
        pytest.param(BY_OUTPUT, 256, 0, 1, id="output 256 carries into CV9: 0 and 1"),
        pytest.param(BY_OUTPUT, 257, 1, 1, id="output 257 is 1 and 1"),
        pytest.param(BY_OUTPUT, 270, 14, 1, id="output 270 is 14 and 1"),
        pytest.param(BY_OUTPUT, 934, 166, 3, id="output 934 is 166 and 3"),
        pytest.param(BY_OUTPUT, 1044, 20, 4, id="output 1044 is 20 and 4"),
        pytest.param(BY_OUTPUT, 2044, 252, 7, id="output 2044 is 252 and 7"),
    ],
)
def test_an_output_address_in_cv1_and_cv9(source: str, output: int, cv1: int, cv9: int) -> None:
    assert accessories.output_cvs(output) == (cv1, cv9), source
    assert accessories.output_of_cvs(cv1, cv9) == output, source


def test_all_2048_output_addresses_are_eight_bits_and_three_both_ways() -> None:
    for output in range(2048):
        bits = (
            f"{output:011b}"  # NMRA S-9.2.2 (Jul 2012), CV1[513] and CV9[521]: modulo 256 and divided by it
        )
        cvs = int(bits[3:], 2), int(bits[:3], 2)
        assert accessories.output_cvs(output) == cvs
        assert accessories.output_of_cvs(*cvs) == output


@pytest.mark.parametrize(
    ("source", "user", "packet", "place"),
    [
        pytest.param(
            "RCN-225 (27.07.2025), section 3.1", 1, 4, OutputPair(1, 0), id="turnout 1 is decoder 1 pair 0"
        ),
        pytest.param(NUMBERS, 4, 7, OutputPair(1, 3), id="turnout 4 is the last pair of decoder 1"),
        pytest.param(NUMBERS, 5, 8, OutputPair(2, 0), id="turnout 5 is the first pair of decoder 2"),
        pytest.param(NUMBERS, 100, 103, OutputPair(25, 3), id="turnout 100 is decoder 25 pair 3"),
        pytest.param(NUMBERS, 253, 256, OutputPair(64, 0), id="turnout 253 is decoder 64 pair 0"),
        pytest.param(NUMBERS, 257, 260, OutputPair(65, 0), id="turnout 257 is decoder 65 pair 0"),
        pytest.param(
            NUMBERS, 2040, 2043, OutputPair(510, 3), id="turnout 2040 is the last that is not broadcast"
        ),
        pytest.param(NUMBERS, 2041, 2044, OutputPair(511, 0), id="turnout 2041 is decoder 511, broadcast"),
        pytest.param(NUMBERS, 2044, 2047, OutputPair(511, 3), id="turnout 2044 is the last packet address"),
        pytest.param("RCN-213, from memory", 2045, 0, OutputPair(0, 0), id="turnout 2045 begins again at 0"),
        pytest.param(
            "RCN-213, from memory", 2048, 3, OutputPair(0, 3), id="turnout 2048 is packet address 3"
        ),
    ],
)
def test_a_turnout_number_is_a_pair_of_a_decoder(
    source: str, user: int, packet: int, place: OutputPair
) -> None:
    assert accessories.packet_address(user) == packet, source
    assert accessories.user_number(packet) == user, source
    assert accessories.output_pair(user) == place, source
    assert accessories.user_number_of_pair(place.decoder, place.pair) == user, source
    assert accessories.packet_addresses_of(place.decoder)[place.pair] == packet, source


@pytest.mark.parametrize(
    ("source", "user", "packet", "place"),
    [
        pytest.param(OFFSET_4, 1, 0, OutputPair(0, 0), id="turnout 1 is decoder 0 pair 0"),
        pytest.param(OFFSET_4, 5, 4, OutputPair(1, 0), id="turnout 5 is decoder 1 pair 0"),
        pytest.param(OFFSET_4, 2044, 2043, OutputPair(510, 3), id="turnout 2044 is decoder 510 pair 3"),
        pytest.param(OFFSET_4, 2045, 2044, OutputPair(511, 0), id="turnout 2045 is decoder 511, broadcast"),
        pytest.param(OFFSET_4, 2048, 2047, OutputPair(511, 3), id="turnout 2048 is the last packet address"),
    ],
)
def test_a_system_that_numbers_one_decoder_lower(
    source: str, user: int, packet: int, place: OutputPair
) -> None:
    assert accessories.packet_address(user, offset=4) == packet, source
    assert accessories.user_number(packet, offset=4) == user, source
    assert accessories.output_pair(user, offset=4) == place, source
    assert accessories.user_number_of_pair(place.decoder, place.pair, offset=4) == user, source


@pytest.mark.parametrize("offset", [pytest.param(0, id="offset 0"), pytest.param(4, id="offset 4")])
def test_all_2048_turnout_numbers_are_all_packet_addresses_both_ways(offset: int) -> None:
    packets = [accessories.packet_address(user, offset=offset) for user in range(1, 2049)]

    assert sorted(packets) == list(range(2048))
    assert [accessories.user_number(packet, offset=offset) for packet in packets] == list(range(1, 2049))


def test_the_two_numberings_differ_by_one_decoder_throughout() -> None:
    for user in range(1, 2045):
        lower, here = accessories.packet_address(user, offset=4), accessories.packet_address(user)
        assert here - lower == 4, OFFSET_4


@pytest.mark.parametrize(
    ("source", "offset", "numbers"),
    [
        pytest.param(
            "NMRA S-9.2.1 (Jul 2012), section D; derived", 0, [2041, 2042, 2043, 2044], id="offset 0"
        ),
        pytest.param(OFFSET_4, 4, [2045, 2046, 2047, 2048], id="offset 4"),
    ],
)
def test_the_numbers_that_fall_on_the_broadcast(source: str, offset: int, numbers: list[int]) -> None:
    found = [user for user in range(1, 2049) if accessories.is_broadcast_number(user, offset=offset)]

    assert found == numbers, source


def test_the_broadcast_numbers_are_named_for_rcn_numbering() -> None:
    found = [user for user in range(1, 2049) if accessories.is_broadcast_number(user)]

    assert found == list(accessories.BROADCAST_USER_NUMBERS) == [2041, 2042, 2043, 2044]
    assert list(accessories.WRAPPED_USER_NUMBERS) == [2045, 2046, 2047, 2048]


def test_the_cvs_as_shipped_are_decoder_1_by_both_methods() -> None:
    cv1, cv9 = accessories.DEFAULT_CVS

    # NMRA S-9.2.2 (Jul 2012), Table 3; RCN-225 (27.07.2025), section 3.1: both methods agree.
    assert (cv1, cv9) == (1, 0)
    assert accessories.decoder_of_cvs(cv1, cv9) == 1
    assert accessories.packet_address_of_cvs(cv1, cv9) == 4


def test_the_formula_that_nmra_prints_contradicts_its_own_section() -> None:
    printed = accessories.nmra_printed_output(1, 0)

    # NMRA S-9.2.2 (Jul 2012), CV1[513], taken literally: output 0, so decoder 0 and not 1.
    assert printed == 0
    assert printed // 4 != accessories.decoder_of_cvs(1, 0)


@pytest.mark.parametrize(
    ("source", "cv", "alias"),
    [
        pytest.param("NMRA S-9.2.2 (Jul 2012), Table 3", 1, 513, id="CV1 is CV513 too"),
        pytest.param("NMRA S-9.2.2 (Jul 2012), Table 3", 9, 521, id="CV9 is CV521 too"),
        pytest.param("NMRA S-9.2.2 (Jul 2012), Table 3", 29, 541, id="CV29 is CV541 too"),
    ],
)
def test_accessory_cvs_have_a_second_number(source: str, cv: int, alias: int) -> None:
    assert accessories.alias(cv) == alias, source


@pytest.mark.parametrize(
    ("call", "message"),
    [
        pytest.param(
            lambda: accessories.decoder_cvs(512),
            "^decoder address 512 is outside 0 to 511$",
            id="decoder 512",
        ),
        pytest.param(
            lambda: accessories.decoder_of_cvs(64, 0),
            "^CV1 64 is outside 0 to 63$",
            id="CV1 64 by decoder",
        ),
        pytest.param(
            lambda: accessories.decoder_of_cvs(1, 8), "^CV9 8 is outside 0 to 7$", id="CV9 8 by decoder"
        ),
        pytest.param(
            lambda: accessories.output_cvs(2048),
            "^output address 2048 is outside 0 to 2047$",
            id="output 2048",
        ),
        pytest.param(
            lambda: accessories.output_of_cvs(256, 0),
            "^CV1 256 is outside 0 to 255$",
            id="CV1 256 by output",
        ),
        pytest.param(
            lambda: accessories.output_of_cvs(0, 8), "^CV9 8 is outside 0 to 7$", id="CV9 8 by output"
        ),
        pytest.param(
            lambda: accessories.packet_address(0), "^turnout number 0 is outside 1 to 2048$", id="turnout 0"
        ),
        pytest.param(
            lambda: accessories.output_pair(2049),
            "^turnout number 2049 is outside 1 to 2048$",
            id="turnout 2049",
        ),
        pytest.param(
            lambda: accessories.user_number(2048),
            "^packet address 2048 is outside 0 to 2047$",
            id="packet 2048",
        ),
        pytest.param(
            lambda: accessories.user_number_of_pair(1, 4), "^pair 4 is outside 0 to 3$", id="a fifth pair"
        ),
        pytest.param(
            lambda: accessories.packet_addresses_of(512),
            "^decoder address 512 is outside 0 to 511$",
            id="decoder 512",
        ),
        pytest.param(
            lambda: accessories.packet_address(1, offset=1),
            "^accessory offset 1, not one of 0, 4$",
            id="offset 1",
        ),
        pytest.param(
            lambda: accessories.alias(513), "^CV 513 is outside 1 to 256$", id="an alias of an alias"
        ),
    ],
)
def test_numbers_outside_are_refused(call: Callable[[], object], message: str) -> None:
    with pytest.raises(ValueError, match=message):
        call()

"""Packets to accessories as bytes."""

from collections.abc import Callable

import pytest

from rosterkit.standards import accessory_packets
from rosterkit.standards.accessories import packet_address
from rosterkit.standards.packets import spaced_hex

S921 = "NMRA S-9.2.1 (Jul 2012)"
ACCESSORY = "NMRA S-9.2.1 (Jul 2012), section D, with RCN-225 (27.07.2025), section 3.1 (+3); derived"


@pytest.mark.parametrize(
    ("source", "packet", "expected"),
    [
        pytest.param(
            ACCESSORY,
            accessory_packets.basic_packet(packet_address(1), second_output=True),
            "81 F9 78",
            id="turnout 1 straight",
        ),
        pytest.param(
            ACCESSORY,
            accessory_packets.basic_packet(packet_address(4), second_output=False),
            "81 FE 7F",
            id="turnout 4 diverging",
        ),
        pytest.param(
            ACCESSORY,
            accessory_packets.basic_packet(packet_address(253), second_output=False),
            "80 E8 68",
            id="turnout 253 diverging",
        ),
        pytest.param(
            ACCESSORY,
            accessory_packets.basic_packet(packet_address(2044), second_output=True),
            "BF 8F 30",
            id="turnout 2044 straight",
        ),
        pytest.param(
            "common practice, no source: a system whose turnout 1 is packet address 0",
            accessory_packets.basic_packet(packet_address(1, offset=4), second_output=False),
            "80 F8 78",
            id="turnout 1 of a system one decoder lower",
        ),
        pytest.param(
            f"{S921}, section D, 10111111 1000CDDD, derived",
            accessory_packets.basic_broadcast(output=6, activate=False),
            "BF 86 39",
            id="every accessory lets go of output 6",
        ),
        pytest.param(
            f"{S921}, section D; inverted high bits secondary source",
            accessory_packets.extended_packet(packet_address(1), 0),
            "81 71 00 F0",
            id="signal 1 to absolute stop",
        ),
        pytest.param(
            f"{S921}, section D, 10111111 00000111 000XXXXX, derived",
            accessory_packets.extended_broadcast(0),
            "BF 07 00 B8",
            id="every signal to absolute stop",
        ),
    ],
)
def test_packets_to_accessories(source: str, packet: bytes, expected: str) -> None:
    assert spaced_hex(packet) == expected, source


def test_the_accessory_broadcast_is_decoder_511() -> None:
    packet = accessory_packets.basic_broadcast(output=0, activate=True)

    assert accessory_packets.decoder_of_packet(packet[0], packet[1]) == 511, f"{S921}, section D, derived"


def test_all_2048_packet_addresses_come_back_from_basic_and_extended_packets() -> None:
    for address in range(2048):
        basic = accessory_packets.basic_packet(address, second_output=False)
        extended = accessory_packets.extended_packet(address, 16)
        for packet in (basic, extended):
            assert (
                accessory_packets.decoder_of_packet(packet[0], packet[1]) * 4 + (packet[1] >> 1 & 3)
                == address
            )
        # NMRA S-9.2.1 (Jul 2012), section D: 1AAACDDD and 0AAA0AA1.
        assert (basic[1] & 0b1000_1001, extended[1] & 0b1000_1001) == (0b1000_1000, 0b0000_0001)


@pytest.mark.parametrize(
    ("call", "message"),
    [
        pytest.param(
            lambda: accessory_packets.basic_packet(2048, second_output=False),
            "^packet address 2048 is outside 0 to 2047$",
            id="no packet address 2048",
        ),
        pytest.param(
            lambda: accessory_packets.extended_packet(0, 32),
            "^aspect 32 is outside 0 to 31$",
            id="no aspect 32",
        ),
        pytest.param(
            lambda: accessory_packets.extended_broadcast(32),
            "^aspect 32 is outside 0 to 31$",
            id="no aspect 32 for all",
        ),
        pytest.param(
            lambda: accessory_packets.basic_broadcast(output=8, activate=True),
            "^output 8 is outside 0 to 7$",
            id="no output 8",
        ),
        pytest.param(
            lambda: accessory_packets.decoder_of_packet(192, 0),
            "^first byte of an accessory packet 192 is outside 128 to 191$",
            id="192 is a locomotive's",
        ),
    ],
)
def test_what_no_packet_can_carry_is_refused(call: Callable[[], object], message: str) -> None:
    with pytest.raises(ValueError, match=message):
        call()

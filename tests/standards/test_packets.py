"""Packets to locomotives as bytes."""

from collections.abc import Callable

import pytest

from rosterkit.standards import packets
from rosterkit.standards.packets import address_bytes, spaced_hex
from rosterkit.standards.speed_steps import Halt

S92 = "NMRA S-9.2 (Jul 2004), section B"
S921 = "NMRA S-9.2.1 (Jul 2012)"


@pytest.mark.parametrize(
    ("source", "packet", "expected"),
    [
        pytest.param(f"{S92}, as printed", packets.IDLE, "FF 00 FF", id="idle"),
        pytest.param(f"{S92}, as printed", packets.RESET, "00 00 00", id="reset"),
        pytest.param(
            f"{S92}, Figure 1, as printed",
            packets.speed_packet(address_bytes(55), 6, steps=28, forward=True),
            "37 74 43",
            id="engine 55 forward at step 6 of 28",
        ),
        pytest.param(
            f"{S92}, derived",
            packets.speed_packet(address_bytes(3), 1, steps=28, forward=True),
            "03 62 61",
            id="engine 3 forward at step 1 of 28",
        ),
        pytest.param(
            f"{S92}, derived",
            packets.speed_packet(address_bytes(3), 28, steps=28, forward=True),
            "03 7F 7C",
            id="engine 3 forward at step 28 of 28",
        ),
        pytest.param(
            f"{S92}, derived",
            packets.speed_packet(address_bytes(3), 28, steps=28, forward=False),
            "03 5F 5C",
            id="engine 3 in reverse at step 28 of 28",
        ),
        pytest.param(
            f"{S92}, derived",
            packets.speed_packet(address_bytes(3), Halt.EMERGENCY_STOP, steps=28, forward=True),
            "03 61 62",
            id="engine 3 stops in an emergency",
        ),
        pytest.param(
            f"{S921}, section C and 128 speed step control, derived",
            packets.speed_packet(address_bytes(1000, long=True), 126, steps=128, forward=True),
            "C3 E8 3F FF EB",
            id="engine 1000 forward at step 126 of 128",
        ),
        pytest.param(
            f"{S92}, derived", packets.broadcast_stop(cut_power=False), "00 40 40", id="all to a stop"
        ),
        pytest.param(f"{S92}, derived", packets.broadcast_stop(cut_power=True), "00 41 41", id="all cut off"),
        pytest.param(
            f"{S92}, derived",
            packets.broadcast_stop(cut_power=True, any_direction=True),
            "00 51 51",
            id="all cut off, whatever the direction",
        ),
        pytest.param(
            f"{S921}, 100DDDDD, derived",
            packets.function_packet(address_bytes(3), [0]),
            "03 90 93",
            id="engine 3 lights up",
        ),
        pytest.param(
            f"{S921}, 100DDDDD, derived",
            packets.function_packet(address_bytes(3), [1, 4]),
            "03 89 8A",
            id="engine 3 with F1 and F4",
        ),
        pytest.param(
            f"{S921}, 0001CCCC 0AAAAAAA, derived",
            packets.consist_packet(address_bytes(3), 10),
            "03 12 0A 1B",
            id="engine 3 joins consist 10",
        ),
        pytest.param(
            f"{S921}, 0001CCCC 0AAAAAAA, derived",
            packets.consist_packet(address_bytes(3), 10, against=True),
            "03 13 0A 1A",
            id="engine 3 joins consist 10 reversed",
        ),
        pytest.param(
            f"{S921}, 0001CCCC 0AAAAAAA, derived",
            packets.consist_packet(address_bytes(3), 0),
            "03 12 00 11",
            id="engine 3 leaves its consist",
        ),
        pytest.param(
            f"{S921}, long form, derived",
            packets.main_write_packet(address_bytes(3), 3, 10),
            "03 EC 02 0A E7",
            id="engine 3 gets CV3 = 10 on the main",
        ),
        pytest.param(
            f"{S921}, long form, derived",
            packets.main_write_packet(address_bytes(3), 1024, 10),
            "03 EF FF 0A 19",
            id="engine 3 gets CV1024 = 10 on the main",
        ),
    ],
)
def test_packets_to_locomotives(source: str, packet: bytes, expected: str) -> None:
    assert spaced_hex(packet) == expected, source


@pytest.mark.parametrize(
    ("call", "message"),
    [
        pytest.param(
            lambda: packets.speed_packet(address_bytes(3), 5, steps=14, forward=True),
            "^speed steps 14, not one of 28, 128$",
            id="no packet with 14 steps",
        ),
        pytest.param(
            lambda: packets.function_packet(address_bytes(3), [5]),
            "^function 5 is outside 0 to 4$",
            id="no F5 there",
        ),
        pytest.param(
            lambda: packets.consist_packet(address_bytes(3), 128),
            "^consist address 128 is outside 0 to 127$",
            id="no consist 128 by packet",
        ),
        pytest.param(
            lambda: packets.main_write_packet(address_bytes(3), 1025, 0),
            "^CV 1025 is outside 1 to 1024$",
            id="no CV1025 on the main",
        ),
        pytest.param(
            lambda: packets.with_error_byte([256]), "^byte 256 is outside 0 to 255$", id="no byte 256"
        ),
    ],
)
def test_what_no_packet_can_carry_is_refused(call: Callable[[], object], message: str) -> None:
    with pytest.raises(ValueError, match=message):
        call()

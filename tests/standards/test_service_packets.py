"""Packets of service mode as bytes."""

from collections.abc import Callable

import pytest

from rosterkit.standards import service_packets
from rosterkit.standards.packets import spaced_hex

S923 = "NMRA S-9.2.3 (Jul 2012)"


@pytest.mark.parametrize(
    ("source", "packet", "expected"),
    [
        pytest.param(
            f"{S923}, derived", service_packets.direct_write(1, 3), "7C 00 03 7F", id="write CV1 = 3"
        ),
        pytest.param(
            f"{S923}, derived", service_packets.direct_write(29, 38), "7C 1C 26 46", id="write CV29 = 38"
        ),
        pytest.param(
            f"{S923}, derived", service_packets.direct_write(17, 195), "7C 10 C3 AF", id="write CV17 = 195"
        ),
        pytest.param(
            f"{S923}, derived", service_packets.direct_write(18, 232), "7C 11 E8 85", id="write CV18 = 232"
        ),
        pytest.param(
            f"{S923}, derived", service_packets.direct_write(541, 128), "7E 1C 80 E2", id="write CV541 = 128"
        ),
        pytest.param(
            f"{S923}, derived", service_packets.direct_write(1024, 0), "7F FF 00 80", id="write CV1024 = 0"
        ),
        pytest.param(f"{S923}, derived", service_packets.direct_verify(8, 13), "74 07 0D 7E", id="is CV8 13"),
        pytest.param(
            f"{S923}, derived",
            service_packets.direct_bit_verify(8, 7, on=False),
            "78 07 E7 98",
            id="is bit 7 of CV8 0",
        ),
        pytest.param(
            f"{S923}, derived",
            service_packets.direct_bit_verify(8, 7, on=True),
            "78 07 EF 90",
            id="is bit 7 of CV8 1",
        ),
        pytest.param(
            f"{S923}, derived",
            service_packets.direct_bit_write(29, 5, on=True),
            "78 1C FD 99",
            id="set bit 5 of CV29",
        ),
        pytest.param(
            f"{S923}, derived",
            service_packets.direct_bit_write(29, 0, on=False),
            "78 1C F0 94",
            id="clear bit 0 of CV29",
        ),
        pytest.param(f"{S923}, derived", service_packets.address_write(3), "78 03 7B", id="write address 3"),
        pytest.param(
            f"{S923}, derived", service_packets.address_verify(3), "70 03 73", id="is the address 3"
        ),
        pytest.param(
            f"{S923}, derived", service_packets.register_write(5, 6), "7C 06 7A", id="write register 5 = 6"
        ),
        pytest.param(
            f"{S923}, derived", service_packets.register_verify(5, 6), "74 06 72", id="is register 5 6"
        ),
        pytest.param(
            f"{S923}, section E, as printed", service_packets.PAGE_PRESET, "7D 01 7C", id="page preset"
        ),
        pytest.param(
            f"{S923}, section E, derived",
            service_packets.register_write(6, 1),
            "7D 01 7C",
            id="register 6 = 1 is that",
        ),
        pytest.param(
            f"{S923}, Decoder Factory Reset, as printed",
            service_packets.FACTORY_RESET,
            "7F 08 77",
            id="factory reset",
        ),
        pytest.param(
            f"{S923}, Decoder Factory Reset, derived",
            service_packets.register_write(8, 8),
            "7F 08 77",
            id="register 8 = 8 is that",
        ),
    ],
)
def test_packets_of_service_mode(source: str, packet: bytes, expected: str) -> None:
    assert spaced_hex(packet) == expected, source


def test_direct_mode_reaches_each_of_the_1024_cvs_by_its_own_bytes() -> None:
    heads = {service_packets.direct_write(cv, 0)[:2] for cv in range(1, 1025)}

    # NMRA S-9.2.3 (Jul 2012): 0111CCAA AAAAAAAA, ten bits of address.
    assert heads == {bytes([0x7C + high, low]) for high in range(4) for low in range(256)}


@pytest.mark.parametrize(
    ("call", "message"),
    [
        pytest.param(
            lambda: service_packets.direct_write(0, 0), "^CV 0 is outside 1 to 1024$", id="there is no CV0"
        ),
        pytest.param(
            lambda: service_packets.direct_verify(1025, 0), "^CV 1025 is outside 1 to 1024$", id="no CV1025"
        ),
        pytest.param(
            lambda: service_packets.direct_write(1, 256), "^value 256 is outside 0 to 255$", id="no value 256"
        ),
        pytest.param(
            lambda: service_packets.direct_bit_write(1, 8, on=True),
            "^bit 8 is outside 0 to 7$",
            id="no bit 8",
        ),
        pytest.param(
            lambda: service_packets.direct_bit_verify(1, 8, on=True),
            "^bit 8 is outside 0 to 7$",
            id="no bit 8 to ask",
        ),
        pytest.param(
            lambda: service_packets.register_write(9, 0),
            "^physical register 9 is outside 1 to 8$",
            id="no register 9",
        ),
        pytest.param(
            lambda: service_packets.address_write(128),
            "^short address 128 is outside 1 to 127$",
            id="no long address in address-only mode",
        ),
    ],
)
def test_what_no_packet_can_carry_is_refused(call: Callable[[], object], message: str) -> None:
    with pytest.raises(ValueError, match=message):
        call()

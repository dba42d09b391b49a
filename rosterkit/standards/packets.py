"""Packets to locomotives as bytes, the error byte at their end."""

from collections.abc import Collection, Iterable
from functools import reduce
from operator import xor

from rosterkit.standards.addresses import cv1_of, long_address_cvs
from rosterkit.standards.bounds import BYTE, CV_NUMBERS, within
from rosterkit.standards.speed_steps import Halt, speed_code

IDLE = bytes([0xFF, 0x00, 0xFF])
"""NMRA S-9.2 (Jul 2004), section B."""

RESET = bytes([0x00, 0x00, 0x00])
"""NMRA S-9.2 (Jul 2004), section B."""


def with_error_byte(data: Iterable[int]) -> bytes:
    """Return the bytes, each 0 to 255, followed by the exclusive or of all of them.

    NMRA S-9.2, Jul 2004, section A. ValueError outside.
    """
    checked = [within(byte, BYTE, "byte") for byte in data]
    return bytes([*checked, reduce(xor, checked, 0)])


def spaced_hex(packet: bytes) -> str:
    """Write a packet as pairs of digits, as in "37 74 43" (arithmetic)."""
    return packet.hex(" ").upper()


def address_bytes(address: int, *, long: bool = False) -> bytes:
    """Return the address at the head of a packet: one byte for short, 1 to 127, two for long, 1 to 10239.

    NMRA S-9.2.1 (Jul 2012), section C. ValueError outside.
    """
    return bytes(long_address_cvs(address)) if long else bytes([cv1_of(address)])


def speed_packet(head: bytes, speed: int | Halt, *, steps: int, forward: bool) -> bytes:
    """Return the packet that sets a step or a halt with 28 or 128 steps, behind the bytes of an address.

    NMRA S-9.2 (Jul 2004), section B; S-9.2.1 (Jul 2012), 128 speed step control. Engine 55 forward at step 6
    of 28 is 37 74 43. ValueError outside, and for 14 steps, where the light goes with the speed.
    """
    code = speed_code(speed, steps)
    if steps == 128:
        return with_error_byte([*head, 0b0011_1111, forward << 7 | code])
    if steps == 28:
        return with_error_byte([*head, 0b0100_0000 | forward << 5 | code])
    raise ValueError(f"speed steps {steps}, not one of 28, 128")


def broadcast_stop(*, cut_power: bool, forward: bool = False, any_direction: bool = False) -> bytes:
    """Return the packet that stops every engine: brought to a stop, or the motor cut off.

    NMRA S-9.2 (Jul 2004), section B; that decoders may pass over the direction when bit 4 is set is from
    memory.
    """
    return with_error_byte([0, 0b0100_0000 | forward << 5 | any_direction << 4 | cut_power])


def function_packet(head: bytes, functions: Collection[int]) -> bytes:
    """Return the packet that turns on these of F0 to F4 and the others off, behind the bytes of an address.

    NMRA S-9.2.1 (Jul 2012), function group one: bit 4 is the light, bits 0 to 3 are F1 to F4. ValueError
    outside.
    """
    on = {within(function, range(5), "function") for function in functions}
    return with_error_byte([*head, 0b1000_0000 | sum(1 << (n - 1 if n else 4) for n in on)])


def consist_packet(head: bytes, consist: int, *, against: bool = False) -> bytes:
    """Return packet that sets a consist address, 1 to 127, or 0 for none, behind an engine's address bytes.

    NMRA S-9.2.1 (Jul 2012), Consist Control. ValueError outside.
    """
    return with_error_byte([*head, 0b0001_0010 | against, within(consist, range(128), "consist address")])


def main_write_packet(head: bytes, cv: int, value: int) -> bytes:
    """Return operations mode packet that writes 0 to 255 to CV1 to CV1024, behind the bytes of an address.

    Sent twice. NMRA S-9.2.1 (Jul 2012), long form. It is not obeyed at a consist address. ValueError outside.
    """
    place = within(cv, CV_NUMBERS, "CV") - 1
    return with_error_byte([*head, 0b1110_1100 | place >> 8, place & 255, within(value, BYTE, "value")])

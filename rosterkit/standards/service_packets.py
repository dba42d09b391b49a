"""Packets of service mode as bytes, the error byte at their end; they carry no locomotive address."""

from rosterkit.standards.addresses import cv1_of
from rosterkit.standards.bounds import BYTE, CV_NUMBERS, within
from rosterkit.standards.packets import with_error_byte

PAGE_PRESET = bytes([0x7D, 0x01, 0x7C])
"""Sets the page register to 1 (NMRA S-9.2.3, Jul 2012, section E)."""

FACTORY_RESET = bytes([0x7F, 0x08, 0x77])
"""Writes 8 to register 8 (NMRA S-9.2.3, Jul 2012, Decoder Factory Reset)."""

_VERIFY, _WRITE, _BIT = 0b0111_0100, 0b0111_1100, 0b0111_1000


def direct_write(cv: int, value: int) -> bytes:
    """Return the direct mode packet that writes 0 to 255 to CV1 to CV1024 (NMRA S-9.2.3, Jul 2012).

    ValueError outside.
    """
    return _direct(_WRITE, cv, within(value, BYTE, "value"))


def direct_verify(cv: int, value: int) -> bytes:
    """Return the direct mode packet that asks whether CV1 to CV1024 is 0 to 255 (NMRA S-9.2.3, Jul 2012).

    ValueError outside.
    """
    return _direct(_VERIFY, cv, within(value, BYTE, "value"))


def direct_bit_write(cv: int, bit: int, *, on: bool) -> bytes:
    """Return the direct mode packet that sets one bit, 0 to 7, of CV1 to CV1024 (NMRA S-9.2.3, Jul 2012).

    ValueError outside.
    """
    return _direct(_BIT, cv, 0b1111_0000 | on << 3 | within(bit, range(8), "bit"))


def direct_bit_verify(cv: int, bit: int, *, on: bool) -> bytes:
    """Return the direct mode packet that asks for one bit, 0 to 7, of CV1 to CV1024 (NMRA S-9.2.3, Jul 2012).

    Asking bit 7 of CV8 for both values shows whether a decoder knows direct mode. ValueError outside.
    """
    return _direct(_BIT, cv, 0b1110_0000 | on << 3 | within(bit, range(8), "bit"))


def register_write(register: int, value: int) -> bytes:
    """Return the packet that writes 0 to 255 to a physical register, 1 to 8 (NMRA S-9.2.3, Jul 2012).

    ValueError outside.
    """
    return _register(0b0111_1000, register, value)


def register_verify(register: int, value: int) -> bytes:
    """Return the packet that asks whether a physical register, 1 to 8, is 0 to 255 (NMRA S-9.2.3, Jul 2012).

    ValueError outside.
    """
    return _register(0b0111_0000, register, value)


def address_write(address: int) -> bytes:
    """Return address-only packet that writes a short address, 1 to 127 (NMRA S-9.2.3, Jul 2012, section E).

    The decoder then clears CV29 bit 5 and CV19. ValueError outside.
    """
    return with_error_byte([0b0111_1000, cv1_of(address)])


def address_verify(address: int) -> bytes:
    """Return the address-only packet that asks for a short address, 1 to 127.

    NMRA S-9.2.3, Jul 2012, section E. ValueError outside.
    """
    return with_error_byte([0b0111_0000, cv1_of(address)])


def _direct(instruction: int, cv: int, data: int) -> bytes:
    place = within(cv, CV_NUMBERS, "CV") - 1
    return with_error_byte([instruction | place >> 8, place & 255, data])


def _register(instruction: int, register: int, value: int) -> bytes:
    place = within(register, range(1, 9), "physical register") - 1
    return with_error_byte([instruction | place, within(value, BYTE, "value")])

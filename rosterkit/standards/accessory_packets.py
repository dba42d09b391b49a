"""Packets to accessory decoders as bytes, the error byte at their end."""

from rosterkit.standards.accessories import PACKET_ADDRESSES
from rosterkit.standards.bounds import BYTE, within
from rosterkit.standards.packets import with_error_byte

ASPECTS = range(32)
"""Five bits; 0 is absolute stop (NMRA S-9.2.1, Jul 2012, section D)."""


def basic_packet(packet_address: int, *, second_output: bool, activate: bool = True) -> bytes:
    """Return the basic packet for a pair of outputs, packet address 0 to 2047.

    The second output is straight, or proceed. NMRA S-9.2.1 (Jul 2012), section D: 10AAAAAA 1AAACDDD, the high
    three bits inverted. ValueError outside.
    """
    decoder, pair = divmod(within(packet_address, PACKET_ADDRESSES, "packet address"), 4)
    second = 0b1000_0000 | _inverted_high_bits(decoder) | activate << 3 | pair << 1 | second_output
    return with_error_byte([0b1000_0000 | decoder & 63, second])


def extended_packet(packet_address: int, aspect: int) -> bytes:
    """Return the extended packet that sets a signal, packet address 0 to 2047, to an aspect, 0 to 31.

    NMRA S-9.2.1 (Jul 2012), section D: 10AAAAAA 0AAA0AA1 000XXXXX; that the high bits are inverted here too
    is secondary source. ValueError outside.
    """
    decoder, pair = divmod(within(packet_address, PACKET_ADDRESSES, "packet address"), 4)
    second = _inverted_high_bits(decoder) | pair << 1 | 1
    return with_error_byte([0b1000_0000 | decoder & 63, second, within(aspect, ASPECTS, "aspect")])


def basic_broadcast(*, output: int, activate: bool) -> bytes:
    """Return the basic packet to every accessory decoder for one of its eight outputs, 0 to 7.

    NMRA S-9.2.1 (Jul 2012), section D: 10111111 1000CDDD. ValueError outside.
    """
    return with_error_byte([0b1011_1111, 0b1000_0000 | activate << 3 | within(output, range(8), "output")])


def extended_broadcast(aspect: int) -> bytes:
    """Return the extended packet that sets every signal to an aspect, 0 to 31.

    NMRA S-9.2.1 (Jul 2012), section D: 10111111 00000111 000XXXXX. ValueError outside.
    """
    return with_error_byte([0b1011_1111, 0b0000_0111, within(aspect, ASPECTS, "aspect")])


def decoder_of_packet(first_byte: int, second_byte: int) -> int:
    """Return the decoder address, 0 to 511, in the first two bytes of a basic or extended accessory packet.

    NMRA S-9.2.1 (Jul 2012), section D. ValueError unless the first is 128 to 191 and the second 0 to 255.
    """
    low = within(first_byte, range(128, 192), "first byte of an accessory packet") & 63
    return (~within(second_byte, BYTE, "second byte") >> 4 & 7) << 6 | low


def _inverted_high_bits(decoder: int) -> int:
    return (~(decoder >> 6) & 7) << 4

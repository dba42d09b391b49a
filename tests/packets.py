"""Packets as the standards print them: an outside view of which addresses a decoder can tell apart."""

from functools import reduce
from operator import xor


def locomotive_head(address: int, *, long: bool = False) -> bytes:
    """The address at the head: NMRA S-9.2.1 (Jul 2012), section C, 0AAAAAAA or 11AAAAAA AAAAAAAA."""
    return bytes([0b1100_0000 | address >> 8, address & 255]) if long else bytes([address])


def basic_packet(packet_address: int, *, second_output: bool) -> bytes:
    """The packet for a pair of outputs: S-9.2.1, section D, 10AAAAAA 1AAACDDD, high bits inverted."""
    decoder, pair = divmod(packet_address, 4)
    inverted = (~(decoder >> 6) & 7) << 4
    data = [0b1000_0000 | decoder & 63, 0b1000_1000 | inverted | pair << 1 | second_output]
    return bytes([*data, reduce(xor, data)])


def decoder_of_packet(first_byte: int, second_byte: int) -> int:
    """The decoder, 0 to 511, that a packet of section D speaks to."""
    return (~second_byte >> 4 & 7) << 6 | first_byte & 63

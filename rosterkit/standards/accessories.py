"""Accessory decoders: turnout numbers, packet addresses, and the CVs CV1 and CV9."""

from dataclasses import dataclass

from rosterkit.standards.bounds import BYTE, one_of, within

DECODER_ADDRESSES = range(512)
"""Nine bits (NMRA S-9.2.1, Jul 2012, section D); 511 is the broadcast."""

OUTPUT_ADDRESSES = range(2048)
"""Eleven bits of CV1 and CV9 (NMRA S-9.2.2, Jul 2012, CV1[513] and CV9[521])."""

PACKET_ADDRESSES = range(2048)
"""A decoder address and one of its four pairs of outputs."""

OUTPUTS_OF_A_DECODER = 4
"""Pairs of outputs that a decoder address calls (NMRA S-9.2.1, Jul 2012, section D)."""

PACKET_ASPECTS = range(32)
"""What an extended packet can ask a signal for, in five bits; 0 is absolute stop (NMRA S-9.2.1, Jul 2012,
section D)."""

USER_NUMBERS = range(1, 2049)
"""Turnouts as people number them."""

BROADCAST_USER_NUMBERS = range(2041, 2045)
"""Not for a device: they are decoder address 511 (NMRA S-9.2.1, Jul 2012, section D, derived)."""

WRAPPED_USER_NUMBERS = range(2045, 2049)
"""They come out as packet addresses 0 to 3 (RCN-213, from memory)."""

DEFAULT_CVS = (1, 0)
"""CV1 and CV9 as shipped (NMRA S-9.2.2, Jul 2012, Table 3)."""

ALIAS_OFFSET = 512
"""CV1 is CV513 as well, CV9 is CV521, and so on (NMRA S-9.2.2, Jul 2012, Table 3)."""

OFFSETS = (0, 4)
"""How many numbers lower a system counts its decoders: its turnout 1 is packet address 4, or 0 (common
practice)."""

_HIGH_BITS = range(8)


@dataclass(frozen=True, slots=True)
class OutputPair:
    """One of the four pairs of outputs, 0 to 3, of a decoder, 0 to 511."""

    decoder: int
    pair: int


def decoder_cvs(decoder: int) -> tuple[int, int]:
    """Return CV1 and CV9 of a decoder address, 0 to 511, for CV29 bit 6 = 0; 64 is 0 and 1.

    NMRA S-9.2.2 (Jul 2012), CV1[513] and CV9[521]; RCN-225 (27.07.2025), section 3.1. ValueError outside.
    """
    within(decoder, DECODER_ADDRESSES, "decoder address")
    return decoder % 64, decoder // 64


def decoder_of_cvs(cv1: int, cv9: int) -> int:
    """Return the decoder address in CV1, 0 to 63, and CV9, 0 to 7, for CV29 bit 6 = 0.

    NMRA S-9.2.2 (Jul 2012), CV1[513] and CV9[521]. ValueError outside.
    """
    return within(cv9, _HIGH_BITS, "CV9") * 64 + within(cv1, range(64), "CV1")


def output_cvs(output: int) -> tuple[int, int]:
    """Return CV1 and CV9 of the first output's number, 0 to 2047, for CV29 bit 6 = 1; 256 is 0 and 1.

    NMRA S-9.2.2 (Jul 2012), CV1[513] and CV9[521]; RCN-225 (27.07.2025), section 3.1. ValueError outside.
    """
    within(output, OUTPUT_ADDRESSES, "output address")
    return output % 256, output // 256


def output_of_cvs(cv1: int, cv9: int) -> int:
    """Return the first output's number in CV1, 0 to 255, and CV9, 0 to 7, for CV29 bit 6 = 1.

    NMRA S-9.2.2 (Jul 2012), CV1[513] and CV9[521]. ValueError outside.
    """
    return within(cv9, _HIGH_BITS, "CV9") * 256 + within(cv1, BYTE, "CV1")


def packet_address(user: int, *, offset: int = 0) -> int:
    """Return the packet address, 0 to 2047, of a turnout number, 1 to 2048.

    It is three more, less the offset of the system. RCN-225 (27.07.2025), section 3.1: user address 1 is
    packet address 4. An offset of 4, for systems that number one decoder lower, and only that or 0, is common
    practice; past the end it begins again at 0 (RCN-213, from memory). ValueError outside.
    """
    within(user, USER_NUMBERS, "turnout number")
    return (user + 3 - one_of(offset, OFFSETS, "accessory offset")) % 2048


def user_number(packet_address: int, *, offset: int = 0) -> int:
    """Return the turnout number, 1 to 2048, of a packet address, 0 to 2047: ``packet_address`` turned round.

    RCN-225 (27.07.2025), section 3.1; offset 0 or 4, common practice. ValueError outside.
    """
    within(packet_address, PACKET_ADDRESSES, "packet address")
    return (packet_address - 4 + one_of(offset, OFFSETS, "accessory offset")) % 2048 + 1


def packet_addresses_of(decoder: int) -> range:
    """Return a decoder's four packet addresses, of 0 to 511 (NMRA S-9.2.1, Jul 2012); ValueError outside."""
    first = within(decoder, DECODER_ADDRESSES, "decoder address") * 4
    return range(first, first + 4)


def output_pair(user: int, *, offset: int = 0) -> OutputPair:
    """Return the decoder and pair of a turnout number, 1 to 2048, with an offset of 0 or 4.

    Turnout 5 is pair 0 of decoder 2. RCN-225 (27.07.2025), section 3.1, derived. ValueError outside.
    """
    return OutputPair(*divmod(packet_address(user, offset=offset), 4))


def user_number_of_pair(decoder: int, pair: int, *, offset: int = 0) -> int:
    """Return turnout number, 1 to 2048, of a decoder, 0 to 511, and pair, 0 to 3, with an offset of 0 or 4.

    RCN-225 (27.07.2025), section 3.1, derived. ValueError outside.
    """
    within(pair, range(4), "pair")
    return user_number(packet_addresses_of(decoder)[pair], offset=offset)


def is_broadcast_number(user: int, *, offset: int = 0) -> bool:
    """Tell whether a turnout number, 1 to 2048, falls on the broadcast address, decoder 511.

    With an offset of 0 that is 2041 to 2044, with 4 it is 2045 to 2048. NMRA S-9.2.1 (Jul 2012), section D;
    secondary source, the text of 2025 has dropped it. ValueError outside.
    """
    return output_pair(user, offset=offset).decoder == DECODER_ADDRESSES[-1]


def packet_address_of_cvs(cv1: int, cv9: int) -> int:
    """Return the packet address that CV1 and CV9 answer with CV29 bit 6 = 1: three more than they hold.

    RCN-225 (27.07.2025), section 3.1. With CV1 = 1 and CV9 = 0 it is 4, decoder 1, as with bit 6 = 0.
    ValueError outside.
    """
    return (output_of_cvs(cv1, cv9) + 3) % 2048


def nmra_printed_output(cv1: int, cv9: int) -> int:
    """Return the output that CV1 and CV9 stand for by NMRA S-9.2.2 (Jul 2012), CV1[513], as printed.

    For CV29 bit 6 = 1 the text takes one less than they hold. Not to be used: CV1 = 1 and CV9 = 0 gives
    output 0, of decoder 0, while the same section wants decoder 1. It is -1 where both are 0. See
    ``packet_address_of_cvs``. ValueError outside.
    """
    return output_of_cvs(cv1, cv9) - 1


def alias(cv: int) -> int:
    """Return the second number, 513 to 768, of an accessory CV, 1 to 256; ValueError outside.

    NMRA S-9.2.2, Jul 2012, Table 3. RCN-225 (27.07.2025) advises against it in new designs.
    """
    return within(cv, range(1, 257), "CV") + ALIAS_OFFSET

"""An accessory's number, made into CV1, CV9 and CV29 of its decoder."""

from rosterkit.roster.model import Accessory, Layout
from rosterkit.standards.accessories import (
    USER_NUMBERS,
    OutputPair,
    decoder_cvs,
    output_cvs,
    output_pair,
    packet_addresses_of,
    user_number,
)
from rosterkit.standards.configuration import AccessoryConfiguration, cv29_of_accessory


def accessory_cvs(accessory: Accessory, layout: Layout) -> dict[int, int]:
    """Return CV1, CV9 and CV29 of a row of Accessories; empty where it cannot be used.

    With the method decoder all four numbers of one decoder have the same CVs; with output they hold
    the number itself, less the layout's offset (NMRA S-9.2.2 (Jul 2012), CV1[513], CV9[521], CV29[541];
    RCN-225 (27.07.2025), section 3.1).
    """
    pair = pair_of(accessory, layout)
    if pair is None or {"method", "bidi"} & accessory.unusable:
        return {}
    by_output = accessory.method == "output"
    number = user_number(pair.decoder * 4 + pair.pair) % 2048
    cv1, cv9 = output_cvs(number) if by_output else decoder_cvs(pair.decoder)
    byte = AccessoryConfiguration(bidi=accessory.bidi == "on", output_addressing=by_output)
    return {1: cv1, 9: cv9, 29: cv29_of_accessory(byte)}


def pair_of(accessory: Accessory, layout: Layout) -> OutputPair | None:
    """Return the decoder and the pair of outputs that an accessory's number calls; None where it has none."""
    if accessory.address is None or accessory.address not in USER_NUMBERS:
        return None
    return output_pair(accessory.address, offset=int(layout.accessory_offset))


def packet_of(accessory: Accessory, layout: Layout) -> int | None:
    """Return the packet address that an accessory's number calls; None where it has none."""
    pair = pair_of(accessory, layout)
    return None if pair is None else packet_addresses_of(pair.decoder)[pair.pair]


def packets_taken(accessory: Accessory, layout: Layout) -> frozenset[int]:
    """Return the packet addresses that no device on another decoder may have.

    All four of its decoder, unless the method is output: then only that of its number, as each output has a
    row of its own (NMRA S-9.2.1 (Jul 2012), section D).
    """
    pair = pair_of(accessory, layout)
    if pair is None:
        return frozenset()
    four = packet_addresses_of(pair.decoder)
    return frozenset({four[pair.pair]} if accessory.method == "output" else four)

"""A row of Accessories as its decoder has it: the numbers that it answers, and CV1, CV9 and CV29."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from rosterkit.cv.accessory_bits import BIT_COLUMNS, ByteClaim, byte_claims_in, says_how_it_answers
from rosterkit.roster.model import Accessory, Roster
from rosterkit.standards.accessories import (
    OUTPUTS_OF_A_DECODER,
    PACKET_ADDRESSES,
    decoder_cvs,
    output_cvs,
    output_pair,
    packet_addresses_of,
    user_number,
)
from rosterkit.standards.configuration import (
    ACCESSORY_RESERVED,
    EXTENDED,
    OUTPUT_ADDRESSING,
    accessory_configuration,
    cv29_of_accessory,
)

ADDRESS_COLUMNS = frozenset({"address", "outputs", "aspects", "method"})
"""The columns that say which numbers a decoder answers, and by which packets."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Device:
    """A row of Accessories as its decoder has it."""

    row: Accessory
    offset: int
    """The layout's Accessory offset, 0 or 4."""
    cv29: int
    """128 to 255: what the rows of its decoder state; else as it was last read; else 0 but for bit 7."""
    kept: int
    """The bits of CV29 that no row of its decoder states, and that stay as they were last read."""
    assumed: int
    """The bits of CV29 that no row of its decoder states and nobody has read."""
    called: int
    """The packet address, 0 to 2047, that the row's Address calls."""
    packets: Sequence[int]
    """The packet addresses that its decoder answers, from its first on; past 2047 they begin again."""
    sure: frozenset[int]
    """Those of them that the row states; the others come of a blank Outputs."""

    @property
    def by_output(self) -> bool:
        """Whether CV1 and CV9 hold the number of the first output: CV29 bit 6."""
        return bool(self.cv29 & OUTPUT_ADDRESSING)

    @property
    def extended(self) -> bool:
        """Whether it is called by extended packets, which name an aspect: CV29 bit 5."""
        return bool(self.cv29 & EXTENDED)

    @property
    def decoder(self) -> int:
        """The decoder address, 0 to 511, that its Address belongs to."""
        return self.called // OUTPUTS_OF_A_DECODER

    @property
    def numbers(self) -> list[int]:
        """The numbers that its decoder answers, as called from a throttle, in the decoder's order."""
        return [user_number(packet, offset=self.offset) for packet in self.packets]

    def keeping(self, read: int | None) -> "Device":
        """Return the same with the bits that its rows leave open as CV29 reads now; None is no reading.

        Which numbers it answers is as before.
        """
        if not says_how_it_answers(read):
            return self
        left_open = self.kept | self.assumed | ACCESSORY_RESERVED
        return replace(self, cv29=self.cv29 & ~left_open | (read or 0) & left_open, kept=left_open, assumed=0)

    def is_same_decoder(self, other: "Device") -> bool:
        """Tell whether two rows are devices of one decoder: the method decoder, one address, one kind."""
        return (
            not (self.by_output or other.by_output)
            and self.decoder == other.decoder
            and self.extended == other.extended
        )


def devices_in(roster: Roster) -> Sequence[Device]:
    """Return a roster's devices whose Address can be used, in the order of the sheet; worked out once."""
    if "devices" not in roster.kept:
        offset = int(roster.layout.accessory_offset)
        roster.kept["devices"] = [_device(claim, offset) for claim in byte_claims_in(roster)]
    found: list[Device] = roster.kept["devices"]
    return found


def _device(claim: ByteClaim, offset: int) -> Device:
    row, cv29, unstated = claim.row, claim.cv29, claim.unstated
    pair = output_pair(row.address or 0, offset=offset)
    called = packet_addresses_of(pair.decoder)[pair.pair]
    by_output = bool(cv29 & OUTPUT_ADDRESSING)
    first = called if by_output else called - pair.pair
    count = row.outputs or (1 if by_output else OUTPUTS_OF_A_DECODER)
    packets = [(first + n) % len(PACKET_ADDRESSES) for n in range(count)]
    return Device(
        row=row,
        offset=offset,
        cv29=cv29,
        kept=0 if claim.read is None else unstated,
        assumed=unstated & ~ACCESSORY_RESERVED if claim.read is None else 0,
        called=called,
        packets=packets,
        sure=frozenset({called, *packets} if row.outputs else {called}),
    )


def accessory_cvs(device: Device) -> dict[int, int]:
    """Return CV1, CV9 and CV29 of a device; empty where a column that they need cannot be used.

    With the method decoder all numbers of one decoder have the same CVs; with output they hold the number
    itself, less the layout's offset (NMRA S-9.2.2 (Jul 2012), CV1[513], CV9[521], CV29[541]; RCN-225
    (27.07.2025), section 3.1).
    """
    if BIT_COLUMNS.keys() & device.row.unusable:
        return {}
    number = user_number(device.called) % 2048
    cv1, cv9 = output_cvs(number) if device.by_output else decoder_cvs(device.decoder)
    return {1: cv1, 9: cv9, 29: cv29_of_accessory(accessory_configuration(device.cv29))}


def packets_taken(roster: Roster) -> frozenset[int]:
    """Return the packet addresses, 0 to 2047, that a roster's devices answer with all their outputs."""
    return frozenset(packet for device in devices_in(roster) for packet in (device.called, *device.packets))

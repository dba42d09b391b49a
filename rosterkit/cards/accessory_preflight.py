"""What to look at before a batch of accessory decoders, and which modes do not do for them."""

from collections.abc import Mapping

from rosterkit.cards.write_modes import WriteMode

_LINES = (
    "one decoder alone on the programming output, and neither engines nor the layout: every decoder "
    "there takes what is keyed in.",
    "something connected to its outputs, as its maker says: the acknowledgment is a short draw of "
    "current, and without a load some give none.",
    "hands and tools off what moves: turnouts and signals can move while you key in. A coil that stays "
    "switched on gets hot and can burn out; an on-time of 0 (CV3 to CV6) is continuous.",
    "decoders that number from 513 have CV1 as CV513, CV9 as CV521 and CV29 as CV541.",
    "where CV29 is read first, the bits that are assumed stay as they read: record the reading and print "
    "the card again, or key in the value with those bits as read.",
    "read each back and write it beside the value. Without an acknowledgment the value may still have "
    "been written.",
    "some decoders learn their number from the first command: put one alone into learning as its maker "
    "says, call the number on its card once, and end learning. It takes the first number that it hears, "
    "so nobody calls another one meanwhile.",
    "the instructions of the decoder's and the station's makers come first, then local electrical codes; "
    "mains wiring is for licensed people.",
)
_REFUSALS: Mapping[WriteMode, str] = {
    WriteMode.REGISTER: "Nothing to key in here: register mode reaches CV1 only, as R1, and with half of "
    "its address the decoder answers another one. Use direct or paged mode.",
    WriteMode.ADDRESS_ONLY: "Nothing to key in here: address-only mode writes the short address of a "
    "locomotive. Use direct or paged mode.",
    WriteMode.OPERATIONS: "Nothing to key in here: in operations mode the address would change by which "
    "the decoder is called. Use the programming track.",
}


def accessory_preflight() -> tuple[str, ...]:
    """Return the list for a batch of accessory decoders, each line marked as theirs.

    One decoder at a time because service mode carries no address, and the acknowledgment: NMRA S-9.2.3
    (Jul 2012), sections D and E; on-times and the numbers from 513: NMRA S-9.2.2 (Jul 2012), Table 3.
    Loads, coils and decoders that learn: common practice, no source.
    """
    return tuple(f"Accessories: {line}" for line in _LINES)


def refusal_in(mode: WriteMode) -> str | None:
    """Say why an accessory decoder's address is not keyed in in a mode; None where it is.

    Register 1 is CV513, the others but 8 are the maker's (NMRA S-9.2.3 (Jul 2012), table of registers); an
    address is changed with caution in operations mode (NMRA S-9.2.1 (Jul 2012), section D).
    """
    return _REFUSALS.get(mode)

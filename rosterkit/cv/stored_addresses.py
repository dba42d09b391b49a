"""The addresses that a locomotive decoder's CVs hold, and which of them it answers."""

from collections.abc import Mapping

from rosterkit.cv.addresses import Address, Space
from rosterkit.cv.conflicts import CONFIGURATION
from rosterkit.standards.addresses import HIGH_BYTES, SHORT_ADDRESSES, long_address
from rosterkit.standards.configuration import LONG_ADDRESS, is_accessory


def stored_short(values: Mapping[int, int]) -> Address | None:
    """Return the short address in CV1; None where it is not there, or holds none."""
    return Address(Space.SHORT, values[1]) if values.get(1, 0) in SHORT_ADDRESSES else None


def stored_long(values: Mapping[int, int]) -> Address | None:
    """Return the long address in CV17 and CV18; None where they are not both there, or hold none."""
    high, low = values.get(17), values.get(18)
    if high is None or low is None or high not in HIGH_BYTES or (high, low) == (192, 0):
        return None
    return Address(Space.LONG, long_address(high, low))


def answered(values: Mapping[int, int]) -> Address | None:
    """Return the address that a locomotive decoder's CVs make it answer.

    Bit 5 of CV29 chooses (NMRA S-9.2.2 (Jul 2012), CV29; RCN-225 (27.07.2025), CV29). None without CV29, for
    an accessory decoder's, and where the chosen CVs are not given or hold no address.
    """
    configuration = values.get(CONFIGURATION)
    if configuration is None or is_accessory(configuration):
        return None
    return stored_long(values) if configuration & LONG_ADDRESS else stored_short(values)


def stored_words(values: Mapping[int, int]) -> str | None:
    """Say which addresses are stored where CV29 is not given, which alone says what is active."""
    if CONFIGURATION in values:
        return None
    stored = [str(one) for one in (stored_short(values), stored_long(values)) if one]
    which = "whether it is active depends" if len(stored) == 1 else "which of them is active depends"
    return f"{' and '.join(stored)}; {which} on CV29" if stored else None

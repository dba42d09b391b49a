"""What is known of a device's CV29: what its row states, and what was read of it."""

from dataclasses import dataclass

from rosterkit.cv.readings import newest_readings, order_of
from rosterkit.roster.model import Accessory, Reading, Roster
from rosterkit.roster.schema import folded
from rosterkit.standards.accessories import ALIAS_OFFSET, USER_NUMBERS, output_pair
from rosterkit.standards.configuration import ACCESSORY, ACCESSORY_RESERVED, BIDI, EXTENDED, OUTPUT_ADDRESSING

BIT_COLUMNS = {"bidi": BIDI, "aspects": EXTENDED, "method": OUTPUT_ADDRESSING}
"""By column, the bit of CV29 that it states (NMRA S-9.2.2 (Jul 2012), CV29[541])."""
NOTHING_READ = 255
"""What many command stations show where the decoder gave no acknowledgment (common practice, no source)."""
_CONFIGURATION_CV = 29


@dataclass(slots=True)
class ByteClaim:
    """What is known of CV29 of a row's decoder."""

    row: Accessory
    stated: dict[int, bool]
    """By bit."""
    read: int | None

    @property
    def unstated(self) -> int:
        """The bits that nothing states."""
        return (sum(BIT_COLUMNS.values()) | ACCESSORY_RESERVED) & ~sum(self.stated)

    @property
    def cv29(self) -> int:
        """The byte: what is stated, else what was read, else 0 but for bit 7."""
        return (
            ACCESSORY + sum(bit for bit, on in self.stated.items() if on) + ((self.read or 0) & self.unstated)
        )


def byte_claims_in(roster: Roster) -> list[ByteClaim]:
    """Return what is known of CV29 of each device whose Address can be used, in the order of the sheet.

    What one row of a decoder states, and what was read of it, holds for all its rows.
    """
    offset = int(roster.layout.accessory_offset)
    rows = [row for row in roster.accessories if row.address is not None and row.address in USER_NUMBERS]
    claims = [ByteClaim(row, _stated_by(row), _read_cv29(row, roster)) for row in rows]
    by_decoder: dict[int, list[ByteClaim]] = {}
    for claim in claims:
        if not claim.cv29 & OUTPUT_ADDRESSING:
            decoder = output_pair(claim.row.address or 0, offset=offset).decoder
            by_decoder.setdefault(decoder, []).append(claim)
    for several in by_decoder.values():
        stated: dict[int, bool] = {}
        for one in several:
            stated = one.stated | stated
        read = next((one.read for one in several if one.read is not None), None)
        for one in several:
            one.stated = stated | one.stated
            one.read = read if one.read is None else one.read
    return claims


def _stated_by(row: Accessory) -> dict[int, bool]:
    on = {"bidi": row.bidi == "on", "aspects": bool(row.aspects), "method": row.method == "output"}
    return {bit: on[name] for name, bit in BIT_COLUMNS.items() if getattr(row, name) is not None}


def _read_cv29(row: Accessory, roster: Roster) -> int | None:
    """Return the newest reading of a device's CV29; None where it says nothing of how it answers."""
    read = accessory_readings(row, roster).get(_CONFIGURATION_CV)
    return read.value if read and says_how_it_answers(read.value) else None


def says_how_it_answers(read: int | None) -> bool:
    """Tell whether a reading of CV29 says how the decoder answers as an accessory.

    Not 255, nor a value without bit 7 (RCN-225 (27.07.2025), section 3.1), nor no acknowledgment.
    """
    return read is not None and read != NOTHING_READ and bool(read & ACCESSORY)


def accessory_readings(row: Accessory, roster: Roster) -> dict[int, Reading]:
    """Return a device's newest reading of each CV, 1 to 512, in the sheet Readings.

    CV513 to CV1024 are counted as those 512 below (NMRA S-9.2.2 (Jul 2012), Table 3). Readings under a label
    that an engine has are the engine's.
    """
    label = folded(row.accessory or "")
    if label not in roster.readings_of or label in labels_of_engines(roster):
        return {}
    found: dict[int, Reading] = {}
    for (cv, _), reading in newest_readings(roster, row.accessory).items():
        plain = cv - ALIAS_OFFSET if cv > ALIAS_OFFSET else cv
        before = found.get(plain)
        if before is None or order_of(before) < order_of(reading):
            found[plain] = reading
    return found


def labels_of_engines(roster: Roster) -> frozenset[str]:
    """Return the folded labels of a roster's engines; worked out once."""
    if "labels of engines" not in roster.kept:
        roster.kept["labels of engines"] = frozenset(folded(one.loco) for one in roster.engines if one.loco)
    found: frozenset[str] = roster.kept["labels of engines"]
    return found

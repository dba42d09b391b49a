"""Extra values: which CVs they may set, and which of them can be keyed in."""

from collections.abc import Iterable

from rosterkit.roster.model import ExtraValue, Reading
from rosterkit.standards.functions import MAPPING_CVS
from rosterkit.standards.identity import READ_ONLY_CVS
from rosterkit.standards.service_mode import INDEXED_CVS
from rosterkit.standards.speed_curve import SPEED_TABLE_CVS

Index = tuple[int, int]
"""CV31 and CV32."""
CvKey = tuple[int, Index | None]
"""A CV, and the index that it is under where it has one."""

COLUMN_OF = {
    **dict.fromkeys((1, 17, 18), "Address"),
    2: "Vstart",
    3: "Acceleration",
    4: "Deceleration",
    5: "Vhigh",
    6: "Vmid",
    **dict.fromkeys((15, 16), "Lock"),
    **dict.fromkeys((19, 20), "the sheet Consists"),
    **dict.fromkeys((21, 22), "Functions in the sheet Consists"),
    29: "the columns Direction to Speed curve",
    31: "Index high",
    32: "Index low",
    **dict.fromkeys(SPEED_TABLE_CVS, "the sheet Speed tables"),
}
"""What sets a CV that no extra value may set."""


def index_of(row: ExtraValue | Reading) -> Index | None:
    """Return the index of an extra value or a reading; None where it needs none or has none."""
    if row.cv not in INDEXED_CVS or row.index_high is None or row.index_low is None:
        return None
    return row.index_high, row.index_low


def can_be_extra(cv: int) -> bool:
    """Tell whether an extra value may be for a CV: no column sets it, and it is not the decoder's own."""
    return cv not in READ_ONLY_CVS and cv not in COLUMN_OF


def lacks_index(extra: ExtraValue) -> bool:
    """Tell whether an extra value needs an index and has none."""
    return extra.cv in INDEXED_CVS and index_of(extra) is None


def usable_extras(extras: Iterable[ExtraValue]) -> list[tuple[CvKey, int, ExtraValue]]:
    """Return the extra values that can be keyed in, in that order: functions, others, then index by index.

    Of several for one CV the first counts.
    """
    found: dict[CvKey, tuple[int, ExtraValue]] = {}
    for extra in extras:
        cv, value = extra.cv, extra.value
        if cv is not None and value is not None and can_be_extra(cv) and not lacks_index(extra):
            found.setdefault((cv, index_of(extra)), (value, extra))
    ordered = sorted(found, key=lambda key: (key[1] or (-1, -1), key[0] not in MAPPING_CVS, key[0]))
    return [(key, *found[key]) for key in ordered]

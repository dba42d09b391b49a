"""Extra values: which CVs they may set, and what is wrong with those that they may not."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from rosterkit.roster.model import ExtraValue
from rosterkit.standards.functions import MAPPING_CVS
from rosterkit.standards.identity import READ_ONLY_CVS
from rosterkit.standards.service_mode import INDEXED_CVS
from rosterkit.standards.speed_curve import SPEED_TABLE_CVS

Index = tuple[int, int]
"""CV31 and CV32."""
CvKey = tuple[int, Index | None]
"""A CV, and the index that it is under where it has one."""

COLUMN_OF = {
    1: "Address",
    2: "Vstart",
    3: "Acceleration",
    4: "Deceleration",
    5: "Vhigh",
    6: "Vmid",
    15: "Lock",
    16: "Lock",
    17: "Address",
    18: "Address",
    19: "the sheet Consists",
    20: "the sheet Consists",
    21: "Functions in the sheet Consists",
    22: "Functions in the sheet Consists",
    29: "the columns Direction to Speed curve",
    31: "Index high",
    32: "Index low",
    **dict.fromkeys(SPEED_TABLE_CVS, "the sheet Speed tables"),
}
"""What sets a CV that no extra value may set."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ExtraFault:
    """Why an extra value cannot be keyed in: the check that says so, the column, and the words."""

    rule: str
    column: str
    message: str
    fix: str


def index_of(row: ExtraValue) -> Index | None:
    """Return the index of an extra value; None where it needs none or has none."""
    if row.cv not in INDEXED_CVS or row.index_high is None or row.index_low is None:
        return None
    return row.index_high, row.index_low


def extra_fault(extra: ExtraValue) -> ExtraFault | None:
    """Say why an extra value cannot be keyed in as it stands; None if it can, or if a cell is unusable."""
    cv = extra.cv
    if cv is None:
        return None
    if cv in READ_ONLY_CVS:
        what = "the version" if cv == 7 else "the manufacturer ID, and writing 8 to it resets the decoder"
        return ExtraFault(
            rule="register-not-writable",
            column="cv",
            message=f"CV{cv} cannot be set: it is {what}",
            fix="Remove the row.",
        )
    if cv in COLUMN_OF:
        return ExtraFault(
            rule="extra-value-clashes",
            column="cv",
            message=f"CV{cv} is set by {COLUMN_OF[cv]}, so it would be keyed in twice",
            fix=f"Remove the row, and use {COLUMN_OF[cv]}.",
        )
    if cv in INDEXED_CVS and index_of(extra) is None and not {"index_high", "index_low"} & extra.unusable:
        blank = "index_high" if extra.index_high is None else "index_low"
        return ExtraFault(
            rule="page-missing",
            column=blank,
            message=f"CV{cv} needs an index, and {extra.heading(blank)} is blank",
            fix="Enter both Index high (CV31) and Index low (CV32), as the decoder's instructions give them.",
        )
    return None


def usable_extras(extras: Iterable[ExtraValue]) -> list[tuple[CvKey, int, ExtraValue]]:
    """Return the extra values that can be keyed in, in that order: functions, others, then index by index.

    Of several for one CV the first counts.
    """
    found: dict[CvKey, tuple[int, ExtraValue]] = {}
    for key, value, extra in _usable(extras):
        found.setdefault(key, (value, extra))
    ordered = sorted(found, key=lambda key: (key[1] or (-1, -1), key[0] not in MAPPING_CVS, key[0]))
    return [(key, *found[key]) for key in ordered]


def _usable(extras: Iterable[ExtraValue]) -> Iterator[tuple[CvKey, int, ExtraValue]]:
    for extra in extras:
        page = index_of(extra)
        lacks_page = extra.cv in INDEXED_CVS and page is None
        if extra.cv is not None and extra.value is not None and not lacks_page and extra_fault(extra) is None:
            yield (extra.cv, page), extra.value, extra

"""What is unreliable or unknown about measured speeds: what was seen, what to do next, and of which runs."""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from rosterkit.planning.speed.timed_run import Way


class Doubt(StrEnum):
    """The kinds of doubt."""

    OUTLIER = "outlier"
    DISAGREE = "disagree"
    STALLS = "stalls"
    UNREPEATED = "unrepeated"
    TOO_FEW = "too few"
    GAP = "gap"
    FALLS = "falls"
    DEAD_RANGE = "dead range"
    BRIEF = "brief"
    START_UNKNOWN = "start unknown"
    TOP_UNREACHED = "top unreached"
    ONE_WAY = "one way"
    UNIT_SLIP = "unit slip"
    TOO_COARSE = "too coarse"


@dataclass(frozen=True, slots=True, kw_only=True)
class Remark:
    """One doubt in words."""

    doubt: Doubt
    message: str
    fix: str
    """What to measure or do next, as a sentence."""
    rows: tuple[int, ...] = ()
    """The runs it is about."""


def remark_on(way: Way, doubt: Doubt, message: str, fix: str, rows: Iterable[int] = ()) -> Remark:
    """Return a remark on how an engine runs one way."""
    return Remark(doubt=doubt, message=f"{way.adverb}, {message}", fix=fix, rows=tuple(rows))

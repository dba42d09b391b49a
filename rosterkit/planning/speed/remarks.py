"""What is unreliable or unknown about measured speeds: what was seen, what to do next, and of which runs."""

from dataclasses import dataclass
from enum import StrEnum


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

"""A timed run: an engine's way, its drive, and the scale speed that came of distance and time."""

from dataclasses import dataclass
from enum import StrEnum

from rosterkit.planning.speed.timing import timing_error
from rosterkit.standards.bounds import within
from rosterkit.standards.scales import scale_kmh
from rosterkit.standards.speed_curve import FULL_DRIVE


class Way(StrEnum):
    """The way an engine runs, as its driver sees it."""

    FORWARD = "forward"
    REVERSE = "reverse"

    @property
    def adverb(self) -> str:
        """How an engine is said to run: forward, in reverse."""
        return "in reverse" if self is Way.REVERSE else "forward"


@dataclass(frozen=True, slots=True, kw_only=True)
class TimedRun:
    """One timed run."""

    way: Way
    drive: int
    """0 to 255."""
    kmh: float
    """Scale speed; 0 where the engine stood still."""
    timing: float
    """The share of the speed that hand timing leaves open, 0 where the engine stood still."""
    row: int = 0
    """By which the run is known to whoever wrote it down."""


def timed_run(
    way: Way, drive: int, *, metres: float, seconds: float | None, ratio: float, row: int = 0
) -> TimedRun:
    """Make a run of what was measured; 0 metres mean that the engine stood still at this drive.

    ValueError for a drive outside 0 to 255, for negative metres, or for a run without its seconds.
    """
    within(drive, range(FULL_DRIVE + 1), "drive")
    if metres == 0:
        return TimedRun(way=way, drive=drive, kmh=0.0, timing=0.0, row=row)
    if seconds is None:
        raise ValueError("a run over a distance needs its seconds")
    kmh = scale_kmh(metres, seconds, ratio)
    return TimedRun(way=way, drive=drive, kmh=kmh, timing=timing_error(seconds), row=row)

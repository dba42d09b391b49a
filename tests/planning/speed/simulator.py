"""A simulated decoder and motor, written for the tests, and a member who times it."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import exp
from random import Random

from rosterkit.planning.speed.timed_run import TimedRun, Way, timed_run

RATIO = 87.0
"""H0 (NEM 010, 2011)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Motor:
    """A motor with a dead band, that jumps when it starts, saturates, and runs unlike each way."""

    dead: Mapping[Way, int]
    top: Mapping[Way, float]
    """Scale km/h at full drive."""
    bend: float
    """0.01 is nearly straight; with 3 most of the speed is there at a third of the drive."""
    jump: float = 0.0
    """The share of the top speed with which it starts."""

    def kmh(self, drive: float, way: Way) -> float:
        share = (drive - self.dead[way]) / (255 - self.dead[way])
        if share <= 0:
            return 0.0
        rise = (1 - exp(-self.bend * share)) / (1 - exp(-self.bend))
        return self.top[way] * (self.jump + (1 - self.jump) * rise)


@dataclass(frozen=True, slots=True)
class Decoder:
    """CVs, read as NMRA S-9.2.2 (Jul 2012) has it: CV29 bit 4, CV67-94, CV66, CV95, CV2, CV6, CV5."""

    cvs: Mapping[int, int]

    def drive(self, step: int, way: Way) -> float:
        cv = self.cvs
        if cv[29] & 16:
            trim = cv.get(66 if way is Way.FORWARD else 95, 0) or 128
            return min(cv[66 + step] * trim / 128, 255.0)
        low, middle, high = cv[2], cv.get(6, 0), cv.get(5, 0)
        high = high if high > 1 else 255
        if middle <= 1:
            return low + (high - low) * (step - 1) / 27
        if step <= 14:
            return low + (middle - low) * (step - 1) / 13
        return middle + (high - middle) * (step - 14) / 14


def speeds(motor: Motor, cvs: Mapping[int, int], way: Way) -> list[float]:
    """Scale km/h at steps 1 to 28."""
    decoder = Decoder(cvs)
    return [motor.kmh(decoder.drive(step, way), way) for step in range(1, 29)]


def timed(
    motor: Motor,
    drives: Iterable[int],
    *,
    ways: Iterable[Way] = tuple(Way),
    noise: float = 0.0,
    repeats: int = 3,
    seed: int = 7,
) -> list[TimedRun]:
    """Time a motor by hand over a length that takes it about 12 seconds each."""
    random = Random(seed)  # noqa: S311 - noise, not a secret
    timed_runs: list[TimedRun] = []
    for way in ways:
        for drive in drives:
            for _ in range(repeats):
                kmh = motor.kmh(drive, way) * (1 + random.gauss(0, noise))
                metres = kmh / 3.6 / RATIO * 12
                row = len(timed_runs) + 2
                timed_runs.append(
                    timed_run(way, drive, metres=max(metres, 0), seconds=12.0, ratio=RATIO, row=row)
                )
    return timed_runs


DRIVES = (14, 18, 22, 26, 30, 34, 40, 50, 65, 80, 100, 125, 150, 180, 215, 255)


def both(forward: float, reverse: float) -> dict[Way, float]:
    return {Way.FORWARD: forward, Way.REVERSE: reverse}


def dead(forward: int, reverse: int) -> dict[Way, int]:
    return {Way.FORWARD: forward, Way.REVERSE: reverse}


CHARACTERS = {
    "an even runner": Motor(dead=dead(12, 12), top=both(150, 150), bend=0.01),
    "a fast one that saturates early": Motor(dead=dead(20, 22), top=both(240, 225), bend=3.0),
    "a stiff one, slower reverse": Motor(dead=dead(28, 32), top=both(130, 112), bend=1.0, jump=0.01),
    "one that runs better reverse": Motor(dead=dead(24, 18), top=both(140, 160), bend=1.8),
}

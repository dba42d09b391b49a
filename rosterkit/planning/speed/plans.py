"""A goal and measured engines, made into CVs for one engine or for several that run together."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from rosterkit.planning.speed.curve import Prediction
from rosterkit.planning.speed.engines import Measured
from rosterkit.planning.speed.monotone import Floats
from rosterkit.planning.speed.remarks import Doubt, Remark, remark_on
from rosterkit.planning.speed.tables import repeated_steps
from rosterkit.planning.speed.targets import Shape, target
from rosterkit.planning.speed.three_values import ThreeValues, three_values
from rosterkit.planning.speed.timing import is_unit_slip
from rosterkit.planning.speed.trims import Trimmed, trimmed_table
from rosterkit.standards.speed_curve import FULL_DRIVE

_SHORT_OF = 0.005
"""A top speed that is missed by less than this share is reached."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Goal:
    """What speeds are wanted; speeds in km/h."""

    top: float | None = None
    """None: as fast as the engines go together."""
    slowest: float | None = None
    """At step 1; None: as the shape has it."""
    shape: Shape = Shape.STRAIGHT
    points: Mapping[int, float] | None = None
    """Own points: km/h by step."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Member:
    """One of the engines that are to run alike; alone, the only one."""

    label: str
    measured: Measured
    has_table: bool = True
    """Whether a table is what it gets: its decoder takes one, and Speed curve is not 3-point."""

    @property
    def fastest(self) -> float:
        """The greatest speed in km/h that it reaches every way it was timed."""
        return min(curve.fastest for curve in self.measured.curves)


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """What one engine gets."""

    member: Member
    setting: Trimmed | ThreeValues
    worst: float
    """Greatest expected difference from the wanted speeds, as a share of the top speed."""
    loss: float
    """The share of its own fastest that it is held back to run with the others, or for its goal."""
    remarks: tuple[Remark, ...]

    @property
    def predictions(self) -> tuple[Prediction, ...]:
        """The expected speeds, a way each."""
        return self.setting.predictions


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class SpeedPlan:
    """What engines that run together get."""

    wanted: Floats
    """km/h at steps 1 to 28."""
    parts: tuple[Part, ...]
    mismatch: Floats
    """Difference between fastest and slowest at each step, as a share of the top speed."""
    remarks: tuple[Remark, ...]
    """What stands against the goal."""

    @property
    def top(self) -> float:
        """The wanted top speed in km/h."""
        return float(self.wanted[-1])


def plan(members: Sequence[Member], goal: Goal) -> SpeedPlan | None:
    """Make the CVs that bring engines to their common goal; None where no speed is left to want.

    Each engine gets a table with trims, or three values where its decoder has no table. Engines without a
    curve have to be left out beforehand; ValueError for them, and for own points that cannot be.
    """
    if not members or not all(member.measured.curves for member in members):
        raise ValueError("every engine needs a curve")
    fastest = min(member.fastest for member in members)
    top = fastest if goal.top is None else min(goal.top, fastest)
    starts = [curve.slowest for member in members for curve in member.measured.curves]
    slowest = max(*starts, goal.slowest or 0.0)
    if not slowest < top:
        return None
    wanted = target(goal.shape, top, slowest, goal.points)
    parts = tuple(_part(member, wanted) for member in members)
    speeds = np.array([each.kmh for part in parts for each in part.predictions])
    return SpeedPlan(
        wanted=wanted,
        parts=parts,
        mismatch=np.ptp(speeds, axis=0) / top,
        remarks=(*_slips(members), *_unreached(members, goal, fastest)),
    )


def _part(member: Member, wanted: Floats) -> Part:
    curves, top = member.measured.curves, float(wanted[-1])
    setting = trimmed_table(curves, wanted) if member.has_table else three_values(curves, wanted)
    return Part(
        member=member,
        setting=setting,
        worst=max(float(np.abs(each.off).max()) for each in setting.predictions) / top,
        loss=max(1 - top / member.fastest, 0.0),
        remarks=tuple(_remarks(setting)),
    )


def _remarks(setting: Trimmed | ThreeValues) -> Iterator[Remark]:
    for each in setting.predictions:
        if each.kmh[0] == 0:
            way = each.curve.way
            fix = f"Time three runs {way.adverb} below drive level {each.curve.start}."
            yield remark_on(way, Doubt.START_UNKNOWN, "it is not known to start at step 1", fix)
    if isinstance(setting, Trimmed) and (idle := repeated_steps(setting.table)):
        first, last = setting.table[0], setting.table[-1]
        are = "is" if idle == 1 else "are"
        yield Remark(
            doubt=Doubt.TOO_COARSE,
            message=f"its whole range of speeds lies between drive level {first} and {last}, so {idle} of 28 "
            f"steps {are} no faster than the one before",
            fix="Raise Top speed, or accept the idle steps.",
        )


def _unreached(members: Sequence[Member], goal: Goal, fastest: float) -> Iterator[Remark]:
    if goal.top is None or goal.top * (1 - _SHORT_OF) <= fastest:
        return
    curves = [(member, curve) for member in members for curve in member.measured.curves]
    member, slow = min(curves, key=lambda pair: pair[1].fastest)
    who = f"'{member.label}' {slow.way.adverb}" if len(members) > 1 else f"{slow.way.adverb}, it"
    share = 100 * (1 - fastest / goal.top)
    more = (
        f"Time three runs {slow.way.adverb} at drive level {FULL_DRIVE}; {slow.full} is the highest so far."
    )
    yield Remark(
        doubt=Doubt.TOP_UNREACHED,
        message=f"{who} was timed no faster than {share:.0f} % below the wanted top speed",
        fix=more if slow.full < FULL_DRIVE else "Want a lower top speed.",
        rows=slow.points[-1].rows,
    )


def _slips(members: Sequence[Member]) -> Iterator[Remark]:
    """Remark on engines whose fastest speeds are as km/h to mph: one of them may be timed in the other."""
    slow = min(members, key=lambda member: member.fastest)
    for member in members:
        if is_unit_slip(member.fastest, slow.fastest):
            yield Remark(
                doubt=Doubt.UNIT_SLIP,
                message=f"'{member.label}' is {member.fastest / slow.fastest:.2f} times as fast as "
                f"'{slow.label}': perhaps km/h taken for mph",
                fix=f"Check the unit in which the two were measured, or time '{slow.label}' again.",
            )

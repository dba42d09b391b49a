"""A roster's timed engines and their goals, made into plans: each engine alone, or with those that match."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from rosterkit.findings import Hit
from rosterkit.planning.speed.engines import measured
from rosterkit.planning.speed.plans import Goal, Member, Part, SpeedPlan, plan
from rosterkit.planning.speed.runs import kmh_per, timed_runs
from rosterkit.planning.speed.targets import Shape
from rosterkit.planning.speed.timed_run import TimedRun
from rosterkit.roster.model import Locomotive, Roster, SpeedGoal
from rosterkit.roster.schema import folded

_ALONE, _MATCHED = 0.02, 0.01
"""How good timing should be for an engine alone and for one that is to match another."""


_NO_SPEED_LEFT = (
    "no speed is left between the slowest at which all run and the fastest that is wanted",
    "Time it at lower drive levels, or want a higher top speed.",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class TimedEngine(Member):
    """An engine that was timed or has a goal."""

    engine: Locomotive
    goal: SpeedGoal | None
    timed_runs: Sequence[TimedRun]


@dataclass(frozen=True, slots=True, kw_only=True)
class SpeedGroup:
    """Engines that are to run alike; mostly a single one."""

    engines: tuple[TimedEngine, ...]
    """The one whose goal counts comes first."""
    plan: SpeedPlan | None
    hindrance: tuple[str, str] | None
    """Why there is no plan, and what to do; None where there is one."""

    @property
    def parts(self) -> Iterator[tuple[TimedEngine, Part]]:
        """The engines with what they get; those without a curve get nothing."""
        ready = (each for each in self.engines if each.measured.curves)
        return zip(ready, self.plan.parts, strict=True) if self.plan else iter(())


@dataclass(frozen=True, slots=True, kw_only=True)
class Speeds:
    """All that a roster's runs and goals come to."""

    engines: tuple[TimedEngine, ...]
    groups: tuple[SpeedGroup, ...]
    unusable: Sequence[Hit]


def speeds_of(roster: Roster) -> Speeds:
    """Plan the speeds of a roster's engines: those with a goal, and those that they match; only once."""
    if "speeds_of" not in roster.kept:
        roster.kept["speeds_of"] = _planned(roster)
    found: Speeds = roster.kept["speeds_of"]
    return found


def _planned(roster: Roster) -> Speeds:
    runs, unusable = timed_runs(roster)
    goals = {folded(goal.loco): goal for goal in reversed(roster.speed_goals) if goal.loco}
    matched = {folded(goal.match) for goal in goals.values() if goal.match}
    matched |= {label for label, goal in goals.items() if goal.match}
    engines = {folded(engine.loco): engine for engine in reversed(roster.engines) if engine.loco}
    timed = {}
    for label, engine in reversed(engines.items()):
        if label in runs or label in goals:
            kind = roster.decoders.get(folded(engine.decoder or ""))
            typed = engine.table.values["speed_curve"][engine.index]
            timed[label] = TimedEngine(
                label=engine.loco or "",
                engine=engine,
                goal=goals.get(label),
                timed_runs=runs.get(label, ()),
                measured=measured(runs.get(label, ()), wanted=_MATCHED if label in matched else _ALONE),
                has_table=typed != "3-point" and (kind is None or kind.speed_table != "no"),
            )
    groups = tuple(_group(roster, engines) for engines in _groups(timed, goals))
    return Speeds(engines=tuple(timed.values()), groups=groups, unusable=unusable)


def _groups(
    timed: Mapping[str, TimedEngine], goals: Mapping[str, SpeedGoal]
) -> list[tuple[TimedEngine, ...]]:
    """Put engines together that match, directly or through others; a goal that matches nobody leads."""
    leader = {label: label for label in timed}

    def led_by(label: str) -> str:
        while leader[label] != label:
            label = leader[label]
        return label

    for label, goal in goals.items():
        other = folded(goal.match or "")
        if label in leader and other in leader and led_by(label) != led_by(other):
            leader[led_by(label)] = led_by(other)
    together: dict[str, list[TimedEngine]] = {}
    for label, engine in timed.items():
        together.setdefault(led_by(label), []).append(engine)
    groups = [sorted(group, key=lambda each: each is not timed[lead]) for lead, group in together.items()]
    return [tuple(group) for group in groups if any(each.goal for each in group)]


def _group(roster: Roster, engines: tuple[TimedEngine, ...]) -> SpeedGroup:
    ready = [each for each in engines if each.measured.curves]
    found, hindrance = None, None
    if not ready:
        untimed = [f"'{each.label}'" for each in engines if not each.timed_runs]
        # A finding about one engine begins with its label already.
        of = f" of {', '.join(untimed)}" if len(engines) > 1 else ""
        lacking = f"there are no timed runs{of}" if untimed else "too few runs for a curve"
        hindrance = lacking, "Time it, and enter the runs in Speed runs."
    else:
        try:
            found = plan(ready, _goal_of(engines, roster))
        except ValueError as error:
            hindrance = str(error), "Correct Points."
        else:
            hindrance = None if found else _NO_SPEED_LEFT
    return SpeedGroup(engines=engines, plan=found, hindrance=hindrance)


def _goal_of(engines: Sequence[TimedEngine], roster: Roster) -> Goal:
    """Return the first one's goal with the others' limits; ValueError where own points cannot be read."""
    unit = kmh_per(roster.layout.speed_unit)
    goals = [each.goal for each in engines if each.goal is not None]
    lead = engines[0].goal
    tops = [goal.top * unit for goal in goals if goal.top is not None]
    slowest = [goal.slowest * unit for goal in goals if goal.slowest is not None]
    shape = Shape(lead.shape) if lead and lead.shape else Shape.STRAIGHT
    return Goal(
        top=min(tops, default=None),
        slowest=max(slowest, default=None),
        shape=shape,
        points=_points(lead.points if lead else None, unit) if shape is Shape.OWN else None,
    )


def _points(text: str | None, unit: float) -> dict[int, float]:
    if text is None:
        raise ValueError("Shape is own points, but Points is blank")
    pairs = (pair.split("=") for pair in text.replace(" =", "=").replace("= ", "=").replace(";", " ").split())
    return {int(step): float(speed.replace(",", ".")) * unit for step, speed in pairs}

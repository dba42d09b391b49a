"""What a plan wants to set in a workbook, and which of it a member's own entry stands in the way of."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from rosterkit.planning.speed.from_roster import TimedEngine
from rosterkit.planning.speed.plans import Part
from rosterkit.planning.speed.predictions import Prediction
from rosterkit.planning.speed.runs import millimetres_per
from rosterkit.planning.speed.stopping import cv4_for_metres, rolling_metres
from rosterkit.planning.speed.three_values import ThreeValues
from rosterkit.planning.speed.timed_run import Way
from rosterkit.planning.speed.trims import Trimmed
from rosterkit.roster.cell_values import Value
from rosterkit.roster.model import Layout, Roster, SpeedTable
from rosterkit.roster.schema import folded
from rosterkit.standards.momentum import momentum_value_for_seconds
from rosterkit.standards.scales import SCALES

_LONGEST_LABEL = 40
_ENDING = " timed"


@dataclass(frozen=True, slots=True, kw_only=True)
class SpeedSetting:
    """One value for an engine, beside what stands there."""

    column: str | None
    """The column of Locomotives; None for a row of Extra values."""
    cv: int | None
    value: str | int
    standing: Value | None
    """What stands there now."""
    recorded: Value | None
    """What an earlier run recorded that it wrote."""

    @property
    def done(self) -> bool:
        """Whether it stands there already."""
        return self.standing == self.value

    @property
    def free(self) -> bool:
        """Whether nothing stands there, or only what an earlier run wrote."""
        return self.standing is None or self.done or self.standing == self.recorded


@dataclass(frozen=True, slots=True, kw_only=True)
class TableSetting:
    """A speed table for an engine, beside the row of that label."""

    label: str
    values: tuple[int, ...]
    standing: SpeedTable | None
    written_sum: int | None
    """The sum of the values that an earlier run recorded that it wrote into that row."""

    @property
    def done(self) -> bool:
        """Whether the row holds these values."""
        return self.standing is not None and self.standing.steps == self.values

    @property
    def free(self) -> bool:
        """Whether there is no such row, or it is as an earlier run wrote it."""
        if self.standing is None or self.done:
            return True
        steps = self.standing.steps
        return None not in steps and sum(step or 0 for step in steps) == self.written_sum


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """All that an engine's plan wants to set."""

    table: TableSetting | None
    values: tuple[SpeedSetting, ...]
    cvs: Mapping[int, int]
    """CV2, 3, 4, 5, 6, 66 and 95 as far as the plan has them."""

    @property
    def kept(self) -> tuple[SpeedSetting, ...]:
        """What a member's own entry stands in the way of."""
        return tuple(each for each in self.values if not each.free)

    @property
    def done(self) -> bool:
        """Whether all that can be set stands there."""
        return (self.table is None or self.table.done or not self.table.free) and all(
            each.done or not each.free for each in self.values
        )


def settings_of(timed: TimedEngine, part: Part, roster: Roster) -> Settings:
    """Return what an engine's plan wants to set.

    A table of a label that a member's own table has is not set, nor is the engine made to refer to it.
    """
    cvs = dict(cvs_of(timed, part, roster.layout))
    table = _table(timed, part.setting, roster) if isinstance(part.setting, Trimmed) else None
    return Settings(table=table, values=tuple(_values(timed, cvs, table, roster)), cvs=cvs)


def cvs_of(timed: TimedEngine, part: Part, layout: Layout) -> Iterator[tuple[int, int]]:
    """Return the CVs of a plan beside the table: three values or trims, and momentum if asked for.

    CV3 and CV4 by NMRA S-9.2.2 (Jul 2012), CV3 and CV4.
    """
    setting, goal = part.setting, timed.goal
    if isinstance(setting, ThreeValues):
        yield from ((2, setting.cv2), (6, setting.cv6), (5, setting.cv5))
    else:
        trims = ((66, setting.forward), (95, setting.reverse))
        yield from ((cv, trim) for cv, trim in trims if trim is not None)
    if goal and goal.seconds is not None:
        yield 3, momentum_value_for_seconds(goal.seconds)
    if goal and goal.stops is not None:
        metres = goal.stops * millimetres_per(layout.length_unit) / 1000
        yield (
            4,
            min(cv4_for_metres(metres, each.kmh, SCALES[layout.scale].ratio) for each in part.predictions),
        )


def deceleration_of(timed: TimedEngine, part: Part, layout: Layout) -> int | None:
    """Return the CV4 that the engine will have: its goal's unless the member typed another.

    None if unknown.
    """
    wanted = dict(cvs_of(timed, part, layout)).get(4)
    typed = timed.engine.deceleration
    if wanted is None or typed is None or typed == recorded(timed, "cv4"):
        return typed if wanted is None else wanted
    return typed


def rolled(part: Part, cv4: int, layout: Layout, from_kmh: float | None = None) -> float:
    """Return how far an engine rolls from the top step, or from a speed, in the layout's length unit.

    The way that rolls further counts.
    """
    ratio = SCALES[layout.scale].ratio
    metres = max(_rolled(each, cv4, ratio, from_kmh) for each in part.predictions)
    return metres * 1000 / millimetres_per(layout.length_unit)


def _rolled(ahead: Prediction, cv4: int, ratio: float, from_kmh: float | None) -> float:
    start = None if from_kmh is None or from_kmh >= ahead.top else from_kmh
    return rolling_metres(cv4, ahead.kmh, ratio, from_kmh=start)


def recorded(timed: TimedEngine, column: str) -> Value | None:
    """Return what stands in a computed column of the engine's goal."""
    goal = timed.goal
    return None if goal is None else goal.table.values[column][goal.index]


def table_label(loco: str) -> str:
    """Return the label of the table that is made for an engine."""
    return f"{loco[: _LONGEST_LABEL - len(_ENDING)]}{_ENDING}"


def _table(timed: TimedEngine, setting: Trimmed, roster: Roster) -> TableSetting:
    label = table_label(timed.label)
    ours = recorded(timed, "table") == label
    total = recorded(timed, "table_sum")
    return TableSetting(
        label=label,
        values=setting.table,
        standing=roster.tables.get(folded(label)),
        written_sum=total if ours and isinstance(total, int) else None,
    )


_COLUMNS = {2: "vstart", 3: "acceleration", 4: "deceleration", 5: "vhigh", 6: "vmid"}


def _values(
    timed: TimedEngine, cvs: Mapping[int, int], table: TableSetting | None, roster: Roster
) -> Iterator[SpeedSetting]:
    for cv, value in cvs.items():
        column = _COLUMNS.get(cv)
        yield SpeedSetting(
            column=column,
            cv=cv,
            value=value,
            standing=_typed(timed, column) if column else _extra(timed, cv, roster),
            recorded=recorded(timed, f"cv{cv}"),
        )
    if table is not None and table.free:
        for name, text in (("speed_table", table.label), ("speed_curve", "table")):
            earlier = recorded(timed, "table") if name == "speed_table" else None
            yield SpeedSetting(
                column=name, cv=None, value=text, standing=_typed(timed, name), recorded=earlier
            )


def _typed(timed: TimedEngine, column: str) -> Value | None:
    engine = timed.engine
    return engine.table.values[column][engine.index]


def _extra(timed: TimedEngine, cv: int, roster: Roster) -> Value | None:
    rows = roster.extras_of.get(folded(timed.label), ())
    return next((row.value for row in rows if row.cv == cv), None)


def ways_of(predictions: Sequence[Prediction]) -> Mapping[Way, Prediction]:
    """Return predictions by the way they are for."""
    return {each.curve.way: each for each in predictions}

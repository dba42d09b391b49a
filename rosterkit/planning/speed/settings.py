"""What a plan wants to set in a workbook, and which of it a member's own entry stands in the way of."""

from collections.abc import Iterator
from dataclasses import dataclass

from rosterkit.cv.momentum import adjustment_value
from rosterkit.planning.speed.from_roster import TimedEngine
from rosterkit.planning.speed.plans import Part
from rosterkit.planning.speed.runs import MILLIMETRES
from rosterkit.planning.speed.stopping import cv4_for_metres, stopping_metres
from rosterkit.planning.speed.three_values import ThreeValues
from rosterkit.planning.speed.trims import Trimmed
from rosterkit.roster.cell_values import Value
from rosterkit.roster.model import Roster, SpeedTable
from rosterkit.roster.rows import Row
from rosterkit.roster.schema import folded
from rosterkit.standards.bounds import BYTE
from rosterkit.standards.momentum import adjusted_momentum, adjustment_of, momentum_value_for_seconds
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
    table = _table(timed, part.setting, roster) if isinstance(part.setting, Trimmed) else None
    return Settings(table=table, values=tuple(_values(timed, part, table, roster)))


def cvs_of(timed: TimedEngine, part: Part, roster: Roster) -> dict[int, int]:
    """Return the CVs of a plan beside the table: three values or trims, and momentum if asked for.

    CV3 and CV4 by NMRA S-9.2.2 (Jul 2012), CV3 and CV4, less what the engine's CV23 and CV24 add to them.
    """
    setting, goal = part.setting, timed.goal
    if isinstance(setting, ThreeValues):
        cvs = {2: setting.cv2, 6: setting.cv6, 5: setting.cv5}
    else:
        trims = {66: setting.forward, 95: setting.reverse}
        cvs = {cv: trim for cv, trim in trims.items() if trim is not None}
    if goal and goal.seconds is not None:
        cvs[3] = _before_adjustment(momentum_value_for_seconds(goal.seconds), timed.label, 3, roster)
    if goal and goal.stops is not None:
        cvs[4] = deceleration_within(part, goal.stops, roster)
    return cvs


def _before_adjustment(wanted: int, loco: str, cv: int, roster: Roster) -> int:
    adjustment = adjustment_of(adjustment_value(roster, loco, cv))
    return min(max(wanted - adjustment, BYTE[0]), BYTE[-1])


def deceleration_of(timed: TimedEngine, part: Part, roster: Roster) -> int | None:
    """Return the CV4 that the engine will have: its goal's, or what the member typed; None if unknown."""
    wanted, typed = cvs_of(timed, part, roster).get(4), timed.engine.deceleration
    if wanted is None or (typed is not None and typed != _recorded(timed, "cv4")):
        return typed
    return wanted


def stopping_distance_of(part: Part, cv4: int, roster: Roster) -> float:
    """Return an engine's stopping distance from the top step with CV4, in the layout's length unit.

    The way that runs on further counts, and what the engine's CV24 adds (NMRA S-9.2.2 (Jul 2012), CV24).
    """
    ratio = SCALES[roster.layout.scale].ratio
    in_force = adjusted_momentum(cv4, adjustment_value(roster, part.member.label, 4))
    metres = max(stopping_metres(in_force, each.kmh, ratio) for each in part.predictions)
    return metres * 1000 / MILLIMETRES[roster.layout.length_unit]


def deceleration_within(part: Part, distance: float, roster: Roster) -> int:
    """Return the highest CV4, 0 to 255, that stops an engine from its top step within a distance.

    In the layout's length unit, with what the engine's CV24 adds; 0 also where that alone is too much.
    """
    metres, ratio = (
        distance * MILLIMETRES[roster.layout.length_unit] / 1000,
        SCALES[roster.layout.scale].ratio,
    )
    most = min(cv4_for_metres(metres, each.kmh, ratio) for each in part.predictions)
    return _before_adjustment(most, part.member.label, 4, roster)


def table_label(loco: str) -> str:
    """Return the label of the table that is made for an engine."""
    return f"{loco[: _LONGEST_LABEL - len(_ENDING)]}{_ENDING}"


def _typed(row: Row, column: str) -> Value | None:
    """Return what stands in a column of a row, as it was typed."""
    return row.table.values[column][row.index]


def _recorded(timed: TimedEngine, column: str) -> Value | None:
    """Return what stands in a computed column of the engine's goal."""
    return None if timed.goal is None else _typed(timed.goal, column)


def _table(timed: TimedEngine, setting: Trimmed, roster: Roster) -> TableSetting:
    label = table_label(timed.label)
    total = _recorded(timed, "table_sum") if _recorded(timed, "table") == label else None
    return TableSetting(
        label=label,
        values=setting.table,
        standing=roster.tables.get(folded(label)),
        written_sum=total if isinstance(total, int) else None,
    )


_COLUMNS = {2: "vstart", 3: "acceleration", 4: "deceleration", 5: "vhigh", 6: "vmid"}


def _values(
    timed: TimedEngine, part: Part, table: TableSetting | None, roster: Roster
) -> Iterator[SpeedSetting]:
    extras = {row.cv: row.value for row in reversed(roster.extras_of.get(folded(timed.label), ()))}
    for cv, value in cvs_of(timed, part, roster).items():
        column = _COLUMNS.get(cv)
        yield SpeedSetting(
            column=column,
            cv=cv,
            value=value,
            standing=_typed(timed.engine, column) if column else extras.get(cv),
            recorded=_recorded(timed, f"cv{cv}"),
        )
    if table is not None and table.free:
        earlier = _recorded(timed, "table")
        for column, text, recorded in (("speed_table", table.label, earlier), ("speed_curve", "table", None)):
            standing = _typed(timed.engine, column)
            yield SpeedSetting(column=column, cv=None, value=text, standing=standing, recorded=recorded)

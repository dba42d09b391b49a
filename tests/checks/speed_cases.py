"""What the checks of timed runs and speed goals find.

CV3, CV4, CV66, CV95 and CV67-94: NMRA S-9.2.2 (Jul 2012). The band: NEM 661 (2011). How much of a speed a
stopwatch leaves open, and 3 % as what engines that run together may differ by: common practice, no source.
"""

from tests.checks.cases import Table
from tests.planning.speed.runs import GOOD, Curve, sheet_rows, timed_runs

_UNUSABLE = Table("run-unusable")
_STANDS_OUT = Table("run-stands-out")
_TOO_FEW = Table("runs-too-few")
_TOO_SHORT = Table("runs-too-short")
_FALLS = Table("speed-falls")
_UNREACHED = Table("goal-unreached")
_UNIT = Table("speed-unit-doubtful")
_DIFFER = Table("speeds-differ")
_BAND = Table("top-speed-outside-band")
_SIDING = Table("siding-too-short")
_IDLE = Table("steps-idle")
_IN_THE_WAY = Table("entry-in-the-way")
_NOT_APPLIED = Table("goal-not-applied")

_ENGINE = [{"Loco": "A", "Address": 12}]
_PAIR = [{"Loco": "A", "Address": 12}, {"Loco": "B", "Address": 13}]
_THREE_POINT = [{"Loco": "A", "Address": 12}, {"Loco": "B", "Address": 13, "Speed curve": "3-point"}]
_BENT: Curve = {12: 0.0, 15: 2.0, 30: 40.0, 60: 75.0, 110: 92.0, 170: 100.0, 220: 103.0, 255: 105.0}


def _runs(curve: Curve = GOOD, loco: str = "A", **more: object) -> list[dict[str, object]]:
    return sheet_rows(*timed_runs(loco, curve, **more))  # type: ignore[arg-type]


def _goal(loco: str = "A", **more: object) -> dict[str, object]:
    return {"Loco": loco} | {name.replace("_", " "): value for name, value in more.items()}


_CURVED = [{"Loco": "A", "Address": 12, "Vstart": 5, "Vmid": 60, "Vhigh": 200}]
_WITH_TABLE = [{"Loco": "A", "Address": 12, "Speed curve": "table", "Speed table": "Even"}]
_EVEN = {"Table": "Even"} | {str(step): 9 * step for step in range(1, 29)}
_STEP_7: list[dict[str, object]] = [{"Loco": "A", "Step": 7, "Distance": 900, "Time": 9}]
_LATE = dict(GOOD) | {170: 52.0}
_TIMED = _runs()
_ODD = [*_TIMED[:5], _TIMED[5] | {"Time": 7.5}, *_TIMED[5:]]

CASES = (
    _UNUSABLE.line("whole runs", _ENGINE, runs=_TIMED),
    _UNUSABLE.line("a step in place of a drive, by the engine's three points", _CURVED, runs=_STEP_7),
    _UNUSABLE.line(
        "a step in place of a drive where Vmid is not known",
        [{**_CURVED[0], "Vmid": ""}],
        [("B2", "warning")],
        runs=_STEP_7,
    ),
    _UNUSABLE.line("a step of an engine without a curve", _ENGINE, [("B2", "warning")], runs=_STEP_7),
    _UNUSABLE.line("a step of no engine", _PAIR[1:], [("B2", "warning")], runs=_STEP_7),
    _UNUSABLE.line("a step by a speed table", _WITH_TABLE, tables=[_EVEN], runs=_STEP_7),
    _UNUSABLE.line(
        "a step of 128 by a speed table",
        _WITH_TABLE,
        [("B2", "warning")],
        tables=[_EVEN],
        runs=[_STEP_7[0] | {"Steps": "128"}],
    ),
    _UNUSABLE.line(
        "a step by a speed table that there is not", _WITH_TABLE, [("B2", "warning")], runs=_STEP_7
    ),
    _UNUSABLE.line(
        "a step where 'rosterkit speed' set the points later",
        _CURVED,
        [("B2", "warning")],
        runs=_STEP_7,
        goals=[{"Loco": "A", "CV2": 5, "CV6": 60, "CV5": 200}],
    ),
    _UNUSABLE.line(
        "standing still needs no time", _ENGINE, runs=[{"Loco": "A", "Drive level": 7, "Distance": 0}]
    ),
    _UNUSABLE.line(
        "a distance without time",
        _ENGINE,
        [("D2", "warning")],
        runs=[{"Loco": "A", "Drive level": 7, "Distance": 900, "Time": ""}],
    ),
    _UNUSABLE.line(
        "no drive and no step",
        _ENGINE,
        [("D2", "warning")],
        runs=[{"Loco": "A", "Distance": 900, "Time": 9, "Drive level": ""}],
    ),
    _UNUSABLE.line(
        "step 29 of 28",
        _CURVED,
        [("B2", "warning")],
        runs=[{"Loco": "A", "Step": 29, "Distance": 900, "Time": 9}],
    ),
    _STANDS_OUT.line("runs that agree", _ENGINE, runs=_TIMED),
    _STANDS_OUT.line("one of three", _ENGINE, [("E7", "warning")], runs=_ODD),
    _TOO_FEW.line("enough", _ENGINE, runs=_TIMED),
    _TOO_FEW.line(
        "two drives each way",
        _ENGINE,
        [("A2", "warning"), ("A2", "warning")],
        runs=_runs({60: 31.0, 110: 60.0}),
    ),
    _TOO_FEW.line("one way only", _ENGINE, [("A2", "note")], runs=_runs(ways=("forward",))),
    _TOO_SHORT.line("12 seconds", _ENGINE, runs=_TIMED),
    _TOO_SHORT.line("3 seconds", _ENGINE, [("E3", "note")], runs=_runs(seconds=3.0)),
    _FALLS.line("a rising curve", _ENGINE, runs=_TIMED),
    _FALLS.line(
        "slower at 170 than at 110",
        _ENGINE,
        [("E9", "warning"), ("E24", "warning")],
        runs=_runs(_LATE),
    ),
    _UNREACHED.line("a speed that it was seen to run", _ENGINE, runs=_TIMED, goals=[_goal(Top_speed=100)]),
    _UNREACHED.line("no goal", _ENGINE, runs=_TIMED),
    _UNREACHED.line(
        "faster than it was seen to run",
        _ENGINE,
        [("B2", "warning")],
        runs=_TIMED,
        goals=[_goal(Top_speed=140)],
    ),
    _UNREACHED.line(
        "a goal of an engine that was not timed", _ENGINE, [("A2", "warning")], goals=[_goal(Top_speed=90)]
    ),
    _UNREACHED.line(
        "slower than it starts", _ENGINE, [("A2", "warning")], runs=_TIMED, goals=[_goal(Top_speed=1.5)]
    ),
    _UNREACHED.line(
        "own points without points",
        _ENGINE,
        [("A2", "warning")],
        runs=_TIMED,
        goals=[_goal(Shape="own points")],
    ),
    _UNREACHED.line(
        "own points that fall",
        _ENGINE,
        [("A2", "warning")],
        runs=_TIMED,
        goals=[_goal(Shape="own points", Points="7=40 14=30")],
    ),
    _UNREACHED.line(
        "a match with nobody", _ENGINE, [("B2", "warning")], runs=_TIMED, goals=[_goal(Match="C")]
    ),
    _UNIT.line("a pair alike", _PAIR, runs=[*_TIMED, *_runs(loco="B")], goals=[_goal("B", Match="A")]),
    _UNIT.line(
        "a pair 1.609 apart",
        _PAIR,
        [("A2", "warning")],
        runs=[*_TIMED, *_runs(loco="B", factor=1.609)],
        goals=[_goal("B", Match="A")],
    ),
    _DIFFER.line(
        "a pair by tables", _PAIR, runs=[*_TIMED, *_runs(_BENT, "B")], goals=[_goal("B", Match="A")]
    ),
    _DIFFER.line("one alone", _THREE_POINT, runs=_runs(_BENT, "B"), goals=[_goal("B")]),
    _DIFFER.line(
        "three values for a bent curve",
        _THREE_POINT,
        [("B2", "warning")],
        runs=[*_TIMED, *_runs(_BENT, "B")],
        goals=[_goal("B", Match="A")],
    ),
    _BAND.line("within the band", _ENGINE, runs=_TIMED, goals=[_goal(Top_speed=100, Prototype_speed=80)]),
    _BAND.line("no prototype's speed", _ENGINE, runs=_TIMED, goals=[_goal(Top_speed=100)]),
    _BAND.line(
        "a scale without a band",
        _ENGINE,
        runs=_TIMED,
        goals=[_goal(Prototype_speed=20)],
        layout={"Scale": "OO"},
    ),
    _BAND.line(
        "in scale 1, whose band has no width, up to 5 % above",
        _ENGINE,
        runs=_TIMED,
        goals=[_goal(Top_speed=36, Prototype_speed=34.4)],
        layout={"Scale": "1"},
    ),
    _BAND.line(
        "in scale 1 more than 5 % above",
        _ENGINE,
        [("B2", "note")],
        runs=_TIMED,
        goals=[_goal(Top_speed=36, Prototype_speed=33)],
        layout={"Scale": "1"},
    ),
    _BAND.line(
        "above it", _ENGINE, [("B2", "note")], runs=_TIMED, goals=[_goal(Top_speed=100, Prototype_speed=60)]
    ),
    _BAND.line(
        "below it", _ENGINE, [("B2", "note")], runs=_TIMED, goals=[_goal(Top_speed=100, Prototype_speed=120)]
    ),
    _SIDING.line(
        "long enough",
        [{"Loco": "A", "Address": 12, "Deceleration": 5}],
        runs=_TIMED,
        goals=[_goal(Top_speed=100, Siding=900)],
    ),
    _SIDING.line("no braking known", _ENGINE, runs=_TIMED, goals=[_goal(Top_speed=100, Siding=100)]),
    _SIDING.line(
        "too short",
        [{"Loco": "A", "Address": 12, "Deceleration": 5}],
        [("C2", "warning")],
        runs=_TIMED,
        goals=[_goal(Top_speed=100, Siding=600)],
    ),
    _SIDING.line(
        "too short for what Stops within comes to",
        _ENGINE,
        [("D2", "warning")],
        runs=_TIMED,
        goals=[_goal(Top_speed=100, Stops_within=900, Siding=600)],
    ),
    _SIDING.line(
        "too short with what CV24 adds",
        [{"Loco": "A", "Address": 12, "Deceleration": 5}],
        [("C2", "warning")],
        runs=_TIMED,
        goals=[_goal(Top_speed=100, Siding=900)],
        extras=[{"Loco": "A", "CV": 24, "Value": 2}],
    ),
    _IDLE.line("room for 28 steps", _ENGINE, runs=_TIMED, goals=[_goal(Top_speed=100)]),
    _IDLE.line("few drives", _ENGINE, [("A2", "note")], runs=_TIMED, goals=[_goal(Top_speed=12)]),
    _IN_THE_WAY.line("nothing typed", _ENGINE, runs=_TIMED, goals=[_goal(Seconds_to_top=9)]),
    _IN_THE_WAY.line(
        "the very value typed",
        [{"Loco": "A", "Address": 12, "Acceleration": 10}],
        runs=_TIMED,
        goals=[_goal(Seconds_to_top=9)],
    ),
    _IN_THE_WAY.line(
        "another value typed",
        [{"Loco": "A", "Address": 12, "Acceleration": 3}],
        [("C2", "warning")],
        runs=_TIMED,
        goals=[_goal(Seconds_to_top=9)],
    ),
    _IN_THE_WAY.line(
        "a value that an earlier run wrote",
        [{"Loco": "A", "Address": 12, "Acceleration": 3}],
        runs=_TIMED,
        goals=[_goal(Seconds_to_top=9, CV3=3)],
    ),
    _IN_THE_WAY.line(
        "a table of its label",
        _ENGINE,
        [("A2", "warning")],
        runs=_TIMED,
        goals=[_goal(Top_speed=100)],
        tables=[{"Table": "A timed"} | {str(step): step for step in range(1, 29)}],
    ),
    _NOT_APPLIED.line("no goal", _ENGINE, runs=_TIMED),
    _NOT_APPLIED.line(
        "before the first run of speed", _ENGINE, [("A2", "note")], runs=_TIMED, goals=[_goal(Top_speed=100)]
    ),
)

"""What the command speed came to, as text and as JSON: the same figures in both."""

import textwrap
from collections.abc import Callable, Iterator, Mapping
from dataclasses import asdict

from rosterkit.checks.report import check_text, finding_record
from rosterkit.checks.result import CheckReport
from rosterkit.commands.speed.figures import (
    SHOWN_STEPS,
    EngineFigures,
    SpeedReport,
    StepFigures,
    Sure,
    TimedPoint,
)
from rosterkit.formats import as_json
from rosterkit.planning.speed.timed_run import Way
from rosterkit.printable import printable

_WIDTH = 100


def speed_text(report: SpeedReport) -> str:
    """Return a block per engine, then the findings."""
    blocks = ["\n".join(_engine(each, report)) for each in report.engines]
    workbooks = [(report.workbook, len(report.engines))]
    found = CheckReport(version=report.version, workbooks=workbooks, findings=report.findings)
    return "\n\n".join([*blocks, check_text(found)])


def _engine(figures: EngineFigures, report: SpeedReport) -> Iterator[str]:
    yield printable(f"{figures.loco}: {headline(figures, report.unit)}")
    for line in details(figures, report.length_unit):
        yield f"  {printable(line)}"
    if figures.entries:
        entries = " ".join(str(entry) for entry in figures.entries)
        yield textwrap.fill(entries, _WIDTH, initial_indent="  CV67-94: ", subsequent_indent=" " * 11)
    if figures.steps:
        yield from _steps(figures)
    yield from (f"  next: {printable(sentence)}" for sentence in figures.next)


def headline(figures: EngineFigures, unit: str) -> str:
    """Say in one line what an engine will run like, or that nothing could be planned."""
    if figures.reached is None:
        count = len(figures.points)
        return f"timed at {count} point{'s' if count > 1 else ''}" if count else "not timed"
    reached = figures.reached
    return (
        f"{figures.shape}, {reached.speed} {unit} at the top step (±{reached.within}), "
        f"within {figures.worst} % of the goal at every step"
    )


def details(figures: EngineFigures, length_unit: str) -> Iterator[str]:
    """Say what is keyed in beside the table, what it matches, and its stopping distance."""
    cvs = ", ".join(f"CV{cv} = {value}" for cv, value in figures.cvs.items())
    named = f"table '{figures.table}'" if figures.table else ""
    if named or cvs:
        yield ", ".join(part for part in (named, cvs) if part)
    if figures.matches and figures.mismatch:
        others = ", ".join(figures.matches)
        # The first step shows who starts first, not how they run.
        worst = max(figures.mismatch[1:])
        yield (
            f"runs like {others}: they differ by {worst} % of the top speed at most, "
            f"by {figures.mismatch[0]} % at step 1; held {figures.loss} % below its own top speed to match"
        )
    if figures.stopping_distance is not None:
        yield f"stopping distance {figures.stopping_distance:g} {length_unit} from the top step"


def _steps(figures: EngineFigures) -> Iterator[str]:
    ways = list(figures.steps[0].expected)
    yield "  step  drive  wanted" + "".join(f"  {way.value:>8}      ±" for way in ways)
    for each in figures.steps:
        if each.step in SHOWN_STEPS:
            expected = "".join(
                f"  {each.expected[way].speed:8.1f}  {each.expected[way].within:5.1f}" for way in ways
            )
            yield f"  {each.step:4}  {each.drive:5g}  {each.wanted:6.1f}{expected}"


def speed_json(report: SpeedReport) -> str:
    """Return one object with units, engines and findings (schema/outputs/speed.json)."""
    return as_json(
        {
            "rosterkit": report.version,
            "workbook": report.workbook,
            "speed_unit": report.unit,
            "length_unit": report.length_unit,
            "engines": [_record(each) for each in report.engines],
            "findings": [finding_record(finding) for finding in report.findings],
        }
    )


def _record(figures: EngineFigures) -> dict[str, object]:
    return {
        "loco": figures.loco,
        "shape": figures.shape,
        "matches": list(figures.matches),
        "table": figures.table,
        "entries": list(figures.entries),
        "cvs": {str(cv): value for cv, value in figures.cvs.items()},
        "reached": _pair(figures.reached),
        "worst_error_percent": figures.worst,
        "loss_percent": figures.loss,
        "mismatch_percent": list(figures.mismatch),
        "stopping_distance": figures.stopping_distance,
        "steps": [_step(each) for each in figures.steps],
        "points": [_point(each) for each in figures.points],
        "next": list(figures.next),
    }


def _pair(sure: Sure | None) -> dict[str, float] | None:
    return None if sure is None else asdict(sure)


def _step(each: StepFigures) -> dict[str, object]:
    ways = {way.value: _pair(each.expected.get(way)) for way in Way}
    return {"step": each.step, "drive": each.drive, "wanted": each.wanted, **ways}


def _point(each: TimedPoint) -> dict[str, object]:
    return {"way": each.way.value, "drive": each.drive, **asdict(each.speed), "runs": each.timed_runs}


SPEED_FORMATS: Mapping[str, Callable[[SpeedReport], str]] = {"text": speed_text, "json": speed_json}

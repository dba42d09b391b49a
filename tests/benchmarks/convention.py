"""Print how long a convention takes: hundreds of workbooks read, compared and planned.

Run ``python -m tests.benchmarks.convention [WORKBOOKS [ENGINES]]``; without arguments 500 of 60 engines.
"""

import resource
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

from python_calamine import CalamineWorkbook

from rosterkit.__main__ import raise_gc_threshold
from rosterkit.checks import findings_across
from rosterkit.checks.framework import scope_of
from rosterkit.commands.meet.attendance import attendance_of
from rosterkit.commands.meet.command import make_meet_workbook
from rosterkit.commands.meet.workbook import Registered, coming, enrolled, registered
from rosterkit.parallel import map_parallel
from rosterkit.planning.addresses import plan_moves
from rosterkit.roster.load import roster_at
from tests.benchmarks.conventions import write_convention

Result = TypeVar("Result")


def main(arguments: list[str]) -> None:
    """Measure and print."""
    raise_gc_threshold()
    workbooks, engines = (*[int(argument) for argument in arguments], 500, 60)[:2]
    with tempfile.TemporaryDirectory() as folder:
        paths = write_convention(Path(folder), workbooks, engines)
        print(f"{workbooks} workbooks of {engines} engines")
        print("| what | seconds | in terms of |")
        print("|---|---|---|")
        _measure(paths, Path(folder) / "MEET.xlsx")
    own, others = (resource.getrusage(who).ru_maxrss / 1024 for who in _WHOSE)
    print(f"peak memory: {own:.0f} MiB, and {others:.0f} MiB in the largest of the reading processes")


_WHOSE = (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)


def _measure(paths: list[Path], out: Path) -> None:
    bare, _ = _timed(lambda: _bare(paths))
    _line("bare calamine reads, one process", bare, "")
    reading, _ = _timed(lambda: map_parallel(_read, paths, processes=2))
    _line("read every cell of each, two processes", reading, f"{reading / bare:.2f} x bare reads")
    checking, results = _timed(lambda: map_parallel(registered, paths, processes=2))
    _line("read and check each, two processes", checking, f"{checking / bare:.2f} x bare reads")
    rosters = [enrolled(result) for result in results if isinstance(result, Registered)]
    across, _ = _timed(lambda: findings_across(scope_of(rosters, meet=True)))
    _line("check them against each other", across, "")
    attendance = attendance_of(rosters)
    planning, plan = _timed(
        lambda: plan_moves(attendance.engines, attendance.consists, attendance.rules_by_layout)
    )
    moves = f"{len(plan.clashes):,} clashes, {plan.cost.moved:,} engines moved"
    _line("plan", planning, moves)
    whole, _ = _timed(lambda: make_meet_workbook(paths, out, processes=2))
    _line("all of it, with the meet workbook", whole, f"the plan is {planning / whole:.0%} of it")


def _read(path: Path) -> Registered:
    return coming(roster_at(path), ())


def _bare(paths: list[Path]) -> None:
    for path in paths:
        book = CalamineWorkbook.from_path(str(path))
        for name in book.sheet_names:
            book.get_sheet_by_name(name).to_python()


def _timed(work: Callable[[], Result]) -> tuple[float, Result]:
    began = time.perf_counter()
    result = work()
    return time.perf_counter() - began, result


def _line(what: str, seconds: float, ratio: str) -> None:
    print(f"| {what} | {seconds:.2f} | {ratio} |", flush=True)


if __name__ == "__main__":
    main(sys.argv[1:])

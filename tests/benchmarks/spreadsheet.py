"""Print what formulas cost: time in LibreOffice, size of the file, and fill beside fill --values.

Run ``python -m tests.benchmarks.spreadsheet [ENGINES...]``; without arguments 100, 1,000 and 2,000.
"""

import statistics
import sys
import tempfile
import time
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from rosterkit.roster.schema import sheet
from tests.benchmarks.measuring import Measured, measured
from tests.benchmarks.rosters import write_club
from tests.live.club import letters
from tests.live.uno_session import Office

ENGINES = (100, 1_000, 2_000)
_RUNS = 3
_FOUND = (0, 1)
"""Exit statuses of a run that did its work."""


@dataclass(frozen=True, slots=True, kw_only=True)
class InLibreOffice:
    """Seconds as a member waits them: the median of several runs."""

    open: float
    typed: float
    """An address that is typed, until all is calculated that hangs on it."""
    all: float
    """Every formula calculated."""


def main(arguments: list[str]) -> None:
    """Measure and print."""
    print("| engines | what | with formulas | values only | ratio |")
    print("|---|---|---|---|---|", flush=True)
    with tempfile.TemporaryDirectory() as folder, Office(Path(folder) / "profile", seconds=600) as office:
        for engines in [int(argument) for argument in arguments] or ENGINES:
            _measure(Path(folder), office, engines)


def _measure(folder: Path, office: Office, engines: int) -> None:
    club = folder / f"club_{engines}.xlsx"
    write_club(club, engines)
    live, values = folder / "live.xlsx", folder / "values.xlsx"
    filled = _fill(club, live), _fill(club, values, "--values")
    _line(engines, "rosterkit fill, s", filled[0].seconds, filled[1].seconds)
    # Most runs of fill are on a workbook that was filled before.
    again = _fill(live, folder / "again.xlsx"), _fill(values, folder / "again_values.xlsx", "--values")
    _line(engines, "rosterkit fill once more, s", again[0].seconds, again[1].seconds)
    _line(engines, "size of the file, KiB", *(path.stat().st_size / 1024 for path in (live, values)))
    with_formulas, without = _opened(office, live, engines), _opened(office, values, engines)
    _line(engines, "LibreOffice opens it, s", with_formulas.open, without.open)
    _line(engines, "one address typed, s", with_formulas.typed, without.typed)
    _line(engines, "all calculated, s", with_formulas.all, without.all)


def _fill(source: Path, out: Path, *options: str) -> Measured:
    command = [sys.executable, "-m", "rosterkit", "fill", str(source), "-o", str(out), *options]
    runs = []
    for _ in range(_RUNS):
        out.unlink(missing_ok=True)
        runs.append(measured(command, runs=1, allowed=_FOUND))
    return min(runs, key=lambda one: one.seconds)


def _opened(office: Office, path: Path, engines: int) -> InLibreOffice:
    opening = _median(lambda: office.open(path))
    book = office.open(path)
    names = [column.name for column in sheet("Locomotives").filled_by_members]
    column = letters(names.index("address"))
    typed = []
    for run in range(_RUNS):
        # The first is taken by the second engine, and every time another one.
        book.enter("Locomotives", f"{column}{engines // 2 + run}", str(2 + run))
        typed.append(office.seconds)
    every = _median(lambda: book.calculate(everything=True))
    book.close()
    return InLibreOffice(open=opening, typed=statistics.median(typed), all=every)


def _median(work: Callable[[], object]) -> float:
    seconds = []
    for _ in range(_RUNS):
        began = time.perf_counter()
        work()
        seconds.append(time.perf_counter() - began)
    return statistics.median(seconds)


def _line(engines: int, what: str, with_formulas: float, without: float) -> None:
    ratio = f"{with_formulas / without:.2f} x" if without else ""
    print(f"| {engines:,} | {what} | {with_formulas:.2f} | {without:.2f} | {ratio} |", flush=True)


if __name__ == "__main__":
    main(sys.argv[1:])

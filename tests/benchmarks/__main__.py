"""Print how long check and fill take beside openpyxl and a bare calamine read of the same workbook.

Run ``python -m tests.benchmarks [ROWS...]``; without arguments 100, 1,000, 10,000 and 100,000 rows.
"""

import shutil
import sys
import tempfile
from pathlib import Path

from tests.benchmarks.measuring import Measured, measured, python
from tests.benchmarks.rosters import write_roster, write_timed

ROWS = (100, 1_000, 10_000, 100_000)
_LOAD = "import sys, openpyxl; openpyxl.load_workbook(sys.argv[1])"
_SAVE = "import sys, openpyxl; openpyxl.load_workbook(sys.argv[1]).save(sys.argv[2])"
_CALAMINE = (
    "import sys, python_calamine as c; book = c.CalamineWorkbook.from_path(sys.argv[1]); "
    "[book.get_sheet_by_name(name).to_python() for name in book.sheet_names]"
)
_FOUND = (0, 1)
"""Exit statuses of a run that did its work."""


def main(arguments: list[str]) -> None:
    """Measure and print."""
    print("| rows | what | seconds | MiB | in terms of |")
    print("|---|---|---|---|---|")
    with tempfile.TemporaryDirectory() as folder:
        for rows in [int(argument) for argument in arguments] or ROWS:
            _size(Path(folder), rows)
        _timed(Path(folder))
        _start_up()
        _club(Path(folder))


def _size(folder: Path, rows: int) -> None:
    runs = 5 if rows <= 1_000 else 3 if rows <= 10_000 else 1
    book = folder / f"roster_{rows}.xlsx"
    write_roster(book, rows)
    calamine = measured(python(_CALAMINE, str(book)), runs=runs)
    load = measured(python(_LOAD, str(book)), runs=runs)
    save = measured(python(_SAVE, str(book), str(folder / "saved.xlsx")), runs=runs)
    check = measured([sys.executable, "-m", "rosterkit", "check", str(book)], runs=runs, allowed=_FOUND)
    out = folder / "filled.xlsx"
    fill = measured(
        [sys.executable, "-m", "rosterkit", "fill", str(book), "-o", str(out)], runs=runs, allowed=_FOUND
    )
    _line(rows, "calamine, bare read", calamine, "")
    _line(rows, "openpyxl, load", load, "")
    _line(rows, "openpyxl, load and save", save, "")
    to_load, to_calamine = check.seconds / load.seconds, check.seconds / calamine.seconds
    ratios = f"{to_load:.2f} x openpyxl load, {to_calamine:.2f} x calamine"
    _line(rows, "rosterkit check", check, ratios)
    _line(rows, "rosterkit fill", fill, f"{fill.seconds / save.seconds:.2f} x openpyxl load and save")
    for path in (book, out, folder / "saved.xlsx"):
        path.unlink(missing_ok=True)


def _timed(folder: Path, engines: int = 1_000) -> None:
    """Measure check and speed on the same timed engines; check without the runs stands beside them."""
    book, bare, out = folder / "timed.xlsx", folder / "bare.xlsx", folder / "out.xlsx"
    write_timed(book, engines)
    write_timed(bare, engines, runs=False)
    command = [sys.executable, "-m", "rosterkit"]
    untimed = measured([*command, "check", str(bare)], runs=3, allowed=_FOUND)
    check = measured([*command, "check", str(book)], runs=3, allowed=_FOUND)
    speed = measured([*command, "speed", str(book), "-o", str(out)], runs=3, allowed=_FOUND)
    if not out.exists():
        raise RuntimeError("speed wrote no workbook")
    _line(engines, "rosterkit check, no timed runs", untimed, "")
    _line(engines, "rosterkit check, timed runs", check, f"{check.seconds / untimed.seconds:.2f} x without")
    _line(engines, "rosterkit speed", speed, f"{speed.seconds / check.seconds:.2f} x check")


def _start_up() -> None:
    typer = measured(python("import typer"), runs=7)
    shown = measured([sys.executable, "-m", "rosterkit", "--help"], runs=7)
    _line(0, "python, import typer", typer, "")
    _line(0, "rosterkit --help", shown, f"{shown.seconds / typer.seconds:.2f} x import typer")


def _club(folder: Path) -> None:
    book = folder / "club.xlsx"
    write_roster(book, 60)
    openpyxl = measured(python("import openpyxl"), runs=7)
    check = measured([sys.executable, "-m", "rosterkit", "check", str(book)], runs=7, allowed=_FOUND)
    _line(60, "python, import openpyxl", openpyxl, "")
    _line(60, "rosterkit check", check, f"{check.seconds / openpyxl.seconds:.2f} x import openpyxl")
    shutil.rmtree(folder, ignore_errors=True)


def _line(rows: int, what: str, result: Measured, ratio: str) -> None:
    print(f"| {rows:,} | {what} | {result.seconds:.2f} | {result.mebibytes:.0f} | {ratio} |", flush=True)


if __name__ == "__main__":
    main(sys.argv[1:])

"""Print how long it takes to merge copies that came home, beside what a user would write instead.

Run ``python -m tests.benchmarks.merging [COPIES [ENGINES]]``; without arguments 20 copies of 1,000 engines.
"""

import random
import shutil
import sys
import tempfile
from pathlib import Path

import openpyxl

from tests.benchmarks.measuring import Measured, measured, python
from tests.benchmarks.rosters import write_roster

_CHANGED = 30
"""Cells that each copy changed; about one in ten of them another copy changed too."""
_PANDAS = """
import sys, pandas as pd
def read(path):
    return pd.read_excel(path, sheet_name="Locomotives", engine="calamine").set_index("Loco")
base, *copies = map(read, sys.argv[2:])
merged, seen = base.astype(object), {}
for copy in copies:
    both = base.index.intersection(copy.index)
    old, new = base.loc[both].astype(object), copy.loc[both, base.columns].astype(object)
    for row, column in (old.ne(new) & ~(old.isna() & new.isna())).stack().loc[lambda one: one].index:
        seen.setdefault((row, column), set()).add(new.at[row, column])
    merged = pd.concat([merged, copy.loc[copy.index.difference(base.index)]])
for (row, column), values in seen.items():
    if len(values) == 1:
        merged.at[row, column] = values.pop()
merged.to_excel(sys.argv[1])
"""
_OPENPYXL = """
import sys, openpyxl
base = openpyxl.load_workbook(sys.argv[2])
page, seen = base["Locomotives"], {}
for path in sys.argv[3:]:
    for row in openpyxl.load_workbook(path)["Locomotives"].iter_rows():
        for cell in row:
            if cell.value != page[cell.coordinate].value:
                seen.setdefault(cell.coordinate, set()).add(cell.value)
for place, values in seen.items():
    if len(values) == 1:
        page[place].value = values.pop()
base.save(sys.argv[1])
"""
_FOUND = (0, 1)
"""Exit statuses of a run that did its work."""


def write_copies(folder: Path, copies: int, engines: int) -> tuple[Path, list[Path]]:
    """Write a roster, and copies of it in each of which cells were changed and one engine was added."""
    chance = random.Random(2026)  # noqa: S311 - the same workbooks at every run
    base = folder / "base.xlsx"
    write_roster(base, engines)
    book = openpyxl.load_workbook(base)
    page = book["Locomotives"]
    columns = {cell.value: place for place, cell in enumerate(page[1], 1)}
    paths = []
    for number in range(copies):
        path = folder / f"copy_{number:02}.xlsx"
        before: dict[str, object] = {}
        for turn in range(_CHANGED):
            rows = range(2, 12) if turn < 3 else range(12, engines + 2)
            cell = page.cell(chance.choice(rows), columns[chance.choice(("Notes", "Deceleration"))])
            before.setdefault(cell.coordinate, cell.value)
            cell.value = chance.randrange(255)
        page.cell(engines + 2, columns["Loco"]).value = f"New {number}"
        page.cell(engines + 2, columns["Address"]).value = 9000 + number
        book.save(path)
        for place, value in before.items():
            page[place].value = value
        page.delete_rows(engines + 2)
        paths.append(path)
    return base, paths


def main(arguments: list[str]) -> None:
    """Measure and print."""
    given = [int(argument) for argument in arguments]
    copies, engines = (*given, *(20, 1_000)[len(given) :])
    folder = Path(tempfile.mkdtemp())
    try:
        base, paths = write_copies(folder, copies, engines)
        print(f"{copies} copies of {engines:,} engines")
        print("| what | seconds | MiB in the largest process |")
        print("|---|---|---|")
        files, out = [str(base), *map(str, paths)], str(folder / "out.xlsx")
        merge = ["merge", "--force", "--base", *files, "-o", out]
        _line(
            "rosterkit merge", measured([sys.executable, "-m", "rosterkit", *merge], runs=3, allowed=_FOUND)
        )
        _line("pandas, by Loco, no rows removed, no looks", measured(python(_PANDAS, out, *files), runs=3))
        _line("openpyxl, cell by cell, in one order", measured(python(_OPENPYXL, out, *files), runs=1))
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def _line(what: str, result: Measured) -> None:
    print(f"| {what} | {result.seconds:.2f} | {result.mebibytes:.0f} |", flush=True)


if __name__ == "__main__":
    main(sys.argv[1:])

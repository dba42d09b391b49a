"""Damaged workbooks: each edit is refused in a sentence, or is made so that nothing is left to do."""

import subprocess
import sys
from pathlib import Path

import pytest

pytestmark = pytest.mark.slow

EDIT = """
import resource, sys, warnings
from pathlib import Path
from rosterkit.errors import CannotRunError
from rosterkit.xlsx.changes import CellChange, Highlight, CellStyle, SheetChange, WorkbookChange
from rosterkit.xlsx.save.edit import edited
from rosterkit.xlsx.package.opening import opened
from tests.fuzz.cases import Case
from tests.xlsx.clubs import FINDINGS

resource.setrlimit(resource.RLIMIT_AS, (1 << 30, 1 << 30))
warnings.simplefilter("ignore")
path = Path(sys.argv[1])
refused = made = 0
for number in range(int(sys.argv[2]), int(sys.argv[3])):
    path.write_bytes(Case(7, number).made()[2])
    try:
        package = opened(path)
    except CannotRunError:
        continue
    title = next((sheet.title for sheet in package.sheets if sheet.kind == "worksheet"), "")
    places = [(row, column) for row in (1, 2, 3, 12, 40) for column in (2, 6, 7, 60)]
    cells = tuple(
        CellChange(row=row, column=column, value=row, look=CellStyle.COMPUTED) for row, column in places
    )
    light = Highlight(ranges=("B2",), formula="B2>1", look=CellStyle.NOTE)
    sheet = SheetChange(
        title=title, cells=cells, highlights=(light,), widths={60: 9}, heading=(1, 2), last_row=40
    )
    change = WorkbookChange(sheets=(sheet,), own_sheets=(FINDINGS,))
    try:
        result = edited(package, change)
    except CannotRunError as error:
        refused += 1
        assert str(error).startswith("cannot ") and len(str(error)) < 500, (number, str(error))
        continue
    except BaseException as error:
        raise SystemExit(f"case {number}: {error!r}")
    made += 1
    path.write_bytes(result.data)
    if edited(opened(path), change).changed:
        raise SystemExit(f"case {number}: not done at once")
print(refused, made)
"""


@pytest.mark.parametrize("first", range(0, 600, 300))
def test_a_damaged_workbook_is_left_alone_or_edited_whole(tmp_path: Path, first: int) -> None:
    done = subprocess.run(
        [sys.executable, "-c", EDIT, str(tmp_path / "club.xlsx"), str(first), str(first + 300)],
        capture_output=True,
        text=True,
        timeout=300,
        check=False,
    )

    assert (done.returncode, done.stderr) == (0, "")
    refused, made = map(int, done.stdout.split())
    assert refused > 20
    assert made > 100

"""Three thousand damaged workbooks: each is refused in a sentence, or read alike by both our readers."""

import subprocess
import sys
from pathlib import Path

import pytest

pytestmark = pytest.mark.slow

READ = """
import resource, sys, warnings
from pathlib import Path
from rosterkit.errors import CannotRunError
from rosterkit.xlsx.package.opening import opened
from rosterkit.xlsx.read.workbook import _Reading, read_workbook
from tests.xlsx.mutants import mutant, seeds

resource.setrlimit(resource.RLIMIT_AS, (1 << 30, 1 << 30))
warnings.simplefilter("ignore")
path = Path(sys.argv[1])
originals = seeds()
refused = read = 0
for number in range(int(sys.argv[2]), int(sys.argv[3])):
    path.write_bytes(mutant(number, originals))
    try:
        package = opened(path)
        workbook = read_workbook(package, lambda _: True)
    except CannotRunError as error:
        refused += 1
        assert str(error).startswith(f"cannot read {path}: ") and len(str(error)) < 500, (number, str(error))
        continue
    except BaseException as error:
        raise SystemExit(f"mutant {number}: {error!r}")
    read += 1
    reading = _Reading(package)
    for sheet in package.sheets:
        if sheet.kind == "worksheet":
            try:
                slowly = reading._walked(sheet, None)
            except CannotRunError as error:
                raise SystemExit(f"mutant {number}: read, but {error}")
            if repr(slowly.rows) != repr(workbook.grids[sheet.title].rows):
                raise SystemExit(f"mutant {number}: {slowly.rows} and {workbook.grids[sheet.title].rows}")
print(refused, read)
"""


@pytest.mark.parametrize("first", range(0, 3000, 500))
def test_damaged_workbook_is_refused_or_read_twice_alike(tmp_path: Path, first: int) -> None:
    """In processes of their own: what the fast reader cannot stand ends a process without a word."""
    done = subprocess.run(
        [sys.executable, "-c", READ, str(tmp_path / "club.xlsx"), str(first), str(first + 500)],
        capture_output=True,
        text=True,
        timeout=300,
        check=False,
    )

    assert (done.returncode, done.stderr) == (0, "")
    refused, read = map(int, done.stdout.split())
    assert refused > 100
    assert read > 100

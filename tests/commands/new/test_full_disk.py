"""A disk that fills up while a new workbook is made: one sentence, and nothing is left."""

import resource
import subprocess
import sys
from pathlib import Path

import pytest

_ROOT = Path(__file__).parents[3]


@pytest.mark.parametrize(
    ("room", "status", "left"),
    [
        pytest.param(0, 2, [], id="where no file can hold a byte, no workbook is made"),
        pytest.param(100, 2, [], id="where the first sheet already has no room, no workbook is made"),
        pytest.param(20_000, 2, [], id="where some of the sheets have room, no workbook is made"),
        pytest.param(1 << 20, 0, ["club.xlsx"], id="where there is room, it is made"),
    ],
)
def test_new_says_in_a_sentence_that_the_disk_is_full(
    tmp_path: Path, room: int, status: int, left: list[str]
) -> None:
    script = (
        "import resource, runpy, sys; "
        f"sys.path.insert(0, {str(_ROOT)!r}); "
        f"resource.setrlimit(resource.RLIMIT_FSIZE, ({room}, {resource.RLIM_INFINITY})); "
        "sys.argv = ['rosterkit', 'new', 'club.xlsx', '--sample']; "
        "runpy.run_module('rosterkit', run_name='__main__')"
    )

    ran = subprocess.run(
        [sys.executable, "-B", "-c", script],
        check=False,
        cwd=tmp_path,
        capture_output=True,
        text=True,
        timeout=60,
    )

    said = "the disk is full. Make room on it, then try again." if status else ""
    assert (ran.returncode, [path.name for path in tmp_path.iterdir()]) == (status, left)
    assert len(ran.stderr.splitlines()) == 1
    assert said in ran.stderr

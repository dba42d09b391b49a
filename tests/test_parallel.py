"""Work on many workbooks side by side."""

import multiprocessing
import os
import subprocess
import sys
from pathlib import Path

import pytest

from rosterkit.errors import CannotRunError
from rosterkit.parallel import map_parallel

_SLOW = """
import sys, time
from pathlib import Path
from rosterkit import parallel
from rosterkit import progress
progress._PATIENCE = 0.0
mapped = parallel.map_parallel([str, lambda path: str(path)][1], [Path(str(n)) for n in range(3)])
print(mapped)
"""


def name_and_process(path: Path) -> tuple[str, int]:
    return path.name, os.getpid()


def test_results_come_in_the_order_of_the_paths_from_this_process_and_another() -> None:
    paths = [Path(str(number)) for number in range(40)]

    results = map_parallel(name_and_process, paths, processes=2)

    assert [name for name, _ in results] == [path.name for path in paths]
    assert len({process for _, process in results}) == 2
    assert results[0][1] == os.getpid()


def test_a_few_paths_start_no_process() -> None:
    results = map_parallel(name_and_process, [Path("a"), Path("b")], processes=2)

    assert results == [("a", os.getpid()), ("b", os.getpid())]


def ended_elsewhere(path: Path) -> str:
    if multiprocessing.parent_process() is not None:
        os._exit(1)
    return path.name


def test_a_process_that_is_ended_is_one_sentence() -> None:
    paths = [Path(str(number)) for number in range(40)]

    with pytest.raises(CannotRunError, match="was ended, perhaps for want of memory"):
        map_parallel(ended_elsewhere, paths, processes=2)


def refused_elsewhere(path: Path) -> str:
    if multiprocessing.parent_process() is not None:
        raise CannotRunError(f"{path} cannot be read", "Take another.")
    return path.name


def test_what_stops_the_work_in_another_process_is_said_as_it_is_here() -> None:
    paths = [Path(str(number)) for number in range(40)]

    with pytest.raises(CannotRunError, match="cannot be read") as refused:
        map_parallel(refused_elsewhere, paths, processes=2)

    assert refused.value.fix == "Take another."


def test_there_is_no_bar_where_nobody_watches() -> None:
    ran = subprocess.run([sys.executable, "-c", _SLOW], capture_output=True, text=True, check=True)

    assert ran.stderr == ""
    assert ran.stdout == "['0', '1', '2']\n"


def test_a_bar_shows_on_a_terminal_how_far_the_work_has_come() -> None:
    import pty  # noqa: PLC0415 - not there on every system

    ours, theirs = pty.openpty()
    with subprocess.Popen([sys.executable, "-c", _SLOW], stderr=theirs, stdout=subprocess.DEVNULL) as process:
        process.wait(timeout=60)
        os.close(theirs)
        shown = os.read(ours, 10_000).decode()
    os.close(ours)

    assert "[####################..........] 2 of 3 workbooks" in shown
    assert shown.rstrip(" ").endswith("\r")

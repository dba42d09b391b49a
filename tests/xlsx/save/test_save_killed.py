"""Saving that is killed at any instant leaves the old workbook or the new one, whole."""

import os
import random
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from rosterkit.xlsx.changes import CellChange, SheetChange, WorkbookChange
from rosterkit.xlsx.save.save import write_workbook
from tests.xlsx.clubs import TITLE, club, usual_change

KILLS = 240
# For each line read it starts a process that saves again and again, lets it save so many times, and kills it
# after so large a part of the time that it needed for the last one.
KILLER = """
import os, signal, sys, time
from pathlib import Path
from tests.xlsx.save.test_save_killed import save_for_ever
needed = 0.05
for line in sys.stdin:
    times, part = line.split()
    told, tell = os.pipe()
    child = os.fork()
    if not child:
        save_for_ever(Path(sys.argv[1]), tell)
    os.close(tell)
    for _ in range(int(times)):
        begun = time.perf_counter()
        os.read(told, 1)
        needed = time.perf_counter() - begun
    time.sleep(float(part) * needed)
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    with os.fdopen(told, "rb") as rest:
        print(int(times) + len(rest.read()), flush=True)
"""


def change(turn: int) -> WorkbookChange:
    """Return two changes by turns, each of which undoes a part of the other."""
    if turn % 2 == 0:
        return usual_change()
    cells = tuple(CellChange(row=row, column=7, value=1000 + row) for row in range(2, 7))
    return WorkbookChange(sheets=(SheetChange(title=TITLE, cells=cells),))


def save_for_ever(path: Path, tell: int) -> None:
    """Save by turns, and write a byte for each time that is done."""
    for turn in range(1_000_000):
        if write_workbook(path, change(turn)).changed:
            os.write(tell, b".")


@contextmanager
def killer(path: Path) -> Iterator[subprocess.Popen[str]]:
    command = [sys.executable, "-c", KILLER, str(path)]
    with subprocess.Popen(
        command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, bufsize=1
    ) as process:
        yield process
        assert process.stdin is not None
        process.stdin.close()
        assert process.wait(timeout=30) == 0


@pytest.fixture
def path(tmp_path: Path) -> Path:
    made = tmp_path / "club.xlsx"
    club(made).close()
    return made


def _states(path: Path) -> set[bytes]:
    """Bring the workbook into each state that it can have, and give the bytes of all."""
    states = {path.read_bytes()}
    for turn in range(4):
        write_workbook(path, change(turn))
        states.add(path.read_bytes())
    return states


def test_killing_leaves_the_old_or_the_new_workbook_whole(path: Path) -> None:
    chance = random.Random(20_240_517)  # noqa: S311 - no secret is made of it
    states = _states(path)
    earlier = path.with_name("club.earlier.xlsx")
    torn: list[int] = []
    saved: list[int] = []

    with killer(path) as process:
        assert process.stdin is not None
        assert process.stdout is not None
        for number in range(KILLS):
            process.stdin.write(f"{chance.randint(0, 2)} {chance.random()}\n")
            saved.append(int(process.stdout.readline()))
            if path.read_bytes() not in states or earlier.read_bytes() not in states:
                torn.append(number)

    assert len(states) == 3
    assert torn == []
    assert sum(saved) > KILLS // 10
    # Some were killed in the midst of writing: what they had in the making is still there.
    assert len(list(path.parent.glob(".rosterkit-*.tmp"))) > 0

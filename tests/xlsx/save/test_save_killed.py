"""Saving that fails or is killed at any instant leaves the old workbook or the new one, whole."""

import os
import random
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import pytest

from rosterkit.errors import CannotRunError
from rosterkit.xlsx.changes import CellChange, SheetChange, WorkbookChange
from rosterkit.xlsx.save.atomic_replace import put_in_place
from rosterkit.xlsx.save.save import write_workbook
from tests.xlsx.clubs import TITLE, club, usual_change
from tests.xlsx.save.system_calls import Calls, Death

OLDER, OLD, NEW = b"older " * 900, b"old " * 1000, b"new " * 2000


@dataclass(frozen=True)
class Case:
    """A folder with or without a workbook, in which one is put in place."""

    standing: bool = True
    keep: bool = True
    without_links: bool = False
    """True on a drive where a file has one name only."""
    without_exchange: bool = False
    """True on a system or drive where two files cannot exchange their names."""

    def path(self, folder: Path) -> Path:
        """Make the folder anew as it was before."""
        for left in folder.iterdir():
            left.unlink()
        path = folder / "club.xlsx"
        if self.standing:
            path.write_bytes(OLDER)
            put_in_place(path, OLD, lambda: None)
        return path

    def run(self, path: Path, failing: int | None = None, *, deadly: bool = False) -> tuple[Calls, str]:
        """Put a new workbook in place, and tell how that ended."""
        calls = Calls(
            failing,
            deadly=deadly,
            without_links=self.without_links,
            without_exchange=self.without_exchange,
        )
        try:
            with calls.watched():
                put_in_place(path, NEW, lambda: None, keep=self.keep)
        except CannotRunError:
            return calls, "refused"
        except Death:
            return calls, "dead"
        return calls, "done"

    def torn(self, path: Path) -> str | None:
        """Return what is wrong in the folder; None if the workbook and its earlier state are whole."""
        content = path.read_bytes() if path.exists() else None
        kept = {earlier.read_bytes() for earlier in earlier_files(path)}
        if content not in (OLD if self.standing else None, NEW):
            return "the workbook is neither the old nor the new one"
        if not kept <= ({OLDER, OLD} if self.standing else set()):
            return "an earlier state is not whole"
        if self.standing and content == NEW and self.keep and OLD not in kept:
            return "the old workbook is lost"
        if self.standing and (content == OLD or not self.keep) and OLDER not in kept:
            return "the earlier file is lost for nothing"
        return None


CASES = [
    pytest.param(Case(), id="a workbook is replaced and kept"),
    pytest.param(Case(keep=False), id="a workbook is replaced and not kept"),
    pytest.param(Case(without_links=True), id="a workbook is replaced on a drive without links"),
    pytest.param(Case(without_exchange=True), id="a workbook is replaced on a drive without exchanges"),
    pytest.param(
        Case(without_links=True, without_exchange=True),
        id="a workbook is replaced on a drive without links and exchanges",
    ),
    pytest.param(Case(standing=False), id="there was no workbook"),
    pytest.param(
        Case(standing=False, without_links=True), id="there was no workbook, on a drive without links"
    ),
]


def left_over(path: Path) -> list[Path]:
    return list(path.parent.glob(".rosterkit-*.tmp"))


def earlier_files(path: Path) -> list[Path]:
    return list(path.parent.glob("club.earlier*.xlsx"))


@pytest.mark.parametrize("case", CASES)
def test_death_before_any_system_call_leaves_the_old_or_the_new_workbook_whole(
    tmp_path: Path, case: Case
) -> None:
    names = case.run(case.path(tmp_path))[0].names
    wrong: list[tuple[int, str, str]] = []
    states: list[bytes | None] = []
    for number, name in enumerate(names):
        path = case.path(tmp_path)
        calls, ending = case.run(path, number, deadly=True)
        assert (calls.names[number], ending) == (name, "dead")
        states.append(path.read_bytes() if path.exists() else None)
        if (fault := case.torn(path)) is not None:
            wrong.append((number, name, fault))
        if len(left_over(path)) > 2:
            wrong.append((number, name, "more than two files in the making are left"))
        if case.run(path)[1] != "done" or path.read_bytes() != NEW:
            wrong.append((number, name, "saving again does not succeed"))
        if case.standing and [file.name for file in earlier_files(path)] != ["club.earlier.xlsx"]:
            wrong.append((number, name, "saving again leaves more than one earlier file"))

    assert wrong == []
    assert {"open to write", "write", "fsync", "unlink"} <= set(names)
    # The old one stands up to one call, the new one from there on.
    turn = states.index(NEW)
    assert states == [OLD if case.standing else None] * turn + [NEW] * (len(names) - turn)
    assert names[turn - 1] in {"exchange", "replace", "link"}


@pytest.mark.parametrize("case", CASES)
def test_failure_of_any_system_call_leaves_the_old_or_the_new_workbook_whole(
    tmp_path: Path, case: Case
) -> None:
    names = case.run(case.path(tmp_path))[0].names
    before = OLD if case.standing else None
    wrong: list[tuple[int, str, str]] = []
    endings: list[str] = []
    for number, name in enumerate(names):
        path = case.path(tmp_path)
        ending = case.run(path, number)[1]
        endings.append(ending)
        content = path.read_bytes() if path.exists() else None
        if (fault := case.torn(path)) is not None:
            wrong.append((number, name, fault))
        if content != (NEW if ending == "done" else before):
            wrong.append((number, name, f"{ending}, but the workbook says otherwise"))
        if left_over(path) and name != "unlink":
            wrong.append((number, name, "a file in the making is left"))

    assert wrong == []
    assert "dead" not in endings
    assert {"write", "fsync"} <= {
        name for name, ending in zip(names, endings, strict=True) if ending == "refused"
    }
    assert endings[-1] == "done"


KILLS = 10
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
    """Bring the workbook into each state that it can have, and return the bytes of all."""
    states = {path.read_bytes()}
    for turn in range(4):
        write_workbook(path, change(turn))
        states.add(path.read_bytes())
    return states


@pytest.mark.slow
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
            process.stdin.write(f"{1 + chance.randint(0, 1)} {chance.random()}\n")
            saved.append(int(process.stdout.readline()))
            if path.read_bytes() not in states or earlier.read_bytes() not in states:
                torn.append(number)

    assert len(states) == 3
    assert torn == []
    assert sum(saved) >= KILLS
    for turn in range(2):
        write_workbook(path, change(turn))
    assert {file.name for file in path.parent.iterdir()} == {"club.xlsx", "club.earlier.xlsx"}

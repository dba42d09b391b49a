"""What a killed run left is removed by the next one, a member's file never; one told to end leaves none."""

import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from rosterkit.xlsx.save import temporary
from rosterkit.xlsx.save.atomic_replace import put_in_place

CHECKOUT = str(Path(__file__).parents[3])
# Puts a file in place as the command line does, and waits at the last look for what may come.
WAITING = """
import sys, time
from pathlib import Path
from rosterkit.__main__ import _stopped_by_signals
from rosterkit.xlsx.save.atomic_replace import put_in_place

def wait():
    print("waiting", flush=True)
    sys.stdin.readline()

with _stopped_by_signals():
    put_in_place(Path(sys.argv[1]), b"new", wait)
"""


@pytest.fixture
def path(tmp_path: Path) -> Path:
    made = tmp_path / "club.xlsx"
    made.write_bytes(b"old")
    return made


def _names(path: Path) -> set[str]:
    return {file.name for file in path.parent.iterdir()}


def _waiting(path: Path) -> subprocess.Popen[str]:
    process = subprocess.Popen(
        [sys.executable, "-c", WAITING, str(path)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONPATH": CHECKOUT},
    )
    assert process.stdout is not None
    assert process.stdout.readline() == "waiting\n"
    return process


@pytest.mark.slow
def test_what_a_killed_run_left_is_removed_at_once_and_what_a_living_one_needs_is_not(path: Path) -> None:
    killed, living = _waiting(path), _waiting(path)
    killed.kill()
    killed.communicate()
    other = path.with_name("other.xlsx")
    left = {name for name in _names(path) if name.startswith(".rosterkit-")}
    needed = {name for name in left if f"-{living.pid}-" in name}

    put_in_place(other, b"something", lambda: None)

    assert (len(left), len(needed)) == (2, 1)
    assert {name for name in _names(path) if name.startswith(".rosterkit-")} == needed
    living.communicate("go on\n")
    assert living.returncode == 0
    assert path.read_bytes() == b"new"
    assert _names(path) == {"club.xlsx", "club.earlier.xlsx", "other.xlsx"}


@pytest.mark.slow
def test_a_member_who_saves_into_the_same_file_after_a_kill_sees_no_more_of_it(path: Path) -> None:
    killed = _waiting(path)
    killed.kill()
    killed.communicate()
    path.write_bytes(b"saved by the member")  # the earlier file of the killed run is the same file

    kept = put_in_place(path, b"new", lambda: None)

    assert kept is not None
    assert kept.read_bytes() == b"saved by the member"
    assert _names(path) == {"club.xlsx", "club.earlier.xlsx"}


@pytest.mark.slow
@pytest.mark.parametrize(
    "sent",
    [
        pytest.param([signal.SIGINT], id="from the keyboard"),
        pytest.param([signal.SIGTERM], id="by a request"),
        pytest.param([signal.SIGTERM] * 5, id="by a request that is repeated"),
        pytest.param([signal.SIGHUP], id="by a terminal that closes"),
        pytest.param([signal.SIGHUP] * 5, id="by a terminal that says so several times"),
    ],
)
def test_a_run_that_is_told_to_end_leaves_nothing(path: Path, sent: list[signal.Signals]) -> None:
    process = _waiting(path)
    for each in sent:
        process.send_signal(each)
    _, err = process.communicate(timeout=30)

    # All is cleaned up when a repeated one finds nobody any more who heeds it: shells show the same status.
    assert process.returncode in ({128 + sent[0]} if len(sent) == 1 else {128 + sent[0], -sent[0]})
    assert err == "rosterkit: stopped\n"
    assert _names(path) == {"club.xlsx"}
    assert path.read_bytes() == b"old"


@pytest.mark.slow
def test_a_run_that_was_started_so_that_hanging_up_does_not_end_it_goes_on(path: Path) -> None:
    before = signal.signal(signal.SIGHUP, signal.SIG_IGN)
    try:
        process = _waiting(path)
    finally:
        signal.signal(signal.SIGHUP, before)
    process.send_signal(signal.SIGHUP)
    process.communicate("go on\n", timeout=30)

    assert process.returncode == 0
    assert path.read_bytes() == b"new"


def _made(folder: Path, *, host: str | None = None, process: int | None = None, ago: int = 0) -> Path:
    """Make a file in the making as a run elsewhere or in the past would."""
    maker = f"{host or temporary._host()}-{process or os.getpid()}-{int(time.time()) - ago}-0123abcd"
    path = folder / f".rosterkit-{maker}-{temporary._check(maker)}.tmp"
    path.write_bytes(b"half")
    return path


@pytest.fixture
def gone() -> int:
    """The number of a process that is no more."""
    with subprocess.Popen([sys.executable, "-c", ""]) as process:
        process.wait()
    return process.pid


@pytest.mark.parametrize(
    ("make", "stays"),
    [
        pytest.param(lambda folder, gone: _made(folder, process=gone), False, id="of a process that is gone"),
        pytest.param(lambda folder, _: _made(folder), True, id="of a process that lives"),
        pytest.param(
            lambda folder, _: _made(folder, process=10**30), True, id="of a number that no process can have"
        ),
        pytest.param(
            lambda folder, gone: _made(folder, process=gone, host="0123abcd"),
            True,
            id="of another computer that shares the folder",
        ),
        pytest.param(
            lambda folder, gone: _made(folder, process=gone, host="0123abcd", ago=100_000),
            False,
            id="of another computer, and of the day before",
        ),
        pytest.param(
            lambda folder, _: _made(folder, ago=100_000),
            False,
            id="of a number that another process has by now, and of the day before",
        ),
    ],
)
def test_a_file_in_the_making_is_removed_when_nobody_makes_it_any_more(
    path: Path, gone: int, make: Callable[[Path, int], Path], *, stays: bool
) -> None:
    left = make(path.parent, gone)

    put_in_place(path, b"new", lambda: None)

    assert left.exists() == stays


@pytest.mark.parametrize(
    "name",
    [
        ".rosterkit-0123.tmp",
        ".rosterkit-0123456789abcdef.tmp",
        ".rosterkit-notes.tmp",
        ".rosterkit-.tmp",
        pytest.param(
            ".rosterkit-0123abcd-1-1-0123abcd-00000000.tmp", id="like one of ours but for the checksum"
        ),
    ],
)
def test_a_file_of_the_members_own_with_such_a_name_is_never_removed(path: Path, name: str) -> None:
    own = path.with_name(name)
    own.write_bytes(b"my own")
    os.utime(own, (1, 1))

    put_in_place(path, b"new", lambda: None)

    assert own.read_bytes() == b"my own"


def test_processes_are_not_asked_after_where_that_would_end_them(
    path: Path, gone: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As on Windows."""
    left = _made(path.parent, process=gone)
    asked: list[int] = []
    monkeypatch.setattr(temporary, "_SYSTEM", "nt")
    monkeypatch.setattr(os, "kill", lambda process, _: asked.append(process))

    put_in_place(path, b"new", lambda: None)

    assert (asked, left.exists()) == ([], True)

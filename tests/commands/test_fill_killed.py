"""The command fill, killed at any instant, leaves the workbook as it was or filled, whole."""

import subprocess
import sys
from pathlib import Path

import pytest

from rosterkit.commands.fill import fill as fill_workbook
from rosterkit.template.new_workbook import new_workbook
from rosterkit.xlsx.save.atomic_replace import put_in_place
from tests.samples.clean import clean_club
from tests.xlsx.save.system_calls import WRITING, Calls, Death

KILLS = 10
# For each line read it puts the workbook back as it was, fills it in a process of its own, and kills that
# after so large a part of the time that an undisturbed run needs.
KILLER = """
import os, signal, sys, time
from pathlib import Path
from rosterkit.commands.fill import fill as fill_workbook
path, unfilled = Path(sys.argv[1]), Path(sys.argv[2]).read_bytes()

def started():
    path.write_bytes(unfilled)
    child = os.fork()
    if not child:
        try:
            fill_workbook(path)
        finally:
            os._exit(0)
    return child

needed = 0.0
for _ in range(2):
    begun = time.perf_counter()
    os.waitpid(started(), 0)
    needed = time.perf_counter() - begun
for line in sys.stdin:
    child = started()
    time.sleep(float(line) * needed)
    os.kill(child, signal.SIGKILL)
    os.waitpid(child, 0)
    print("killed", flush=True)
"""


@pytest.mark.slow
def test_fill_that_is_killed_leaves_the_workbook_as_it_was_or_filled(tmp_path: Path) -> None:
    original, path = tmp_path / "original.xlsx", tmp_path / "club.xlsx"
    original.write_bytes(new_workbook(clean_club()))
    path.write_bytes(original.read_bytes())
    fill_workbook(path)
    unfilled, filled = original.read_bytes(), path.read_bytes()
    found: list[str] = []

    command = [sys.executable, "-c", KILLER, str(path), str(original)]
    with subprocess.Popen(
        command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, bufsize=1
    ) as process:
        assert process.stdin is not None
        assert process.stdout is not None
        for number in range(KILLS):
            # From the first instant to well behind the last.
            process.stdin.write(f"{3 * (number / (KILLS - 1)) ** 2}\n")
            assert process.stdout.readline() == "killed\n"
            content = path.read_bytes()
            found.append("old" if content == unfilled else "new" if content == filled else "torn")
        process.stdin.close()

    assert "torn" not in found
    assert found.count("old") > KILLS // 10
    assert found.count("new") > 0


def test_fill_that_dies_before_a_system_call_leaves_the_workbook_as_it_was_or_filled(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """At calls spread over the putting in place; each of them is in the tests of saving."""
    original, path = new_workbook(clean_club()), tmp_path / "club.xlsx"
    calls = Calls()

    def watched(*words: object, **options: object) -> object:
        with calls.watched():
            return put_in_place(*words, **options)  # type: ignore[arg-type]

    monkeypatch.setattr("rosterkit.xlsx.save.save.put_in_place", watched)
    path.write_bytes(original)
    fill_workbook(path)
    filled, names = path.read_bytes(), calls.names
    found: list[str] = []
    for number in (*range(0, len(names), 7), len(names) - 1):
        for left in tmp_path.iterdir():
            left.unlink()
        path.write_bytes(original)
        calls = Calls(number, deadly=True)
        with pytest.raises(Death):
            fill_workbook(path)
        content = path.read_bytes()
        found.append("old" if content == original else "new" if content == filled else "torn")

    assert "torn" not in found
    assert {"old", "new"} <= set(found)


def test_fill_writes_nowhere_but_where_a_workbook_is_put_in_place(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "club.xlsx"
    path.write_bytes(new_workbook(clean_club()))
    put: list[Path] = []
    monkeypatch.setattr("rosterkit.xlsx.save.save.put_in_place", lambda path, *_, **__: put.append(path))
    calls = Calls()

    with calls.watched():
        fill_workbook(path)

    assert put == [path]
    assert "open to read" in calls.names
    assert WRITING & set(calls.names) == set()

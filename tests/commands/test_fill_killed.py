"""The command fill, killed at any instant, leaves the workbook as it was or filled, whole."""

import random
import subprocess
import sys
from pathlib import Path

from rosterkit.commands.fill import fill as fill_workbook
from rosterkit.commands.new.template import new_workbook
from tests.samples.clean import clean_club

KILLS = 220
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
for _ in range(5):
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


def test_fill_that_is_killed_leaves_the_workbook_as_it_was_or_filled(tmp_path: Path) -> None:
    chance = random.Random(20_260_411)  # noqa: S311 - no secret is made of it
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
        for _ in range(KILLS):
            process.stdin.write(f"{chance.random() * 1.2}\n")
            assert process.stdout.readline() == "killed\n"
            content = path.read_bytes()
            found.append("old" if content == unfilled else "new" if content == filled else "torn")
        process.stdin.close()

    assert "torn" not in found
    assert found.count("old") > KILLS // 10
    assert found.count("new") > 0

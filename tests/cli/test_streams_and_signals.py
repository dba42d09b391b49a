"""What rosterkit says and leaves behind where its streams are closed or full, or where it is stopped."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from tests.benchmarks.rosters import write_roster
from tests.command_line import written
from tests.rosters import workbook

CHECKOUT = str(Path(__file__).parents[2])


def _shell(command: str, folder: Path) -> tuple[int, str]:
    done = subprocess.run(
        ["bash", "-c", f"{sys.executable} -m rosterkit {command}"],
        cwd=folder,
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
        env={**os.environ, "PYTHONPATH": CHECKOUT},
    )
    return done.returncode, done.stderr


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    written(tmp_path / "club.xlsx", workbook([{"Loco": "A", "Address": 12}]))
    written(tmp_path / "clash.xlsx", workbook([{"Loco": "A", "Address": 12}, {"Loco": "B", "Address": 12}]))
    return tmp_path


@pytest.mark.slow
@pytest.mark.parametrize(
    ("command", "status"),
    [
        pytest.param("check club.xlsx >&-", 0, id="results go nowhere"),
        pytest.param("check clash.xlsx >&-", 1, id="results go nowhere, and there are errors"),
        pytest.param("check club.xlsx 2>&-", 0, id="messages go nowhere"),
        pytest.param("check none.xlsx 2>&-", 2, id="what stops it cannot be said"),
    ],
)
def test_closed_streams_change_no_exit_status_and_give_no_traceback(
    folder: Path, command: str, status: int
) -> None:
    assert _shell(command, folder) == (status, "")


@pytest.mark.slow
@pytest.mark.skipif(not Path("/dev/full").exists(), reason="only some systems have a full device")
def test_results_that_cannot_be_printed_are_said_to_be_so_beside_what_was_done(folder: Path) -> None:
    status, said = _shell("fill club.xlsx -o out.xlsx >/dev/full", folder)

    assert status == 2
    assert said.splitlines() == [
        "filled out.xlsx",
        "rosterkit: the results cannot be printed: No space left on device. "
        "Send them elsewhere; what is said above holds.",
    ]


@pytest.mark.slow
@pytest.mark.parametrize(("sent", "status"), [(signal.SIGINT, 130), (signal.SIGTERM, 143)])
def test_a_run_that_is_stopped_says_so_in_one_line_and_leaves_nothing(
    tmp_path: Path, sent: signal.Signals, status: int
) -> None:
    write_roster(tmp_path / "club.xlsx", 3000)
    command = [sys.executable, "-m", "rosterkit", "fill", "club.xlsx", "-o", "out.xlsx"]
    process = subprocess.Popen(
        command,
        cwd=tmp_path,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env={**os.environ, "PYTHONPATH": CHECKOUT},
    )
    time.sleep(0.5)
    process.send_signal(sent)
    out, err = process.communicate(timeout=60)

    assert (process.returncode, out, err) == (status, "", "rosterkit: stopped\n")
    assert [path.name for path in tmp_path.iterdir()] == ["club.xlsx"]

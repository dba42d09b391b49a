"""The command line, run as somebody types it, in a process of its own."""

import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path

_CHECKOUT = Path(__file__).parents[2]
SECONDS = 300


@dataclass(frozen=True, slots=True, kw_only=True)
class Ran:
    """What a command came to."""

    command: str
    status: int
    out: str
    err: str

    def __str__(self) -> str:
        return f"$ {self.command}\n{self.out}{self.err}(exit status {self.status})"


def rosterkit(*words: object, status: int | tuple[int, ...] = 0) -> Ran:
    """Run a command.

    Raises:
        AssertionError: with all that it said, if it does not end with the status, or one of them.
    """
    typed = [str(word) for word in words]
    done = subprocess.run(
        [sys.executable, "-m", "rosterkit", *typed],
        capture_output=True,
        encoding="utf-8",
        timeout=SECONDS,
        check=False,
        cwd=_CHECKOUT,
    )
    ran = Ran(
        command=" ".join(["rosterkit", *typed]), status=done.returncode, out=done.stdout, err=done.stderr
    )
    assert ran.status in (status if isinstance(status, tuple) else (status,)), str(ran)
    return ran

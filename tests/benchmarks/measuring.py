"""Whole processes measured: wall time and peak memory, the best of several runs."""

import os
import subprocess
import sys
import time
from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Measured:
    """What one process took."""

    seconds: float
    mebibytes: float
    """Peak resident memory."""


def measured(command: Sequence[str], *, runs: int, allowed: Sequence[int] = (0,)) -> Measured:
    """Run a command several times, and give its best time and the memory of that run.

    Raises:
        RuntimeError: if it ends with an exit status that is not allowed.
    """
    results = [_once(command, allowed) for _ in range(runs)]
    return min(results, key=lambda result: result.seconds)


def python(code: str, *arguments: str) -> list[str]:
    """Return the command that runs some Python."""
    return [sys.executable, "-c", code, *arguments]


def _once(command: Sequence[str], allowed: Sequence[int]) -> Measured:
    began = time.perf_counter()
    process = subprocess.Popen(command, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    _, status, usage = os.wait4(process.pid, 0)
    seconds = time.perf_counter() - began
    process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode not in allowed:
        raise RuntimeError(f"{' '.join(command)[:200]} ended with {process.returncode}")
    return Measured(seconds, usage.ru_maxrss / 1024)

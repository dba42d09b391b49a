"""Work on many workbooks side by side, in the order in which they were given."""

import os
import sys
import time
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path
from typing import TypeVar

Result = TypeVar("Result")

FEWEST = 12
"""For fewer workbooks than this, starting further processes takes longer than they save."""
_AT_ONCE = 8
"""Workbooks that go to a process in one parcel."""
_PATIENCE = 1.0
"""Seconds after which a bar shows how far the work has come."""
_WIDTH = 30


def gathered(work: Callable[[Path], Result], paths: Sequence[Path], *, processes: int = 0) -> list[Result]:
    """Do the same work on each workbook, and give the results in their order.

    Args:
        work: a function of a module, so that another process can find it; it returns what can be sent back.
        paths: the workbooks.
        processes: how many work side by side; 0 for one a processor.
    """
    bar = _Bar(len(paths))
    results: list[Result] = []
    for result in _results(work, paths, processes or _processors()):
        results.append(result)
        bar.show(len(results))
    bar.clear()
    return results


def _results(work: Callable[[Path], Result], paths: Sequence[Path], processes: int) -> Iterator[Result]:
    if len(paths) < FEWEST or processes == 1:
        yield from map(work, paths)
        return
    with ProcessPoolExecutor(processes) as pool:
        yield from pool.map(work, paths, chunksize=_AT_ONCE)


def _processors() -> int:
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


class _Bar:
    """A bar on the terminal while work takes its time; none where nobody watches."""

    def __init__(self, total: int) -> None:
        self._total = total
        self._began = time.monotonic()
        self._watched = sys.stderr.isatty()
        self._shown = False

    def show(self, done: int) -> None:
        if self._watched and time.monotonic() - self._began > _PATIENCE:
            full = _WIDTH * done // self._total
            sys.stderr.write(f"\r[{'#' * full}{'.' * (_WIDTH - full)}] {done} of {self._total} workbooks")
            sys.stderr.flush()
            self._shown = True

    def clear(self) -> None:
        if self._shown:
            sys.stderr.write("\r" + " " * (_WIDTH + 40) + "\r")
            sys.stderr.flush()

"""A bar on the terminal while work takes its time."""

import sys
import time
from collections.abc import Iterable, Iterator
from typing import TypeVar

Item = TypeVar("Item")

_PATIENCE = 1.0
"""Seconds after which a bar shows how far the work has come."""
_WIDTH = 30


def watched(items: Iterable[Item], total: int, what: str) -> Iterator[Item]:
    """Hand items on, with a bar that shows how many of so many there were, such as "workbooks"."""
    bar = _Bar(total, what)
    try:
        for done, item in enumerate(items, 1):
            bar.show(done)
            yield item
    finally:
        bar.clear()


class _Bar:
    """A bar on stderr that shows how far work has come; none where nobody watches, or if it is soon done."""

    def __init__(self, total: int, what: str) -> None:
        self._total = total
        self._what = what
        self._began = time.monotonic()
        self._watched = sys.stderr.isatty()
        self._shown = False

    def show(self, done: int) -> None:
        if self._watched and time.monotonic() - self._began > _PATIENCE:
            full = _WIDTH * done // self._total
            sys.stderr.write(f"\r[{'#' * full}{'.' * (_WIDTH - full)}] {done} of {self._total} {self._what}")
            sys.stderr.flush()
            self._shown = True

    def clear(self) -> None:
        if self._shown:
            sys.stderr.write("\r" + " " * (_WIDTH + 40) + "\r")
            sys.stderr.flush()

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
    """Hand items on, with a bar on stderr that shows how many of so many there were, such as "workbooks".

    None where nobody watches, or if it is soon done.
    """
    began, watching, shown = time.monotonic(), sys.stderr.isatty(), False
    try:
        for done, item in enumerate(items, 1):
            if watching and time.monotonic() - began > _PATIENCE:
                full = _WIDTH * done // total
                sys.stderr.write(f"\r[{'#' * full}{'.' * (_WIDTH - full)}] {done} of {total} {what}")
                sys.stderr.flush()
                shown = True
            yield item
    finally:
        if shown:
            sys.stderr.write("\r" + " " * (_WIDTH + 40) + "\r")
            sys.stderr.flush()

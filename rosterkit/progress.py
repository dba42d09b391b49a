"""A bar on the terminal while work takes its time."""

import sys
import time

_PATIENCE = 1.0
"""Seconds after which a bar shows how far the work has come."""
_WIDTH = 30


class Bar:
    """A bar on stderr that shows how far work has come; none where nobody watches, or if it is soon done."""

    def __init__(self, total: int, what: str) -> None:
        """Begin a bar for work on so many of something, such as "workbooks"."""
        self._total = total
        self._what = what
        self._began = time.monotonic()
        self._watched = sys.stderr.isatty()
        self._shown = False

    def show(self, done: int) -> None:
        """Show that so many are done."""
        if self._watched and time.monotonic() - self._began > _PATIENCE:
            full = _WIDTH * done // self._total
            sys.stderr.write(f"\r[{'#' * full}{'.' * (_WIDTH - full)}] {done} of {self._total} {self._what}")
            sys.stderr.flush()
            self._shown = True

    def clear(self) -> None:
        """Wipe the bar away."""
        if self._shown:
            sys.stderr.write("\r" + " " * (_WIDTH + 40) + "\r")
            sys.stderr.flush()

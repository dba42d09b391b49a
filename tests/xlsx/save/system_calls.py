"""System calls that fail, or before which the process dies, one at a time and without a process to kill."""

import errno
import io
import os
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any
from unittest.mock import patch

from rosterkit.xlsx.save import atomic_replace
from rosterkit.xlsx.save.exchange import exchange

CALLS = (
    *("chmod", "chown", "close", "fsync", "link", "listdir", "lstat", "open", "replace", "scandir", "stat"),
    *("unlink", "utime"),
    *("getxattr", "listxattr", "setxattr"),
)
"""Functions of ``os`` that putting a file in place comes to, itself or by pathlib and shutil."""
WRITING = frozenset(
    {"chmod", "exchange", "link", "open to write", "replace", "unlink", "utime", "write", "setxattr"}
)
"""Those that change what is in a folder."""


class Death(BaseException):
    """Stands for the end of the process: nothing that is called after it has any effect."""


class Calls:
    """The system calls of a piece of work, one of which may fail."""

    def __init__(
        self,
        failing: int | None = None,
        *,
        deadly: bool = False,
        without_links: bool = False,
        without_exchange: bool = False,
    ) -> None:
        self.names: list[str] = []
        """The calls that were made or failed, in their order."""
        self._failing, self._deadly = failing, deadly
        self._without_links, self._without_exchange = without_links, without_exchange
        self._dead = False

    def made(self, name: str) -> None:
        """Count a call that is about to be made.

        Raises:
            Death: the process dies before it, or is dead already.
            OSError: it fails.
        """
        if self._dead:
            raise Death
        number = len(self.names)
        self.names.append(name)
        if number == self._failing:
            self._dead = self._deadly
            raise Death if self._deadly else OSError(errno.EIO, "input/output error")
        if name == "link" and self._without_links:
            raise OSError(errno.EPERM, "no links on this drive")

    @contextmanager
    def watched(self) -> Iterator[None]:
        """Yield while each system call is counted, and the chosen one fails."""
        opened = io.open
        counted: dict[str, Any] = {name: self._counted(name, getattr(os, name)) for name in CALLS}
        with patch.multiple(os, **counted):

            def open_counted(file: Any, mode: str = "r", *rest: Any, **options: Any) -> Any:
                if not set(mode) & set("wax+"):
                    self.made("open to read")
                    return opened(file, mode, *rest, **options)
                self.made("open to write")
                return _Written(file, mode.replace("b", ""), self)

            with (
                patch.object(io, "open", open_counted),
                patch.object(atomic_replace, "exchange", self._exchanged),
            ):
                yield

    def _exchanged(self, one: Path, other: Path) -> bool:
        try:
            self.made("exchange")
        except OSError:
            return False
        return not self._without_exchange and exchange(one, other)

    def _counted(self, name: str, function: Callable[..., Any]) -> Callable[..., Any]:
        def counted(*args: Any, **options: Any) -> Any:
            self.made(name)
            return function(*args, **options)

        return counted


class _Written(io.FileIO):
    """A file without buffer that is written in two halves, so that death may come between them."""

    def __init__(self, file: str | Path, mode: str, calls: Calls) -> None:
        super().__init__(str(file), mode)
        self._calls = calls

    def write(self, data: Any) -> int:
        half = len(data) // 2
        for piece in (data[:half], data[half:]):
            self._calls.made("write")
            super().write(piece)
        return len(data)

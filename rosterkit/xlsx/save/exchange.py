"""What the system offers for putting files in place, and Python does not."""

import ctypes
import os
import sys
from contextlib import suppress
from pathlib import Path

_FROM_HERE = -100
"""AT_FDCWD of the Linux system call."""
_EXCHANGE = 2
"""RENAME_EXCHANGE of the Linux system call renameat2(2)."""


def exchange(one: Path, other: Path) -> bool:
    """Exchange what two names stand for, in one step: what was under the one is not lost by the other.

    Returns:
        False if nothing was done: only Linux has it, and there not every drive.
    """
    if sys.platform != "linux":
        return False
    try:
        rename = ctypes.CDLL(None).renameat2
    except (AttributeError, OSError):
        return False  # an old C library
    return bool(rename(_FROM_HERE, os.fsencode(one), _FROM_HERE, os.fsencode(other), _EXCHANGE) == 0)


def flush_folder(folder: Path) -> None:
    """Have the new names on the disk before anything else; drives and systems without this do it later."""
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)

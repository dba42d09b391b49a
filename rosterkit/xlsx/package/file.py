"""Takes a file off the disk, whole and once."""

import os
from dataclasses import dataclass
from pathlib import Path

from rosterkit.xlsx.package import limits
from rosterkit.xlsx.package.errors import SMALLER, unreadable


@dataclass(frozen=True, slots=True, kw_only=True)
class Identity:
    """What tells whether a file is still the one that was read."""

    size: int
    mtime_ns: int
    inode: int


_FAILURES: dict[type[Exception], tuple[str, str]] = {
    FileNotFoundError: ("there is no such file", "Check the spelling of the name and the folder."),
    IsADirectoryError: ("it is a folder", "Give a workbook inside it."),
    PermissionError: (
        "you are not allowed to read it",
        "Change its permissions, or close the program that holds it.",
    ),
}


def content(path: Path, name: str) -> tuple[bytes, Identity]:
    """Read a file whole, once, with the identity that it had then.

    CannotRunError if the file is not there, cannot be read, is empty, or is too large.
    """
    try:
        with path.open("rb") as file:
            status = os.fstat(file.fileno())
            if status.st_size > limits.MAX_FILE_BYTES:
                why = f"it is larger than {limits.MAX_FILE_BYTES // limits.MIB} MB"
                raise unreadable(name, why, SMALLER)
            raw = file.read(limits.MAX_FILE_BYTES + 1)
    except (OSError, ValueError) as error:
        says = getattr(error, "strerror", None) or str(error)
        otherwise = (f"the system says {says}", "Check the name and the drive, then try again.")
        raise unreadable(name, *_FAILURES.get(type(error), otherwise)) from error
    if not raw:
        raise unreadable(name, "it is empty (0 bytes)", "Copy the file again, or take the last good backup.")
    return raw, Identity(size=status.st_size, mtime_ns=status.st_mtime_ns, inode=status.st_ino)

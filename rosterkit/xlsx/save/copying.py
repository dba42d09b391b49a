"""Writes and copies files so that they are whole on the disk, and nobody reads what is not theirs to read."""

import errno
import hashlib
import os
import shutil
import stat
from contextlib import suppress
from pathlib import Path

from rosterkit.xlsx.patch.refusal import unwritable


def digest(path: Path) -> str:
    """Return what tells the content of a file from every other: its SHA-256, in 64 hexadecimal digits."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def write(path: Path, data: bytes, like: Path | None) -> None:
    """Write a new file and flush it to the disk; nobody who may not read ``like`` may ever read it."""
    with path.open("xb") as file:
        if like is not None:
            path.chmod(path.stat().st_mode & like.stat().st_mode)
        file.write(data)
        file.flush()
        os.fsync(file.fileno())


def liken(new: Path, old: Path) -> None:
    """Copy onto a new file the owner, the mode and the times of an old one, and what else the system can.

    On Linux these are its extended attributes; elsewhere Python cannot copy them.

    Raises:
        CannotRunError: the new file cannot be given to the owner and the group of the old one.
    """
    wanted, got = old.stat(), new.stat()
    if hasattr(os, "chown") and (wanted.st_uid, wanted.st_gid) != (got.st_uid, got.st_gid):
        try:
            os.chown(new, wanted.st_uid, wanted.st_gid)
        except OSError:
            raise unwritable(
                str(old),
                "it belongs to another user or group, and would not do so any more",
                "Let its owner do this, or save to another file.",
            ) from None
    shutil.copystat(old, new)
    new.chmod(stat.S_IMODE(wanted.st_mode))


def duplicate(path: Path, copy: Path) -> None:
    """Give a file a second name; copy it where the drive or the system has no such names.

    It is copied as well where it has a second name already: what is done to the file under that one must not
    be done to the duplicate.
    """
    if path.stat().st_nlink == 1:
        with suppress(AttributeError, OSError):  # no such system, or no such drive
            os.link(path, copy)
            return
    write(copy, path.read_bytes(), path)
    liken(copy, path)


def name_first(file: Path, name: Path) -> None:
    """Give a file a name that no other has; it may keep its own as well.

    Raises:
        FileExistsError: there is another by now.
    """
    with suppress(AttributeError, OSError):  # no such system, no such drive, or the name is taken
        os.link(file, name)
        return
    if os.path.lexists(name):
        raise FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST), str(name))
    file.replace(name)

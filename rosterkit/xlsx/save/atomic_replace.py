"""Puts a file in the place of another in one step: at every instant the old or the new one is there."""

import errno
import os
import secrets
import shutil
import stat
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from rosterkit.xlsx.patch.refusal import unwritable

_BEGINNING, _ENDING = ".rosterkit-", ".tmp"
"""What the names of files in the making begin and end with."""
_STALE = 3600
"""Seconds after which a file in the making is one that a killed run left."""
_FULL = {errno.ENOSPC, errno.EFBIG, getattr(errno, "EDQUOT", errno.ENOSPC)}
_FORBIDDEN = {errno.EACCES, errno.EPERM}


def earlier_name(path: Path) -> Path:
    """Return the name under which the earlier state of a file is kept: club.earlier.xlsx for club.xlsx."""
    return path.with_name(f"{path.stem}.earlier{path.suffix}")


def put_in_place(
    path: Path, data: bytes, last_look: Callable[[], None], *, keep: bool = True, source: Path | None = None
) -> Path | None:
    """Write a file whole or not at all, and keep the one that was there.

    The new file is written beside the old one and flushed to the disk, then takes its name; mode, owner and
    extended attributes are those of the old file. The old one is kept as ``earlier_name``, the newest only.

    Args:
        path: The file, no symbolic link.
        data: What it is to hold.
        last_look: Called at the last moment before the file is replaced; what it raises stops that.
        keep: False if the old file is not to be kept.
        source: The file of which a new one is a copy: nobody who may not read that may read the copy.

    Returns:
        The earlier file; None if there was none, or it is not kept.

    Raises:
        CannotRunError: the file cannot be written; it is then what it was.
    """
    with _explained(path):
        _sweep(path.parent)
        with _in_the_making(path.parent) as new, _in_the_making(path.parent) as earlier:
            standing = path.exists()
            _write(new, data, source if source is not None and not standing else None)
            if standing:
                _liken(new, path)
            if standing and keep:
                _duplicate(path, earlier)
            last_look()
            if standing and keep:
                earlier.replace(earlier_name(path))
            new.replace(path)
            _flush_folder(path.parent)
        return earlier_name(path) if standing and keep else None


@contextmanager
def _explained(path: Path) -> Iterator[None]:
    try:
        yield
    except OSError as error:
        if error.errno in _FULL:
            why, fix = "the disk is full", "Make room on it, then try again."
        elif error.errno in _FORBIDDEN:
            why, fix = (
                "you are not allowed to write there",
                "Change the permissions of the file and its folder.",
            )
        elif error.errno == errno.EROFS:
            why, fix = "the drive is read-only", "Copy the workbook to a drive that can be written to."
        else:
            why, fix = f"the system says {error.strerror or error}", "Check the drive, then try again."
        raise unwritable(str(path), why, fix) from None


@contextmanager
def _in_the_making(folder: Path) -> Iterator[Path]:
    """Return a name for a file in the making, which is gone again if it was not put in place."""
    path = folder / f"{_BEGINNING}{secrets.token_hex(8)}{_ENDING}"
    try:
        yield path
    finally:
        path.unlink(missing_ok=True)


def _sweep(folder: Path) -> None:
    """Remove what earlier runs that were killed have left."""
    for left in folder.glob(f"{_BEGINNING}*{_ENDING}"):
        try:
            if time.time() - left.stat().st_mtime > _STALE:
                left.unlink()
        except OSError:
            continue


def _write(path: Path, data: bytes, source: Path | None = None) -> None:
    with path.open("xb") as file:
        if source is not None:
            path.chmod(path.stat().st_mode & source.stat().st_mode)
        file.write(data)
        file.flush()
        os.fsync(file.fileno())


def _liken(new: Path, old: Path) -> None:
    """Copy onto a new file the owner, the mode and the extended attributes of the old one."""
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
    os.utime(new)


def _duplicate(path: Path, copy: Path) -> None:
    """Link a file under a second name; copy it where the drive has no such names."""
    try:
        os.link(path, copy)
    except OSError:
        _write(copy, path.read_bytes())
        shutil.copystat(path, copy)


def _flush_folder(folder: Path) -> None:
    """Have the new names on the disk before anything else; drives and systems without this do it later."""
    try:
        handle = os.open(folder, os.O_RDONLY)
    except OSError:
        return
    try:
        os.fsync(handle)
    except OSError:
        pass
    finally:
        os.close(handle)

"""Puts a file in the place of another in one step: at every instant the old or the new one is there."""

import errno
import os
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from rosterkit.errors import CannotRunError
from rosterkit.xlsx.patch.refusal import unwritable
from rosterkit.xlsx.save.copying import digest, liken, name_first, write
from rosterkit.xlsx.save.earlier import keep as keep_earlier
from rosterkit.xlsx.save.earlier import left_by_others, refuse_name, settle
from rosterkit.xlsx.save.exchange import exchange, flush_folder
from rosterkit.xlsx.save.temporary import in_the_making, sweep

_FULL = (errno.ENOSPC, errno.EFBIG, getattr(errno, "EDQUOT", errno.ENOSPC))
_WHY = {
    **dict.fromkeys(_FULL, ("the disk is full", "Make room on it, then try again.")),
    **dict.fromkeys(
        (errno.EACCES, errno.EPERM),
        ("you are not allowed to write there", "Change the permissions of the file and its folder."),
    ),
    errno.EROFS: ("the drive is read-only", "Copy the workbook to a drive that can be written to."),
    errno.ENAMETOOLONG: ("its name is too long", "Give a shorter name."),
    errno.ENOENT: ("it or its folder is not there any more", "Look for it, then try again."),
}
"""What an error of the system means for whoever wants to write, and what helps."""
_OPEN_ON_WINDOWS = (5, 32, 33)
"""Errors of Windows that it gives for what another program has open: access denied, sharing, locked."""


def put_in_place(
    path: Path, data: bytes, last_look: Callable[[], None], *, keep: bool = True, source: Path | None = None
) -> Path | None:
    """Write a file whole or not at all, and keep the one that was there.

    The new file is written beside the old one and flushed to the disk, then takes its name; mode, owner and,
    on Linux, extended attributes are those of the old file. The old one is kept, the newest only. If another
    program puts a third one there at the very instant, that one stays, as far as the system lets us see it.

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
    with explained(path):
        sweep(path.parent)
        standing = path.exists()
        if standing and keep:
            refuse_name(path)
        with in_the_making(path.parent) as new:
            try:
                write(new, data, path if standing else source)
            except PermissionError as error:
                raise unwritable(
                    str(path), "you are not allowed to write in its folder", "Save to another folder."
                ) from error
            if standing:
                liken(new, path)
                os.utime(new)
            if standing and keep:
                return _replace_and_keep(new, path, last_look)
            last_look()
            if standing:
                new.replace(path)
            else:
                try:
                    name_first(new, path)
                except FileExistsError:
                    raise changed_since(str(path)) from None
            flush_folder(path.parent)
            return None


@contextmanager
def explained(path: Path) -> Iterator[None]:
    """Turn an error of the system into a refusal to write a file."""
    try:
        yield
    except OSError as error:
        why, fix = _WHY.get(
            error.errno or 0,
            (f"the system says {error.strerror or error}", "Check the drive, then try again."),
        )
        if getattr(error, "winerror", None) in _OPEN_ON_WINDOWS:
            why, fix = "another program has it open, or you are not allowed to write there", "Close it there."
        raise unwritable(str(path), why, fix) from error


def changed_since(name: str) -> CannotRunError:
    """Make the error that says that somebody else was faster."""
    return unwritable(name, "another program has changed it since it was read", "Run the same command again.")


def _replace_and_keep(new: Path, path: Path, last_look: Callable[[], None]) -> Path:
    try:
        was = digest(path)
    except PermissionError:
        raise unwritable(
            str(path),
            "you are not allowed to read the file that is there, so it could not be kept",
            "Change its permissions, or save to another file.",
        ) from None
    ours = digest(new)
    older = left_by_others(path)
    kept = keep_earlier(path, was)
    try:
        last_look()
        _swap(new, path, kept, was, ours)
    except BaseException:
        # Where the new one is in place all the same, the old one is nowhere else.
        if digest(path) != ours:
            kept.unlink(missing_ok=True)
        raise
    kept = settle(kept, path, older)
    flush_folder(path.parent)
    return kept


def _swap(new: Path, path: Path, kept: Path, was: str, ours: str) -> None:
    """Put a file in the place of one that is kept, and take it back if that was another one by then."""
    try:
        if not exchange(new, path):
            new.replace(path)
    finally:
        # Looked at rather than remembered: a signal may end the run between the two.
        if _gave_back(new, path, was, ours) if os.path.lexists(new) else _gave_kept_back(kept, path, was):
            raise changed_since(str(path))


def _gave_kept_back(kept: Path, path: Path, was: str) -> bool:
    """Without an exchange, see and give back only what was written into the same file in the meantime."""
    try:
        if digest(kept) == was:
            return False
    except OSError:
        return False  # it is kept, whatever it is
    kept.replace(path)
    return True


def _gave_back(new: Path, path: Path, was: str, ours: str) -> bool:
    """Exchange back until the last that another program put there is there again."""
    try:
        put, displaced = ours, digest(new)
    except OSError:
        exchange(new, path)  # whatever it is
        raise
    if displaced in (ours, was):
        return False
    while exchange(new, path):
        came = digest(new)
        if came == put:
            return True
        put, displaced = displaced, came
    new.replace(path)
    return True

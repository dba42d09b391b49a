"""The earlier state of a file, kept beside it: ours is replaced by the next one, a member's file never.

It is called NAME.earlier.xlsx where that name is free or bears what we left there: then the fraction of the
second at which it was last changed is a checksum of the rest, so that a file of the member's own is not taken
for ours, nor ours once the member has saved something in it. Elsewhere, and while a file is being replaced,
it has a name that holds the first digits of its digest, by which it is recognised wherever it is copied to.
"""

import errno
import os
import re
import stat
import zlib
from contextlib import suppress
from pathlib import Path

from rosterkit.xlsx.patch.refusal import unwritable
from rosterkit.xlsx.save.copying import digest, duplicate, name_first
from rosterkit.xlsx.save.temporary import in_the_making

_SECOND = 10**9
"""Nanoseconds."""
_DIGITS = 8
"""How many digits of a digest are in a name."""


def earlier_name(path: Path) -> Path:
    """Return the name under which the earlier state of a file is kept: club.earlier.xlsx for club.xlsx."""
    return path.with_name(f"{path.stem}.earlier{path.suffix}")


def is_earlier_state(path: Path) -> bool:
    """Tell whether a file is what we kept of another: by its name, and by what tells it from others so named.

    It is so no more once somebody has saved something in it, or it was copied without its times.
    """
    found = re.fullmatch(r".+\.earlier(?:-([0-9a-f]{8}))?", path.stem)
    if found is None:
        return False
    return _bears_mark(path) if found[1] is None else found[1] in _parts(digest(path))


def refuse_name(path: Path) -> None:
    """Refuse to replace a file beside which its earlier state can have no name.

    Raises:
        CannotRunError: the name would be too long, or a folder has it.
    """
    try:
        path.with_name(_name_with(path, "0" * _DIGITS)).lstat()
    except FileNotFoundError:
        pass
    except OSError as error:
        if error.errno == errno.ENAMETOOLONG:
            raise unwritable(
                str(path),
                "its name is too long for the earlier file, which gets a longer one",
                "Give the workbook a shorter name, then try again.",
            ) from None
        raise
    name = earlier_name(path)
    if name.is_dir():
        raise unwritable(
            str(path),
            f"the earlier file would be kept as {name.name}, and a folder has that name",
            "Rename that folder, then try again.",
        )


def left_by_others(path: Path) -> list[Path]:
    """Return what earlier runs left under such names as ``keep`` gives, and is still what they left.

    A run that is at work at the same time is not among them if it begins later: it needs its own.
    """
    pattern = re.compile(re.escape(f"{path.stem}.earlier-") + r"([0-9a-f]{8})" + re.escape(path.suffix))
    left = []
    for other in list(path.parent.iterdir()):
        with suppress(OSError):
            found = pattern.fullmatch(other.name)
            if found is None or not stat.S_ISREG(other.lstat().st_mode):
                continue
            # A second name of the file itself is from a killed run, and was changed with the file.
            if other.samefile(path) or found[1] in _parts(digest(other)):
                left.append(other)
    return left


def keep(path: Path, content: str) -> Path:
    """Keep a file, whose digest is given, under a second name that says it."""
    with in_the_making(path.parent) as copy:
        duplicate(path, copy)
        for digits in _parts(content):
            with suppress(FileExistsError):
                kept = path.with_name(_name_with(path, digits))
                name_first(copy, kept)
                return kept
    raise FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST), str(path))


def settle(kept: Path, path: Path, older: list[Path]) -> Path:
    """Give the earlier file its name for good, once the new one is in place, and remove older ones of ours.

    Where its name is taken it stays under the other one.

    Returns:
        Where it is.
    """
    name = earlier_name(path)
    with suppress(OSError):
        if not os.path.lexists(name) or _bears_mark(name):
            _mark(kept, name.name)
            kept = kept.replace(name)
    for other in older:
        with suppress(OSError):
            other.unlink()
    # It is gone only if another run has replaced the new file already, and keeps that one.
    return kept if os.path.lexists(kept) else name


def _parts(content: str) -> list[str]:
    return [content[at : at + _DIGITS] for at in range(0, len(content), _DIGITS)]


def _name_with(path: Path, digits: str) -> str:
    return f"{path.stem}.earlier-{digits}{path.suffix}"


def _mark(kept: Path, name: str) -> None:
    status = kept.stat()
    changed = status.st_mtime_ns // _SECOND * _SECOND + _fraction(status, name)
    os.utime(kept, ns=(status.st_atime_ns, changed))


def _bears_mark(path: Path) -> bool:
    status = path.lstat()
    return stat.S_ISREG(status.st_mode) and status.st_mtime_ns % _SECOND == _fraction(status, path.name)


def _fraction(status: os.stat_result, name: str) -> int:
    """Return the fraction of a second, in nanoseconds, that marks an earlier file; Windows keeps hundreds."""
    text = f"{name} {status.st_size} {status.st_mtime_ns // _SECOND}"
    return zlib.crc32(text.encode("utf-8", "surrogateescape")) % 10**7 * 100

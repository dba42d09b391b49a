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
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

from rosterkit.xlsx.patch.refusal import unwritable
from rosterkit.xlsx.save.copying import digest, duplicate
from rosterkit.xlsx.save.temporary import in_the_making

_SECOND = 10**9
"""Nanoseconds."""
_DIGITS = 8
"""How many digits of a digest are in a name."""


def earlier_name(path: Path) -> Path:
    """Return the name under which the earlier state of a file is kept: club.earlier.xlsx for club.xlsx."""
    return path.with_name(f"{path.stem}.earlier{path.suffix}")


def refuse_name(path: Path) -> None:
    """Refuse to replace a file beside which its earlier state can have no name.

    Raises:
        CannotRunError: the name would be too long, or a folder has it.
    """
    try:
        _name_with(path, "0" * _DIGITS).lstat()
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


def keep(path: Path, content: str) -> Path:
    """Keep a file, whose digest is given, under a second name that says it."""
    for other, _ in _others(path):
        if other.samefile(path):
            other.unlink()  # left by a killed run; it would be changed with the file
    kept = _free_name(path, content)
    with in_the_making(path.parent) as copy:
        duplicate(path, copy)
        return copy.replace(kept)


def settle(kept: Path, path: Path) -> Path:
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
    for other, digits in _others(path):
        with suppress(OSError):
            if other != kept and digits in _parts(digest(other)):
                other.unlink()
    return kept


def _others(path: Path) -> Iterator[tuple[Path, str]]:
    """Yield the files beside a file that bear such a name as ``keep`` gives, with the digits in it."""
    pattern = re.compile(re.escape(f"{path.stem}.earlier-") + r"([0-9a-f]{8})" + re.escape(path.suffix))
    with suppress(OSError):
        for other in list(path.parent.iterdir()):
            found = pattern.fullmatch(other.name)
            if found is not None and stat.S_ISREG(other.lstat().st_mode):
                yield other, found[1]


def _parts(content: str) -> list[str]:
    return [content[at : at + _DIGITS] for at in range(0, len(content), _DIGITS)]


def _name_with(path: Path, digits: str) -> Path:
    return path.with_name(f"{path.stem}.earlier-{digits}{path.suffix}")


def _free_name(path: Path, content: str) -> Path:
    for digits in _parts(content):
        name = _name_with(path, digits)
        try:
            name.lstat()
        except FileNotFoundError:
            return name
    raise FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST), str(path))


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

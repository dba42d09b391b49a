"""Files in the making, so named that a later run knows those that a killed one left from a member's own."""

import os
import re
import secrets
import time
import zlib
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

_DAY = 86_400
"""Seconds after which a file in the making is left over even if its process cannot be asked after."""
_SYSTEM = os.name
_NAME = re.compile(
    r"\.rosterkit-(?P<maker>(?P<host>[0-9a-f]{8})-(?P<process>\d+)-(?P<made>\d+)-[0-9a-f]{8})"
    r"-(?P<check>[0-9a-f]{8})\.tmp"
)
"""Who made it and when, in seconds since 1970; the checksum of that tells it from what others name so."""


@contextmanager
def in_the_making(folder: Path) -> Iterator[Path]:
    """Yield a name for a file in the making, which is gone again if it was not put in place."""
    maker = f"{_host()}-{os.getpid()}-{int(time.time())}-{secrets.token_hex(4)}"
    path = folder / f".rosterkit-{maker}-{_check(maker)}.tmp"
    try:
        yield path
    finally:
        # What cannot be removed is swept later: the work itself is done, or has failed for a better reason.
        with suppress(OSError):
            path.unlink(missing_ok=True)


def sweep(folder: Path) -> None:
    """Remove what runs that were killed have left in a folder."""
    with suppress(OSError):
        for path in list(folder.iterdir()):
            if _is_left_over(path.name):
                with suppress(OSError):
                    path.unlink()


def _is_left_over(name: str) -> bool:
    found = _NAME.fullmatch(name)
    if found is None or found["check"] != _check(found["maker"]):
        return False
    if found["host"] == _host() and _is_gone(int(found["process"])):
        return True
    return time.time() - int(found["made"]) > _DAY


def _is_gone(process: int) -> bool:
    if _SYSTEM == "nt":
        return False  # to ask after a process in this way would end it there
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return True
    except (OSError, OverflowError):
        return False
    return False


def _host() -> str:
    """Return a checksum of this computer's name: processes of others that share a folder cannot be seen."""
    return _check(os.uname().nodename if hasattr(os, "uname") else os.environ.get("COMPUTERNAME", ""))


def _check(text: str) -> str:
    return f"{zlib.crc32(b'rosterkit ' + text.encode('utf-8', 'surrogateescape')):08x}"

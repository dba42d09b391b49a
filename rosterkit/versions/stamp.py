"""The stamp of a copy that is sent: by it the copy knows the workbook that it was made of, its base.

A stamp is made of what members had filled in, so that the master as it was then is as good a base as the file
that was sent, and both still are after another program has saved them. It stands in a hidden defined name of
the workbook, with the name of the master behind it: such a name survives LibreOffice, Gnumeric and .ods, as
a custom property does not.
"""

import hashlib
import json
import re
from collections.abc import Mapping
from functools import lru_cache

from rosterkit.errors import CannotRunError
from rosterkit.versions.content import contents_of
from rosterkit.versions.merged import NotMerged
from rosterkit.versions.version import Version
from rosterkit.xlsx.grid import Grid
from rosterkit.xlsx.package.contents import OWNER
from rosterkit.xlsx.package.errors import shown
from rosterkit.xlsx.package.opening import Package, opened_in_memory
from rosterkit.xlsx.read.names import named_text
from rosterkit.xlsx.read.workbook import read_workbook

STAMP_NAME = f"_{OWNER}_base"
"""The defined name that holds the stamp, and behind a space the file name of the master."""
MEMBER_NAME = f"_{OWNER}_member"
"""The defined name that holds the code of the member whom the copy was sent to."""
LONGEST = 200
"""Characters of a file name or a code that a name holds; a text in a formula has 255 at most."""

_DIGITS = 32
_STAMP = re.compile(rf"([0-9a-f]{{{_DIGITS}}})(?: (.*))?", re.DOTALL)


def stamp_of(package: Package) -> str | None:
    """Return the stamp of the base that a copy knows: 32 hexadecimal digits; None if it knows none.

    Raises:
        CannotRunError: its workbook part is damaged.
    """
    found = _STAMP.fullmatch(named_text(package, STAMP_NAME) or "")
    return found[1] if found else None


def base_name(package: Package) -> str | None:
    """Return the file name of the master that a copy was made of; None if it does not know it."""
    found = _STAMP.fullmatch(named_text(package, STAMP_NAME) or "")
    return found[2] if found else None


def member_of(package: Package) -> str | None:
    """Return the code of the member whom a copy was sent to with --member; None if it was sent to nobody."""
    return named_text(package, MEMBER_NAME) or None


def content_stamp(workbook: Package | Version) -> str:
    """Return the stamp of what stands in a workbook: 32 hexadecimal digits of its SHA-256.

    The order of rows and of columns, computed columns and the sheets that rosterkit made do not count.

    Args:
        workbook: It, opened or read.

    Raises:
        CannotRunError: it cannot be read, or a heading of ours stands twice in a sheet.
    """
    if isinstance(workbook, Package):
        return _stamp_of_file(workbook.raw, workbook.name)
    if content_stamp not in workbook.kept:
        workbook.kept[content_stamp] = _stamp(workbook.grids, workbook.package.name)
    return str(workbook.kept[content_stamp])


@lru_cache(maxsize=4)
def _stamp_of_file(data: bytes, name: str) -> str:
    """Return the stamp of a file, which is worked out once for all copies that are held against it."""
    package = opened_in_memory(data, name)
    theirs = {sheet.title for sheet in package.sheets if not sheet.is_own}
    return _stamp(read_workbook(package, theirs.__contains__).grids, name)


def _stamp(grids: Mapping[str, Grid], name: str) -> str:
    text = json.dumps(contents_of(grids, name), ensure_ascii=True, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()[:_DIGITS]


def require_base(base: Package | Version, copy: Package) -> None:
    """See that a copy was made of a base; a copy without a stamp passes, see ``unverified``.

    What counts is what stands in the base now: one that was edited after it was sent is another base.

    Raises:
        CannotRunError: the copy knows another base, or the base is a copy that somebody edited.
    """
    stamp = stamp_of(copy)
    if stamp is None or stamp == content_stamp(base):
        return
    package = base if isinstance(base, Package) else base.package
    if stamp == stamp_of(package):
        raise CannotRunError(
            f"'{package.name}' was edited after it was sent: it is no base for '{copy.name}'",
            "Give --base the workbook as it was sent, or the master as it was then; give this one as a copy.",
        )
    name = base_name(copy)
    other = f"{shown(name)} as it was when it was sent" if name else "another workbook"
    raise CannotRunError(
        f"'{copy.name}' is a copy of another base than '{package.name}': of {other} (stamp {stamp[:8]})",
        "Give --base that workbook, or merge this copy apart from the others.",
    )


def unverified(copy: Package, source: str) -> NotMerged | None:
    """Return the line that says that a copy knows no base, so that nobody can tell whose copy it is.

    None where it knows one. Somebody may have mailed the workbook without ``send``, or a program may have
    dropped the stamp: its changes are merged all the same.

    Args:
        copy: The copy.
        source: The name of its side.
    """
    if stamp_of(copy) is not None:
        return None
    return NotMerged(
        source=source,
        sheet="",
        cell="",
        value="",
        reason="this copy was not sent with 'rosterkit send', or lost its stamp: whether it was made of this"
        " base could not be verified",
    )

"""The command ``send``: a copy of a workbook that knows its base, to be edited by others and merged again."""

import os
from dataclasses import dataclass
from pathlib import Path

from rosterkit.commands.common import require_same_kind
from rosterkit.errors import CannotRunError
from rosterkit.formats import as_lines
from rosterkit.roster.load import roster_in
from rosterkit.versions.stamp import LONGEST, STAMP_NAME, content_stamp
from rosterkit.xlsx.changes import WorkbookChange
from rosterkit.xlsx.package.opening import opened
from rosterkit.xlsx.save.save import save


@dataclass(frozen=True, slots=True, kw_only=True)
class Sent:
    """What send did."""

    copy: Path
    stamp: str
    """Of the base that the copy knows."""
    kept: Path | None
    """The earlier file, where one was replaced."""


def send(master: Path, out: Path, *, force: bool = False) -> Sent:
    """Make a copy of a workbook, byte for byte but for a hidden name that holds the stamp of its contents.

    The stamp of a workbook that is itself such a copy gives way to that of its contents.

    Args:
        master: The workbook.
        out: Where the copy is made.
        force: A file that is there is replaced, and kept beside the copy.

    Raises:
        CannotRunError: the workbook cannot be read, is no roster, or the copy cannot be made there.
    """
    require_same_kind(master, out)
    _refuse_place(master, out, force=force)
    package = opened(master)
    roster_in(package)
    stamp = content_stamp(package)
    change = WorkbookChange(texts={STAMP_NAME: f"{stamp} {master.name[:LONGEST]}"})
    saved = save(package, change, out)
    return Sent(copy=out, stamp=stamp, kept=saved.kept)


def _refuse_place(master: Path, out: Path, *, force: bool) -> None:
    if os.path.realpath(master) == os.path.realpath(out) or (out.exists() and out.samefile(master)):
        raise CannotRunError(
            f"'{out}' is the workbook itself, which send leaves alone", "Give -o another name."
        )
    if out.exists() and not force:
        raise CannotRunError(f"'{out}' is there already", "Give another name, or --force to replace it.")


def sent_text(sent: Sent) -> str:
    """Say which copy was made, and what to do with it."""
    earlier = f"; the earlier file is {sent.kept}" if sent.kept else ""
    return as_lines(
        [
            f"made {sent.copy}{earlier}",
            "send it out, and keep the workbook as it is now: it is the base that its copies are merged with",
        ]
    )

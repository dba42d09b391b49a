"""The command ``send``: a copy of a workbook that knows its base, to be edited by others and merged again."""

import os
from dataclasses import dataclass
from pathlib import Path

from rosterkit.commands.common import require_free, require_same_kind
from rosterkit.commands.send.first_rows import with_rows_first
from rosterkit.commands.send.open_cells import OpenCells, open_cells
from rosterkit.errors import CannotRunError
from rosterkit.formats import as_lines
from rosterkit.roster.load import package_at, roster_in
from rosterkit.roster.schema import folded
from rosterkit.versions.stamp import LONGEST, MEMBER_NAME, STAMP_NAME, content_stamp, member_of
from rosterkit.xlsx.changes import WorkbookChange
from rosterkit.xlsx.package.opening import Package
from rosterkit.xlsx.read.protection import is_sheet_protected
from rosterkit.xlsx.save.edit import edited
from rosterkit.xlsx.save.save import save, save_edited


@dataclass(frozen=True, slots=True, kw_only=True)
class Sent:
    """What send did."""

    copy: Path
    stamp: str
    """Of the base that the copy knows."""
    kept: Path | None
    """The earlier file, where one was replaced."""
    opened_for: OpenCells | None = None
    """What stays open for the member whom it is for; None where it is for everybody."""
    remarks: tuple[str, ...] = ()
    """What was not done, each in a sentence."""


def send(master: Path, out: Path, *, member: str | None = None, force: bool = False) -> Sent:
    """Make a copy of a workbook, byte for byte but for a hidden name that holds the stamp of its contents.

    The stamp of a workbook that is itself such a copy gives way to that of its contents.

    Args:
        master: The workbook.
        out: Where the copy is made.
        member: The code of a member: their engines stand first where nothing is bound to the place of a row,
            and the rows of others are locked, without a password.
        force: A file that is there is replaced, and kept beside the copy.

    Raises:
        CannotRunError: the workbook cannot be read, is no roster, the member owns no engine, or the copy
            cannot be made there.
    """
    require_same_kind(master, out)
    _refuse_place(master, out, force=force)
    package = package_at(master)
    roster = roster_in(package)
    found = open_cells(roster, member) if member is not None else None
    before = member_of(package)
    if found and before and folded(before) != folded(found.member):
        raise CannotRunError(
            f"'{master}' is a copy that was sent to {before}, in which the rows of others are locked",
            "Send the workbook that it was made of.",
        )
    stamp = content_stamp(package)
    texts = {STAMP_NAME: f"{stamp} {master.name[:LONGEST]}"}
    if found is None:
        saved = save(package, WorkbookChange(texts=texts), out)
        return Sent(copy=out, stamp=stamp, kept=saved.kept)
    texts[MEMBER_NAME] = found.member[:LONGEST]
    protected = _protected(package)
    remarks = [
        f"the sheet '{one.title}' is protected already: it stays as it is"
        for one in found.locks
        if protected.get(one.title) is False
    ]
    sorted_package, remark = package, None
    if roster.book.tables["Locomotives"].title not in protected:
        sorted_package, remark = with_rows_first(package, roster, found.member)
        found = open_cells(roster_in(sorted_package), found.member)
    locks = tuple(one for one in found.locks if one.title not in protected)
    data = edited(sorted_package, WorkbookChange(texts=texts, locks=locks)).data
    saved = save_edited(package, data, out)
    return Sent(
        copy=out,
        stamp=stamp,
        kept=saved.kept,
        opened_for=found,
        remarks=(*remarks, *([remark] if remark else ())),
    )


def _protected(package: Package) -> dict[str, bool]:
    """Return the titles of sheets that are protected, and whether it was send that did it."""
    return {
        sheet.title: sheet.is_locked
        for sheet in package.sheets
        if sheet.kind == "worksheet" and is_sheet_protected(package, sheet)
    }


def _refuse_place(master: Path, out: Path, *, force: bool) -> None:
    if os.path.realpath(master) == os.path.realpath(out) or (out.exists() and out.samefile(master)):
        message = f"'{out}' is the workbook itself, which send leaves alone"
        raise CannotRunError(message, "Give -o another name.")
    require_free(out, force=force)


def sent_text(sent: Sent) -> str:
    """Say which copy was made, for whom, and what to do with it."""
    earlier = f"; the earlier file is {sent.kept}" if sent.kept else ""
    lines = [f"made {sent.copy}{earlier}"]
    if sent.opened_for is not None:
        found = sent.opened_for
        engines = "1 engine is" if found.engines == 1 else f"{found.engines} engines are"
        lines.append(f"for {found.member}: {engines} open, {found.others} locked")
    return as_lines(
        [
            *lines,
            *sent.remarks,
            "send it out, and keep the workbook as it is now: it is the base that its copies are merged with",
        ]
    )

"""Saves a change of a workbook to the disk: whole or not at all, never over what somebody else just wrote."""

import os
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from rosterkit.xlsx.changes import WorkbookChange
from rosterkit.xlsx.package.opening import Package, opened
from rosterkit.xlsx.patch.refusal import unwritable
from rosterkit.xlsx.save.atomic_replace import changed_since, explained, put_in_place
from rosterkit.xlsx.save.edit import Edited, edited

_WRITABLE = 0o222
"""The bits of a mode that let anybody write."""
_ENDINGS = {True: (".xlsm", ".xltm"), False: (".xlsx", ".xltx")}
"""Of file names, for workbooks with macros and without."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Saved:
    """What saving came to."""

    path: Path
    """The file that holds the workbook now."""
    changed: bool
    """False if the workbook already was as wanted; then nothing was written in its place."""
    kept: Path | None
    """The earlier state of the file, named as its caller named the file; None if it is not replaced."""
    titles: Mapping[str, str]
    """The title that each page bears in the workbook, by the title it was to have."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Prepared:
    """A workbook with a change made and verified, not yet on the disk."""

    package: Package
    asked: Path
    """The file as its caller named it."""
    path: Path
    """The file itself, no symbolic link."""
    in_place: bool
    made: Edited


def save(package: Package, change: WorkbookChange, target: Path | None = None) -> Saved:
    """Make a change and save the workbook in place, or to another file.

    A file that is replaced is kept beside the new one as NAME.earlier.xlsx, its newest earlier state only;
    where a member's own file has that name, the name has letters and digits more.
    A symbolic link is followed: the file that it leads to is replaced.

    Args:
        package: The workbook.
        change: What is to be changed.
        target: Another file; None for the workbook's own.

    Raises:
        CannotRunError: the change cannot be made without harm, or the file not be written; it stays as it is.
    """
    return put(prepared(package, change, target))


def prepared(package: Package, change: WorkbookChange, target: Path | None = None) -> Prepared:
    """Make a change in memory, for a file that may be written as far as can be known; see ``save``.

    Raises:
        CannotRunError: the change cannot be made without harm, or the file not be written.
    """
    asked, path, in_place = _seat(package, target)
    made = edited(package, change)
    return Prepared(package=package, asked=asked, path=path, in_place=in_place, made=made)


def save_edited(package: Package, data: bytes, target: Path | None = None) -> Saved:
    """Save what several edits in memory made of a workbook, each of them verified; see ``save``.

    Raises:
        CannotRunError: the file cannot be written; it stays as it is.
    """
    asked, path, in_place = _seat(package, target)
    made = Edited(data=data, changed=data != package.raw)
    return put(Prepared(package=package, asked=asked, path=path, in_place=in_place, made=made))


def _seat(package: Package, target: Path | None) -> tuple[Path, Path, bool]:
    """Return the file as it was asked for, the file itself, and whether it is the workbook's own."""
    asked = package.path if target is None else target
    path = _followed(asked)
    in_place = path == _followed(package.path)
    if not in_place:
        _refuse_ending(package, path)
    _refuse_place(asked, path)
    return asked, path, in_place


def put(one: Prepared) -> Saved:
    """Put a prepared workbook in its place; see ``save``.

    Raises:
        CannotRunError: the file cannot be written, or was changed since it was read; it stays as it is.
    """
    path, made = one.path, one.made
    if one.in_place and not made.changed:
        return Saved(path=path, changed=False, kept=None, titles=made.titles)

    def last_look() -> None:
        _refuse_open(one.asked, path)
        if one.in_place:
            _refuse_changed(one.package, path)

    kept = put_in_place(path, made.data, last_look, source=None if one.in_place else one.package.path)
    return Saved(
        path=path, changed=made.changed, kept=kept and _as_asked(kept, one.asked, path), titles=made.titles
    )


def save_new(path: Path, data: bytes, *, keep: bool = False) -> Path | None:
    """Put a workbook that was made from nothing at a path, and return the earlier file if one is kept.

    Raises:
        CannotRunError: the file cannot be written; what was there stays as it was.
    """
    followed = _followed(path)
    _refuse_place(path, followed)
    kept = put_in_place(followed, data, lambda: _refuse_open(path, followed), keep=keep)
    return kept and _as_asked(kept, path, followed)


def write_workbook(path: Path, change: WorkbookChange, target: Path | None = None) -> Saved:
    """Open a workbook, make a change and save it; see ``save``.

    Raises:
        CannotRunError: the workbook cannot be read, changed or written.
    """
    return save(opened(path), change, target)


def _followed(path: Path) -> Path:
    try:
        return path.resolve()
    except FileNotFoundError:
        raise unwritable(
            str(path), "the folder you work in is not there any more", "Change to another folder."
        ) from None
    except (OSError, RuntimeError):
        raise unwritable(str(path), "it is a link that leads nowhere", "Give the file itself.") from None


def _as_asked(kept: Path, asked: Path, path: Path) -> Path:
    """Name a file beside one that is perhaps named from the working folder, or by a link from elsewhere."""
    return asked.with_name(kept.name) if _followed(asked.parent) == path.parent else kept


def _refuse_ending(package: Package, path: Path) -> None:
    fitting = _ENDINGS[package.macro]
    if path.suffix.casefold() in _ENDINGS[not package.macro]:
        what = "with" if package.macro else "without"
        raise unwritable(
            str(path), f"a workbook {what} macros needs another ending", f"Give it the ending {fitting[0]}."
        )


def _refuse_place(asked: Path, path: Path) -> None:
    """Refuse what can be known before any work is done; whether a folder can be written to cannot."""
    with explained(asked):
        if not path.parent.is_dir():
            raise unwritable(str(asked), "its folder is not there", "Make the folder, or name another one.")
        if path.is_dir():
            raise unwritable(str(asked), "it is a folder", "Give a file name inside it.")
        if path.exists() and not path.is_file():
            raise unwritable(str(asked), "it is no ordinary file", "Give a file.")
        # An administrator may write to everything; write protection is a wish to be heeded all the same.
        if path.exists() and not (os.access(path, os.W_OK) and path.stat().st_mode & _WRITABLE):
            raise unwritable(
                str(asked), "it is read-only", "Take its write protection off, or save to another file."
            )
    _refuse_open(asked, path)


def _refuse_open(asked: Path, path: Path) -> None:
    """Refuse a workbook that a spreadsheet program has open, by the two kinds of lock files they leave."""
    for each in {asked, path}:
        for name in (f"~${each.name}", f".~lock.{each.name}#"):
            # A name that is too long for a lock file has none.
            if os.path.lexists(each.with_name(name)):
                raise unwritable(
                    str(asked),
                    "it is open in a spreadsheet program",
                    f"Close it there; if it is open nowhere, delete the file {name} beside it.",
                )


def _refuse_changed(package: Package, path: Path) -> None:
    try:
        standing = path.read_bytes()
    except FileNotFoundError:
        standing = b""
    if standing != package.raw:
        raise changed_since(package.name)

"""What several commands do alike: paths judged, and each file taken once."""

import os
from collections.abc import Sequence
from datetime import date, datetime
from pathlib import Path

from rosterkit.cv.readings import Moment
from rosterkit.errors import CannotRunError


def require_room(path: Path, ending: str = ".xlsx", *, force: bool) -> None:
    """See that a new file, a workbook unless it has another ending, can be put at a path.

    Raises:
        CannotRunError: if the path has another ending, its folder is not there, or a file is there already.
    """
    if path.is_dir():  # asked first, as '.' and '/' have no name that could get an ending
        raise CannotRunError(f"'{path}' is a folder", "Give another name.")
    if path.suffix.lower() != ending:
        name = path.with_suffix(ending).name
        raise CannotRunError(f"'{path}' does not end in {ending}", f"Name it {name}.")
    if not path.parent.is_dir():
        raise CannotRunError(f"'{path.parent}' is not a folder to write into", "Make the folder first.")
    require_free(path, force=force)


def require_free(path: Path, *, force: bool) -> None:
    """See that no file is at a path, or that it may be replaced.

    Raises:
        CannotRunError: if one is, and it may not.
    """
    if path.exists() and not force:
        raise CannotRunError(f"'{path}' is there already", "Give another name, or --force to replace it.")


def require_same_kind(path: Path, out: Path | None) -> None:
    """See that a copy has the ending of its workbook and is no folder.

    Raises:
        CannotRunError: if it does not, or is one.
    """
    if out is not None and out.is_dir():
        raise CannotRunError(f"cannot write {out}: it is a folder", "Give a file name inside it.")
    if out is not None and out.suffix.lower() != path.suffix.lower() and path.is_file():
        name = out.with_suffix(path.suffix).name
        raise CannotRunError(
            f"'{out}' does not end in {path.suffix} as the workbook does", f"Name it {name}."
        )


def each_file_once(paths: Sequence[Path]) -> Sequence[Path]:
    """Return each file once, as it is named first: no engine clashes with itself."""
    first: dict[str, Path] = {}
    for path in paths:
        first.setdefault(os.path.realpath(path), path)
    return list(first.values())


def now() -> Moment:
    """Return the day and the time of day, to the second."""
    return day_and_time(None)


def day_and_time(text: str | None) -> Moment:
    """Return a day, today if none is given, and its time, which of another day is not known.

    Raises:
        CannotRunError: if the text is no day as 2026-05-31.
    """
    at = datetime.now()
    try:
        day = date.fromisoformat(text) if text else at.date()
    except ValueError:
        raise CannotRunError(f"'{text}' is not a day", "Write it as 2026-05-31.") from None
    return Moment(day=day.isoformat(), time=at.time().isoformat("seconds") if day == at.date() else None)

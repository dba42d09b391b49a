"""A new workbook, put in place whole and never over a file that is there."""

from collections.abc import Mapping, Sequence
from pathlib import Path

from rosterkit.demo.club import demo_club
from rosterkit.errors import CannotRunError
from rosterkit.range_presets import preset_named, range_rows
from rosterkit.xlsx.editing.saving import save_new
from rosterkit.xlsx.pages.template import new_workbook as template


def new_workbook(
    path: Path,
    *,
    sample: bool = False,
    force: bool = False,
    ranges: str | None = None,
    members: Sequence[str] = (),
) -> None:
    """Make a starter workbook, or the demo club; ``ranges`` names a scheme for its sheet Address ranges.

    Raises:
        CannotRunError: if the path is no .xlsx file, its folder is not there, a file is there already, or
            there is no such scheme.
    """
    require_room(path, force=force)
    if members and ranges is None:
        raise CannotRunError("--member gives out blocks of a scheme", "Name the scheme with --ranges.")
    rows: dict[str, Sequence[Mapping[str, str | int | float | None]]] = {**(demo_club() if sample else {})}
    if ranges is not None:
        rows["Address ranges"] = range_rows(preset_named(ranges), members)
    save_new(path, template(rows))


def require_room(path: Path, *, force: bool) -> None:
    """See that a new workbook can be put at a path.

    Raises:
        CannotRunError: if the path is no .xlsx file, its folder is not there, or a file is there already.
    """
    if path.is_dir():  # asked first, as '.' and '/' have no name that could get an ending
        raise CannotRunError(f"'{path}' is a folder", "Give another name.")
    if path.suffix.lower() != ".xlsx":
        raise CannotRunError(f"'{path}' does not end in .xlsx", f"Name it {path.with_suffix('.xlsx').name}.")
    if not path.parent.is_dir():
        raise CannotRunError(f"'{path.parent}' is not a folder to write into", "Make the folder first.")
    if path.exists() and not force:
        raise CannotRunError(f"'{path}' is there already", "Give another name, or --force to replace it.")

"""A new workbook, put in place whole and never over a file that is there."""

from collections.abc import Mapping, Sequence
from pathlib import Path

from rosterkit.commands.common import require_room
from rosterkit.commands.new.demo_club import demo_club
from rosterkit.commands.new.range_presets import preset_named, range_rows
from rosterkit.errors import CannotRunError
from rosterkit.template.formulas import with_formulas
from rosterkit.template.new_workbook import new_workbook as template
from rosterkit.template.own_columns import NewValue
from rosterkit.xlsx.save.save import save_new


def make_workbook(
    path: Path,
    *,
    sample: bool = False,
    force: bool = False,
    ranges: str | None = None,
    members: Sequence[str] = (),
) -> Path | None:
    """Make a starter workbook, or the demo club, and return the earlier file where one was replaced.

    ``ranges`` names a scheme for its sheet Address ranges.

    Raises:
        CannotRunError: if the path is no .xlsx file, its folder is not there, a file is there already, or
            there is no such scheme.
    """
    require_room(path, force=force)
    if members and ranges is None:
        raise CannotRunError("--member gives out blocks of a scheme", "Name the scheme with --ranges.")
    rows: dict[str, Sequence[Mapping[str, NewValue]]] = {**(demo_club() if sample else {})}
    if ranges is not None:
        rows["Address ranges"] = range_rows(preset_named(ranges), members)
    return save_new(path, with_formulas(template(rows), path.name), keep=True)

"""A meet planned and written into one new workbook."""

from collections.abc import Sequence
from pathlib import Path

from rosterkit.errors import CannotRunError
from rosterkit.meeting import Meet, meet_of
from rosterkit.rendering.meet_pages import meet_pages
from rosterkit.starting import put_in_place, require_room
from rosterkit.xlsx.new_pages import workbook_of


def planned(paths: Sequence[Path], out: Path, *, force: bool = False, processes: int = 0) -> Meet:
    """Read everybody's workbooks, plan the meet, and write the meet workbook.

    Raises:
        CannotRunError: if no workbook can be read, nobody comes, or the new one cannot be written there.
    """
    require_room(out, force=force)
    for path in paths:
        if out.exists() and path.exists() and path.samefile(out):
            raise CannotRunError(f"'{out}' is one of the members' workbooks", "Give -o another name.")
    meet = meet_of(paths, processes=processes)
    put_in_place(out, workbook_of(meet_pages(meet)))
    return meet

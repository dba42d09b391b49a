"""What copies come to, put into the master in memory, with a sheet Merge that accounts for it."""

from collections.abc import Sequence, Set
from dataclasses import dataclass

from rosterkit.commands.merge.earlier import earlier_lines
from rosterkit.commands.merge.lines import Line, What, lines_of
from rosterkit.commands.merge.sheet import merge_sheet
from rosterkit.commands.merge.together import ErrorMark, errors_only_together
from rosterkit.errors import CannotRunError
from rosterkit.findings import Finding
from rosterkit.roster.cell_values import shown
from rosterkit.roster.schema import folded, sheet
from rosterkit.versions.merged import Merged
from rosterkit.versions.stamp import STAMP_NAME, stamp_of
from rosterkit.versions.version import Version, version_of
from rosterkit.writeback.merge_edit import merge_edit, places_in
from rosterkit.writeback.merge_sheets import missing_sheets, require_titles
from rosterkit.xlsx.changes import WorkbookChange
from rosterkit.xlsx.package.opening import opened_in_memory
from rosterkit.xlsx.save.edit import edited


@dataclass(frozen=True, slots=True, kw_only=True)
class MergedWorkbook:
    """A merged workbook that is not on the disk yet."""

    data: bytes
    """The file; the very bytes of the master where nothing came to it."""
    lines: Sequence[Line] = ()
    """What the sheet Merge says."""
    together: Sequence[Finding] = ()
    """The errors that no workbook had alone."""


def merged_workbook(
    merged: Merged, master: Version, names: Sequence[str], known_errors: Set[ErrorMark], name: str
) -> MergedWorkbook:
    """Put what copies come to into the master, with a sheet Merge; each edit is verified as any is.

    Args:
        merged: what they come to.
        master: the workbook that is edited; the base itself where it did not move on.
        names: the names of the sides, in the order in which they were given.
        known_errors: the errors that the base, the master or a copy has alone.
        name: what findings and messages call the result.

    Raises:
        CannotRunError: the master cannot be edited without harm.
    """
    if merged.changes_nothing:
        return MergedWorkbook(data=master.package.raw)
    whole = _with_missing_sheets(merged, master, name)
    edit = merge_edit(merged, whole.book, whole.grids, master.name, date1904=whole.package.date1904)
    after = _edited(whole, edit.change, name)
    together = errors_only_together(after.roster, known_errors, _renamed(merged))
    places = places_in(after.book, after.grids)
    lines = [*earlier_lines(master.package), *lines_of(merged, edit, places, together, master.name)]
    lines.sort(key=lambda line: list(What).index(line.what))
    page = merge_sheet(lines, names)
    change = WorkbookChange(own_sheets=(page,), texts=_no_stamp(master))
    return MergedWorkbook(data=_with_sheet(after, change), lines=lines, together=together)


def _renamed(merged: Merged) -> dict[str, str]:
    """Return the earlier labels of renamed engines by the new ones."""
    heading = sheet("Locomotives")["loco"].heading
    return {
        shown(one.new.value): shown(one.old)
        for one in merged.taken
        if (folded(one.row.sheet), one.column) == (folded("Locomotives"), heading)
    }


def _with_sheet(version: Version, change: WorkbookChange) -> bytes:
    try:
        return edited(version.package, change).data
    except CannotRunError as error:
        if "--replace" not in error.fix:
            raise
        # That is an option of other commands.
        raise CannotRunError(error.message, "Move them to a sheet of your own, and merge again.") from None


def _no_stamp(master: Version) -> dict[str, str]:
    """Return what empties the stamp of a copy that was sent: the merged workbook is none of that base."""
    return {STAMP_NAME: ""} if stamp_of(master.package) is not None else {}


def _with_missing_sheets(merged: Merged, master: Version, name: str) -> Version:
    made = missing_sheets(merged, master.book, master.grids)
    if not made:
        return master
    result = edited(master.package, WorkbookChange(own_sheets=made))
    require_titles(made, result.titles)
    return version_of(opened_in_memory(result.data, name), master.name)


def _edited(version: Version, change: WorkbookChange, name: str) -> Version:
    result = edited(version.package, change)
    return version_of(opened_in_memory(result.data, name), version.name)

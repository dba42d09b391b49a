"""Edits a workbook that is not on a disk yet, such as one that was just made, with the same proof."""

from rosterkit.xlsx.changes import WorkbookChange
from rosterkit.xlsx.package.opening import opened_in_memory
from rosterkit.xlsx.save import edit


def edited(data: bytes, name: str, change: WorkbookChange) -> bytes:
    """Return a workbook file with a change made, verified as any edit is; see ``edit.edited``.

    Args:
        data: The file.
        name: What messages call it.
        change: What is to be changed; where nothing is, the very bytes come back.

    Raises:
        CannotRunError: the data is no workbook, or the change cannot be made without harm.
    """
    return edit.edited(opened_in_memory(data, name), change).data

"""The command ``compare``: two workbooks in, what changed between them out."""

from pathlib import Path

from rosterkit.commands.compare.engines import Comparison, comparison
from rosterkit.roster.load import own_sheets, roster_in
from rosterkit.xlsx.package.opening import opened


def compare(old: Path, new: Path) -> Comparison:
    """Read two workbooks, and compare them: engines with their CVs, and the rows of all other sheets.

    Raises:
        CannotRunError: if one of them cannot be read.
    """
    before, after = opened(old), opened(new)
    return comparison(roster_in(before), roster_in(after), (own_sheets(before), own_sheets(after)))

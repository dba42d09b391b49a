"""The command ``compare``: two workbooks in, what changed between them out."""

from pathlib import Path

from rosterkit.commands.compare.engines import Comparison, comparison
from rosterkit.roster.load import package_at
from rosterkit.versions.outside import own_and_outside
from rosterkit.versions.version import version_of


def compare(old: Path, new: Path) -> Comparison:
    """Read two workbooks, and compare them: engines with their CVs, and the rows of all other sheets.

    Raises:
        CannotRunError: if one of them cannot be read.
    """
    before, after = version_of(package_at(old), str(old)), version_of(package_at(new), str(new))
    return comparison(before.roster, after.roster, (own_and_outside(before), own_and_outside(after)))

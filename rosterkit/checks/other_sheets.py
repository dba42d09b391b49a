"""Checks of sheets that are not read: whether engines stand there that nobody checks."""

from collections.abc import Iterator

from rosterkit.checks.framework import check_each, rosters
from rosterkit.findings import Hit, Place, Severity
from rosterkit.roster.elsewhere import Elsewhere
from rosterkit.roster.model import Roster
from rosterkit.roster.refusals import adopting
from rosterkit.roster.schema import folded

_NAMED = 4
"""Headings that a message names."""


@check_each(rosters, Severity.NOTE)
def engines_elsewhere(roster: Roster) -> Iterator[Hit]:
    """A sheet of a member's own looks like a list of engines that are not in Locomotives.

    Why: only the sheet Locomotives is read, so nothing is checked or computed for what stands elsewhere.
    Fix: Put its engines into Locomotives, or have a workbook made of all sheets with 'rosterkit adopt'.
    """
    for one in roster.book.elsewhere:
        known = {folded(str(label)) for label in _labels(roster, one)}
        missing = [label for label in one.labels if folded(label) not in known]
        if missing:
            headings = ", ".join(f"'{' '.join(text.split())}'" for text in one.headings[:_NAMED])
            yield Hit(
                place=Place(roster.book.name, one.title, one.row, 1),
                message=f"the sheet '{one.title}' was not read; under {headings} it has engines such as "
                f"'{missing[0]}'",
                fix="Move its engines to Locomotives, or have a workbook made of all sheets with "
                f"{adopting(roster.book.name)}.",
            )


def _labels(roster: Roster, one: Elsewhere) -> Iterator[object]:
    """Return what engines are called in Locomotives: what stands elsewhere about them adds no engine."""
    for engine in roster.engines:
        yield from (engine.loco, engine.number) if one.column == "loco" else (engine.number,)

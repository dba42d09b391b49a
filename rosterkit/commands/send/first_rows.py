"""A member's engines first in Locomotives, where nothing is bound to a row that could not go along."""

from collections.abc import Iterator, Mapping, Sequence

from rosterkit.commands.send.written_anew import written_anew
from rosterkit.errors import CannotRunError
from rosterkit.roster.model import Roster
from rosterkit.roster.owners import owner_codes
from rosterkit.roster.schema import folded
from rosterkit.xlsx.changes import RowOrder, WorkbookChange
from rosterkit.xlsx.package.opening import Package, opened_in_memory
from rosterkit.xlsx.patch.row_order import RowsBoundError
from rosterkit.xlsx.save.edit import edited

_ENGINES = "Locomotives"


def with_rows_first(package: Package, roster: Roster, member: str) -> tuple[Package, str | None]:
    """Return a workbook in which a member's engines stand first, and why they do not, in a sentence.

    All other engines follow in the order that they had. What rosterkit computes, and its sheets that name
    rows, are written anew. Nothing moves where something is bound to the place of a row.
    """
    order = _order(roster, member)
    if all(new == old for new, old in order.items()):
        return package, None
    table = roster.book.tables[_ENGINES]
    columns = (table.headings.columns.get(one.name) for one in table.sheet.computed)
    change = RowOrder(title=table.title, rows=order, staying=frozenset(filter(None, columns)))
    try:
        moved = opened_in_memory(edited(package, WorkbookChange(orders=(change,))).data, package.name)
        return written_anew(moved), None
    except RowsBoundError as bound:
        why = f"they cannot move with {bound}"
    except CannotRunError as refused:
        why = refused.message
    return package, f"the rows of {table.title} stay where they are: {why}"


def _order(roster: Roster, member: str) -> Mapping[int, int]:
    """Return, by the row of each engine, whose row is to stand there; rows of no engine stay."""
    rows = roster.book.tables[_ENGINES].rows
    return dict(zip(rows, _sorted(rows, roster, member), strict=True))


def _sorted(rows: Sequence[int], roster: Roster, member: str) -> Iterator[int]:
    theirs = [folded(code) == folded(member) for code in owner_codes(roster)]
    for wanted in (True, False):
        yield from (row for row, own in zip(rows, theirs, strict=True) if own is wanted)

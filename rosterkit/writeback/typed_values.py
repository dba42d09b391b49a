"""Values that somebody typed under computed headings, in a workbook that fill never wrote into."""

from collections.abc import Iterator
from dataclasses import dataclass

from rosterkit.cards.sheet import TITLE as CARDS
from rosterkit.errors import CannotRunError
from rosterkit.live.machinery import TITLE as LIVE
from rosterkit.roster.cell_values import shown
from rosterkit.roster.model import Roster
from rosterkit.roster.tables import Table
from rosterkit.writeback.computed_columns import Computed, computed_rows, may_be_ours
from rosterkit.writeback.sheets import has_our_checks

_WRITTEN_BY_FILL = (CARDS, "Findings", LIVE)
_SHEETS = ("Locomotives", "Consists", "Accessories", "Speed runs")
"""The sheets with values that fill alone writes; recording writes into Readings too."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedValue:
    """A cell under a computed heading in which somebody typed something else than would be computed."""

    table: Table
    column: str
    index: int
    """Of the row."""
    computed: Computed

    @property
    def stored(self) -> str:
        """What stands in the cell."""
        return shown(self.table.raw[self.column][self.index])

    @property
    def wanted(self) -> str:
        """What would be computed in words."""
        return "nothing" if self.computed is None else str(self.computed)


def was_filled(roster: Roster) -> bool:
    """Tell whether fill wrote into a workbook: its sheet Cards is there, or a text of ours under Check."""
    marked = any(title.startswith(_WRITTEN_BY_FILL) for title in roster.book.own_titles)
    return marked or any(has_our_checks(table) for table in roster.book.tables.values())


def typed_values(roster: Roster) -> Iterator[TypedValue]:
    """Return the values that fill would write over, in a workbook or column that it never wrote into."""
    filled = was_filled(roster)
    for title in _SHEETS:
        table = roster.book.tables.get(title)
        if table is None:
            continue
        computed = [
            column
            for column in table.sheet.computed
            if column.name in table.raw and not (filled and _has_its_neighbour(table, column.name))
        ]
        columns = [column for column in computed if any(stored != "" for stored in table.raw[column.name])]
        for index, row in enumerate(computed_rows(roster, title) if columns else ()):
            for column in columns:
                stored = table.raw[column.name][index]
                replaced = column.name in row and table.values[column.name][index] != row[column.name]
                if stored != "" and replaced and may_be_ours(column, stored):
                    yield TypedValue(table=table, column=column.name, index=index, computed=row[column.name])


def _has_its_neighbour(table: Table, column: str) -> bool:
    """Tell whether fill may have added a column: it adds Answers and CV29 read together with Alert.

    In a workbook that was filled before there were these, such a column is a member's own.
    """
    return column not in {"answers", "cv29_read"} or "alert" in table.raw


def refuse_typed_values(roster: Roster) -> None:
    """Leave values alone that a person entered under computed headings before fill ever ran.

    Raises:
        CannotRunError: if there are some that are not what would be computed.
    """
    found = list(typed_values(roster))
    if not found:
        return
    first = found[0]
    place, heading = first.table.place(first.column, first.index), first.table.heading(first.column)
    more = f" (1 of {len(found)} such values)" if len(found) > 1 else ""
    raise CannotRunError(
        f"{roster.book.name}: {place.cell} under {heading} in the sheet '{first.table.title}' holds "
        f"{first.stored}, which rosterkit did not write and would replace by {first.wanted}{more}",
        "Enter what was read from decoders in the sheet Readings, then empty those cells; or rename the "
        "heading if the column is your own.",
    )

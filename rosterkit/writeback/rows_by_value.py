"""The rows for which no formula gives our own values, so that fill writes values alone into them."""

from collections.abc import Mapping, Sequence, Set

from rosterkit.formulas.values import Content
from rosterkit.live.blocks import machinery_for
from rosterkit.live.calculated import ListCells, calculated
from rosterkit.live.contents import contents
from rosterkit.live.facts import MOST_COUNTED, facts_of
from rosterkit.roster.model import Roster
from rosterkit.roster.tables import Table
from rosterkit.writeback.computed_columns import computed_rows
from rosterkit.writeback.formula_places import formula_places
from rosterkit.writeback.formula_templates import formula_templates
from rosterkit.xlsx.grid import Raw


def rows_by_value(roster: Roster, title: str, indices: Sequence[int]) -> tuple[Set[int], Set[int]]:
    """Return of some rows those in which fill writes values alone for CVs, and those that get no Alert.

    Args:
        roster: The workbook's roster.
        title: Our own title of the sheet.
        indices: The rows to look at, by their indexes.
    """
    places = formula_places(roster.book)
    machinery = machinery_for(places, facts_of(roster, ()))
    counted = len(roster.engines) <= MOST_COUNTED
    templates = formula_templates(places, machinery, counted=counted)[title]
    lists = {
        name: ListCells(place=places[name], typed=_typed(table)) for name, table in roster.book.tables.items()
    }
    table, computed = roster.book.tables[title], computed_rows(roster, title)
    lists[title] = ListCells(
        place=places[title],
        typed=lists[title].typed,
        templates=templates,
        rows=[table.rows[index] for index in indices],
        own={name: [computed[index].get(name) for index in indices] for name in templates if name != "alert"},
    )
    found = calculated(lists, machinery, {})
    by_row = {table.rows[index]: index for index in indices}
    return (
        {by_row[row] for row in found.by_value[title]},
        {by_row[row] for row in found.without_alert if row in by_row},
    )


def _typed(table: Table) -> Mapping[int, Sequence[Content]]:
    """Return what stands in the columns that are ours, from row 1; in rows without an entry nothing does."""
    if table.sheet.transposed:
        rows = table.headings.columns
        names = {row: table.headings.texts[name] for name, row in rows.items()}
        values = {row: table.raw[name][0] for name, row in rows.items()}
        return {table.name_column: _down(names), table.value_column: _down(values)}
    return {
        at: _down(dict(zip(table.rows, table.raw[name], strict=True)))
        for name, at in table.headings.columns.items()
    }


def _down(cells: Mapping[int, Raw]) -> Sequence[Content]:
    return contents([cells.get(row, "") for row in range(1, max(cells, default=0) + 1)])

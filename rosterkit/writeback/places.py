"""Where in a member's sheet new columns and rows go: at the right end and below, where nothing stands."""

from collections.abc import Sequence

from rosterkit.roster.tables import Table


def computed_places(table: Table) -> tuple[dict[str, int], list[str]]:
    """Return the sheet column of each computed column, and the names of those that have to be added."""
    return places_of(table, [column.name for column in table.sheet.computed])


def places_of(table: Table, names: Sequence[str]) -> tuple[dict[str, int], list[str]]:
    """Return the sheet column of each of some columns, and the names of those that have to be added.

    They are added at the right end, beyond the last heading, in columns where nothing stands.
    """
    columns = {name: table.headings.columns[name] for name in names if name in table.headings.columns}
    added = [name for name in names if name not in columns]
    start = table.headings.width + 1
    while any(at in table.beyond for at in range(start, start + len(added))):
        start += 1
    return columns | {name: start + n for n, name in enumerate(added)}, added


def heading_cell(table: Table) -> tuple[int, int]:
    """Return row and column of the first heading that a member fills: a table over it holds the list."""
    columns = table.headings.columns
    typed = [columns[column.name] for column in table.sheet.filled_by_members if column.name in columns]
    return table.headings.row, min(typed or columns.values())


def first_free_row(table: Table, count: int) -> int:
    """Return the first of so many sheet rows below the list in which nothing stands.

    What a member wrote there, also in a column of their own, and what lies over cells (merged cells, another
    table, a photo) is passed over.
    """
    first = max([table.headings.row, *table.rows, *table.orphaned_rows]) + 1
    taken = [(row, row) for row in table.other_rows] + [(one.top, one.bottom) for one in table.covered]
    for top, bottom in sorted(taken):
        if top >= first + count:
            break
        first = max(first, bottom + 1)
    return first

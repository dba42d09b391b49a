"""What a merged workbook holds, worked out from what copies come to by the plainest means."""

from collections.abc import Mapping, Sequence

from rosterkit.roster.schema import folded
from rosterkit.roster.tables import Table
from rosterkit.versions.merged import ConflictKind, Merged, MergedRow
from rosterkit.versions.version import Version

Row = Mapping[str, object]


def rows_of(version: Version) -> dict[str, list[Row]]:
    """Return the filled cells of each row by heading, sheet by sheet."""
    return {title: list(_by_place(table).values()) for title, table in version.book.tables.items()}


def _by_place(table: Table) -> dict[object, dict[str, object]]:
    columns = {table.sheet[name].heading: cells for name, cells in table.raw.items()}
    columns |= {table.headings.own[place]: cells for place, cells in table.own.items()}
    return {
        row: {heading: cells[index] for heading, cells in columns.items() if cells[index] != ""}
        for index, row in enumerate(table.rows)
    }


def after_merge(master: Version, found: Merged) -> dict[str, list[Row]]:
    """Return the rows of our sheets in the merged workbook."""
    sheets: dict[str, dict[object, dict[str, object]]] = {
        folded(title): _by_place(table) for title, table in master.book.tables.items()
    }

    def row(of: MergedRow) -> dict[str, object]:
        place = of.row if of.added is None else f"added {of.added}"
        return sheets.setdefault(folded(of.sheet), {}).setdefault(place, {})

    for new in found.added:
        row(new.row).update({heading: cell.value for heading, cell in new.cells.items()})
    for one in found.taken:
        assert row(one.row).get(one.column, "") == one.old
        row(one.row)[one.column] = one.new.value
    for conflict in found.conflicts:
        assert len(conflict.sides) > 1
        if conflict.kind is ConflictKind.CELL and conflict.column is not None:
            row(conflict.row)[conflict.column] = conflict.base
    for gone in found.removed:
        del sheets[folded(gone.row.sheet)][gone.row.row]
    return {title: [_filled(one) for one in rows.values()] for title, rows in sheets.items()}


def _filled(row: Row) -> Row:
    return {heading: value for heading, value in row.items() if value != ""}


def in_any_order(rows: Sequence[Row]) -> list[str]:
    """Return rows such that two sheets can be compared whose rows stand in another order."""
    return sorted(repr(sorted((key, str(value)) for key, value in row.items())) for row in rows if row)

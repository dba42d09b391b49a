"""An engine that gets another label: the cells of other sheets that name it follow."""

from collections.abc import Iterator, Mapping, Sequence

from rosterkit.roster.cell_values import shown
from rosterkit.roster.schema import folded
from rosterkit.writeback.merge_places import SheetPlaces
from rosterkit.xlsx.changes import CellChange
from rosterkit.xlsx.grid import Raw


def references_to(
    sheets: Mapping[str, SheetPlaces], engines: SheetPlaces, at: tuple[int, int], label: Raw
) -> Iterator[tuple[SheetPlaces, Sequence[CellChange]]]:
    """Return the cells of other sheets that name an engine, with its new label, sheet by sheet.

    None where the cell is not that of a label, another engine bears the old label too, or one of the two
    labels is blank. A formula stays.

    Args:
        sheets: the sheets of the workbook.
        engines: the sheet Locomotives.
        at: row and column of the cell that changes.
        label: what it is to hold.
    """
    table = engines.table
    if table is None or at[1] != table.headings.columns.get("loco") or at[0] not in table.rows:
        return
    labels = [folded(shown(one)) for one in table.raw["loco"]]
    old, new = labels[list(table.rows).index(at[0])], shown(label)
    if not old or not new or labels.count(old) > 1 or folded(new) == old:
        return
    for places in dict.fromkeys(sheets.values()):
        cells = list(_naming(places, old, new))
        if cells:
            yield places, cells


def _naming(places: SheetPlaces, old: str, new: str) -> Iterator[CellChange]:
    table = places.table
    for column in table.sheet.columns if table is not None else ():
        if table is None or column.schema.get("refers") != "Locomotives" or column.name not in table.raw:
            continue
        at = table.headings.columns[column.name]
        for row, raw in zip(table.rows, table.raw[column.name], strict=True):
            if folded(shown(raw)) == old and not places.has_formula(row, at):
                yield CellChange(row=row, column=at, value=new)

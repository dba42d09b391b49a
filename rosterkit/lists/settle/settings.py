"""A table of settings, such as a sheet Layout of ours: one setting a record, made into one row."""

from collections.abc import Sequence

from rosterkit.lists.reading import TableReading
from rosterkit.lists.settle.cells import cell_said
from rosterkit.lists.settle.draft import Draft
from rosterkit.lists.tables import Located, Record
from rosterkit.roster.schema import SETTING_HEADINGS, folded, sheet, spellings

_SHEET = sheet("Layout")


def settings_row(readings: Sequence[TableReading]) -> Draft | None:
    """Return the settings of tables about Layout as one row, its column names the settings; None without any.

    The first two columns count that are headed Setting and Value, or else the first two.
    """
    found: Draft | None = None
    for reading in readings:
        names, values = _columns(reading)
        for record in reading.table.records:
            name, value = record.cells.get(names), record.cells.get(values)
            if name is None:
                continue
            found = found or Draft(record, name.place, keys=[record.key])
            if value is not None:
                _take(found, record, name, value)
    return found


def _columns(reading: TableReading) -> tuple[int, int]:
    texts = [folded(heading.text) for heading in reading.table.headings]
    wanted = [folded(heading) for heading in SETTING_HEADINGS[:2]]
    if all(one in texts for one in wanted):
        return texts.index(wanted[0]), texts.index(wanted[1])
    return 0, 1


def _take(draft: Draft, record: Record, name: Located, value: Located) -> None:
    known = {spelling: column for spelling, column, _ in reversed(spellings(_SHEET))}
    column = known.get(folded(name.cell.text))
    if column is None or column.name in draft.values:
        draft.doubt(
            name.place, f"'{name.cell.text}' is no setting of ours", "Keep it in a sheet of your own."
        )
        return
    draft.take(column, cell_said(column, value.cell, "", (None, None)), value.place, value.cell.text)

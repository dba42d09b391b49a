"""The formulas of a new workbook and its sheet Live, put in as fill puts them into a member's."""

from rosterkit.checks import findings_in
from rosterkit.checks.framework import scope_of
from rosterkit.live.machinery import TITLE as LIVE
from rosterkit.roster.load import known_sheets, roster_from
from rosterkit.writeback.formulas import live_formulas
from rosterkit.writeback.sheets import formulas_change
from rosterkit.xlsx.changes import WorkbookChange
from rosterkit.xlsx.package.opening import opened_in_memory
from rosterkit.xlsx.save.edit import edited


def with_formulas(data: bytes, name: str) -> bytes:
    """Return a new workbook with formulas in its computed columns and with the sheet Live.

    Args:
        data: The workbook as it was made from the schema.
        name: What messages call it.
    """
    package = opened_in_memory(data, name)
    workbook = known_sheets(package)
    roster = roster_from(workbook, without_engines=True)
    live = live_formulas(roster, workbook.grids, findings_in(scope_of([roster])), title=LIVE)
    tables = roster.book.tables
    changes = (formulas_change(tables[title], one) for title, one in live.sheets.items())
    return edited(package, WorkbookChange(sheets=tuple(changes), own_sheets=(live.sheet,))).data

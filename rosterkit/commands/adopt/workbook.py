"""The workbook that a list becomes: made by the template, and read again before it is kept."""

from openpyxl import Workbook

from rosterkit.commands.adopt.copies import titles_of_copies, write_copies
from rosterkit.commands.adopt.corrections import Read
from rosterkit.commands.adopt.reading_file import TITLE as READING
from rosterkit.commands.adopt.reading_sheet import write_reading
from rosterkit.commands.adopt.rows import rows_of
from rosterkit.commands.adopt.whole import require_whole
from rosterkit.lists.adopted import Adopted
from rosterkit.lists.plain import PlainList
from rosterkit.roster.schema import all_sheets
from rosterkit.template.formulas import with_formulas
from rosterkit.template.instructions import TITLE as INSTRUCTIONS
from rosterkit.template.new_workbook import workbook_with
from rosterkit.xlsx.own_sheets.new_workbook import saved

_MADE = (INSTRUCTIONS, READING, "Live", "Findings", "Cards", "Merge", "Meet")
"""Titles that sheets of ours have, or may come to have."""


def workbook_of(plain: PlainList, read: Read, adopted: Adopted, name: str) -> bytes:
    """Make the workbook of a list.

    Args:
        plain: The list as it stands in its file.
        read: How it was laid out and recognised.
        adopted: What it came to.
        name: What messages call the new workbook.

    Raises:
        CannotRunError: if the list does not fit into a workbook, or something of it would be lost.
    """
    rows = rows_of(adopted)
    titles = titles_of_copies(plain, [one.title for one in all_sheets()] + list(_MADE))
    workbook: Workbook = workbook_with(
        {title: one.records for title, one in rows.items()}, {title: one.own for title, one in rows.items()}
    )
    write_reading(workbook, plain.name, read, adopted, titles)
    write_copies(workbook, plain, titles)
    data = with_formulas(saved(workbook), name)
    require_whole(data, name, plain, titles, rows)
    return data

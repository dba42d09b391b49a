"""Reads back what cells hold, and proves of a sheet of our own that it holds what it should."""

from itertools import zip_longest

from lxml import etree

from rosterkit.cell_names import column_letters
from rosterkit.xlsx.changes import OwnCell, OwnSheet
from rosterkit.xlsx.read.shared_strings import unescaped
from rosterkit.xlsx.verify.parts import ProofError, children, local
from rosterkit.xlsx.xml.nodes import parsed
from rosterkit.xlsx.xml.values import Value, blank, cell_text

_NUMBERS = (int, float)


def holds(cell: etree._Element, wanted: Value) -> bool:
    """Tell whether a cell holds a value, and no formula."""
    if type(wanted) in _NUMBERS and len(cell) == 1:
        return cell.get("t", "n") == "n" and float(cell[0].text or "nan") == wanted
    content = list(cell) if len(cell) == 1 else [part for part in cell if local(part) != "extLst"]
    if wanted is None or wanted == "":
        return not content
    if len(content) != 1:
        return False
    kind = cell.get("t", "n")
    if isinstance(wanted, str):
        text = content[0][0].text if kind == "inlineStr" and len(content[0]) == 1 else None
        return text is not None and unescaped(text) == cell_text(wanted)
    return kind == ("b" if isinstance(wanted, bool) else "n") and float(content[0].text or "nan") == wanted


def prove_page(data: bytes, page: OwnSheet) -> None:
    """Read a sheet of our own back.

    Raises:
        ProofError: a cell does not hold what it should.
    """
    rows = (row for rows in children(parsed(data), "sheetData") for row in rows)
    row = next(rows, None)
    for number, cells in enumerate(page.rows, start=1):
        filled: list[etree._Element] = []
        if row is not None and row.get("r") == str(number):
            filled = [cell for cell in row if len(cell)]
            row = next(rows, None)
        _prove_row(number, cells, filled, page)
    if row is not None:
        raise ProofError(f"the sheet '{page.title}' holds more than it should")


def _prove_row(number: int, cells: list[OwnCell], filled: list[etree._Element], page: OwnSheet) -> None:
    wanted = [
        (f"{column_letters(column)}{number}", cell.value)
        for column, cell in enumerate(cells, start=1)
        if not blank(cell.value)
    ]
    if len(filled) > len(wanted):
        raise ProofError(f"the sheet '{page.title}' holds more than it should")
    for (reference, value), cell in zip_longest(wanted, filled):
        if cell is None or cell.get("r") != reference or not holds(cell, value):
            raise ProofError(f"the cell {reference} of the sheet '{page.title}' is not what it should be")

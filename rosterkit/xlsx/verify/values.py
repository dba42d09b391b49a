"""Reads back what cells hold, and a whole sheet of our own."""

from itertools import zip_longest

from lxml import etree

from rosterkit.cell_names import column_letters
from rosterkit.xlsx.changes import OwnSheet
from rosterkit.xlsx.read.shared_strings import unescaped
from rosterkit.xlsx.verify.parts import VerificationError, local
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


def verify_own_sheet(_: bytes, new: bytes, own_sheet: OwnSheet) -> None:
    """Read a sheet of our own back.

    Raises:
        VerificationError: a cell does not hold what it should.
    """
    root = parsed(new)
    filled = (cell for cell in root.iter(str(root.tag).replace("worksheet", "c")) if len(cell))
    wanted = (
        (f"{column_letters(column)}{number}", cell.value)
        for number, cells in enumerate(own_sheet.rows, start=1)
        for column, cell in enumerate(cells, start=1)
        if not blank(cell.value)
    )
    for expected, cell in zip_longest(wanted, filled):
        if expected is None:
            raise VerificationError(f"the sheet '{own_sheet.title}' holds more than it should")
        reference, value = expected
        if cell is None or cell.get("r") != reference or not holds(cell, value):
            raise VerificationError(
                f"the cell {reference} of the sheet '{own_sheet.title}' is not what it should be"
            )

"""Verifies a sheet of our own in full: as an edit of an empty sheet that claims each of its cells."""

import re
from collections.abc import Iterator

from rosterkit.cell_names import column_letters
from rosterkit.xlsx.changes import BLANK, OwnSheet
from rosterkit.xlsx.own_sheets.sheet_xml import filter_area, sheet_reference
from rosterkit.xlsx.verify.frame import ordered
from rosterkit.xlsx.verify.remainder import VerificationError
from rosterkit.xlsx.verify.rows import Row, verify_rows
from rosterkit.xlsx.verify.sheet_data import SheetData
from rosterkit.xlsx.xml.areas import Area
from rosterkit.xlsx.xml.outline import Element, outline

_OFFERED = re.compile(rb"<formula1>([$A-Z0-9:]+)</formula1>")
_EMPTY = b"<worksheet><sheetData></sheetData></worksheet>"
_MAIN = {
    "http://schemas.openxmlformats.org/spreadsheetml/2006/main",
    "http://purl.oclc.org/ooxml/spreadsheetml/main",
}
"""The namespaces of the format, the transitional and the Strict one."""
_PARTS = {
    "sheetPr", "dimension", "sheetViews", "sheetFormatPr", "cols", "sheetData", "autoFilter", "mergeCells",
    "dataValidations", "hyperlinks", "pageMargins", "pageSetup", "headerFooter", "rowBreaks", "drawing",
}  # fmt: skip


def verify_own_sheet(data: bytes, own_sheet: OwnSheet, titles: dict[str, str]) -> set[int]:
    """Read a sheet of our own back, and return the formats of its cells.

    Args:
        data: Its part.
        own_sheet: What it is to hold.
        titles: The titles that sheets of our own bear in the workbook, by the titles meant for them.

    Raises:
        VerificationError: it holds something else, or more.
    """
    rows = SheetData(data)
    try:
        styles = verify_rows(SheetData(_EMPTY), rows, _claimed(own_sheet), own=True).used
        _verify_frame(rows.frame, own_sheet, titles)
    except VerificationError as error:
        raise VerificationError(
            f"the sheet '{own_sheet.title}' holds more or less than it should: {error}"
        ) from None
    return styles


def _claimed(own_sheet: OwnSheet) -> Iterator[Row]:
    for number, cells in enumerate(own_sheet.rows, start=1):
        yield number, {column: cell for column, cell in enumerate(cells, start=1) if cell is not BLANK}


def _verify_frame(frame: bytes, own_sheet: OwnSheet, titles: dict[str, str]) -> None:
    root = outline(frame, depth=2)
    names = [child.name for child in root.children]
    gaps = len(frame) - root.end + root.outside - root.inside
    whole = gaps == sum(child.end - child.start for child in root.children) and ordered(root)
    whole &= root.name == "worksheet" and root.namespace in _MAIN
    if not whole or len(set(names)) != len(names) or not _PARTS.issuperset(names):
        raise VerificationError("something stands beside its rows")
    filtered = filter_area(own_sheet)
    wanted = {
        "hyperlinks": [
            {"ref": f"{column_letters(column)}{row}", "location": _location(cell.link, titles)}
            for row, cells in enumerate(own_sheet.rows, start=1)
            for column, cell in enumerate(cells, start=1)
            if cell.link is not None
        ],
        "cols": _columns(own_sheet),
        "mergeCells": [{"ref": str(Area(*corners))} for corners in own_sheet.merges],
    }
    if choices_in(frame, root) != (own_sheet.choices and (own_sheet.choices.area, own_sheet.choices.formula)):
        raise VerificationError("its drop-down lists are others")
    found = {
        name: [one.attributes for parent in root.named(name) for one in parent.children] for name in wanted
    }
    filters = [one.attributes for one in root.named("autoFilter")]
    if found != wanted or filters != ([{"ref": str(filtered)}] if filtered else []):
        raise VerificationError("its links, columns, merged cells or filter are others")


def choices_in(frame: bytes, root: Element) -> tuple[str, str] | None:
    """Return the cells with a drop-down list, and what is offered to the first of them; None without one.

    Raises:
        VerificationError: there are several, or one is of another kind.
    """
    lists = [one for parent in root.named("dataValidations") for one in parent.children]
    if not lists:
        return None
    stated = {"type": "list", "allowBlank": "1", "showErrorMessage": "1"}
    one = lists[0]
    formula = _OFFERED.fullmatch(frame[one.inside : one.outside])
    cells = one.attributes.get("sqref", "")
    if len(lists) > 1 or one.attributes != {**stated, "sqref": cells} or formula is None:
        raise VerificationError("its drop-down lists are of another kind")
    return cells, formula[1].decode()


def _columns(own_sheet: OwnSheet) -> list[dict[str, str]]:
    unseen = {*own_sheet.hidden_columns, own_sheet.hidden_column or 0}
    stated: list[dict[str, str]] = []
    for column in range(1, max(len(own_sheet.widths), *unseen) + 1):
        hidden = column in unseen
        wide = column <= len(own_sheet.widths)
        if hidden or wide:
            width = own_sheet.widths[column - 1] if wide else 9
            one = {"min": str(column), "max": str(column), "width": f"{width:g}", "customWidth": "1"}
            stated.append({**one, "hidden": "1"} if hidden else one)
    return stated


def _location(link: tuple[str, str], titles: dict[str, str]) -> str:
    return f"{sheet_reference(titles.get(link[0], link[0]))}!{link[1]}"

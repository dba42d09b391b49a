"""Tells which sheets are protected."""

from rosterkit.xlsx.package.errors import shown
from rosterkit.xlsx.package.markup import elements, utf8
from rosterkit.xlsx.package.opening import Package, SheetPart, explained
from rosterkit.xlsx.read.worksheet_frame import around

_TRUE = {"1", "true"}


def is_sheet_protected(package: Package, sheet: SheetPart) -> bool:
    """Tell whether a sheet is protected, with a password or without.

    Raises:
        CannotRunError: its part is damaged.
    """
    data = package.read(sheet.part)
    with explained(package.name, f"sheet {shown(sheet.title)}"):
        text = utf8(data)
        return b"sheetProtection" in text and any(
            one.kind == "sheetProtection" and one.attributes.get("sheet") in _TRUE
            for one in elements(around(text))
        )

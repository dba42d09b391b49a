"""A workbook that is open in LibreOffice: what one can do with it, and what one sees."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType
from typing import Any

_AS_THEY_ARE: Mapping[str, int] = MappingProxyType({})


@dataclass(frozen=True, slots=True, kw_only=True)
class Shown:
    """A cell as LibreOffice has it."""

    value: str | float | None
    """Text or number, of a formula its result; None for a blank cell."""
    text: str
    """What stands on the screen, in the cell's number format."""
    formula: str
    """With its =, in LibreOffice's own spelling; "" where there is none."""
    error: int
    """LibreOffice's number of the error, 0 for none."""


@dataclass(frozen=True, slots=True)
class Document:
    """The workbook that is open; rows count from 1, columns are letters, areas are written like A1:C5."""

    ask: Callable[..., Any]
    """Hands a request to LibreOffice."""

    def enter(self, sheet: str, cell: str, text: str) -> None:
        """Type into a cell, and press enter."""
        self.ask("enter", sheet=sheet, cell=cell, text=text)

    def put(self, sheet: str, cell: str, text: str) -> bool:
        """Give a cell a text, and tell whether it was taken: a protected one refuses it."""
        return bool(self.ask("put", sheet=sheet, cell=cell, text=text))

    def clear(self, sheet: str, area: str) -> None:
        """Delete the contents of cells."""
        self.ask("clear", sheet=sheet, area=area)

    def cells(self, sheet: str, area: str | None = None) -> list[list[Shown]]:
        """Return the cells of an area, or of all that is used from A1 on."""
        rows: Sequence[Sequence[Sequence[Any]]] = self.ask("cells", sheet=sheet, area=area)
        return [
            [
                Shown(value=value, text=text, formula=formula, error=error)
                for value, text, formula, error in row
            ]
            for row in rows
        ]

    def cell(self, sheet: str, cell: str) -> Shown:
        """Return one cell."""
        return self.cells(sheet, cell)[0][0]

    def values(self, sheet: str, area: str | None = None) -> list[list[str | float]]:
        """Return the values alone, which is fast: "" for blank cells."""
        values: list[list[str | float]] = self.ask("values", sheet=sheet, area=area)
        return values

    def formulas(self, sheet: str, area: str | None = None) -> list[list[str]]:
        """Return the formulas alone, which is fast; of cells without one their content."""
        formulas: list[list[str]] = self.ask("formulas", sheet=sheet, area=area)
        return formulas

    def fill_down(self, sheet: str, area: str) -> None:
        """Fill the first row of an area down."""
        self.ask("fill_down", sheet=sheet, area=area)

    def values_over_formulas(self, sheet: str, area: str) -> None:
        """Leave values where there were formulas."""
        self.ask("values_over_formulas", sheet=sheet, area=area)

    def insert_rows(self, sheet: str, before: int, count: int = 1) -> None:
        """Insert blank rows."""
        self.ask("insert_rows", sheet=sheet, before=before, count=count)

    def delete_rows(self, sheet: str, first: int, count: int = 1) -> None:
        """Delete rows."""
        self.ask("delete_rows", sheet=sheet, first=first, count=count)

    def copy_row(self, sheet: str, row: int, onto: int) -> None:
        """Copy a row and paste it onto another."""
        self.ask("copy_row", sheet=sheet, row=row, onto=onto)

    def insert_columns(self, sheet: str, before: str, count: int = 1) -> None:
        """Insert blank columns."""
        self.ask("insert_columns", sheet=sheet, before=before, count=count)

    def delete_columns(self, sheet: str, first: str, count: int = 1) -> None:
        """Delete columns."""
        self.ask("delete_columns", sheet=sheet, first=first, count=count)

    def move_column(self, sheet: str, column: str, before: str) -> None:
        """Cut a column and put it before another."""
        self.ask("move_column", sheet=sheet, column=column, before=before)

    def drag(self, sheet: str, area: str, onto: str) -> None:
        """Drag cells elsewhere; formulas that refer to them follow."""
        self.ask("drag", sheet=sheet, area=area, onto=onto)

    def sort(self, sheet: str, area: str, by: str, *, descending: bool = False) -> None:
        """Sort rows below their headings by one column."""
        self.ask("sort", sheet=sheet, area=area, by=by, descending=descending)

    def titles(self) -> list[str]:
        """Return the titles of the sheets."""
        titles: list[str] = self.ask("titles")
        return titles

    def rename_sheet(self, sheet: str, title: str) -> None:
        """Give a sheet another title."""
        self.ask("rename_sheet", sheet=sheet, title=title)

    def delete_sheet(self, sheet: str) -> None:
        """Delete a sheet."""
        self.ask("delete_sheet", sheet=sheet)

    def add_sheet(self, title: str) -> None:
        """Add a sheet behind the others."""
        self.ask("add_sheet", title=title)

    def unprotect(self, sheet: str) -> None:
        """Take the protection off a sheet, where there is one and it has no password."""
        self.ask("unprotect", sheet=sheet)

    def insert_picture(self, sheet: str, cell: str, path: Path) -> None:
        """Put a picture from a file at a cell."""
        self.ask("insert_picture", sheet=sheet, cell=cell, path=str(path.absolute()))

    def annotate(self, sheet: str, cell: str, text: str) -> None:
        """Put a note at a cell."""
        self.ask("annotate", sheet=sheet, cell=cell, text=text)

    def paint(self, sheet: str, area: str, colour: int) -> None:
        """Fill cells with a colour, such as 0xFFFF00."""
        self.ask("paint", sheet=sheet, area=area, colour=colour)

    def calculate(self, *, everything: bool = False) -> None:
        """Calculate what has changed, or everything."""
        self.ask("calculate", everything=everything)

    def save(self, path: Path) -> Path:
        """Save as .xlsx or .ods, and return where."""
        self.ask("save", path=str(path.absolute()))
        return path

    def pdf(self, path: Path, sheet: str | None = None) -> Path:
        """Export what would be printed of one sheet or of all, and return where."""
        self.ask("pdf", path=str(path.absolute()), sheet=sheet)
        return path

    def page(
        self, sheet: str, area: str, *, hidden: Sequence[str] = (), widths: Mapping[str, int] = _AS_THEY_ARE
    ) -> None:
        """Make the page one of an area as the screen shows it.

        Without some columns, such as B1:D1, and with others so many millimetres wide.
        """
        self.ask("page", sheet=sheet, area=area, hidden=list(hidden), widths=dict(widths))

    def close(self) -> None:
        """Close the workbook unsaved."""
        self.ask("close")

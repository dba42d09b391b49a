"""What LibreOffice is asked to do with a workbook, each as its user interface does it.

Rows count from 1; columns are letters; areas are written like A1:C5.
"""

from pathlib import Path
from typing import Any

import uno
from com.sun.star.awt import Size
from com.sun.star.beans import PropertyValue
from com.sun.star.table import TableSortField
from com.sun.star.uno import RuntimeException

_FILTERS = {".xlsx": "Calc MS Excel 2007 XML", ".ods": "calc8", ".pdf": "calc_pdf_Export"}
_TEXT_RESULT = 2
"""com.sun.star.sheet.FormulaResult.STRING."""
_NAMES_OF_ROWS, _NAMES_OF_COLUMNS = 1300, 600
"""What they take beside the cells, in hundredths of a millimetre."""


class Requests:
    """One LibreOffice with at most one workbook open."""

    def __init__(self, context: Any) -> None:
        self._context, self._manager = context, context.ServiceManager
        manager = self._manager
        self._desktop = manager.createInstanceWithContext("com.sun.star.frame.Desktop", context)
        self._dispatcher = manager.createInstanceWithContext("com.sun.star.frame.DispatchHelper", context)
        self._document: Any = None

    # The file.

    def open(self, path: str) -> None:
        """Open a workbook, out of sight, with its links as they are."""
        self.close()
        hidden = _properties(Hidden=True, UpdateDocMode=0)
        self._document = self._desktop.loadComponentFromURL(Path(path).as_uri(), "_blank", 0, hidden)
        if self._document is None:
            raise OSError(f"LibreOffice does not open {path}")

    def close(self) -> None:
        """Close the workbook that is open, whatever was changed."""
        if self._document is not None:
            document, self._document = self._document, None
            document.close(True)

    def save(self, path: str) -> None:
        """Save as the kind of file that the name ends with."""
        self._store(path)

    def pdf(self, path: str, sheet: str | None) -> None:
        """Export what would be printed, of one sheet or of all."""
        if sheet is None:
            self._store(path)
            return
        options = _properties(Selection=self._sheet(sheet), ExportNotes=False)
        wanted = uno.Any("[]com.sun.star.beans.PropertyValue", options)
        self._store(path, FilterData=wanted)

    def calculate(self, *, everything: bool) -> None:
        """Calculate what has changed and what hangs on it, or every formula."""
        if everything:
            self._document.calculateAll()
        else:
            self._document.calculate()

    # Cells.

    def cells(self, sheet: str, area: str | None) -> list[list[list[Any]]]:
        """Return value, text as shown, formula and number of the error, of each cell of an area."""
        found = self._area(sheet, area) if area else self._used(sheet)
        lines, columns = found.Rows.Count, found.Columns.Count
        return [
            [_cell(found.getCellByPosition(column, row)) for column in range(columns)] for row in range(lines)
        ]

    def values(self, sheet: str, area: str | None) -> list[list[Any]]:
        """Return the values alone, all at once: texts and numbers, "" for blank cells."""
        found = self._area(sheet, area) if area else self._used(sheet)
        return [list(row) for row in found.getDataArray()]

    def formulas(self, sheet: str, area: str | None) -> list[list[str]]:
        """Return the formulas all at once; of a cell without one what it was given."""
        found = self._area(sheet, area) if area else self._used(sheet)
        return [list(row) for row in found.getFormulaArray()]

    def enter(self, sheet: str, cell: str, text: str) -> None:
        """Go to a cell and type, and have all calculated that hangs on it."""
        self._select(sheet, cell)
        self._dispatch("EnterString", StringName=text)
        self._document.calculate()

    def put(self, sheet: str, cell: str, text: str) -> bool:
        """Give a cell a text, and tell whether LibreOffice took it; a protected cell stays as it is.

        Typing out of sight would end LibreOffice at the second refusal: it has nobody to show its message to.
        """
        try:
            self._area(sheet, cell).setDataArray(((text,),))
        except RuntimeException:
            return False
        return True

    def clear(self, sheet: str, area: str) -> None:
        """Delete the contents of an area, as the delete key does."""
        self._select(sheet, area)
        self._dispatch("ClearContents")

    def fill_down(self, sheet: str, area: str) -> None:
        """Fill the first row of an area down."""
        self._select(sheet, area)
        self._dispatch("FillDown")

    def values_over_formulas(self, sheet: str, area: str) -> None:
        """Leave values where there were formulas."""
        # Out of sight a formula may wait to be calculated until somebody looks, and would leave 0.
        self._area(sheet, area).getDataArray()
        self._select(sheet, area)
        self._dispatch("ConvertFormulaToValue")

    # Rows and columns.

    def insert_rows(self, sheet: str, before: int, count: int) -> None:
        """Insert blank rows before a row."""
        self._sheet(sheet).Rows.insertByIndex(before - 1, count)

    def delete_rows(self, sheet: str, first: int, count: int) -> None:
        """Delete rows, and what is below moves up."""
        self._sheet(sheet).Rows.removeByIndex(first - 1, count)

    def copy_row(self, sheet: str, row: int, onto: int) -> None:
        """Copy a whole row and paste it onto another."""
        page = self._sheet(sheet)
        source = page.Rows.getByIndex(row - 1).RangeAddress
        page.copyRange(page.getCellByPosition(0, onto - 1).CellAddress, source)

    def insert_columns(self, sheet: str, before: str, count: int) -> None:
        """Insert blank columns before a column."""
        self._sheet(sheet).Columns.insertByIndex(self._column(sheet, before), count)

    def delete_columns(self, sheet: str, first: str, count: int) -> None:
        """Delete columns, and what is at their right moves to the left."""
        self._sheet(sheet).Columns.removeByIndex(self._column(sheet, first), count)

    def move_column(self, sheet: str, column: str, before: str) -> None:
        """Cut a column and put it before another, leaving no gap."""
        page = self._sheet(sheet)
        source, target = self._column(sheet, column), self._column(sheet, before)
        page.Columns.insertByIndex(target, 1)
        source += target <= source
        moved = page.Columns.getByIndex(source).RangeAddress
        page.moveRange(page.getCellByPosition(target, 0).CellAddress, moved)
        page.Columns.removeByIndex(source, 1)

    def drag(self, sheet: str, area: str, onto: str) -> None:
        """Drag cells elsewhere, as cutting and pasting does: formulas that refer to them follow."""
        page = self._sheet(sheet)
        source = self._area(sheet, area).RangeAddress
        page.moveRange(self._area(sheet, onto).CellAddress, source)

    def sort(self, sheet: str, area: str, by: str, *, descending: bool) -> None:
        """Sort the rows of an area, whose first one has the headings, by one column."""
        found = self._area(sheet, area)
        field = TableSortField()
        field.Field = self._column(sheet, by) - found.RangeAddress.StartColumn
        field.IsAscending = not descending
        fields = uno.Any("[]com.sun.star.table.TableSortField", (field,))
        found.sort(_properties(SortFields=fields, ContainsHeader=True, IsSortColumns=False))

    # Sheets.

    def titles(self) -> list[str]:
        """Return the titles of the sheets, in their order."""
        return list(self._document.Sheets.ElementNames)

    def rename_sheet(self, sheet: str, title: str) -> None:
        """Give a sheet another title."""
        self._sheet(sheet).setName(title)

    def delete_sheet(self, sheet: str) -> None:
        """Delete a sheet."""
        self._document.Sheets.removeByName(sheet)

    def add_sheet(self, title: str) -> None:
        """Add a sheet behind the others."""
        self._document.Sheets.insertNewByName(title, self._document.Sheets.Count)

    def unprotect(self, sheet: str) -> None:
        """Take the protection off a sheet that has no password."""
        self._sheet(sheet).unprotect("")

    # Beside the contents.

    def insert_picture(self, sheet: str, cell: str, path: str) -> None:
        """Put a picture at a cell, four centimetres wide."""
        service = "com.sun.star.graphic.GraphicProvider"
        provider = self._manager.createInstanceWithContext(service, self._context)
        shape = self._document.createInstance("com.sun.star.drawing.GraphicObjectShape")
        shape.Graphic = provider.queryGraphic(_properties(URL=Path(path).as_uri()))
        size = Size()
        size.Width, size.Height = 4000, 3000
        shape.setSize(size)
        shape.setPosition(self._area(sheet, cell).Position)
        self._sheet(sheet).DrawPage.add(shape)

    def annotate(self, sheet: str, cell: str, text: str) -> None:
        """Put a note at a cell."""
        self._sheet(sheet).Annotations.insertNew(self._area(sheet, cell).CellAddress, text)

    def paint(self, sheet: str, area: str, colour: int) -> None:
        """Fill cells with a colour."""
        self._area(sheet, area).CellBackColor = colour

    def page(self, sheet: str, area: str, hidden: list[str], widths: dict[str, int]) -> None:
        """Make the page one of an area as the screen shows it, with the names of rows and columns."""
        for columns in hidden:
            self._area(sheet, columns).Columns.IsVisible = False
        for columns, millimetres in widths.items():
            self._area(sheet, columns).Columns.Width = 100 * millimetres
        found = self._area(sheet, area)
        self._sheet(sheet).setPrintAreas((found.RangeAddress,))
        self._sheet(sheet).setPrintTitleRows(False)
        style = self._document.StyleFamilies.getByName("PageStyles").getByName(self._sheet(sheet).PageStyle)
        for name in ("HeaderIsOn", "FooterIsOn"):
            style.setPropertyValue(name, False)
        for side in ("Left", "Right", "Top", "Bottom"):
            style.setPropertyValue(f"{side}Margin", 0)
        for name, value in (("PrintHeaders", True), ("PrintGrid", True), ("PageScale", 100)):
            style.setPropertyValue(name, value)
        style.IsLandscape = found.Size.Width > found.Size.Height
        style.Width, style.Height = found.Size.Width + _NAMES_OF_ROWS, found.Size.Height + _NAMES_OF_COLUMNS

    # Within.

    def _store(self, path: str, **more: Any) -> None:
        kind = _FILTERS[Path(path).suffix]
        self._document.storeToURL(Path(path).as_uri(), _properties(FilterName=kind, **more))

    def _sheet(self, title: str) -> Any:
        sheets = self._document.Sheets
        if not sheets.hasByName(title):
            raise LookupError(f"no sheet {title}")
        return sheets.getByName(title)

    def _area(self, sheet: str, area: str) -> Any:
        return self._sheet(sheet).getCellRangeByName(area)

    def _used(self, sheet: str) -> Any:
        page = self._sheet(sheet)
        cursor = page.createCursor()
        cursor.gotoEndOfUsedArea(False)
        last = cursor.RangeAddress
        return page.getCellRangeByPosition(0, 0, last.EndColumn, last.EndRow)

    def _column(self, sheet: str, letters: str) -> int:
        return int(self._area(sheet, f"{letters}1").CellAddress.Column)

    def _select(self, sheet: str, area: str) -> None:
        self._document.CurrentController.setActiveSheet(self._sheet(sheet))
        self._dispatch("GoToCell", ToPoint=area)

    def _dispatch(self, command: str, **values: Any) -> None:
        frame = self._document.CurrentController.Frame
        self._dispatcher.executeDispatch(frame, f".uno:{command}", "", 0, _properties(**values))


def _cell(cell: Any) -> list[Any]:
    kind = cell.Type.value
    formula = cell.Formula if kind == "FORMULA" else ""
    is_text = kind == "TEXT" or (formula and cell.FormulaResultType2 == _TEXT_RESULT)
    value = None if kind == "EMPTY" else cell.String if is_text else cell.Value
    return [value, cell.String, formula, cell.getError()]


def _properties(**values: Any) -> tuple[Any, ...]:
    made = []
    for name, value in values.items():
        one = PropertyValue()
        one.Name, one.Value = name, value
        made.append(one)
    return tuple(made)

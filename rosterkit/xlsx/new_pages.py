"""A new workbook of rosterkit's own sheets, made with openpyxl."""

import io
from collections.abc import Iterable
from typing import Any, cast

from openpyxl import Workbook
from openpyxl.cell import Cell, WriteOnlyCell
from openpyxl.styles import Alignment, Border, Font, NamedStyle, PatternFill, Side
from openpyxl.utils import get_column_letter
from openpyxl.worksheet._write_only import WriteOnlyWorksheet
from openpyxl.worksheet.header_footer import HeaderFooterItem, _HeaderFooterPart
from openpyxl.worksheet.hyperlink import Hyperlink
from openpyxl.worksheet.page import PageMargins
from openpyxl.worksheet.pagebreak import Break
from openpyxl.worksheet.properties import PageSetupProperties
from openpyxl.worksheet.worksheet import Worksheet

from rosterkit.pages import Look, Page, PageCell
from rosterkit.xlsx.looks import DRAWINGS, Drawing

_SIZE = 11
_A4 = 9


def workbook_of(pages: Iterable[Page]) -> bytes:
    """Make a workbook of pages, in their order; their titles are such as sheets may have, each only once.

    Each page goes to the disk before the next is asked for, so that hundreds take no more memory than one.
    """
    workbook = Workbook(write_only=True)
    for look in Look:
        workbook.add_named_style(_style(look, DRAWINGS[look]))
    for page in pages:
        sheet = workbook.create_sheet(page.title)
        # The library's type stubs know of a write-only sheet nothing but how to add rows and to close it.
        _draw(cast("Worksheet", sheet), page)
        cast("WriteOnlyWorksheet", sheet).close()
    stream = io.BytesIO()
    workbook.save(stream)
    return stream.getvalue()


def _name(look: Look) -> str:
    return f"rosterkit {look.value}"


def _style(look: Look, drawing: Drawing) -> NamedStyle:
    style = NamedStyle(name=_name(look))
    style.font = Font(
        name=drawing.typeface or "Calibri",
        size=_SIZE + drawing.enlarged,
        bold=drawing.bold,
        italic=drawing.italic,
        underline="single" if drawing.underlined else None,
        color=drawing.colour,
    )
    if drawing.fill:
        style.fill = PatternFill("solid", start_color=drawing.fill)
    sides: dict[str, Any] = {
        side: Side(style="medium" if kind == "medium" else "thin", color=colour)
        for side, kind, colour in drawing.edges
    }
    style.border = Border(**sides)
    alignment: dict[str, Any] = {"vertical": drawing.vertical, "horizontal": drawing.horizontal}
    style.alignment = Alignment(wrap_text=drawing.wrapped, **alignment)
    return style


def _draw(sheet: Worksheet, page: Page) -> None:
    """Write a page; what stands before the rows in the file has to be set before them."""
    for column, width in enumerate(page.widths, 1):
        sheet.column_dimensions[get_column_letter(column)].width = width
    for row, height in page.heights.items():
        sheet.row_dimensions[row].height = height
    if page.frozen_rows:
        sheet.freeze_panes = f"A{page.frozen_rows + 1}"
        sheet.print_title_rows = f"1:{page.frozen_rows}"
    _paper(sheet, page)
    for cells in page.rows:
        sheet.append([_cell(sheet, cell) for cell in cells])
    for top, left, bottom, right in page.merges:
        sheet.merged_cells.add(_area(top, left, bottom, right))
    for row in page.breaks:
        sheet.row_breaks.append(Break(id=row))
    if page.filtered:
        last = len(page.rows[page.frozen_rows - 1])
        bottom = max(len(page.rows), page.frozen_rows)
        sheet.auto_filter.ref = _area(page.frozen_rows, 1, bottom, last)


def _area(top: int, left: int, bottom: int, right: int) -> str:
    return f"{get_column_letter(left)}{top}:{get_column_letter(right)}{bottom}"


def _cell(sheet: Worksheet, cell: PageCell) -> Cell | None:
    if cell.value is None and cell.look is Look.PLAIN:
        return None
    drawn = WriteOnlyCell(sheet, cell.value)
    if isinstance(cell.value, str):
        drawn.data_type = "s"  # a text that begins with an equals sign is none the less a text
    if cell.link:
        title, place = cell.link
        quoted = title.replace("'", "''")
        drawn.hyperlink = Hyperlink(ref="", location=f"'{quoted}'!{place}")
    drawn.style = _name(cell.look)
    return drawn


def _paper(sheet: Worksheet, page: Page) -> None:
    sheet.sheet_view.showGridLines = False
    sheet.page_setup.orientation = "landscape" if page.landscape else "portrait"
    sheet.page_setup.paperSize = _A4
    sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight = 1, 0
    sheet.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
    sheet.page_margins = PageMargins(left=0.5, right=0.5, top=0.6, bottom=0.7, header=0.3, footer=0.35)
    sheet.HeaderFooter.oddFooter = HeaderFooterItem(
        left=_HeaderFooterPart(text="&A"), right=_HeaderFooterPart(text="Page &P of &N")
    )

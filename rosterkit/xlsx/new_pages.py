"""A new workbook of rosterkit's own sheets, made with openpyxl."""

import io
from collections.abc import Sequence
from typing import Any

from openpyxl import Workbook
from openpyxl.styles import Alignment, Border, Font, NamedStyle, PatternFill, Side
from openpyxl.utils import get_column_letter
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


def workbook_of(pages: Sequence[Page]) -> bytes:
    """Make a workbook of pages, in their order; their titles are such as sheets may have, each only once."""
    workbook = Workbook()
    workbook.remove(workbook.worksheets[0])
    for look in Look:
        workbook.add_named_style(_style(look, DRAWINGS[look]))
    for page in pages:
        _draw(workbook.create_sheet(page.title), page)
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
    for row, cells in enumerate(page.rows, 1):
        for column, cell in enumerate(cells, 1):
            _cell(sheet, row, column, cell)
    for row, height in page.heights.items():
        sheet.row_dimensions[row].height = height
    for column, width in enumerate(page.widths, 1):
        sheet.column_dimensions[get_column_letter(column)].width = width
    for top, left, bottom, right in page.merges:
        sheet.merge_cells(start_row=top, start_column=left, end_row=bottom, end_column=right)
    for row in page.breaks:
        sheet.row_breaks.append(Break(id=row))
    if page.frozen_rows:
        sheet.freeze_panes = f"A{page.frozen_rows + 1}"
        sheet.print_title_rows = f"1:{page.frozen_rows}"
    if page.filtered:
        last = get_column_letter(len(page.rows[page.frozen_rows - 1]))
        sheet.auto_filter.ref = f"A{page.frozen_rows}:{last}{max(len(page.rows), page.frozen_rows)}"
    _paper(sheet, page)


def _cell(sheet: Worksheet, row: int, column: int, cell: PageCell) -> None:
    if cell.value is None and cell.look is Look.PLAIN:
        return
    drawn = sheet.cell(row, column)
    drawn.value = cell.value
    if isinstance(cell.value, str):
        drawn.data_type = "s"  # a text that begins with an equals sign is none the less a text
    if cell.link:
        title, place = cell.link
        quoted = title.replace("'", "''")
        drawn.hyperlink = Hyperlink(ref=drawn.coordinate, location=f"'{quoted}'!{place}")
    drawn.style = _name(cell.look)


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

"""A new workbook of our own sheets: openpyxl makes it, its sheets are written as in members' ones.

A meet of hundreds of members has a million cells and more, for which openpyxl alone takes ten times as long.
"""

import io
import zipfile
from collections.abc import Iterable, Iterator
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import replace
from datetime import datetime
from typing import Any

from openpyxl import Workbook
from openpyxl.drawing.spreadsheet_drawing import SpreadsheetDrawing
from openpyxl.styles import Alignment, Border, Font, NamedStyle, PatternFill, Side
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet._writer import WorksheetWriter
from openpyxl.worksheet.worksheet import Worksheet
from openpyxl.writer.excel import ExcelWriter

from rosterkit.xlsx.changes import CellStyle, OwnSheet
from rosterkit.xlsx.own_sheets.sheet_xml import filter_area, own_sheet_markup
from rosterkit.xlsx.package.contents import MARKER, OWNER
from rosterkit.xlsx.package.packing import Entry, archive_of, packed_entry
from rosterkit.xlsx.patch.cell_formats import DRAWINGS

_SIZE = 11
_ALWAYS = datetime(1980, 1, 1)
"""When such a workbook says that it was made: the same content gives the same file."""
_MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
_SHEETS = "xl/worksheets/"


def workbook_of(own_sheets: Iterable[OwnSheet]) -> bytes:
    """Make a workbook of pages, in their order; their titles are such as sheets may have, each only once.

    Each page is packed while the next is made, so that hundreds take little more memory than one.
    """
    shell = Workbook()
    shell.properties.created = shell.properties.modified = _ALWAYS
    shell.remove(shell.worksheets[0])
    packing: list[Future[Entry]] = []
    formats: dict[CellStyle, int] = {}
    with ThreadPoolExecutor(1) as packer:
        for number, own_sheet in enumerate(own_sheets, 1):
            sheet = shell.create_sheet(own_sheet.title)
            sheet.defined_names.add(DefinedName(MARKER, attr_text="1", hidden=True))
            formats = formats or {look: _format(shell, sheet, look) for look in CellStyle}
            # What stands in the workbook's own part: the headings on each printed page, and the filter.
            if own_sheet.frozen_rows:
                sheet.print_title_rows = f"1:{own_sheet.frozen_rows}"
            if (filtered := filter_area(own_sheet)) is not None:
                sheet.auto_filter.ref = str(filtered)
            data = own_sheet_markup(
                replace(own_sheet, paper="A4"),
                formats.__getitem__,
                namespace=_MAIN,
                titles={},
                selected=number == 1,
            )
            packing.append(packer.submit(packed_entry, f"{_SHEETS}sheet{number}.xml", data))
        around = list(_around(shell))
    return archive_of([*around, *(one.result() for one in packing)])


def saved(workbook: Workbook) -> bytes:
    """Return a workbook of openpyxl's as a file, without a file on the way that could find the disk full."""
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as archive:
        _WriterInMemory(workbook, archive).write_data()
    return stream.getvalue()


class _WriterInMemory(ExcelWriter):
    """Writes each sheet into memory; openpyxl's own way leads over the folder for temporary files.

    Its classes offer no way to do so but their inner names; those of openpyxl 3.1 are used.
    """

    def write_worksheet(self, ws: Any) -> None:
        """Write one sheet, and note what it refers to."""
        inner: Any = self
        drawing = ws._drawing = SpreadsheetDrawing()  # noqa: SLF001
        drawing.charts, drawing.images = ws._charts, ws._images  # noqa: SLF001
        writer: Any = WorksheetWriter(ws, io.BytesIO())
        writer.write()
        ws._rels = writer._rels  # noqa: SLF001
        inner._archive.writestr(ws.path[1:], writer.read())  # noqa: SLF001
        inner.manifest.append(ws)


def _around(shell: Workbook) -> Iterator[Entry]:
    """Return all parts of a workbook but its sheets, whose places and titles are in them."""
    with zipfile.ZipFile(io.BytesIO(saved(shell))) as made:
        for name in made.namelist():
            if not name.startswith(_SHEETS):
                yield packed_entry(name, made.read(name))


def _format(shell: Workbook, sheet: Worksheet, look: CellStyle) -> int:
    """Enter the format of a look, and return its index by which cells name it."""
    style = _style(look)
    shell.add_named_style(style)
    cell = sheet.cell(1, 1)
    cell.style = style.name
    return int(cell.style_id)


def _style(look: CellStyle) -> NamedStyle:
    drawing = DRAWINGS[look]
    style = NamedStyle(name=f"{OWNER} {look.value}")
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
    if drawing.number_format:
        style.number_format = drawing.number_format
    style.alignment = Alignment(wrap_text=drawing.wrapped, **alignment)
    return style

"""The first sheet of a new workbook: how to use it, and what to beware of."""

from collections.abc import Iterable

from openpyxl.styles import Alignment, Font, PatternFill
from openpyxl.worksheet.properties import PageSetupProperties
from openpyxl.worksheet.worksheet import Worksheet

from rosterkit.roster.schema import Sheet
from rosterkit.xlsx.changes import lines_of

TITLE = "Instructions"
FONT = "Calibri"
_INK = "1F3A4D"
_STEPS = (
    "Enter your engines in the sheet Locomotives, one a row. Loco and Address are needed, all else may wait: "
    "what is blank stays in the decoder as it is.",
    "Blue headings are yours to fill; a note at each heading says what it takes. "
    "Grey columns are computed: leave them.",
    "The grey columns compute while you type: Answers says which address a row comes to, Alert what is wrong "
    "with it right now. On the sheet Live you look addresses and CVs up.",
    "Sort, colour, add columns, photos and sheets of your own as you like: they stay as they are.",
    "Send the workbook to your roster keeper, who checks and fills it with rosterkit.",
    "Look at the sheet Findings: each line leads to the cell, says what is wrong and what to do. "
    "Faulty cells are red (error) or amber (warning).",
    "Print the sheet Cards and take it to the programming track.",
)
_CAUTIONS = (
    "One engine only on the programming track. All wheels past the gaps in both rails: "
    "a wheel across a gap lets everything on the layout be reprogrammed with it.",
    "Keep DC operation off unless the engine really runs on such a layout: "
    "a glitch on the rails can otherwise start it at full speed, until valid packets come again.",
    "Write down what is in a decoder before you reset it; "
    "a reset brings back the factory values, as a rule address 3.",
    "Unplug every supply before you touch wiring. Wear eye protection when you cut rail. "
    "Solder in fresh air and away from anything that melts.",
    "The instructions of the decoder's and the command station's makers come first, then local "
    "electrical codes; leave mains wiring to licensed people.",
)


def write_instructions(page: Worksheet, sheets: Iterable[Sheet]) -> None:
    """Write the sheet: the steps, the cautions, and what each sheet is for."""
    page.title = TITLE
    page.sheet_view.showGridLines = False
    page.column_dimensions["A"].width = 4
    page.column_dimensions["B"].width = 24
    page.column_dimensions["C"].width = 84
    row = _line(page, 1, "Locomotive roster", size=18)
    row = _numbered(page, row + 1, "How to use this workbook", _STEPS)
    row = _numbered(page, row + 1, "Take care", _CAUTIONS, colour="FBE9D0")
    row = _line(page, row + 1, "The sheets", size=13)
    for sheet in sheets:
        link = page.cell(row, 2, sheet.title)
        link.hyperlink = f"#'{sheet.title}'!A1"
        link.alignment = Alignment(vertical="top")
        link.font = Font(name=FONT, underline="single", color="0563C1")
        page.cell(row, 3, sheet.description).alignment = Alignment(wrap_text=True, vertical="top")
        page.row_dimensions[row].height = 15.5 * lines_of(sheet.description, 80)
        row += 1
    page.page_setup.paperSize = 9
    page.page_setup.fitToWidth, page.page_setup.fitToHeight = 1, 0
    page.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)


def _line(page: Worksheet, row: int, text: str, *, size: int) -> int:
    page.cell(row, 1, text).font = Font(name=FONT, bold=True, size=size, color=_INK)
    page.row_dimensions[row].height = size * 1.8
    return row + 1


def _numbered(
    page: Worksheet, row: int, title: str, texts: Iterable[str], *, colour: str | None = None
) -> int:
    row = _line(page, row, title, size=13)
    for number, text in enumerate(texts, 1):
        page.cell(row, 1, number).alignment = Alignment(vertical="top", horizontal="left")
        page.merge_cells(start_row=row, end_row=row, start_column=2, end_column=3)
        cell = page.cell(row, 2, text)
        cell.alignment = Alignment(wrap_text=True, vertical="top")
        page.row_dimensions[row].height = 15.5 * lines_of(text, 104)
        if colour:
            for at in (1, 2, 3):
                page.cell(row, at).fill = PatternFill("solid", start_color=colour)
        row += 1
    return row

"""A new workbook, made with openpyxl from the schema: headings, notes, drop-downs, limits, print set-up."""

from collections.abc import Mapping, Sequence
from math import ceil

from openpyxl import Workbook
from openpyxl.comments import Comment
from openpyxl.styles import Alignment, Border, Font, PatternFill, Side
from openpyxl.utils import get_column_letter
from openpyxl.worksheet.header_footer import HeaderFooterItem, _HeaderFooterPart
from openpyxl.worksheet.page import PageMargins
from openpyxl.worksheet.properties import PageSetupProperties
from openpyxl.worksheet.worksheet import Worksheet

from rosterkit.roster.schema import SETTING_HEADINGS, Column, Kind, Sheet, all_sheets
from rosterkit.template.fitting import fit_to_contents
from rosterkit.template.instructions import FONT, write_instructions
from rosterkit.template.looks import Looks
from rosterkit.template.own_columns import NewValue, OwnColumn, write_own_columns
from rosterkit.template.typed_cells import GREY, NUMBER_FORMATS, write_typed
from rosterkit.template.validations import limits_of
from rosterkit.xlsx.changes import lines_of
from rosterkit.xlsx.own_sheets.new_workbook import saved

LAST_ROW = 1000
"""Drop-downs, limits and formats reach to this row of a new sheet."""
_INK = "1F3A4D"
_TYPED = PatternFill("solid", start_color="D9E6EC")
_LINE = Border(bottom=Side(style="medium", color=_INK))
_CLOSING = Border(bottom=Side(style="hair", color=_INK))
_FULL_SIZE_WIDTH = 150
"""Characters of 11 points that a landscape page of A4 holds from edge to edge."""
_READABLE_WIDTH = 290
"""Characters that a landscape page shows in a size that can be read: just below 6 points."""
_PAGE_ROWS = 29
"""Rows that a page holds in full size below the headings, of A4 or Letter."""
_SETTING_WIDTHS = (28, 18, 14, 90)


def new_workbook(rows: Mapping[str, Sequence[Mapping[str, NewValue]]]) -> bytes:
    """Make a workbook with every sheet; ``rows`` has, by sheet title, records by column name.

    A transposed sheet takes its settings from the first record.
    """
    return saved(workbook_with(rows, {}))


def workbook_with(
    rows: Mapping[str, Sequence[Mapping[str, NewValue]]], own: Mapping[str, Sequence[OwnColumn]]
) -> Workbook:
    """Make such a workbook, yet to be saved, with columns of members' own by sheet title."""
    workbook = Workbook()
    first = workbook.active
    assert isinstance(first, Worksheet)  # noqa: S101 - a new openpyxl workbook has one worksheet
    write_instructions(first, all_sheets())
    for sheet in all_sheets():
        page = workbook.create_sheet(sheet.title)
        records = rows.get(sheet.title, ())
        if sheet.transposed:
            _settings_sheet(page, sheet, records[0] if records else {})
        else:
            _records_sheet(page, sheet, records, own.get(sheet.title, ()))
            if sheet.title in own:  # of a list, whose texts are of any length
                fit_to_contents(page, sheet, records, own[sheet.title])
    return workbook


def _records_sheet(
    page: Worksheet, sheet: Sheet, records: Sequence[Mapping[str, NewValue]], own: Sequence[OwnColumn]
) -> None:
    last, looks = max(LAST_ROW, len(records) + 1), Looks()
    for at, column in enumerate(sheet.columns, 1):
        _heading(page, 1, at, column.heading, computed=column.computed)
        page.cell(1, at).comment = _note(column)
        _column_format(page, at, column)
        _limit(page, f"{get_column_letter(at)}2:{get_column_letter(at)}{last}", column)
    for row, record in enumerate(records, 2):
        for at, column in enumerate(sheet.columns, 1):
            write_typed(page.cell(row, at), column, record.get(column.name), looks)
    write_own_columns(page, len(sheet.columns) + 1, own)
    page.row_dimensions[1].height = 30
    page.freeze_panes = "B2"
    width = len(sheet.columns) + len(own)
    page.auto_filter.ref = f"A1:{get_column_letter(width)}{max(2, len(records) + 1)}"
    _print_setup(page)
    _form_to_write_on(page, len(records))


def _settings_sheet(page: Worksheet, sheet: Sheet, record: Mapping[str, NewValue]) -> None:
    for at, heading in enumerate(SETTING_HEADINGS, 1):
        _heading(page, 1, at, heading, computed=at != 2)
        page.column_dimensions[get_column_letter(at)].width = _SETTING_WIDTHS[at - 1]
    looks = Looks()
    for row, column in enumerate(sheet.columns, 2):
        shown = str(record.get(column.name) or "")
        page.cell(row, 1, column.heading).font = Font(name=FONT, bold=True, color=_INK)
        write_typed(page.cell(row, 2), column, record.get(column.name), looks)
        page.cell(row, 2).number_format = NUMBER_FORMATS.get(column.kind, "General")
        page.cell(row, 2).fill = _TYPED
        page.cell(row, 2).alignment = Alignment(horizontal="left", vertical="top", wrap_text=True)
        page.cell(row, 1).alignment = page.cell(row, 3).alignment = Alignment(vertical="top")
        page.cell(row, 3, column.unit)
        page.cell(row, 4, _purpose(column)).alignment = Alignment(wrap_text=True, vertical="top")
        page.row_dimensions[row].height = 15 * max(lines_of(_purpose(column), 88), lines_of(shown, 18))
        _limit(page, f"B{row}", column)
    page.freeze_panes = "A2"
    _print_setup(page)


def _heading(page: Worksheet, row: int, at: int, text: str, *, computed: bool) -> None:
    cell = page.cell(row, at, text)
    cell.font = Font(name=FONT, bold=True, italic=computed, color="6B6B6B" if computed else _INK)
    cell.fill = GREY if computed else _TYPED
    cell.border = _LINE
    cell.alignment = Alignment(wrap_text=True, vertical="center")


def _note(column: Column) -> Comment:
    comment = Comment(note_text(column), "rosterkit")
    comment.width, comment.height = 320, 40 + 18 * (len(comment.text) // 42 + comment.text.count("\n") + 1)
    return comment


def note_text(column: Column) -> str:
    """Return what the note at a column's heading says: what it is for, what it takes, what blank means."""
    lines = [column.description]
    if not column.computed and column.kind is not Kind.TEXT:
        lines.append(f"Takes: {column.limits}{f' ({column.unit})' if column.unit else ''}.")
    if column.required:
        lines.append("Needed.")
    elif column.default is not None:
        lines.append(f"Blank means {column.default}.")
    return "\n".join(lines)


def _purpose(column: Column) -> str:
    default = f" Blank means {column.default}." if column.default is not None else ""
    return f"{column.description}{default}"


def _column_format(page: Worksheet, at: int, column: Column) -> None:
    dimension = page.column_dimensions[get_column_letter(at)]
    dimension.width = column.width
    dimension.number_format = "General" if column.computed else NUMBER_FORMATS.get(column.kind, "General")
    if column.computed:
        dimension.fill = GREY
        dimension.font = Font(name=FONT, italic=True, color="6B6B6B")
    if column.name == "notes":
        dimension.alignment = Alignment(wrap_text=True, vertical="top")


def _limit(page: Worksheet, cells: str, column: Column) -> None:
    if validation := limits_of(column):
        page.add_data_validation(validation)
        validation.add(cells)


def _print_setup(page: Worksheet) -> None:
    """Set up printing: as wide as can be read, with the headings and the first column on each page."""
    page.page_setup.orientation = "landscape"
    page.page_setup.paperSize = 9
    page.page_setup.fitToWidth, page.page_setup.fitToHeight = _pages_across(page), 0
    page.page_margins = PageMargins(left=0.3, right=0.3, top=0.5, bottom=0.6, header=0.3, footer=0.3)
    page.print_options.gridLines = True
    page.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
    page.print_title_rows, page.print_title_cols = "1:1", "A:A"
    page.HeaderFooter.oddFooter = HeaderFooterItem(
        left=_HeaderFooterPart(text="&A"), right=_HeaderFooterPart(text="&P / &N")
    )


def _width(page: Worksheet) -> float:
    return float(sum(dimension.width for dimension in page.column_dimensions.values()))


def _pages_across(page: Worksheet) -> int:
    return ceil(_width(page) / _READABLE_WIDTH)


def _form_to_write_on(page: Worksheet, records: int) -> None:
    """Let a sheet of few rows print as one page of empty lines, to write on at the track.

    A spreadsheet prints its lines as far as the last cell that shows anything: a hairline closes the page.
    """
    shrunk = max(1.0, _width(page) / _pages_across(page) / _FULL_SIZE_WIDTH)
    last = 1 + int(_PAGE_ROWS * shrunk)
    if records + 1 < last:
        for at in range(1, len(page.column_dimensions) + 1):
            page.cell(last, at).border = _CLOSING

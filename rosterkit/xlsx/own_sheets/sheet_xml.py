"""Writes a sheet of our own as the worksheet part that it becomes."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import cache

from rosterkit.cell_names import column_letters
from rosterkit.xlsx.changes import (
    BLANK,
    LINE,
    CellStyle,
    Choices,
    OwnCell,
    OwnSheet,
    leaves_blank,
    lines_of,
)
from rosterkit.xlsx.patch.cell_formats import DRAWINGS
from rosterkit.xlsx.patch.sharing import Sharing
from rosterkit.xlsx.xml.areas import Area
from rosterkit.xlsx.xml.tags import quoted
from rosterkit.xlsx.xml.values import blank, cell_markup, result_markup

_FOOTER = "&amp;L&amp;8&amp;F  ·  &amp;A&amp;R&amp;8Page &amp;P of &amp;N"
"""File and sheet on the left, the page's number on the right, in eight points."""
_PAPERS = {"A4": 9}
"""Sizes of paper by the format's numbers (ISO/IEC 29500-1, 18.3.1.63)."""
_HIDDEN_WIDTH = 9.0
"""Characters that a hidden column is wide where a page does not say."""
_MARGINS = '<pageMargins left="0.5" right="0.5" top="0.6" bottom="0.7" header="0.3" footer="0.35"/>'


def sheet_reference(title: str) -> str:
    """Write a sheet's title as references begin with it."""
    return "'" + title.replace("'", "''") + "'"


def filter_area(own_sheet: OwnSheet) -> Area | None:
    """Return the cells under a page's filter buttons: its heading row and all rows below."""
    top, bottom = own_sheet.frozen_rows, len(own_sheet.rows)
    if not own_sheet.filtered or not top or bottom < top:
        return None
    return Area(top, 1, bottom, max(len(own_sheet.rows[top - 1]), 1))


def own_sheet_markup(
    own_sheet: OwnSheet,
    look: Callable[[CellStyle], int],
    *,
    namespace: str,
    titles: Mapping[str, str],
    selected: bool,
    drawing: str | None = None,
) -> bytes:
    """Return the worksheet part of a page, in this namespace.

    ``look`` gives the index of the format that cells of a look have, ``titles`` the titles that pages bear in
    the workbook by those that they were to have. A selected sheet is the one that shows when the workbook is
    opened. ``drawing`` is the namespace of relationship attributes if the part has a drawing, by rId1.
    """
    pieces = (
        '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n',
        f'<worksheet xmlns="{namespace}"><sheetPr><pageSetUpPr fitToPage="1"/></sheetPr>',
        f'<dimension ref="{_extent(own_sheet)}"/>{_view(own_sheet, selected=selected)}',
        f'<sheetFormatPr defaultRowHeight="15"/>{_columns(own_sheet)}',
        f"<sheetData>{_rows(own_sheet, look)}</sheetData>",
        *_behind_rows(own_sheet, titles),
        "" if drawing is None else f'<drawing xmlns:r="{drawing}" r:id="rId1"/>',
        "</worksheet>",
    )
    return "".join(pieces).encode()


def _extent(own_sheet: OwnSheet) -> Area:
    return Area(1, 1, max(len(own_sheet.rows), 1), max(map(len, own_sheet.rows), default=1) or 1)


def _view(own_sheet: OwnSheet, *, selected: bool) -> str:
    stated = ("" if own_sheet.filtered else ' showGridLines="0"') + (' tabSelected="1"' if selected else "")
    if not own_sheet.frozen_rows:
        return f'<sheetViews><sheetView{stated} workbookViewId="0"/></sheetViews>'
    first = f"A{own_sheet.frozen_rows + 1}"
    return (
        f'<sheetViews><sheetView{stated} workbookViewId="0">'
        f'<pane ySplit="{own_sheet.frozen_rows}" topLeftCell="{first}" activePane="bottomLeft"'
        ' state="frozen"/>'
        f'<selection pane="bottomLeft" activeCell="{first}" sqref="{first}"/></sheetView></sheetViews>'
    )


def _columns(own_sheet: OwnSheet) -> str:
    widths = dict(enumerate(own_sheet.widths, start=1))
    hidden = set(own_sheet.hidden_columns)
    if own_sheet.hidden_column is not None:
        hidden.add(own_sheet.hidden_column)
    columns = [
        f'<col min="{column}" max="{column}" width="{widths.get(column, _HIDDEN_WIDTH):g}"'
        + (' hidden="1"' if column in hidden else "")
        + ' customWidth="1"/>'
        for column in sorted({*widths, *hidden})
    ]
    return f"<cols>{''.join(columns)}</cols>" if columns else ""


def _rows(own_sheet: OwnSheet, look: Callable[[CellStyle], int]) -> str:
    letters = [column_letters(column) for column in range(1, _extent(own_sheet).right + 1)]
    # A look that no cell has is never asked for, nor added to the workbook.
    index = cache(look)
    rows = [
        (number, [(column, cell) for column, cell in enumerate(cells, start=1) if cell is not BLANK])
        for number, cells in enumerate(own_sheet.rows, start=1)
    ]
    sharing = Sharing(
        (number, column, cell.formula)
        for number, cells in rows
        for column, cell in cells
        if cell.formula is not None
    )
    return "".join(_row(own_sheet, number, cells, letters, index, sharing) for number, cells in rows)


def _row(
    own_sheet: OwnSheet,
    number: int,
    cells: list[tuple[int, OwnCell]],
    letters: Sequence[str],
    index: Callable[[CellStyle], int],
    sharing: Sharing,
) -> str:
    content = "".join(
        [
            _cell(f"{letters[column - 1]}{number}", cell, index(cell.look))
            if cell.formula is None
            else _computed(number, column, letters[column - 1], cell, index(cell.look), sharing)
            for column, cell in cells
            if cell.look is not CellStyle.PLAIN or not leaves_blank(cell)
        ]
    )
    stated = ""
    if (height := own_sheet.heights.get(number)) is not None:
        stated = f' ht="{height:g}" customHeight="1"'
    elif (needed := _needed_height(own_sheet, cells)) > LINE:
        stated = f' ht="{needed:g}"'
    elif not content:
        return ""
    return f'<row r="{number}"{stated}>{content}</row>'


def _needed_height(own_sheet: OwnSheet, cells: list[tuple[int, OwnCell]]) -> float:
    """Reckon the height of a row in points, as not all programs do when they open a file."""
    height = LINE
    for column, cell in cells:
        if cell.look is CellStyle.PLAIN:
            continue
        drawing = DRAWINGS[cell.look]
        if drawing.enlarged and not blank(cell.value):
            height = max(height, LINE + drawing.enlarged * 1.4)
        elif drawing.wrapped and isinstance(cell.value, str) and column <= len(own_sheet.widths):
            lines = sum(lines_of(line, own_sheet.widths[column - 1]) for line in cell.value.split("\n"))
            height = max(height, LINE * lines)
    return height


def _computed(row: int, column: int, letters: str, cell: OwnCell, form: int, sharing: Sharing) -> str:
    kind, result = result_markup(cell.value)
    content = sharing.element(row, column, cell.formula or "") + result
    return f'<c r="{letters}{row}" s="{form}"{kind.decode()}>{content.decode()}</c>'


def _cell(place: str, cell: OwnCell, form: int) -> str:
    value = cell.value
    if value is None or value == "":
        return f'<c r="{place}" s="{form}"/>'
    if isinstance(value, str) and value.isascii() and value.replace(" ", "").isalnum():
        # Most texts are of letters and digits only, and need no second look.
        return f'<c r="{place}" s="{form}" t="inlineStr"><is><t xml:space="preserve">{value}</t></is></c>'
    kind, content = cell_markup(value)
    return f'<c r="{place}" s="{form}"{kind.decode()}>{content.decode()}</c>'


def _behind_rows(own_sheet: OwnSheet, titles: Mapping[str, str]) -> Iterator[str]:
    filtered = filter_area(own_sheet)
    if filtered is not None:
        yield f'<autoFilter ref="{filtered}"/>'
    if own_sheet.merges:
        merged = "".join(f'<mergeCell ref="{Area(*corners)}"/>' for corners in own_sheet.merges)
        yield f'<mergeCells count="{len(own_sheet.merges)}">{merged}</mergeCells>'
    if own_sheet.choices is not None:
        yield choices_markup(own_sheet.choices)
    links = "".join(_links(own_sheet, titles))
    if links:
        yield f"<hyperlinks>{links}</hyperlinks>"
    yield _MARGINS
    size = "" if own_sheet.paper is None else f'paperSize="{_PAPERS[own_sheet.paper]}" '
    way = "landscape" if own_sheet.landscape else "portrait"
    yield f'<pageSetup {size}orientation="{way}" fitToHeight="0"/>'
    yield f"<headerFooter><oddFooter>{_FOOTER}</oddFooter></headerFooter>"
    breaks = sorted(set(own_sheet.breaks))
    if breaks:
        marks = "".join(f'<brk id="{row}" max="16383" man="1"/>' for row in breaks)
        yield f'<rowBreaks count="{len(breaks)}" manualBreakCount="{len(breaks)}">{marks}</rowBreaks>'


def choices_markup(choices: Choices) -> str:
    """Return what offers a drop-down list in cells, and lets nothing else be typed there."""
    return (
        '<dataValidations count="1"><dataValidation type="list" allowBlank="1" showErrorMessage="1"'
        f' sqref="{choices.area}"><formula1>{choices.formula}</formula1></dataValidation></dataValidations>'
    )


def _links(own_sheet: OwnSheet, titles: Mapping[str, str]) -> Iterator[str]:
    for number, cells in enumerate(own_sheet.rows, start=1):
        for column, cell in enumerate(cells, start=1):
            if cell.link is not None:
                title, place = cell.link
                target = quoted(f"{sheet_reference(titles.get(title, title))}!{place}").decode()
                yield f'<hyperlink ref="{column_letters(column)}{number}" location="{target}"/>'

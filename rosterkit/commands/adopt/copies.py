"""Every sheet of a list, whole, beside ours: values as typed, colours, notes and merged cells."""

from collections import Counter
from collections.abc import Mapping, Sequence
from functools import partial

from openpyxl import Workbook
from openpyxl.cell.cell import Cell, MergedCell
from openpyxl.comments import Comment
from openpyxl.styles import Alignment, PatternFill
from openpyxl.utils import get_column_letter
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.properties import PageSetupProperties
from openpyxl.worksheet.worksheet import Worksheet

from rosterkit.commands.adopt.rows import text_for
from rosterkit.commands.adopt.shown_as import shown
from rosterkit.errors import CannotRunError
from rosterkit.lists.plain import Place, PlainArea, PlainList, PlainSheet
from rosterkit.template.instructions import TITLE as INSTRUCTIONS
from rosterkit.template.looks import Looks
from rosterkit.xlsx.package.contents import COPY_MARKER
from rosterkit.xlsx.titles import LONGEST_TITLE, free_title, legal_title
from rosterkit.xlsx.xml.values import LONGEST_TEXT

COPY = "Copy"
"""What the reading of a list calls the copy of a sheet that an earlier adoption made."""
_ENDING = " (list)"
_ROWS, _COLUMNS = 1_048_576, 16_384
_WIDEST, _NARROWEST = 60, 9
_MOSTLY = 0.5
_MEASURED = 200
"""A column is as wide as what stands in so many first rows."""


def titles_of_copies(plain: PlainList, taken: Sequence[str]) -> Mapping[str, str]:
    """Return the title of the copy of each sheet of a list, by its own; ``taken`` are those of ours.

    Letter case and blanks do not tell a title from one of ours.
    """
    used = list(taken)
    titles: dict[str, str] = {}
    known = {"".join(title.casefold().split()) for title in taken}
    for one in plain.sheets:
        if "".join(one.title.casefold().split()) in known:
            title = legal_title(one.title[: LONGEST_TITLE - len(_ENDING)], _ENDING)
        else:
            title = legal_title(one.title)
        titles[one.title] = free_title(title, used)
        used.append(titles[one.title])
    return titles


def write_copies(workbook: Workbook, plain: PlainList, titles: Mapping[str, str]) -> None:
    """Write a copy of every sheet of a list behind the sheets of a workbook, each with a mark that it is one.

    Raises:
        CannotRunError: if a sheet of the list has more rows, columns or signs in a cell than one of a
            workbook can have.
    """
    looks = Looks()
    for one in plain.sheets:
        _require_fitting(one, plain.name)
        page = workbook.create_sheet(titles[one.title])
        page.defined_names.add(DefinedName(COPY_MARKER, attr_text="1", hidden=True))
        # What rosterkit made there it makes anew: its copy is out of the way, and there all the same.
        if one.hidden or one.own not in {"", COPY} or _is_instructions(one, workbook):
            page.sheet_state = "hidden"
        _write_cells(page, one, looks)
        _set_up_printing(page)
        for area in _apart(one.merged):
            # openpyxl's own way would empty the cells below the first, where a file may have values.
            page.merged_cells.add(
                f"{get_column_letter(area.left)}{area.top}:{get_column_letter(area.right)}{area.bottom}"
            )


def _is_instructions(one: PlainSheet, workbook: Workbook) -> bool:
    """Whether a sheet is the instructions that every workbook of ours begins with, of any version."""
    if one.title != INSTRUCTIONS or INSTRUCTIONS not in workbook.sheetnames:
        return False
    ours = {" ".join(str(cell.value).split()) for row in workbook[INSTRUCTIONS].iter_rows() for cell in row}
    texts = [" ".join(cell.text.split()) for cell in one.cells.values() if cell.text]
    return bool(texts) and sum(text in ours for text in texts) >= _MOSTLY * len(texts)


def _require_fitting(one: PlainSheet, name: str) -> None:
    where = f"{name}: the sheet '{one.title}' has"
    for (row, column), cell in one.cells.items():
        if row > _ROWS or column > _COLUMNS:
            raise CannotRunError(
                f"{where} over {_ROWS:,} rows or {_COLUMNS:,} columns, more than a workbook can have",
                "Split the list.",
            )
        text = cell.value if isinstance(cell.value, str) else cell.text
        if len(text) > LONGEST_TEXT // 2 and len(text.encode("utf-16-le", "replace")) > 2 * LONGEST_TEXT:
            raise CannotRunError(
                f"{where} more than {LONGEST_TEXT:,} signs in {Place(one.title, row, column).cell}, which no "
                "cell of a workbook can hold",
                "Split its text over several cells.",
            )


def _write_cells(page: Worksheet, one: PlainSheet, looks: Looks) -> None:
    widths: dict[int, int] = {}
    filled = Counter(row for (row, _), cell in one.cells.items() if cell.text)
    for (row, column), cell in one.cells.items():
        # A title that stands alone in its row runs over the next columns, as it does in the list.
        if row <= _MEASURED and filled[row] > 1:
            widths[column] = max(widths.get(column, 0), *map(len, cell.text.split("\n")))
        new = page.cell(row, column)
        put = shown(cell) if cell.text or not isinstance(cell.value, str) else None
        if put is not None:
            new.value = put.value
            if isinstance(put.value, str):
                new.data_type = "s"
        number_format = put.number_format if put else "General"
        wraps = "\n" in cell.text
        look = partial(_dress, number_format=number_format, fill=cell.fill, wraps=wraps)
        looks.dress(new, (number_format, cell.fill, wraps), look)
        if cell.note:
            new.comment = Comment(text_for(cell.note), "list")
    for column, width in widths.items():
        page.column_dimensions[get_column_letter(column)].width = max(_NARROWEST, min(_WIDEST, width + 2))


def _set_up_printing(page: Worksheet) -> None:
    """Let a copy be printed one page wide, however many rows it has."""
    page.page_setup.orientation = "landscape"
    page.page_setup.paperSize = 9
    page.page_setup.fitToWidth, page.page_setup.fitToHeight = 1, 0
    page.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)


def _dress(cell: Cell | MergedCell, *, number_format: str, fill: str, wraps: bool) -> None:
    cell.number_format = number_format
    if fill:
        cell.fill = PatternFill("solid", start_color=fill)
    if wraps:
        cell.alignment = Alignment(wrap_text=True, vertical="top")


def _apart(areas: Sequence[PlainArea]) -> Sequence[PlainArea]:
    """Return areas of several cells of which none overlaps an earlier one: no program opens such a sheet."""
    kept: list[PlainArea] = []
    near: list[PlainArea] = []
    for one in sorted(areas, key=lambda area: (area.top, area.left)):
        near = [other for other in near if other.bottom >= one.top]
        several = (one.top, one.left) != (one.bottom, one.right)
        if several and not any(_overlap(one, other) for other in near):
            kept.append(one)
            near.append(one)
    return kept


def _overlap(one: PlainArea, other: PlainArea) -> bool:
    across = one.left <= other.right and other.left <= one.right
    return across and one.top <= other.bottom and other.top <= one.bottom

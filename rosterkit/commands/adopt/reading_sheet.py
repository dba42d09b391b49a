"""The sheet Reading: how each column of a list was read, to be corrected there, and what was left out."""

from collections.abc import Mapping, Sequence

from openpyxl import Workbook
from openpyxl.cell.cell import Cell, MergedCell
from openpyxl.styles import Alignment, Border, Font, PatternFill, Side
from openpyxl.utils import get_column_letter
from openpyxl.workbook.defined_name import DefinedName
from openpyxl.worksheet.datavalidation import DataValidation
from openpyxl.worksheet.hyperlink import Hyperlink
from openpyxl.worksheet.properties import PageSetupProperties
from openpyxl.worksheet.worksheet import Worksheet

from rosterkit.commands.adopt.corrections import Read
from rosterkit.commands.adopt.reading_file import HEADING, PLACE, READ_AS, TITLE
from rosterkit.commands.adopt.rows import text_for
from rosterkit.commands.adopt.surety import NOT_KNOWN, is_known
from rosterkit.commands.adopt.words import HEADING_ROW, word_for, words_for
from rosterkit.lists.adopted import Adopted, Doubt
from rosterkit.lists.plain import Place
from rosterkit.lists.reading import Sure, TableReading
from rosterkit.lists.tables import Skipped
from rosterkit.template.instructions import FONT
from rosterkit.xlsx.changes import LINE, lines_of
from rosterkit.xlsx.package.contents import MARKER

HEADINGS = (PLACE, HEADING, READ_AS, "How sure", "Why", "Sample 1", "Sample 2", "Sample 3", "Rows of")
_DOUBTS = ("Place", "Doubt", "What to do", "Engine")
_SKIPPED = ("From", "To", "What stands there", "Why it was left out")
_WIDTHS = (24, 40, 40, 22, 46, 20, 20, 20, 18)
_PURPOSE = (
    "Correct what is wrong under Read as, save, and adopt the list again: "
    "rosterkit adopt {0} --reading THIS.xlsx -o NEW.xlsx"
)
_PROMPT = "Choose what this column is, or type CV and its number, such as CV 49."
_CVS = (*range(1, 7), 9, 10, 17, 18, 19, 29)
"""CVs that lists have columns of; any other is typed."""
_NONE = "no sheet of ours"
_MOST_LINES = 10
_INK = "1F3A4D"
_HEADING = PatternFill("solid", start_color="D9E6EC")
_OPEN = PatternFill("solid", start_color="FFF9DB")
_UNSURE = PatternFill("solid", start_color="FBE9D0")
_LINE = Border(bottom=Side(style="medium", color=_INK))


def write_reading(
    workbook: Workbook, name: str, read: Read, adopted: Adopted, titles: Mapping[str, str]
) -> None:
    """Write the sheet behind the instructions, with a mark that it is made by rosterkit.

    Args:
        workbook: The workbook.
        name: That of the list's file.
        read: The list as it was laid out and recognised.
        adopted: What it came to.
        titles: By the title of a sheet of the list, that of its copy, to which places lead.
    """
    page = workbook.create_sheet(TITLE, 1)
    page.defined_names.add(DefinedName(MARKER, attr_text="1", hidden=True))
    for at, width in enumerate(_WIDTHS, 1):
        page.column_dimensions[get_column_letter(at)].width = width
    writer = _Writer(page, titles)
    writer.write_title(f"How the list {name} was read", _PURPOSE.format(name))
    writer.write_headings(HEADINGS)
    page.freeze_panes = f"A{writer.row}"
    top = writer.row - 1
    for title, row in read.heading_rows.items():
        writer.write_line((f"{title}!{row}", "", HEADING_ROW, Sure.GIVEN.value, "somebody said so"))
    choices = _Choices(page)
    for reading in adopted.readings:
        _write_table(writer, choices, reading)
    page.auto_filter.ref = f"A{top}:{get_column_letter(len(HEADINGS))}{max(writer.row - 1, top + 1)}"
    writer.write_section("Doubts", _DOUBTS, [(d.place, _doubt(d)) for d in adopted.doubts])
    writer.write_section("Left out", _SKIPPED, [(one.place, _left_out(one)) for one in adopted.skipped])
    remarks = [(None, (one,)) for one in adopted.remarks]
    writer.write_section("How the file was read", ("Remark",), remarks)
    _set_up_printing(page)


def _write_table(writer: "_Writer", choices: "_Choices", reading: TableReading) -> None:
    for one in reading.columns:
        heading = reading.table.headings[one.heading]
        word = word_for(one.read_as, reading.subject)
        samples = (*one.samples[:3], "", "", "")[:3]
        why, subject = one.why or reading.why, reading.subject or _NONE
        sure = one.sure.value if is_known(reading, one) else NOT_KNOWN
        row = writer.row
        place = heading.at[-1].place if heading.at else None
        writer.write_line((heading.key, heading.text, word, sure, why, *samples, subject), place=place)
        choices.put(row, reading.subject, unsure=one.sure is Sure.UNSURE)


def _doubt(doubt: Doubt) -> Sequence[str]:
    return str(doubt.place), doubt.message, doubt.fix, doubt.engine


def _left_out(skipped: Skipped) -> Sequence[str]:
    last = skipped.last.cell if skipped.last != skipped.place else ""
    return str(skipped.place), last, skipped.text, skipped.why


class _Writer:
    """Writes the sheet from the top; every text as a text."""

    def __init__(self, page: Worksheet, titles: Mapping[str, str]) -> None:
        self.row = 1
        """The next one."""
        self._page = page
        self._titles = titles

    def write_title(self, title: str, purpose: str) -> None:
        """Write what the sheet is, and what it is for."""
        self._write(1, title).font = Font(name=FONT, bold=True, size=14, color=_INK)
        self.row += 1
        self._write(1, purpose)
        self.row += 2

    def write_headings(self, headings: Sequence[str]) -> None:
        """Write a row of headings."""
        for at, heading in enumerate(headings, 1):
            cell = self._write(at, heading)
            cell.font, cell.fill = Font(name=FONT, bold=True, color=_INK), _HEADING
            cell.border, cell.alignment = _LINE, Alignment(wrap_text=True, vertical="center")
        self.row += 1

    def write_line(self, texts: Sequence[str], place: Place | None = None) -> None:
        """Write a row, whose first cell leads to a place of the list."""
        for at, text in enumerate(texts, 1):
            if text:
                self._write(at, text).alignment = Alignment(wrap_text=True, vertical="top")
        lines = max(lines_of(text, width - 1) for text, width in zip(texts, _WIDTHS, strict=False))
        self._page.row_dimensions[self.row].height = LINE * min(lines, _MOST_LINES)
        if place is not None and place.sheet in self._titles:
            cell = self._page.cell(self.row, 1)
            title = self._titles[place.sheet].replace("'", "''")
            cell.hyperlink = Hyperlink(ref=cell.coordinate, location=f"'{title}'!{place.cell}")
            cell.font = Font(name=FONT, underline="single", color="0563C1")
        self.row += 1

    def write_section(
        self, title: str, headings: Sequence[str], lines: Sequence[tuple[Place | None, Sequence[str]]]
    ) -> None:
        """Write a list below, if there is anything in it."""
        if not lines:
            return
        self.row += 1
        self._write(1, f"{title}: {len(lines)}").font = Font(name=FONT, bold=True, size=13, color=_INK)
        self.row += 1
        self.write_headings(headings)
        for place, texts in lines:
            self.write_line(texts, place)

    def _write(self, at: int, text: str) -> Cell | MergedCell:
        cell = self._page.cell(self.row, at)
        cell.value, cell.data_type, cell.number_format = text_for(text), "s", "@"
        cell.font = Font(name=FONT)
        return cell


class _Choices:
    """The drop-downs under Read as: one of each kind of table, its words in a hidden column."""

    def __init__(self, page: Worksheet) -> None:
        self._page = page
        self._lists: dict[str, DataValidation] = {}

    def put(self, row: int, subject: str, *, unsure: bool) -> None:
        """Let a cell under Read as offer the words of a subject; any other may be typed, such as CV 49."""
        if subject not in self._lists:
            self._lists[subject] = self._made(subject)
        cell = self._page.cell(row, HEADINGS.index(READ_AS) + 1)
        cell.fill = _UNSURE if unsure else _OPEN
        self._lists[subject].add(cell.coordinate)

    def _made(self, subject: str) -> DataValidation:
        words = [*words_for(subject), *(f"CV {number}" for number in _CVS)]
        letters = get_column_letter(len(HEADINGS) + 2 + len(self._lists))
        for row, word in enumerate(words, 1):
            self._page[f"{letters}{row}"] = word
        self._page.column_dimensions[letters].hidden = True
        area = f"${letters}$1:${letters}${len(words)}"
        offered = DataValidation(type="list", formula1=area, allow_blank=True, showErrorMessage=False)
        offered.showInputMessage, offered.promptTitle, offered.prompt = True, READ_AS, _PROMPT
        self._page.add_data_validation(offered)
        return offered


def _set_up_printing(page: Worksheet) -> None:
    page.page_setup.orientation = "landscape"
    page.page_setup.paperSize = 9
    page.page_setup.fitToWidth, page.page_setup.fitToHeight = 1, 0
    page.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
    page.print_area = f"A1:{get_column_letter(len(HEADINGS))}{page.max_row}"

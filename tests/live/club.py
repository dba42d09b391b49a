"""A club's workbook open in LibreOffice, worked on by headings and labels as a member sees them."""

from dataclasses import dataclass

from tests.live.uno_document import Document

Content = str | float


@dataclass(frozen=True, slots=True)
class Club:
    """The workbook; a label is what stands in the first of our columns of a row, such as Loco."""

    book: Document

    def column(self, sheet: str, heading: str) -> str:
        """Return the letters of the column under a heading."""
        return letters(self._headings(sheet)[1].index(heading))

    def row(self, sheet: str, label: str) -> int:
        """Return the first row with a label."""
        top, headings = self._headings(sheet)
        at = headings.index(LABELS[sheet])
        rows = self.book.values(sheet)
        return next(n for n, row in enumerate(rows, 1) if n > top and row[at] == label)

    def cell(self, sheet: str, label: str, heading: str) -> str:
        """Return the name of a cell."""
        return f"{self.column(sheet, heading)}{self.row(sheet, label)}"

    def type(self, sheet: str, label: str, heading: str, text: str) -> None:
        """Type into the row with a label."""
        self.book.enter(sheet, self.cell(sheet, label, heading), text)

    def clear(self, sheet: str, label: str, heading: str) -> None:
        """Empty a cell of the row with a label."""
        self.book.clear(sheet, self.cell(sheet, label, heading))

    def type_row(self, sheet: str, row: int, **typed: str) -> None:
        """Type into several cells of a row: by heading, with _ for a blank in it."""
        for heading, text in typed.items():
            self.book.enter(sheet, f"{self.column(sheet, heading.replace('_', ' '))}{row}", text)

    def first_free_row(self, sheet: str) -> int:
        """Return the row below the last one with a label."""
        top, headings = self._headings(sheet)
        at = headings.index(LABELS[sheet])
        return max(n for n, row in enumerate(self.book.values(sheet), 1) if n >= top and row[at] != "") + 1

    def last_computed_row(self, sheet: str, heading: str) -> int:
        """Return the last row with a formula under a heading."""
        column = self.column(sheet, heading)
        rows = self.book.formulas(sheet, f"{column}1:{column}2000")
        return max(n for n, (formula,) in enumerate(rows, 1) if formula.startswith("="))

    def table(self, sheet: str) -> str:
        """Return the area of the headings and all rows below, as one marks it to sort it."""
        top, headings = self._headings(sheet)
        last = max(n for n, heading in enumerate(headings) if heading != "")
        return f"A{top}:{letters(last)}{self.first_free_row(sheet) - 1}"

    def _headings(self, sheet: str) -> tuple[int, list[Content]]:
        rows = self.book.values(sheet)
        return next((n, row) for n, row in enumerate(rows, 1) if LABELS[sheet] in row)


LABELS = {
    "Layout": "Setting",
    "Address ranges": "Kind",
    "Decoder types": "Decoder",
    "Locomotives": "Loco",
    "Consists": "Loco",
    "Accessories": "Accessory",
    "Speed tables": "Table",
    "Readings": "Loco",
}
"""The heading above the labels of each sheet."""


def letters(index: int) -> str:
    """Return the letters of a column, counted from 0."""
    high, low = divmod(index, 26)
    return (chr(64 + high) if high else "") + chr(65 + low)

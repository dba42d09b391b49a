"""The sheet Merge as a person reads it: what it says of a row, a column and a value, and in which part."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from tests.scenarios.edits import Edit, Kind
from tests.scenarios.tables import Table

TITLE = "Merge"
WHAT, PLACE, ROW, COLUMN, KEEP, REMARK = "What", "Place", "Row", "Column", "Keep", "Remark"
"""The headings beside those of the sides."""
BLANK = "(blank)"
WORDS = {
    Kind.NOTE: ("note",),
    Kind.PHOTO: ("photo", "picture", "drawing"),
    Kind.PAINT: ("fill", "colour", "format"),
}
"""How what lies at a cell may be called."""
GONE = ("removed", "deleted")


class Section(StrEnum):
    """What a line may tell of."""

    CONFLICTS = "conflict"
    NOT_MERGED = "not merged"
    TOGETHER = "error only together"


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """A row of it."""

    number: int
    cells: Mapping[str, str]
    """By heading; blank ones are left out."""

    def get(self, heading: str) -> str:
        """Return a cell; "" for a blank one."""
        return self.cells.get(heading, "")


@dataclass(frozen=True, slots=True)
class MergeSheet:
    """Its rows from top to bottom."""

    lines: Sequence[Line] = ()

    def section_of(self, edit: Edit, labels: Sequence[str], place: str) -> Section | None:
        """Return what the line is that tells of an edit, conflict or not merged; None where none does.

        Args:
            edit: what was done.
            labels: what its row may be called.
            place: its cell in the copy.
        """
        if any(_is_conflict_of(line, edit, labels) for line in self.of(Section.CONFLICTS)):
            return Section.CONFLICTS
        if any(_names(line, edit, place) for line in self.of(Section.NOT_MERGED)):
            return Section.NOT_MERGED
        return None

    def of(self, section: Section) -> list[Line]:
        """Return the lines of one kind."""
        return [line for line in self.lines if line.get(WHAT) == section]


def _is_conflict_of(line: Line, edit: Edit, labels: Sequence[str]) -> bool:
    """Return whether the member's column has what they did, in a line of the engine and the heading."""
    said = line.get(edit.who)
    if not line.get(PLACE).startswith(edit.sheet) or line.get(ROW) not in labels:
        return False
    if edit.kind is Kind.GONE_ROW:
        return line.get(COLUMN) == "" and said in GONE
    same = edit.kind is Kind.CELL and line.get(COLUMN).casefold() == edit.heading.casefold()
    return same and said == (edit.text or BLANK)


def _names(line: Line, edit: Edit, place: str) -> bool:
    """Return whether a line names the member, the place in the copy, and what it is."""
    remark = line.get(REMARK)
    if edit.who not in line.cells or line.get(PLACE) != f"{edit.sheet} {place}":
        return False
    if edit.kind in WORDS:
        return any(word in remark.casefold() for word in WORDS[edit.kind])
    if edit.text.startswith("="):
        return edit.text.format(row=place.lstrip("ABCDEFGHIJKLMNOPQRSTUVWXYZ")) in remark
    return line.get(edit.who) == edit.text


def merge_sheet(table: Table | None) -> MergeSheet:
    """Return what the sheet says; nothing of a workbook without one."""
    rows = table.rows if table else []
    top = next((n for n, row in enumerate(rows, 1) if WHAT in row), 0)
    if not top:
        return MergeSheet()
    return MergeSheet(
        [
            Line(
                number=number,
                cells={name: cell for name, cell in zip(rows[top - 1], row, strict=False) if name and cell},
            )
            for number, row in enumerate(rows[top:], top + 1)
        ]
    )

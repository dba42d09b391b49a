"""The sheet Merge as a person reads it: what it says of a row, a column and a value, and in which part."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from tests.scenarios.edits import Edit, Kind
from tests.scenarios.tables import Table

TITLE = "Merge"
KEEP = "Keep"
WORDS = {
    Kind.NOTE: ("note",),
    Kind.PHOTO: ("photo", "picture", "drawing"),
    Kind.PAINT: ("fill", "colour", "format"),
}
"""How what lies at a cell may be called."""
GONE = ("removed", "deleted")


class Section(StrEnum):
    """A part of the sheet, by words that its heading has."""

    CONFLICTS = "conflict"
    NOT_MERGED = "not merged"
    TAKEN = "taken"


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """A row of it."""

    number: int
    section: Section | None
    cells: Mapping[str, str]
    """By the heading above."""


@dataclass(frozen=True, slots=True)
class MergeSheet:
    """Its rows from top to bottom."""

    lines: Sequence[Line] = ()

    def section_of(self, edit: Edit, labels: Sequence[str], place: str) -> Section | None:
        """Return the part that tells of an edit, conflicts or not merged; None where none does.

        Args:
            edit: what was done.
            labels: what its row may be called.
            place: its cell in the copy, where it is not one of a table.
        """
        for line in self.lines:
            if line.section is Section.CONFLICTS and _in_conflict(line, edit, labels):
                return line.section
            if line.section is Section.NOT_MERGED and _not_merged(line, edit, place):
                return line.section
        return None

    def conflicts(self) -> list[Line]:
        """Return the rows in which somebody chooses."""
        return [line for line in self.lines if line.section is Section.CONFLICTS]


def _in_conflict(line: Line, edit: Edit, labels: Sequence[str]) -> bool:
    """Return whether the member's column has what they typed, beside the engine and the heading."""
    said = line.cells.get(edit.who, "").casefold()
    others = {cell for name, cell in line.cells.items() if name != edit.who}
    if not others & set(labels):
        return False
    if edit.kind is Kind.GONE_ROW:
        return any(word in said for word in GONE)
    named = edit.heading.casefold() in {cell.casefold() for cell in others}
    return edit.kind is Kind.CELL and named and said == edit.text.casefold()


def _not_merged(line: Line, edit: Edit, place: str) -> bool:
    cells = set(line.cells.values())
    if not {edit.who, edit.sheet} <= cells or place not in cells:
        return False
    if edit.kind in WORDS:
        return any(word in cell.casefold() for word in WORDS[edit.kind] for cell in cells)
    return edit.text in cells


def merge_sheet(table: Table | None) -> MergeSheet:
    """Return what the sheet says; nothing of a workbook without one."""
    lines = []
    section, headings = None, list[str]()
    for number, row in enumerate(table.rows if table else (), 1):
        filled = [cell for cell in row if cell]
        if len(filled) == 1:
            said = filled[0].casefold()
            section = next((one for one in Section if said.startswith(one) or one in said[:40]), section)
            headings = []
        elif filled and not headings:
            headings = row
        elif filled:
            cells = {name: cell for name, cell in zip(headings, row, strict=False) if name}
            lines.append(Line(number=number, section=section, cells=cells))
    return MergeSheet(lines)

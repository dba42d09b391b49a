"""What a merge came to, line by line: for the sheet Merge and for whoever prints it."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from enum import StrEnum

from rosterkit.cell_names import column_letters
from rosterkit.commands.merge.record import ConflictRecord
from rosterkit.commands.merge.rows import marks_of
from rosterkit.findings import Finding
from rosterkit.roster.cell_values import shown
from rosterkit.roster.schema import folded
from rosterkit.versions.merged import Conflict, Merged, MergedRow, SideValue
from rosterkit.writeback.merge_edit import MergeEdit
from rosterkit.writeback.merge_places import SheetPlaces
from rosterkit.xlsx.grid import Raw


class What(StrEnum):
    """What a line is about, in the order of the sheet."""

    CONFLICT = "conflict"
    RESOLVED = "resolved"
    TOGETHER = "error only together"
    TAKEN = "taken"
    ADDED = "row added"
    REMOVED = "row removed"
    NOT_MERGED = "not merged"


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """One line of the sheet Merge."""

    what: What
    sheet: str = ""
    cell: str = ""
    row: str = ""
    """What people know the row by."""
    column: str = ""
    before: Raw = ""
    """What stood there: of a conflict in the base, and so in the merged workbook; else in the master."""
    after: Raw = ""
    """What a cell that was taken holds now; of what is not merged, its value."""
    sides: Mapping[str, Raw] = field(default_factory=dict)
    """What each side has there, by its name."""
    cells: Mapping[str, Raw] = field(default_factory=dict)
    """What an added row holds, by heading."""
    remark: str = ""
    rule: str = ""
    """The check that finds an error."""
    linked: bool = True
    """The place is one of the merged workbook."""
    record: ConflictRecord | None = None
    keep: Raw = ""
    """What somebody wrote under Keep before."""


BLANK_SIDE = "(blank)"
"""How a side is shown that wants a cell to hold nothing."""
_THERE = "(see Remark)"
"""How a side is shown that has something which is no value, such as a photo."""
_GAVE_WAY = "{value} of {master} gave way to {base}, until you choose"
_EMPTIED = (
    "what members filled in is gone; the row stays as a blank one, with formulas, notes and photos there"
)


def lines_of(
    merged: Merged,
    edit: MergeEdit,
    after: Mapping[str, SheetPlaces],
    together: Sequence[Finding],
    master: str,
) -> list[Line]:
    """Return the lines of a merge, in the order of the sheet.

    Args:
        merged: what the copies come to.
        edit: the edit of the master.
        after: where rows and columns stand in the merged workbook.
        together: the errors that no workbook had alone.
        master: the name of the master's side.
    """
    return [
        *(_conflict(one, edit, after, master) for one in merged.conflicts),
        *map(_together, together),
        *_taken(merged, edit),
        *_rows(merged, edit),
        *(
            Line(
                what=What.NOT_MERGED,
                sheet=one.sheet,
                cell=one.cell,
                row=one.label,
                sides={one.source: _THERE if one.value == "" else one.value},
                after=one.value,
                remark=one.reason,
                linked=False,
            )
            for one in (*merged.not_merged, *edit.unwritten)
        ),
    ]


def _named(edit: MergeEdit, row: MergedRow, column: str | None) -> tuple[str, str, int]:
    title, number, at = edit.cell(row, column)
    return title, f"{column_letters(at)}{number}", number


def _sides(sides: Sequence[SideValue]) -> dict[str, Raw]:
    return {name: BLANK_SIDE if side.value == "" else side.value for side in sides for name in side.sources}


def _conflict(one: Conflict, edit: MergeEdit, after: Mapping[str, SheetPlaces], master: str) -> Line:
    title, cell, row = _named(edit, one.row, one.column)
    record = ConflictRecord(
        kind=one.kind,
        sheet=title,
        row=row,
        column=one.column,
        label=one.row.label,
        marks=marks_of(after[folded(title)], row),
        base=one.base,
        sides=one.sides,
    )
    return Line(
        what=What.CONFLICT,
        sheet=title,
        cell=cell,
        row=one.row.label,
        column=one.column or "",
        before=one.base,
        sides=_sides(one.sides),
        remark=_remark(one, master),
        record=record,
    )


def _remark(one: Conflict, master: str) -> str:
    if one.column is None:
        return "deleted by one side and changed by another"
    newer = next((side.value for side in one.sides if master in side.sources), None)
    if newer is None:
        return ""
    value, base = (BLANK_SIDE if each == "" else shown(each) for each in (newer, one.base))
    return _GAVE_WAY.format(value=value, master=master, base=base)


def _together(one: Finding) -> Line:
    return Line(
        what=What.TOGETHER,
        sheet=one.place.sheet or "",
        cell=one.place.cell or "",
        row=one.loco or "",
        column=one.column or "",
        remark=f"{one.message}. {one.fix}",
        rule=one.rule,
    )


def _taken(merged: Merged, edit: MergeEdit) -> Iterator[Line]:
    unwritten = {(one.source, folded(one.sheet), one.cell) for one in edit.unwritten}
    for one in merged.taken:
        title, cell, _ = _named(edit, one.row, one.column)
        if (one.new.sources[0], folded(title), one.new.place) not in unwritten:
            yield Line(
                what=What.TAKEN,
                sheet=title,
                cell=cell,
                row=one.row.label,
                column=one.column,
                before=one.old,
                after=one.new.value,
                sides=_sides([one.new]),
            )


def _rows(merged: Merged, edit: MergeEdit) -> Iterator[Line]:
    for one in merged.added:
        title, cell, _ = _named(edit, one.row, None)
        cells = {name: side.value for name, side in one.cells.items()}
        yield Line(
            what=What.ADDED,
            sheet=title,
            cell=cell,
            row=one.row.label,
            sides=dict.fromkeys(one.sources, "added"),
            cells=cells,
            remark=", ".join(f"{name} {shown(value)}" for name, value in cells.items()),
        )
    for gone in merged.removed:
        title, cell, _ = _named(edit, gone.row, None)
        yield Line(
            what=What.REMOVED,
            sheet=title,
            cell=cell,
            row=gone.row.label,
            sides=dict.fromkeys(gone.sources, "removed"),
            remark=_EMPTIED,
        )

"""Whether everybody's change is accounted for.

It knows the edits, because this story made them, and reads workbooks with another library; of the project
it knows the names that people see, and nothing else.
"""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum

from openpyxl.utils.cell import column_index_from_string, coordinate_from_string, get_column_letter

from tests.scenarios.edits import BESIDE_CELLS, Edit, Kind
from tests.scenarios.merge_sheet import MergeSheet, Section
from tests.scenarios.tables import Table


class Verdict(StrEnum):
    """What became of an edit."""

    IN_THE_RESULT = "in the result"
    CONFLICT = "in the sheet Merge, as a conflict"
    NOT_MERGED = "in the sheet Merge, as not merged"
    DECIDED = "another side was kept"
    LOST = "LOST"


@dataclass(frozen=True, slots=True)
class Account:
    """The edits with what became of each."""

    entries: Sequence[tuple[Edit, Verdict]]

    @property
    def lost(self) -> list[str]:
        """The edits that are nowhere."""
        return [str(edit) for edit, verdict in self.entries if verdict is Verdict.LOST]

    def of(self, verdict: Verdict) -> list[Edit]:
        """Return the edits of which that became."""
        return [edit for edit, what in self.entries if what is verdict]

    def __str__(self) -> str:
        lines = [f"{verdict.value:<36}{edit}" for edit, verdict in self.entries]
        counts = Counter(verdict for _, verdict in self.entries)
        return "\n".join([*lines, ", ".join(f"{count} {verdict}" for verdict, count in counts.items())])


Tables = Mapping[str, Table]


def renames(edits: Iterable[Edit]) -> dict[str, str]:
    """Return what engines are called by now, by what they were called."""
    return {
        edit.label: edit.text
        for edit in edits
        if edit.kind is Kind.CELL and edit.sheet == "Locomotives" and edit.heading == "Loco"
    }


def account(
    edits: Sequence[Edit], result: Tables, merge: MergeSheet, copies: Mapping[str, Tables]
) -> Account:
    """Seek each edit in the result, and where it is not there in the sheet Merge.

    Args:
        edits: what was done.
        result: the sheets that came of it.
        merge: what the sheet Merge says.
        copies: the sheets of each copy by who edited it, for the places that it is about.
    """
    renamed = renames(edits)
    return Account([(edit, _verdict(edit, result, merge, copies, renamed)) for edit in edits])


def _verdict(
    edit: Edit, result: Tables, merge: MergeSheet, copies: Mapping[str, Tables], renamed: Mapping[str, str]
) -> Verdict:
    if holds(edit, result, renamed):
        return Verdict.IN_THE_RESULT
    labels = (edit.label, renamed.get(edit.label, edit.label))
    section = merge.section_of(edit, labels, _place(edit, copies.get(edit.who, {}), renamed))
    if section is None:
        return Verdict.LOST
    return Verdict.CONFLICT if section is Section.CONFLICTS else Verdict.NOT_MERGED


def _place(edit: Edit, copy: Tables, renamed: Mapping[str, str]) -> str:
    """Return the cell of an edit in the copy; "" where it has none there."""
    if edit.kind in {Kind.LOOSE, Kind.OWN_SHEET}:
        return edit.key["cell"]
    number = copy[edit.sheet].row(edit.key, renamed) if edit.sheet in copy else None
    column = copy[edit.sheet].column(copy[edit.sheet].top(list(edit.key)), edit.heading) if number else None
    return f"{get_column_letter(column + 1)}{number}" if column is not None else ""


def holds(edit: Edit, result: Tables, renamed: Mapping[str, str]) -> bool:
    """Return whether a workbook has what somebody did."""
    table = result.get(edit.sheet)
    if table is None or edit.kind in BESIDE_CELLS:
        return False
    if edit.kind in {Kind.LOOSE, Kind.OWN_SHEET}:
        return edit.text in _loose(table, edit.key["cell"])
    number = table.row(edit.key, renamed)
    if edit.kind is Kind.GONE_ROW or number is None:
        return (edit.kind is Kind.GONE_ROW) == (number is None)
    if edit.kind is Kind.NEW_ROW:
        return True
    top = table.top(list(edit.key))
    return table.cell(number, top, edit.heading) == edit.text.format(row=number)


def _loose(table: Table, cell: str) -> list[str]:
    """Return the content of a cell by its name, in a list that is empty where there is no such cell."""
    letters, number = coordinate_from_string(cell)
    column = column_index_from_string(letters) - 1
    return table.rows[number - 1][column : column + 1] if number <= len(table.rows) else []

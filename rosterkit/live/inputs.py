"""The cells of the sheet Live that people type into: where they stand, and what was typed there earlier."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from rosterkit.cell_names import column_letters
from rosterkit.roster.cell_values import typed_again
from rosterkit.roster.schema import folded
from rosterkit.xlsx.changes import CellStyle, OwnCell
from rosterkit.xlsx.grid import Grid, NoStoredValue, Raw


@dataclass(frozen=True, slots=True, kw_only=True)
class Input:
    """A cell to type into; its label stands in the cell before it."""

    label: str
    row: int
    column: int

    @property
    def reference(self) -> str:
        """The cell as formulas of the same sheet refer to it."""
        return f"${column_letters(self.column)}${self.row}"


HINT_ADDRESS = "short, long, or blank: by the number"
HINT_FREE = "kinds: short, long, consist, or blank"
HINTS = (HINT_ADDRESS, HINT_FREE)
"""What stands behind inputs in their rows, so that it is not taken for something typed."""

INPUTS: Mapping[str, Input] = {
    "number": Input(label="Address", row=5, column=2),
    "kind": Input(label="Kind", row=5, column=4),
    "near": Input(label="Near number", row=15, column=2),
    "free_kind": Input(label="Kind wanted", row=15, column=4),
    "member": Input(label="For member", row=15, column=6),
    "cv1": Input(label="CV1 read", row=38, column=2),
    "cv17": Input(label="CV17 read", row=38, column=4),
    "cv18": Input(label="CV18 read", row=38, column=6),
    "cv29": Input(label="CV29 read", row=39, column=2),
}
"""By name; where they stand on the sheet as it is made now."""

Typed = Mapping[str, OwnCell]
"""What is typed, by the name of the input; inputs that are blank are not in it."""


def typed_in(grid: Grid) -> Typed:
    """Return what is typed on an earlier sheet Live, by the label before each input, wherever both are now.

    Content that no input expects is returned as well; without its label, what stands in the
    input's place.
    """
    labels = {folded(one.label) for one in INPUTS.values()}
    found: dict[str, OwnCell] = {}
    for name, one in INPUTS.items():
        places = _behind(grid, one.label, labels)
        if places is None:
            places = [(one.row, one.column)]
        typed = next(filter(None, (_typed(grid, row, column) for row, column in places)), None)
        if typed is not None:
            found[name] = typed
    return found


def blank_input() -> OwnCell:
    """Return an input into which nothing was typed."""
    return OwnCell(None, CellStyle.INPUT, typed=True)


def _behind(grid: Grid, label: str, labels: Iterable[str]) -> list[tuple[int, int]] | None:
    """Return the cells between a label and what else of ours stands in its row; None without the label."""
    ends = {*labels, *map(folded, HINTS)}
    for row, cells in enumerate(grid.rows, 1):
        words = [folded(cell) if isinstance(cell, str) else "" for cell in cells]
        # A label is the first cell of its kind in reading order; what is typed may read like one.
        at = next(
            (n for n, word in enumerate(words) if word == folded(label) and _is_label(grid, row, n)), None
        )
        if at is not None:
            stop = next((n for n in range(at + 2, len(words)) if words[n] in ends), at + 3)
            return [(row, n + 1) for n in range(at + 1, stop)]
    return None


def _is_label(grid: Grid, row: int, at: int) -> bool:
    return (row, at + 1) not in grid.formulas


def _typed(grid: Grid, row: int, column: int) -> OwnCell | None:
    formula = grid.formulas.get((row, column))
    cells = grid.rows[row - 1] if row <= len(grid.rows) else []
    raw: Raw = cells[column - 1] if column <= len(cells) else ""
    if isinstance(raw, NoStoredValue):
        formula, raw = raw.formula, ""
    if formula is None and raw == "":
        return None
    return OwnCell(typed_again(raw), CellStyle.INPUT, formula=formula, typed=True)

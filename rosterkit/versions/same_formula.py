"""Whether a formula of a copy is the one that its base has, wherever rows and columns have gone since."""

from bisect import bisect_right
from collections.abc import Mapping
from dataclasses import dataclass

from rosterkit.formulas.references import Corner, corners, split
from rosterkit.formulas.shift import moved_rows, shifted
from rosterkit.formulas.tokens import Kind, canonical, tokens

Cell = tuple[int, int]
"""Sheet row and column."""


@dataclass(frozen=True, slots=True)
class Moves:
    """Where the rows and columns of a copy's sheet stand in the base."""

    rows: Mapping[int, int]
    columns: Mapping[int, int]

    def back(self, text: str) -> str:
        """Return a formula with every reference to its own sheet put back to where it pointed in the base."""
        words = ((one, one.kind is Kind.REFERENCE and "!" not in one.text) for one in tokens(text))
        return "".join(self._back(one.text) if is_own else one.text for one, is_own in words)

    def _back(self, reference: str) -> str:
        prefix, cells = split(reference)
        moved = [self._corner(one) for one in corners(cells)]
        return prefix + (":".join(map(str, moved)) or cells)

    def _corner(self, one: Corner) -> Corner:
        return Corner(
            one.row if one.row is None else _before(self.rows, one.row),
            one.column if one.column is None else _before(self.columns, one.column),
            one.row_fixed,
            one.column_fixed,
        )


def _before(places: Mapping[int, int], place: int) -> int:
    """Return where a place was; what is not known went with the nearest before it."""
    if place in places:
        return places[place]
    known = sorted(places)
    at = bisect_right(known, place)
    return place - known[at - 1] + places[known[at - 1]] if at else place


def same_formula(old: str, was: Cell, new: str, is_now: Cell, moves: Moves) -> bool:
    """Tell whether a formula (without the equals sign) is the old one in another spelling.

    It is so if it is written the same, or filled along to where it stands now, or if every cell to which it
    refers is the one that it referred to, as programs see to when rows and columns are put in.
    """
    rows, columns = is_now[0] - was[0], is_now[1] - was[1]
    if new == old or (not columns and moved_rows(old, rows) == new) or canonical(new) == canonical(old):
        return True
    if canonical(shifted(old, rows, columns)) == canonical(new):
        return True
    return canonical(moves.back(new)) == canonical(old)

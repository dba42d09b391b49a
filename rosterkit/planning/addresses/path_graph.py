"""Addresses in a row, along which a party is passed on from its number to the nearest one that is left."""

from collections.abc import Sequence
from dataclasses import dataclass, field

NO_COLUMN = -1
"""What stands between two lines, and at both ends."""


@dataclass(slots=True)
class PathGraph:
    """Lines of columns: to go from one to the next costs as much as they lie apart.

    A row that may have any column of a line at the cost of its distance needs no edge to each of them: edges
    to the nearest places on either side say as much.
    """

    columns: int
    """How many columns there are; the places on the lines are numbered from here on."""
    column_at: list[int] = field(default_factory=lambda: [NO_COLUMN])
    lies_at: list[int] = field(default_factory=lambda: [0])
    """Where a place lies, in terms of cost."""

    def add(self, columns: Sequence[int], lie_at: Sequence[int]) -> range:
        """Add a line of columns that lie in ascending order, and return its places."""
        first = self.columns + len(self.column_at)
        self.column_at += [*columns, NO_COLUMN]
        self.lies_at += [*lie_at, 0]
        return range(first, first + len(columns))

    def bounded(self, prices: Sequence[int]) -> list[int]:
        """Lower the prices of columns and places as far as no step along a line, nor from it, is below 0."""
        found = list(prices)
        last = len(self.column_at) - 1
        for indices, step in ((range(1, last + 1), -1), (range(last - 1, 0, -1), 1)):
            for index in indices:
                if NO_COLUMN not in (self.column_at[index], self.column_at[index + step]):
                    apart = abs(self.lies_at[index] - self.lies_at[index + step])
                    place = self.columns + index
                    found[place] = min(found[place], found[place + step] + apart)
        for index, column in enumerate(self.column_at):
            if column != NO_COLUMN:
                found[column] = min(found[column], found[self.columns + index])
        return found

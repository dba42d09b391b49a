"""Cells named in runs, as A3, A5-A9: each of them once, as few words as there are areas."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from rosterkit.cell_names import column_letters
from rosterkit.findings import Finding

Area = tuple[int, int, int, int]
"""Cells without a gap: left, top, right and bottom, from 1."""


@dataclass(frozen=True, slots=True)
class Run:
    """Some cells of one sheet in words, and how many they are."""

    text: str
    cells: int


def cell_runs(findings: Iterable[Finding]) -> Iterator[Run]:
    """Return the cells of findings of one sheet in runs: down a column, and across such runs side by side.

    What is said of a whole sheet or workbook has no cell and is left out.
    """
    columns: dict[int, list[tuple[int, int]]] = {}
    for finding in findings:
        place = finding.place
        if place.row is not None and place.column is not None:
            columns.setdefault(place.column, []).append((place.row, finding.down_to or place.row))
    for left, top, right, bottom in _side_by_side(columns):
        first = f"{column_letters(left)}{top}"
        cells = (right - left + 1) * (bottom - top + 1)
        yield Run(first if cells == 1 else f"{first}-{column_letters(right)}{bottom}", cells)


def _side_by_side(columns: dict[int, list[tuple[int, int]]]) -> list[Area]:
    """Join runs that reach as far in columns next to each other; in the order of their upper left cells."""
    found: list[Area] = []
    ending: dict[tuple[int, int, int], int] = {}
    for column in sorted(columns):
        for top, bottom in _down(sorted(columns[column])):
            at = ending.pop((column - 1, top, bottom), None)
            if at is None:
                at = len(found)
                found.append((column, top, column, bottom))
            else:
                found[at] = (found[at][0], top, column, bottom)
            ending[column, top, bottom] = at
    return found


def _down(rows: list[tuple[int, int]]) -> Iterator[tuple[int, int]]:
    """Join rows that follow each other, or that are named twice."""
    first, last = rows[0]
    for top, bottom in rows[1:]:
        if top > last + 1:
            yield first, last
            first, last = top, bottom
        else:
            last = max(last, bottom)
    yield first, last


def cells_in_words(findings: Iterable[Finding]) -> str:
    """Name the cells of findings of one sheet: A3, A5-A9."""
    return ", ".join(run.text for run in cell_runs(findings))

"""Sheets that are not read and look like lists of engines, by the headings in their first rows."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from rosterkit.roster.schema import folded, sheet, spellings
from rosterkit.xlsx.grid import Workbook

_ADDRESS = "address"
_LABELS = ("loco", "number")
"""Columns by which people call an engine; the first of them that a sheet has counts."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Elsewhere:
    """A heading row of a sheet that is not read."""

    title: str
    row: int
    headings: tuple[str, ...]
    """Those that are ours too, as they stand there."""
    column: str
    """The column of ours that says which engine it is."""
    labels: tuple[str, ...]
    """What stands below it in the first rows."""


def engines_elsewhere(workbook: Workbook) -> Iterator[Elsewhere]:
    """Return sheets with a heading for an address and one for what an engine is called."""
    known: dict[str, str] = {}
    for spelling, column, _ in spellings(sheet("Locomotives")):
        known.setdefault(spelling, column.name)
    for title, rows in workbook.beginnings.items():
        for number, cells in enumerate(rows, 1):
            places = {known[folded(text)]: n for n, text in enumerate(cells) if folded(text) in known}
            label = next((name for name in _LABELS if name in places), None)
            if label and _ADDRESS in places:
                yield Elsewhere(
                    title=title,
                    row=number,
                    headings=tuple(cells[n] for n in sorted(places.values())),
                    column=label,
                    labels=tuple(_below(rows[number:], places[label])),
                )
                break


def _below(rows: Sequence[Sequence[str]], at: int) -> Iterator[str]:
    for cells in rows:
        if at < len(cells) and cells[at]:
            yield cells[at]

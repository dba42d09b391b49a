"""What is open, counted on the sheet Live: alerts, and rows that have no formulas yet."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from rosterkit.findings import Severity
from rosterkit.live.places import Places, SheetPlace
from rosterkit.live.writing import column_range

BEYOND = 1000
"""Rows below the last formula in which rows without any are still counted."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Counted:
    """A line of counts; each a formula, or nothing where the sheet has no such column."""

    title: str
    rows: str
    errors: str | None = None
    warnings: str | None = None
    without_formulas: str | None = None


def counts(places: Places) -> Iterator[Counted]:
    """Return the lines of those sheets that the workbook has."""
    for title, label, labels, computed in (
        ("Locomotives", "Engines", ("loco", "address"), "alert"),
        ("Accessories", "Accessories", ("accessory", "address"), "cv1"),
        ("Consists", "Rows of consists", ("consist", "loco"), "cv19"),
    ):
        place = places.get(title)
        columns = [name for name in labels if place and name in place.columns]
        if place and columns:
            filled_in = "+".join(f'({_column(place, name)}<>"")' for name in columns)
            # The heading is filled in as well.
            line = Counted(title=label, rows=f"SUMPRODUCT((({filled_in})>0)*1)-1")
            yield _with_formulas(line, place, filled_in, computed)


def _with_formulas(line: Counted, place: SheetPlace, filled_in: str, computed: str) -> Counted:
    if computed not in place.columns:
        return line
    cells = _column(place, computed)
    # A blank cell is both an empty text and 0; a formula's empty text is no 0.
    line = replace(line, without_formulas=f'SUMPRODUCT((({filled_in})>0)*({cells}="")*({cells}=0))')
    if computed != "alert":
        return line
    errors, warnings = (f'COUNTIF({cells},"{one.value}*")' for one in (Severity.ERROR, Severity.WARNING))
    return replace(line, errors=errors, warnings=warnings)


def _column(place: SheetPlace, name: str) -> str:
    return column_range(place, name, titled=True, beyond=BEYOND)

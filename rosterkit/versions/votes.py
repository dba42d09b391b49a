"""What several sides want one cell to hold: the same, or several things."""

from collections.abc import Callable, Sequence

from rosterkit.versions.meanings import Meaning
from rosterkit.versions.merged import SideValue
from rosterkit.versions.sheet_changes import SideCell
from rosterkit.xlsx.grid import BadDate, Calculated, CellError, NoStoredValue, Raw, ScientificNumber

Vote = tuple[str, SideCell]
"""The name of a side, and what it has in the cell."""

UNWRITABLE = (BadDate, Calculated, CellError, NoStoredValue)
"""What no cell can be given."""


def side_values(votes: Sequence[Vote]) -> tuple[SideValue, ...]:
    """Return each distinct thing that sides want, in the order in which it first comes.

    Where sides spell it in several ways, the spelling does not hang on their order or number.
    """
    groups: dict[Meaning, list[Vote]] = {}
    for vote in votes:
        groups.setdefault(vote[1].meaning, []).append(vote)
    return tuple(
        SideValue(
            value=writable(min((cell.value for _, cell in some), key=_spelling)),
            sources=tuple(dict.fromkeys(name for name, _ in some)),
            place=some[0][1].place,
        )
        for some in groups.values()
    )


def _spelling(value: Raw) -> tuple[str, str]:
    return type(value).__name__, repr(value)


def writable(value: Raw) -> Raw:
    """Return a content as it is written: a number that was shown in scientific notation is that number."""
    return value.value if isinstance(value, ScientificNumber) else value


def followed(votes: Sequence[Vote], label: Callable[[Meaning], str | None]) -> list[Vote]:
    """Return votes with labels as they are in the merged workbook."""
    found: list[Vote] = []
    for name, cell in votes:
        now = label(cell.meaning)
        found.append((name, cell if now is None else SideCell(now, now, cell.place)))
    return found

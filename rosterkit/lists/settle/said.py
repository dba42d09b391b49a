"""What one cell of a list comes to: a value, what it says beyond that, and what is doubtful about it."""

from dataclasses import dataclass

from rosterkit.lists.adopted import AdoptedValue
from rosterkit.lists.plain import Place


@dataclass(frozen=True, slots=True)
class Said:
    """What one cell says."""

    value: AdoptedValue | None = None
    """None where our column stays blank."""
    as_typed: str = ""
    """The cell's text where the value says less; blank where it says it all."""
    doubt: tuple[str, str] | None = None
    """What a person has to look at, and what to do."""
    kind: str | None = None
    """short or long, where an address says so."""


def seen_from(place: Place, there: Place) -> str:
    """Name a cell as one names it at another: with its sheet only where that is another one."""
    return there.cell if there.sheet == place.sheet else str(there)


def unclear(text: str, message: str, fix: str) -> Said:
    """Return what a cell says of which no value can be had for sure: nothing, and a doubt."""
    return Said(as_typed=text, doubt=(message, fix))

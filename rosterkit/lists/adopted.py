"""What a list comes to: rows of our sheets, where each came from, and what is in doubt."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from rosterkit.lists.plain import Place
from rosterkit.lists.reading import TableReading
from rosterkit.lists.tables import Skipped

AdoptedValue = str | int | float
"""What goes into a cell of ours."""


@dataclass(frozen=True, slots=True)
class Doubt:
    """Something that a person has to look at: what is there, and what to do."""

    place: Place
    """The cell of the list that it speaks of."""
    message: str
    """Begins with a small letter, quotes the text as typed, has no full stop."""
    fix: str
    """An imperative sentence with a full stop."""
    engine: str = ""
    """The label of the engine, blank where it concerns none."""


@dataclass(frozen=True, slots=True)
class AdoptedRow:
    """A row of one of our sheets."""

    values: Mapping[str, AdoptedValue]
    """By column name of the schema; blank ones are not there."""
    own: Mapping[str, AdoptedValue] = field(default_factory=dict)
    """By heading: the member's own columns."""
    as_typed: Mapping[str, str] = field(default_factory=dict)
    """By heading of ours: what the list says where the value in ``values`` says less."""
    came_from: str = ""
    """The key of its record."""
    colour: str = ""
    """What the legend says of the colour of its row."""
    places: Mapping[str, Place] = field(default_factory=dict)
    """By column name: the cell that the value was read from."""


@dataclass(frozen=True, slots=True)
class Adopted:
    """A list read whole."""

    rows: Mapping[str, tuple[AdoptedRow, ...]]
    """By title of our sheet; of Layout one row, its column names the settings."""
    readings: tuple[TableReading, ...]
    doubts: tuple[Doubt, ...]
    skipped: tuple[Skipped, ...]
    """What is no row of ours, with why: of the layout, and records that turned out to be none."""
    remarks: tuple[str, ...] = ()

    @property
    def engines(self) -> tuple[AdoptedRow, ...]:
        """The rows of Locomotives."""
        return self.rows.get("Locomotives", ())

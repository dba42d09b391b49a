"""An engine's row while it is put together."""

from dataclasses import dataclass, field

from rosterkit.lists.adopted import AdoptedRow, AdoptedValue, Doubt
from rosterkit.lists.plain import Place
from rosterkit.lists.settle.said import Said, seen_from
from rosterkit.lists.settle.typed_cvs import TypedCv
from rosterkit.lists.tables import Record
from rosterkit.roster.schema import Column

_SHOWN_KEYS = 4


@dataclass(slots=True)
class Draft:
    """A row of one of our sheets that is being put together, with what is in doubt about it."""

    record: Record
    place: Place
    """The first cell of the record itself."""
    exact: bool = False
    """Its table is a sheet of ours, and is read as a roster reads it."""
    values: dict[str, AdoptedValue] = field(default_factory=dict)
    own: dict[str, AdoptedValue] = field(default_factory=dict)
    as_typed: dict[str, str] = field(default_factory=dict)
    places: dict[str, Place] = field(default_factory=dict)
    typed: dict[str, str] = field(default_factory=dict)
    """By column name, the text of the cell that stands for it, whether or not it gave a value."""
    typed_at: dict[str, Place] = field(default_factory=dict)
    """By column name, that cell."""
    doubts: list[Doubt] = field(default_factory=list)
    kinds: dict[str, str] = field(default_factory=dict)
    """By column name of an address, the kind that stands in its cell."""
    of_label: dict[str, tuple[str, Place]] = field(default_factory=dict)
    """By column name, what a label says that also says railway, number or model."""
    noted: list[str] = field(default_factory=list)
    """The notes (comments) at the cells of the record, each with its cell."""
    cvs: list[TypedCv] = field(default_factory=list)
    plain: dict[int, TypedCv] = field(default_factory=dict)
    """The CVs that need no index, each once."""
    short_at: Place | None = None
    """The cell of a short address that stands beside a column of long ones; its number is among the CVs."""
    keys: list[str] = field(default_factory=list)
    """The key of its record; of several records that are one engine, of each."""
    colour: str = ""

    @property
    def came_from(self) -> str:
        """The keys of its records, where there are many the first and the last."""
        some = self.keys if len(self.keys) <= _SHOWN_KEYS else [self.keys[0], "…", self.keys[-1]]
        return ", ".join(some)

    @property
    def label(self) -> str:
        """The engine's label, blank while it has none."""
        return str(self.values.get("loco", ""))

    def doubt(self, place: Place, message: str, fix: str) -> None:
        """Note something that a person has to look at."""
        self.doubts.append(Doubt(place, message, fix))

    def take(self, column: Column, said: Said, place: Place, text: str) -> None:
        """Take over what a cell says; the first cell that says something for a column counts."""
        self.typed.setdefault(column.name, text)
        self.typed_at.setdefault(column.name, place)
        if said.doubt:
            self.doubt(place, *said.doubt)
        if said.kind:
            self.kinds.setdefault(column.name, said.kind)
        if said.as_typed:
            earlier = self.as_typed.get(column.heading)
            self.as_typed[column.heading] = f"{earlier} / {said.as_typed}" if earlier else said.as_typed
        earlier_value = self.values.get(column.name, said.value)
        if said.value not in (None, earlier_value):
            there = self.places[column.name]
            other = f"'{self.typed[column.name]}' in {seen_from(place, there)}"
            message = f"'{text}' is here and {other} for {column.heading}"
            self.doubt(place, message, "Correct the one or the other.")
        if said.value is not None:
            self.values.setdefault(column.name, said.value)
            self.places.setdefault(column.name, place)

    def row(self) -> AdoptedRow:
        """Return the row as it is now."""
        return AdoptedRow(
            values=self.values,
            own=self.own,
            as_typed=self.as_typed,
            came_from=self.came_from,
            colour=self.colour,
            places=self.places,
        )

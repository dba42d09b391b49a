"""A book's rows as what they stand for: engines, kinds of decoder, address ranges, the layout."""

from collections.abc import Hashable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from typing import Any

from rosterkit.roster.rows import Fault, Row
from rosterkit.roster.schema import sheet
from rosterkit.roster.tables import Book, Table


@dataclass(frozen=True, slots=True, kw_only=True)
class Locomotive(Row):
    """An engine. Fields are the columns of the sheet Locomotives that members fill; None is blank."""

    loco: str | None
    owner: str | None
    railway: str | None
    number: str | None
    model: str | None
    length: float | None
    stall: float | None
    decoder: str | None
    address: int | None
    address_kind: str | None
    direction: str | None
    speed_steps: str | None
    dc_operation: str | None
    bidi: str | None
    speed_curve: str | None
    vstart: int | None
    acceleration: int | None
    deceleration: int | None
    vhigh: int | None
    vmid: int | None
    speed_table: str | None
    lock: int | None
    at_meet: str | None
    registered_on: str | None
    meet_address: int | None
    meet_kind: str | None
    drivers: str | None
    checked_by: str | None
    checked_on: str | None
    fault: str | None
    notes: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class DecoderType(Row):
    """A kind of decoder. Fields are the columns of the sheet Decoder types."""

    decoder: str | None
    manufacturer_id: int | None
    version: int | None
    long_address: str | None
    cv20: str | None
    """None where nobody said."""
    speed_table: str | None
    table_scaled: str | None
    """None where nobody said."""
    bidi: str | None
    steps: str | None
    continuous: float | None
    peak: float | None
    lock: str | None
    notes: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class AddressRange(Row):
    """What a run of addresses is for. Fields are the columns of the sheet Address ranges."""

    kind: str | None
    first: int | None
    last: int | None
    use: str | None
    member: str | None
    notes: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class ConsistMember(Row):
    """An engine's place in a consist. Fields are the columns of the sheet Consists."""

    consist: str | None
    address: int | None
    position: int | None
    loco: str | None
    facing: str | None
    functions: str | None
    meet_address: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Accessory(Row):
    """A turnout, signal or other device. Fields are the columns of the sheet Accessories."""

    accessory: str | None
    kind: str | None
    address: int | None
    outputs: int | None
    aspects: int | None
    method: str | None
    bidi: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class ExtraValue(Row):
    """A CV that no column sets. Fields are the columns of the sheet Extra values."""

    loco: str | None
    cv: int | None
    value: int | None
    index_high: int | None
    index_low: int | None
    notes: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class SpeedTable(Row):
    """A speed curve of 28 values, from the sheet Speed tables."""

    label: str | None
    steps: tuple[int | None, ...]
    """The values of steps 1 to 28; None where one is blank or unusable."""


@dataclass(frozen=True, slots=True, kw_only=True)
class SpeedRun(Row):
    """A timed run. Fields are the columns of the sheet Speed runs."""

    loco: str | None
    way: str | None
    drive: int | None
    step: int | None
    steps: str | None
    distance: float | None
    distance_unit: str | None
    laps: int | None
    time: float | None
    notes: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class SpeedGoal(Row):
    """What an engine's speed should be. Fields are the columns of the sheet Speed goals."""

    loco: str | None
    top: float | None
    shape: str | None
    points: str | None
    slowest: float | None
    match: str | None
    prototype: float | None
    seconds: float | None
    stops: float | None
    siding: float | None
    notes: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Reading(Row):
    """What was read of one CV at the track. Fields are the columns of the sheet Readings."""

    date: str | None
    time: str | None
    """As 20:15:30; of a date with a time where the column Time has none."""
    loco: str | None
    cv: int | None
    value: int | None
    index_high: int | None
    index_low: int | None
    notes: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Layout:
    """The settings of the sheet Layout, each with its default where it is blank or unusable."""

    table: Table | None
    unusable: frozenset[str] = frozenset()
    """Settings with a value that is not understood, for which the default may be far from what is meant."""
    event: str | None
    scale: str
    length_unit: str
    track_length: float | None
    clearance: float
    short_range: str
    long_range: str
    long_from: int
    speed_steps: str
    dc_blocks: str
    address_rule: str
    service_mode: str
    speed_unit: str
    line_speed: float | None
    longest_stopping_distance: float | None
    accessory_offset: str
    meet_layout: str | None
    closing_date: str | None
    engines_per_member: int | None
    who_drives: str
    second_person_check: str
    open_faults: str
    club_owner: str | None

    def heading(self, name: str) -> str:
        """Return the name of a setting as the member spells it."""
        return self.table.heading(name) if self.table else sheet("Layout")[name].heading

    @property
    def shorts(self) -> range:
        """The short addresses that the layout drives."""
        return _range(self.short_range)

    @property
    def longs(self) -> range:
        """The long addresses that the layout drives."""
        return _range(self.long_range)


@dataclass(frozen=True, slots=True, kw_only=True)
class Roster:
    """One workbook as its keeper means it."""

    book: Book
    faults: Sequence[Fault]
    layout: Layout
    engines: Sequence[Locomotive]
    decoder_types: Sequence[DecoderType]
    decoders: Mapping[str, DecoderType]
    """The kinds of decoder by folded label, the first of each."""
    ranges: Sequence[AddressRange]
    consist_members: Sequence[ConsistMember]
    accessories: Sequence[Accessory]
    extra_values: Sequence[ExtraValue]
    speed_tables: Sequence[SpeedTable]
    speed_runs: Sequence[SpeedRun]
    speed_goals: Sequence[SpeedGoal]
    readings: Sequence[Reading]
    consist_of: Mapping[str, ConsistMember]
    """The place in a consist by the folded label of the engine, the first of each."""
    extras_of: Mapping[str, Sequence[ExtraValue]]
    """The extra values by the folded label of the engine, in the order of the sheet."""
    tables: Mapping[str, SpeedTable]
    """The speed tables by folded label, the first of each."""
    readings_of: Mapping[str, Sequence[Reading]]
    """The readings by the folded label of the engine, in the order of the sheet."""
    kept: dict[Hashable, Any] = field(init=False, repr=False, compare=False, default_factory=dict)
    """What was worked out of the rows, for whoever asks again; a changed copy of a roster begins anew."""

    def faults_in(self, title: str) -> Sequence[Fault]:
        """Return the faults of the cells of one of our sheets."""
        return [fault for fault in self.faults if fault.table.sheet.title == title]


@lru_cache(maxsize=256)
def _range(text: str) -> range:
    first, last = (int(end) for end in text.split("-"))
    return range(first, last + 1)

"""An engine's rows, made into the values of its CVs, each with the reason for it."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum

from rosterkit.cv.addresses import Address, Space, address_column, address_of
from rosterkit.cv.consist import NO_CONSIST, consist_cvs
from rosterkit.cv.extra_values import CvKey, Index, usable_extras
from rosterkit.cv.meanings import consist_way, meaning_of
from rosterkit.cv.readings import configuration_read
from rosterkit.roster.model import DecoderType, Layout, Locomotive, Roster
from rosterkit.roster.schema import folded
from rosterkit.standards.addresses import cv1_of, long_address_cvs
from rosterkit.standards.configuration import (
    BIDI,
    DC_OPERATION,
    EVERY_BIT,
    RESERVED,
    REVERSED,
    SPEED_TABLE,
    STEPS_28,
    Configuration,
    configuration,
    configuration_words,
    cv29_of,
    is_accessory,
)
from rosterkit.standards.consists import consist_of_pair
from rosterkit.standards.functions import MAPPING_CVS
from rosterkit.standards.identity import (
    EXTENDED_ID,
    LOCK_IDENTITY_CV,
    LOCK_KEY_CV,
    MAKER_CV,
    VERSION_CV,
    extended_id_cvs,
)
from rosterkit.standards.service_mode import index_number, index_use
from rosterkit.standards.speed_curve import SPEED_TABLE_CVS

NO_HIGH_DIGITS = "no high digits of a consist address"
"""What 0 in CV20 says (RCN-225 (27.07.2025), CV19/20)."""

CONFIGURATION_CV = 29
COMPUTED = (1, 17, 18, 19, CONFIGURATION_CV)
"""The CVs of an engine that have a computed column, in the order of the columns."""


class CvGroup(StrEnum):
    """What a CV belongs to; a card has the groups in this order."""

    LOCK = "lock"
    ADDRESS = "address"
    CONFIGURATION = "configuration"
    CONSIST = "consist"
    MOTOR = "motor"
    TABLE = "speed table"
    FUNCTIONS = "functions"
    EXTRAS = "extra values"


@dataclass(frozen=True, slots=True, kw_only=True)
class CvValue:
    """A value to key in."""

    cv: int
    value: int
    meaning: str
    group: CvGroup
    index: Index | None = None
    """CV31 and CV32, for CV257 to CV512."""
    kept: int = 0
    """Bits that no column states, and that stay as they read last."""
    assumed: int = 0
    """Bits that no column states and no reading tells."""

    @property
    def stated(self) -> int:
        """The bits in which a decoder that reads otherwise is not as the roster says."""
        return EVERY_BIT & ~(self.kept | self.assumed)

    @property
    def key(self) -> CvKey:
        """The CV and its index."""
        return self.cv, self.index

    @property
    def bits(self) -> str:
        """The value's eight bits, bit 7 first, as two groups of four."""
        return bits_of(self.value)


@dataclass(frozen=True, slots=True, kw_only=True)
class EngineCvs:
    """What an engine's rows come to: its CVs in the order for keying in, or why there are none."""

    address: Address | None
    values: tuple[CvValue, ...]
    blocking_columns: tuple[str, ...]
    """Columns (schema names) because of which nothing could be computed."""
    held: Mapping[CvKey, int] = field(default_factory=dict)
    """What the decoder should hold without being keyed in as a rule: manufacturer ID, version, lock, CV20."""

    def value(self, cv: int) -> int | None:
        """Return the value of a CV; None where it is not set."""
        return next((cv_value.value for cv_value in self.values if cv_value.cv == cv), None)

    def stated(self, key: CvKey) -> int:
        """Return the bits of a CV that the roster states."""
        return next((cv_value.stated for cv_value in self.values if cv_value.key == key), EVERY_BIT)

    def wanted(self) -> dict[CvKey, int]:
        """Return every CV of which the roster says what it holds, keyed in or not."""
        return {**self.held, **{cv_value.key: cv_value.value for cv_value in self.values}}

    def keeping(self, read: int | None) -> "EngineCvs":
        """Return the same with what no column states of CV29 as it reads now; None is no reading."""
        if read is None or is_accessory(read):
            return self
        values = (_as_read(one, read) if one.cv == CONFIGURATION_CV else one for one in self.values)
        return replace(self, values=tuple(values))


def bits_of(value: int) -> str:
    """Return a byte's eight bits, bit 7 first, as two groups of four."""
    return f"{value >> 4:04b} {value & 15:04b}"


_SETTINGS = {
    "direction": REVERSED,
    "speed_steps": STEPS_28,
    "dc_operation": DC_OPERATION,
    "bidi": BIDI,
    "speed_curve": SPEED_TABLE,
}
"""The bit of CV29 that each column states; where it is blank the bit stays as it is."""
_CONFIGURED_BY = ("address_kind", *_SETTINGS)


def cvs_of(engine: Locomotive, roster: Roster, *, meet: bool = False) -> EngineCvs:
    """Compute an engine's CVs in the order in which they must be keyed in.

    The short address comes before the configuration because a decoder that is given a new CV1 must
    clear the long-address bit of CV29 and CV19 (NMRA S-9.2.3 (Jul 2012), section E); CV17 comes directly
    before CV18 because the pair takes effect with CV18 (NMRA S-9.2.1 (Jul 2012), footnote 8). The lock is
    opened before anything else (NMRA S-9.2.2 (Jul 2012), CV15/16).

    An engine with a cell from which nothing can be computed gets no value at all: half of an address
    is worse than none. The CVs of a roster's own engines are worked out once.
    """
    # At a meet an engine may be a changed copy of its row, which must not be mistaken for the row.
    if not any(own is engine for own in roster.engines[engine.index : engine.index + 1]):
        return _cvs_of(engine, roster, meet=meet)
    key = "cvs_of", engine.index, meet
    if key not in roster.kept:
        roster.kept[key] = _cvs_of(engine, roster, meet=meet)
    found: EngineCvs = roster.kept[key]
    return found


def _cvs_of(engine: Locomotive, roster: Roster, *, meet: bool) -> EngineCvs:
    address = address_of(engine, roster.layout, meet=meet)
    blocking_columns = [name for name in _CONFIGURED_BY if name in engine.unusable]
    if address is None and meet and "meet_address" in engine.unusable:
        blocking_columns.insert(0, "meet_address")
    elif address is None or not address.encodable:
        blocking_columns.insert(0, address_column(engine, meet=meet))
    if address is None or blocking_columns:
        return EngineCvs(address=address, values=(), blocking_columns=tuple(blocking_columns))
    values = (
        *_lock(engine),
        *_address(address),
        _configuration(engine, roster, address),
        *_consist(engine, roster),
        *_motor(engine),
        *_table(engine, roster),
        *_extras(engine, roster),
    )
    return EngineCvs(address=address, values=values, blocking_columns=(), held=_held(engine, roster))


def _configuration_of(engine: Locomotive, layout: Layout, address: Address) -> Configuration:
    """Return what an engine's columns say about CV29; what they leave open is off, and steps the layout's."""
    return Configuration(
        reversed=engine.direction == "reversed",
        steps_28=(engine.speed_steps or layout.speed_steps) == "28/128",
        dc_operation=engine.dc_operation == "on",
        bidi=engine.bidi == "on",
        speed_table=engine.speed_curve == "table",
        long_address=address.space is Space.LONG,
    )


def uses_table(engine: Locomotive, roster: Roster) -> bool:
    """Tell whether an engine runs by a speed table: its column says so, or leaves CV29 as it read last."""
    if engine.speed_curve is not None or "speed_curve" in engine.unusable:
        return engine.speed_curve == "table"
    return bool((configuration_read(roster, engine.loco) or 0) & SPEED_TABLE)


def _held(engine: Locomotive, roster: Roster) -> dict[CvKey, int]:
    kind = roster.decoders.get(folded(engine.decoder or ""))
    held: dict[CvKey, int] = {} if kind and kind.cv20 == "no" else {(20, None): 0}
    if kind:
        held |= identity_of(kind)
    return held if engine.lock is None else held | {(LOCK_IDENTITY_CV, None): engine.lock}


def identity_of(kind: DecoderType) -> dict[CvKey, int]:
    """Return what a kind of decoder answers in CV8, CV7 and, above 255, CV107 and CV108.

    NMRA S-9.2.2 (Jul 2012), CV7, CV8; RCN-225 (27.07.2025), CV107/108.
    """
    held: dict[CvKey, int] = {}
    if kind.manufacturer_id is not None and kind.manufacturer_id > 255:
        high, low = extended_id_cvs(kind.manufacturer_id)
        held |= {(MAKER_CV, None): EXTENDED_ID, (107, None): high, (108, None): low}
    elif kind.manufacturer_id is not None:
        held[MAKER_CV, None] = kind.manufacturer_id
    return held if kind.version is None else held | {(VERSION_CV, None): kind.version}


def _keyed(cv: int, value: int, group: CvGroup, meaning: str = "") -> CvValue:
    return CvValue(cv=cv, value=value, meaning=meaning or meaning_of(cv, value), group=group)


def _lock(engine: Locomotive) -> Iterator[CvValue]:
    if engine.lock is not None:
        meaning = f"opens the lock of decoder {engine.lock} only; another in the same engine stays shut"
        yield _keyed(LOCK_KEY_CV, engine.lock, CvGroup.LOCK, meaning)


def _address(address: Address) -> Iterator[CvValue]:
    number, group = address.number, CvGroup.ADDRESS
    if address.space is Space.SHORT:
        yield _keyed(1, cv1_of(number), group, f"short address {number}")
        return
    high, low = long_address_cvs(number)
    yield _keyed(17, high, group, f"long address {number}, high byte")
    yield _keyed(18, low, group, f"long address {number}, low byte")


def _configuration(engine: Locomotive, roster: Roster, address: Address) -> CvValue:
    blank = sum(bit for name, bit in _SETTINGS.items() if getattr(engine, name) is None)
    value = cv29_of(_configuration_of(engine, roster.layout, address))
    assumed = _configuration_value(value, assumed=blank)
    read = configuration_read(roster, engine.loco)
    return assumed if read is None else _as_read(assumed, read)


def _as_read(cv29: CvValue, read: int) -> CvValue:
    """Return CV29 with the bits that no column states as they were read, 0 to 127; bit 6 has no column."""
    kept = cv29.kept | cv29.assumed | RESERVED
    return _configuration_value(cv29.value & ~kept | read & kept, kept=kept)


def _configuration_value(value: int, *, kept: int = 0, assumed: int = 0) -> CvValue:
    """Make CV29, its meaning bit by bit in three parts: what is stated, what kept and what assumed."""
    words = list(enumerate(configuration_words(configuration(value))))
    parts = (("", EVERY_BIT & ~(kept | assumed)), ("kept as read: ", kept), ("assumed: ", assumed))
    named = [(how, [word for bit, word in words if bits >> bit & 1]) for how, bits in parts]
    meaning = "; ".join(how + ", ".join(said) for how, said in named if said)
    group = CvGroup.CONFIGURATION
    return CvValue(cv=CONFIGURATION_CV, value=value, meaning=meaning, group=group, kept=kept, assumed=assumed)


def _consist(engine: Locomotive, roster: Roster) -> Iterator[CvValue]:
    member = roster.consist_of.get(folded(engine.loco or ""))
    kind = roster.decoders.get(folded(engine.decoder or ""))
    # A decoder that has CV20 may hold old digits there, which would make another consist of CV19.
    high = {20: 0} if kind and kind.cv20 == "yes" else {}
    if member is None:
        yield _keyed(19, NO_CONSIST[19], CvGroup.CONSIST, "in no consist")
        for cv, value in high.items():
            yield _keyed(cv, value, CvGroup.CONSIST, NO_HIGH_DIGITS)
        return
    values = consist_cvs(member)
    values = values | (high if values and 20 not in values else {})
    place = consist_of_pair(values.get(19, 0), values.get(20, 0))
    words = {19: f"consist '{member.consist}', address {place.address}, {consist_way(place)}"}
    words[20] = f"consist address {place.address}, its high digits" if values.get(20) else NO_HIGH_DIGITS
    for cv, value in values.items():
        yield _keyed(cv, value, CvGroup.CONSIST, words.get(cv, ""))


def _motor(engine: Locomotive) -> Iterator[CvValue]:
    values = (engine.vstart, engine.acceleration, engine.deceleration, engine.vhigh, engine.vmid)
    for cv, value in enumerate(values, 2):
        if value is not None:
            yield _keyed(cv, value, CvGroup.MOTOR)


def _table(engine: Locomotive, roster: Roster) -> Iterator[CvValue]:
    table = roster.tables.get(folded(engine.speed_table or ""))
    if table is None or None in table.steps or not uses_table(engine, roster):
        return
    for cv, value in zip(SPEED_TABLE_CVS, table.steps, strict=True):
        if value is not None:
            yield _keyed(cv, value, CvGroup.TABLE)


def _extras(engine: Locomotive, roster: Roster) -> Iterator[CvValue]:
    for (cv, index), value, extra in usable_extras(roster.extras_of.get(folded(engine.loco or ""), ())):
        meaning = meaning_of(cv, value)
        if index:
            meaning = f"index {index[0]}/{index[1]}, {index_use(index_number(*index))}"
        meaning = f"{meaning}: {extra.notes}" if extra.notes else meaning
        group = CvGroup.FUNCTIONS if cv in MAPPING_CVS else CvGroup.EXTRAS
        yield CvValue(cv=cv, value=value, meaning=meaning, group=group, index=index)

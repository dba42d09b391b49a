"""An engine's rows, made into the values of its CVs, each with the reason for it."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace

from rosterkit.cv.addresses import Address, Space, address_column, address_of
from rosterkit.cv.configured import CONFIGURATION_CV, SETTINGS, as_read, cv29_for, table_fault, uses_table
from rosterkit.cv.consist import NO_CONSIST, consist_cvs
from rosterkit.cv.cv_values import CvGroup, CvValue, Withheld
from rosterkit.cv.extra_values import CvKey, usable_extras
from rosterkit.cv.meanings import consist_way, meaning_of
from rosterkit.cv.withheld import withheld
from rosterkit.roster.model import DecoderType, Locomotive, Roster
from rosterkit.roster.schema import folded
from rosterkit.standards.addresses import cv1_of, long_address_cvs
from rosterkit.standards.configuration import EVERY_BIT, is_accessory
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

COMPUTED = (1, 17, 18, 19, CONFIGURATION_CV)
"""The CVs of an engine that have a computed column, in the order of the columns."""


@dataclass(frozen=True, slots=True, kw_only=True)
class EngineCvs:
    """What an engine's rows come to: its CVs in the order for keying in, or why there are none."""

    address: Address | None
    values: tuple[CvValue, ...]
    blocking_columns: tuple[str, ...]
    """Columns (schema names) because of which nothing could be computed."""
    held: Mapping[CvKey, int] = field(default_factory=dict)
    """What the decoder should hold without being keyed in as a rule: manufacturer ID, version, lock, CV20."""
    withheld: tuple[Withheld, ...] = ()
    """What the rows ask for and cannot be keyed in, each with the reason."""

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
        values = (as_read(one, read) if one.cv == CONFIGURATION_CV else one for one in self.values)
        return replace(self, values=tuple(values))


_CONFIGURED_BY = ("address_kind", *SETTINGS, "lock")


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
        cv29_for(engine, roster, address),
        *_consist(engine, roster, meet=meet),
        *_motor(engine),
        *_table(engine, roster),
        *_extras(engine, roster),
    )
    return EngineCvs(
        address=address,
        values=values,
        blocking_columns=(),
        held=_held(engine, roster),
        withheld=withheld(engine, roster, meet=meet),
    )


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


def _consist(engine: Locomotive, roster: Roster, *, meet: bool) -> Iterator[CvValue]:
    member = roster.consist_of.get(folded(engine.loco or ""))
    kind = roster.decoders.get(folded(engine.decoder or ""))
    # A decoder that has CV20 may hold old digits there, which would make another consist of CV19.
    high = {20: 0} if kind and kind.cv20 == "yes" else {}
    if member is None:
        yield _keyed(19, NO_CONSIST[19], CvGroup.CONSIST, "in no consist")
        for cv, value in high.items():
            yield _keyed(cv, value, CvGroup.CONSIST, NO_HIGH_DIGITS)
        return
    values = consist_cvs(member, meet=meet)
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
    if table is None or not uses_table(engine, roster) or table_fault(engine, roster):
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

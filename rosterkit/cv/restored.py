"""What was read of an engine last, made into the CVs that put it back, and what cannot be put back."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from rosterkit.cv.configured import CONFIGURATION_CV
from rosterkit.cv.cv_values import CvGroup, CvValue, Withheld
from rosterkit.cv.engine import EngineCvs
from rosterkit.cv.extra_values import CvKey
from rosterkit.cv.meanings import meaning_of
from rosterkit.cv.readings import newest_readings, unreadable_readings
from rosterkit.cv.stored_addresses import answered, stored_long, stored_short
from rosterkit.cv.to_read import cvs_to_read, never_written
from rosterkit.roster.model import Locomotive, Roster
from rosterkit.standards.configuration import LONG_ADDRESS, SPEED_TABLE, is_accessory
from rosterkit.standards.cv_names import cv_name
from rosterkit.standards.functions import MAPPING_CVS
from rosterkit.standards.service_mode import INDEXED_CVS, index_number, index_use
from rosterkit.standards.speed_curve import SPEED_TABLE_CVS

_GROUPS: Mapping[CvGroup, Sequence[int]] = {
    CvGroup.ADDRESS: (1, 17, 18),
    CvGroup.CONFIGURATION: (CONFIGURATION_CV,),
    CvGroup.CONSIST: (19, 20, 21, 22),
    CvGroup.MOTOR: (2, 3, 4, 5, 6),
    CvGroup.TABLE: SPEED_TABLE_CVS,
    CvGroup.FUNCTIONS: tuple(MAPPING_CVS),
}
"""The CVs of each group in the order in which they are keyed in (see ``rosterkit.cv.engine.cvs_of``)."""
_PAIR = (17, 18)


@dataclass(frozen=True, slots=True, kw_only=True)
class Restored:
    """An engine's CVs as they were read last."""

    cvs: EngineCvs
    not_read: Sequence[int]
    """CVs that a reset changes, and of which nothing is known: never read, or read without a value."""
    not_written: Mapping[str, Sequence[int]]
    """By the reason, the CVs that were read and are never written."""
    without_index: Sequence[int]
    """CVs that were read under an index that was not noted."""


def restored(engine: Locomotive, roster: Roster) -> Restored:
    """Return what puts an engine's newest readings back after a reset, in the order for keying in.

    Addresses come before CV29 and CV19 after it, as on every card. An address that is none, half of a pair,
    a CV29 that turns to an address nobody knows, and its bit 4 where a speed table is not known whole are
    held back.
    """
    unreadable = unreadable_readings(roster, engine.loco)
    newest = newest_readings(roster, engine.loco)
    read = {key: one.value for key, one in newest.items() if one.value is not None and key not in unreadable}
    plain = {cv: value for (cv, index), value in read.items() if index is None}
    held = list(_withheld(plain))
    kept_back = {17, 18} if any(one.cv == 17 for one in held) else set()
    kept_back |= {one.cv for one in held}
    if CONFIGURATION_CV not in kept_back and (bit := _table_bit(plain)):
        held.append(bit)
        read[CONFIGURATION_CV, None] &= ~SPEED_TABLE
    never: dict[str, list[int]] = {}
    values = []
    for key in sorted(read, key=_place):
        cv, index = key
        if reason := never_written(cv):
            never.setdefault(reason, []).append(cv)
        elif cv not in kept_back and not (cv in INDEXED_CVS and index is None):
            values.append(_value(key, read[key]))
    to_read = [cv for cv, index in cvs_to_read(engine, roster) if index is None and not never_written(cv)]
    unknown = {cv for cv, index in newest if (cv, index) not in read and not never_written(cv)}
    return Restored(
        cvs=EngineCvs(
            address=answered(plain),
            values=tuple(values),
            blocking_columns=(),
            held={(cv, None): plain[cv] for cv in (8, 7, 107, 108) if cv in plain},
            withheld=tuple(held),
        ),
        not_read=sorted(unknown | {cv for cv in to_read if cv not in plain and cv not in INDEXED_CVS}),
        not_written=never,
        without_index=sorted(cv for cv, index in read if cv in INDEXED_CVS and index is None),
    )


def _place(key: CvKey) -> tuple[int, tuple[int, int], int, int]:
    cv, index = key
    groups = list(CvGroup)
    group = _group(key)
    order = list(_GROUPS.get(group, ()))
    return groups.index(group), index or (-1, -1), order.index(cv) if cv in order else 0, cv


def _group(key: CvKey) -> CvGroup:
    cv, index = key
    found = (group for group, cvs in _GROUPS.items() if index is None and cv in cvs)
    return next(found, CvGroup.EXTRAS)


def _value(key: CvKey, value: int) -> CvValue:
    cv, index = key
    meaning = meaning_of(cv, value)
    if index:
        meaning = f"index {index[0]}/{index[1]}, {index_use(index_number(*index))}"
    return CvValue(cv=cv, value=value, meaning=meaning, group=_group(key), index=index)


def _withheld(plain: Mapping[int, int]) -> Iterator[Withheld]:
    """Return what was read of an engine's address and is not put back, with the reason."""
    if 1 in plain and not stored_short(plain):
        yield _held(1, f"{plain[1]} is not a short address")
    if (17 in plain) != (18 in plain):
        yield _held(17, f"CV{18 if 17 in plain else 17} was not read, and the pair goes together")
    elif 17 in plain and not stored_long(plain):
        yield _held(17, f"{plain[17]} and {plain[18]} are not a long address")
    configuration = plain.get(CONFIGURATION_CV)
    if configuration is None:
        return
    if is_accessory(configuration):
        yield _held(CONFIGURATION_CV, f"{configuration} is an accessory decoder's, or nothing was read")
    elif answered(plain) is None:
        pair = configuration & LONG_ADDRESS
        needed = "CV17 and CV18" if pair else "CV1"
        yield _held(
            CONFIGURATION_CV,
            f"with {configuration} the engine answers what is in {needed}, which is not known",
        )


def _table_bit(plain: Mapping[int, int]) -> Withheld | None:
    """Return bit 4 of CV29 where it would turn to a speed table that was not read whole.

    The table is CV67 to CV94 (RCN-225 (27.07.2025), CV29).
    """
    absent = [cv for cv in SPEED_TABLE_CVS if cv not in plain]
    if not absent or not plain.get(CONFIGURATION_CV, 0) & SPEED_TABLE:
        return None
    known = len(SPEED_TABLE_CVS) - len(absent)
    return Withheld(
        cv=CONFIGURATION_CV,
        meaning="speed table in use (bit 4)",
        group=CvGroup.CONFIGURATION,
        reason=f"of its {len(SPEED_TABLE_CVS)} CVs (CV67 to CV94) {known or 'none'} "
        f"{'was' if known < 2 else 'were'} read with a value",
    )


def _held(cv: int, reason: str) -> Withheld:
    groups = (group for group, cvs in _GROUPS.items() if cv in cvs)
    name = "long address (CV17 and CV18)" if cv in _PAIR else cv_name(cv)
    return Withheld(cv=cv, meaning=name, group=next(groups), reason=reason)

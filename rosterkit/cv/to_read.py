"""Which CVs of an engine are worth reading before its decoder is reset, and which of them can be put back."""

from collections.abc import Mapping

from rosterkit.cv.configured import CONFIGURATION_CV, uses_table
from rosterkit.cv.engine import cvs_of
from rosterkit.cv.extra_values import CvKey, index_of
from rosterkit.cv.readings import newest_readings
from rosterkit.roster.model import Locomotive, Roster
from rosterkit.roster.schema import folded
from rosterkit.standards.consists import CONSIST_CV
from rosterkit.standards.cv_names import named_cvs
from rosterkit.standards.identity import (
    LOCK_IDENTITY_CV,
    LOCK_KEY_CV,
    MAKER_CV,
    VERSION_CV,
)
from rosterkit.standards.service_mode import INDEXED_CVS
from rosterkit.standards.speed_curve import SPEED_TABLE_CVS

INDEX_CVS = (31, 32)
EXTENDED_IDENTITY = (107, 108, 109, 110, 111)
_IDENTITY = (MAKER_CV, VERSION_CV)
_LONG = (17, 18)
_CONSIST = (CONSIST_CV, 20, 21, 22)
_MOTOR = (2, 5, 6, 3, 4)
"""Motor voltages and momentum (NMRA S-9.2.2 (Jul 2012), Table 1)."""
_BASIC = (*_IDENTITY, 1, *_LONG, CONFIGURATION_CV, *_CONSIST, *_MOTOR)
_NEVER: Mapping[int, str] = {
    **dict.fromkeys((MAKER_CV, VERSION_CV, *EXTENDED_IDENTITY), "the decoder's identity, never written"),
    **dict.fromkeys((LOCK_KEY_CV, LOCK_IDENTITY_CV), "the lock, which the column Lock sets"),
    **dict.fromkeys(INDEX_CVS, "the index, written before the CVs that it is for"),
    30: "what went wrong, as the decoder notes it",
    **dict.fromkeys(range(880, 896), "what the decoder counts or shows by itself"),
}


def never_written(cv: int) -> str | None:
    """Say why a locomotive decoder's CV, 1 to 1024, is not put back as it was read; None where it may be.

    NMRA S-9.2.2 (Jul 2012), CV7, CV8, CV15/16, CV30, CV31/32 and CV880 to CV895; CV107 and CV108 are the
    manufacturer ID too (RCN-225 (27.07.2025)). That CV109 to CV111 are not written is from memory.
    """
    return _NEVER.get(cv)


OPTIONAL_CVS = tuple(
    cv for cv in named_cvs() if cv not in (*_BASIC, *SPEED_TABLE_CVS) and never_written(cv) is None
)
"""What else the standards name and a reset may lose, in rising order; a decoder need not have it."""


def cvs_to_read(engine: Locomotive, roster: Roster) -> list[CvKey]:
    """Return the CVs that a reset of an engine's decoder would lose, as far as the workbook knows them.

    First what shows which decoder it is, then address, configuration, consist, motor, the speed table where
    one is in use, ``OPTIONAL_CVS``, and what else the roster sets or was read before; CVs of an index come
    last, index by index. What its kind of decoder lacks is left out, unless it was read.
    """
    label = folded(engine.loco or "")
    kind = roster.decoders.get(folded(engine.decoder or ""))
    lacks = {20} if kind and kind.cv20 == "no" else set()
    lacks |= set(_LONG) if kind and kind.long_address == "no" else set()
    table = SPEED_TABLE_CVS if uses_table(engine, roster) and not (kind and kind.speed_table == "no") else ()
    cvs = (*_BASIC, *table, *OPTIONAL_CVS)
    wanted = cvs_of(engine, roster)
    extras = [(one.cv, index_of(one)) for one in roster.extras_of.get(label, ()) if one.cv is not None]
    known: set[CvKey] = {*wanted.wanted(), *extras, *newest_readings(roster, engine.loco)}
    first: list[CvKey] = [(cv, None) for cv in cvs if cv not in lacks]
    others = known - {*first, *((cv, None) for cv in (*INDEX_CVS, *lacks))}
    others |= {key for key in newest_readings(roster, engine.loco) if key[0] in lacks}
    return [*first, *sorted(others, key=_order)]


def _order(key: CvKey) -> tuple[bool, tuple[int, int], int]:
    cv, index = key
    return index is not None or cv in INDEXED_CVS, index or (-1, -1), cv


def may_use_table(engine: Locomotive, roster: Roster) -> bool:
    """Tell whether an engine may run by a speed table of which the workbook knows nothing."""
    kind = roster.decoders.get(folded(engine.decoder or ""))
    read = (CONFIGURATION_CV, None) in newest_readings(roster, engine.loco)
    return engine.speed_curve is None and not read and not (kind and kind.speed_table == "no")

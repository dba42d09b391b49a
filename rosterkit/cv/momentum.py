"""The momentum that an engine's rows come to: Acceleration and Deceleration, with CV23 and CV24 added."""

from rosterkit.cv.extra_values import usable_extras
from rosterkit.roster.model import Locomotive, Roster
from rosterkit.roster.schema import folded
from rosterkit.standards.momentum import adjusted_momentum

ADJUSTED_BY = {3: 23, 4: 24}
"""The CV that is added to CV3 and to CV4 (NMRA S-9.2.2 (Jul 2012), CV23 and CV24)."""


def adjustment_value(roster: Roster, loco: str | None, cv: int) -> int:
    """Return the value, 0 to 255, that Extra values has of CV23 for a ``cv`` of 3, of CV24 for 4; else 0."""
    extras = usable_extras(roster.extras_of.get(folded(loco or ""), ()))
    return next((value for (extra_cv, _), value, _ in extras if extra_cv == ADJUSTED_BY[cv]), 0)


def momentum_in_force(roster: Roster, engine: Locomotive, cv: int) -> int | None:
    """Return what CV3 or CV4, by ``cv``, comes to with its adjustment, 0 to 255; None where it is not stated.

    NMRA S-9.2.2 (Jul 2012), CV23 and CV24.
    """
    base = engine.acceleration if cv == 3 else engine.deceleration
    return None if base is None else adjusted_momentum(base, adjustment_value(roster, engine.loco, cv))

"""What formulas cannot find for themselves, and the last fill put on the sheet Live for them."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from rosterkit.cv.addresses import answer
from rosterkit.cv.readings import configuration_read
from rosterkit.findings import Finding, Severity
from rosterkit.live.accessory_machinery import DeviceReadings, device_readings_in
from rosterkit.live.labels import Readings, Shared
from rosterkit.roster.model import Roster
from rosterkit.roster.schema import folded

MOST_COUNTED = 2000
"""Engines of which Alert counts how many have an address while one types; beyond, it takes seconds."""
NOT_COUNTED = (
    f"More than {MOST_COUNTED} engines: Alert says who else had an address at the last fill, not who has it "
    "while one types."
)
"""What is to be said beyond that."""
_SHARED = "address-shared"
"""The check whose notes are of addresses that are shared on purpose."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Facts:
    """What the last fill knew."""

    readings: Readings = ()
    devices: DeviceReadings = ()
    shared: Shared = ()
    taken: Sequence[tuple[int, str, int]] = ()
    """Addresses as Answers has them in rising order, each with the first engine's label and how many have it;
    needed beyond ``MOST_COUNTED`` engines only."""


def facts_of(roster: Roster, findings: Iterable[Finding]) -> Facts:
    """Gather them from a roster and from what the checks found in it."""
    return Facts(
        readings=list(_readings(roster)),
        devices=device_readings_in(roster),
        shared=list(_shared(roster, findings)),
        taken=_taken(roster) if len(roster.engines) > MOST_COUNTED else (),
    )


def _readings(roster: Roster) -> Iterator[tuple[str, int]]:
    if not roster.readings:
        return
    labels = {folded(engine.loco): engine.loco for engine in reversed(roster.engines) if engine.loco}
    for label in labels.values():
        read = configuration_read(roster, label)
        if read is not None:
            yield label, read


def _shared(roster: Roster, findings: Iterable[Finding]) -> Iterator[tuple[str, int]]:
    notes = [one for one in findings if one.rule == _SHARED and one.severity is Severity.NOTE]
    if not notes:
        return
    by_row = {engine.table.rows[engine.index]: engine for engine in roster.engines}
    for note in notes:
        engine = by_row.get(note.place.row or 0)
        answers = engine and answer(engine, roster.layout)
        if engine and engine.loco and answers:
            yield engine.loco, answers


def _taken(roster: Roster) -> list[tuple[int, str, int]]:
    holders: dict[int, list[str]] = {}
    for engine in roster.engines:
        answers = answer(engine, roster.layout)
        if answers is not None:
            holders.setdefault(answers, []).append(engine.loco or "")
    return [(answers, labels[0], len(labels)) for answers, labels in sorted(holders.items())]

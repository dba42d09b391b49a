"""The check of readings that contradict each other, where nothing says which is the newer."""

from collections.abc import Iterator

from rosterkit.checks.framework import Scope, check
from rosterkit.cv.accessory_bits import labels_of_engines
from rosterkit.cv.readings import contradicting_readings
from rosterkit.findings import Hit, Severity
from rosterkit.roster.model import Reading, Roster
from rosterkit.roster.rows import hit_at
from rosterkit.roster.schema import folded
from rosterkit.standards.accessories import ALIAS_OFFSET


@check(Severity.WARNING)
def readings_contradict(scope: Scope) -> Iterator[Hit]:
    """Readings of one CV differ, and nothing says which is the newest.

    Why: of one day without times, or of one time, the lower row counts, so that sorting the sheet would
    change the verdict.
    Fix: Enter the time in Time, or remove the older row.
    """
    for roster, label, offset in _labels_in(scope):
        for rivals in contradicting_readings(roster, label, offset):
            for one in rivals:
                yield _hit(one, [other for other in rivals if other.value != one.value])


def _labels_in(scope: Scope) -> Iterator[tuple[Roster, str, int | None]]:
    """Return each label that readings can be of, once, with what parts a device's CVs from their aliases."""
    for roster in scope.rosters:
        if roster.readings_of:
            labels = {folded(one.engine.loco or "") for one in scope.entries if one.roster is roster}
            devices = {folded(one.accessory or "") for one in roster.accessories} - labels_of_engines(roster)
            for label in roster.readings_of:
                if label and label in labels | devices:
                    yield roster, label, ALIAS_OFFSET if label in devices else None


def _hit(one: Reading, others: list[Reading]) -> Hit:
    def said(reading: Reading) -> str:
        return f"{_answer(reading)} in {reading.place('value').cell}"

    listed = " and ".join(map(said, others[:3])) + (f" and {len(others) - 3} more" if others[3:] else "")
    day = f"on {one.date}" if one.date else "without a date"
    message = f"CV{one.cv} read {_answer(one)} here and {listed} {day}, and nothing says which is newer"
    enter = "Enter the time in Time" if one.date else "Enter the day in Date"
    places = [other.place("value") for other in others]
    return hit_at(one, "value", message, f"{enter}, or remove the older row.", related=places)


def _answer(reading: Reading) -> str:
    return "nothing" if reading.value is None else str(reading.value)

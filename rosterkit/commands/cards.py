"""The command ``cards``: what to key in, engine by engine; and what was read back, recorded."""

from collections.abc import Collection, Sequence
from pathlib import Path

from rosterkit.cards.accessory_cards import accessory_cards
from rosterkit.cards.card import Card, CardOptions, MeetPhase, cards_of, unknown_labels
from rosterkit.cards.meet_cards import away_of, meet_cards
from rosterkit.checks import findings_in
from rosterkit.checks.card_errors import device_errors_by_row, errors_by_row
from rosterkit.checks.framework import scope_of
from rosterkit.errors import CannotRunError
from rosterkit.roster.load import roster_at, roster_in
from rosterkit.roster.schema import folded
from rosterkit.writeback.readings import parse_read_back, readings_change
from rosterkit.xlsx.package.opening import opened
from rosterkit.xlsx.save.save import Saved, save


def cards(path: Path, labels: Collection[str] = (), options: CardOptions | None = None) -> list[Card]:
    """Make the cards of a workbook's engines and then of its accessories, or of those with the given labels.

    Raises:
        CannotRunError: if the workbook cannot be read, or has no engine or accessory of one of the labels.
    """
    roster = roster_at(path)
    devices = {folded(row.accessory) for row in roster.accessories if row.accessory}
    unknown = [label for label in unknown_labels(roster, labels) if folded(label) not in devices]
    if unknown:
        names = ", ".join(f"'{label}'" for label in unknown)
        raise CannotRunError(
            f"{path}: there is no engine {names}", "Give --loco as it stands in the column Loco."
        )
    if options and options.phase:
        meet = options.phase is MeetPhase.BEFORE
        said = errors_by_row(roster, findings_in(scope_of([roster], meet=meet)), meet=meet)
        return meet_cards(roster, away_of(roster), options.phase, options, labels, said)
    findings = findings_in(scope_of([roster]))
    engines = cards_of(roster, labels, options=options, errors=errors_by_row(roster, findings))
    errors = device_errors_by_row(roster, findings)
    return [*engines, *accessory_cards(roster, labels, options=options, errors=errors)]


def record(
    path: Path, labels: Sequence[str], texts: Sequence[str], day: str, time: str | None = None
) -> Saved:
    """Write what was read of one engine into its workbook's sheet Readings, as new rows.

    Args:
        path: the workbook; it is changed in place, the earlier file kept.
        labels: the engine's label, one only.
        texts: what was read, as CV=VALUE pairs.
        day: the day of the readings, as 2026-05-31.
        time: their time of day, as 20:15:30, for a sheet that has a column Time.

    Raises:
        CannotRunError: if it is not one engine of the workbook, a pair is none, or the workbook cannot be
            read or written without harm; nothing is written then.
    """
    if len(labels) != 1:
        raise CannotRunError("readings are of one engine at a time", "Name it by --loco, once.")
    readings = parse_read_back(texts)
    package = opened(path)
    return save(package, readings_change(roster_in(package), labels[0], readings, day, time))

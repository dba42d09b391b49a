"""The command ``cards``: what to key in, engine by engine; and what was read back, recorded."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from rosterkit.cards.accessory_cards import accessory_cards
from rosterkit.cards.card import Card, CardOptions, MeetPhase, cards_of, unknown_labels
from rosterkit.cards.meet_cards import away_of, meet_cards, shows_meet_address
from rosterkit.cards.page import cards_page
from rosterkit.cards.read_out import read_out_cards
from rosterkit.cards.restore import restore_cards
from rosterkit.cards.sheet import cards_sheet
from rosterkit.checks import findings_in
from rosterkit.checks.card_errors import device_errors_by_row, errors_by_row
from rosterkit.checks.framework import scope_of
from rosterkit.commands.common import require_room
from rosterkit.cv.readings import Moment
from rosterkit.errors import CannotRunError
from rosterkit.roster.load import package_at, roster_at, roster_in
from rosterkit.roster.model import Roster
from rosterkit.roster.schema import folded
from rosterkit.writeback.as_printed import as_printed, parse_recorded
from rosterkit.writeback.readings import readings_change, without_index
from rosterkit.writeback.typed_pairs import ReadBack
from rosterkit.xlsx.own_sheets.new_workbook import workbook_of
from rosterkit.xlsx.save.save import save, save_new


@dataclass(frozen=True, slots=True, kw_only=True)
class Recorded:
    """What recording came to."""

    kept: Path | None
    """The earlier file."""
    readings: Sequence[ReadBack]
    left: CardOptions
    """The card that is left to be keyed in."""
    without_index: Sequence[int] = ()
    """CVs of an index that nobody knows."""
    at_meet: bool = False
    """Whether that is the card for the meet because the meet address was read."""


def cards(path: Path, labels: Collection[str] = (), options: CardOptions | None = None) -> list[Card]:
    """Make the cards of a workbook's engines and then of its accessories, or of those with the given labels.

    Raises:
        CannotRunError: if the workbook cannot be read, or has no engine or accessory of one of the labels.
    """
    return _cards(roster_at(path), labels, options)


def _cards(roster: Roster, labels: Collection[str], options: CardOptions | None) -> list[Card]:
    devices = {folded(row.accessory) for row in roster.accessories if row.accessory}
    unknown = [label for label in unknown_labels(roster, labels) if folded(label) not in devices]
    if unknown:
        names = ", ".join(f"'{label}'" for label in unknown)
        raise CannotRunError(
            f"{roster.book.name}: there is no engine {names}", "Give --loco as it stands in the column Loco."
        )
    if options and (options.read_out or options.restore):
        return _about_a_reset(roster, labels, options)
    if options and options.phase:
        meet = options.phase is MeetPhase.BEFORE
        said = errors_by_row(roster, findings_in(scope_of([roster], meet=meet)), meet=meet)
        return meet_cards(roster, away_of(roster), options.phase, options, labels, said)
    findings = findings_in(scope_of([roster]))
    engines = cards_of(roster, labels, options=options, errors=errors_by_row(roster, findings))
    errors = device_errors_by_row(roster, findings)
    return [*engines, *accessory_cards(roster, labels, options=options, errors=errors)]


def _about_a_reset(roster: Roster, labels: Collection[str], options: CardOptions) -> list[Card]:
    """Make the lists before a reset, or the cards after it."""
    devices = unknown_labels(roster, labels)
    if devices:
        raise CannotRunError(
            f"{roster.book.name}: '{devices[0]}' is an accessory, and these are lists of locomotive decoders",
            "Give --loco as it stands in the column Loco.",
        )
    make = read_out_cards if options.read_out else restore_cards
    return make(roster, labels, options)


def require_places(workbook: Path | None, page: Path | None, *, force: bool = False) -> None:
    """See that a workbook with the cards, a page with them, or both can be made, before anything is.

    Raises:
        CannotRunError: if the ending of one is another, its folder is not there, or there is a file of that
            name and it is not to be replaced.
    """
    if workbook is not None:
        require_room(workbook, force=force)
    if page is not None:
        require_room(page, ".html", force=force)


def write_cards(made: Sequence[Card], options: CardOptions, out: Path) -> None:
    """Write cards into a new workbook with one sheet, in place of a file that may be there.

    Raises:
        CannotRunError: if it cannot be written.
    """
    title, headline = _headings(options)
    save_new(out, workbook_of([cards_sheet(made, title, headline)]))


def write_page(made: Sequence[Card], options: CardOptions, out: Path) -> None:
    """Write cards into a new HTML page, in place of a file that may be there.

    Raises:
        CannotRunError: if it cannot be written.
    """
    save_new(out, cards_page(made, options, _headings(options)[1]).encode())


def _headings(options: CardOptions) -> tuple[str, str]:
    """Return the title of the sheet, and what stands above the cards."""
    if options.read_out:
        return "Read-out", "What to read before a decoder is reset"
    if options.restore:
        return "Restore", "What puts the newest readings back"
    return "Cards", "Cards for the programming track"


def record(
    path: Path,
    labels: Sequence[str],
    texts: Sequence[str],
    day: str,
    time: str | None = None,
    options: CardOptions | None = None,
) -> Recorded:
    """Write what was read of one engine into its workbook's sheet Readings, as new rows.

    Args:
        path: the workbook; it is changed in place, the earlier file kept.
        labels: the engine's label, one only.
        texts: what was read, as CV=VALUE pairs; after ``all`` what was not read as the card has it.
        day: the day of the readings, as 2026-05-31.
        time: their time of day, as 20:15:30, for a sheet that has a column Time.
        options: the kind of card that was read back.

    Raises:
        CannotRunError: if it is not one engine of the workbook, a pair is none, or the workbook cannot be
            read or written without harm; nothing is written then.
    """
    if len(labels) != 1:
        raise CannotRunError("readings are of one engine at a time", "Name it by --loco, once.")
    everything, readings = parse_recorded(texts)
    package = package_at(path)
    roster = roster_in(package)
    wanted = options or CardOptions()
    if everything:
        readings = as_printed(_the_card(roster, labels, wanted), readings)
    saved = save(package, readings_change(roster, labels[0], readings, day, time))
    at_meet = wanted.phase is None and _at_meet(roster, labels[0], readings)
    phase = MeetPhase.BEFORE if at_meet else wanted.phase
    left = replace(wanted, phase=phase, changes=True, read_since=Moment(day=day, time=time))
    return Recorded(
        kept=saved.kept,
        readings=readings,
        left=left,
        without_index=without_index(roster, labels[0], readings),
        at_meet=at_meet,
    )


def _the_card(roster: Roster, labels: Sequence[str], options: CardOptions) -> Card:
    found = _cards(roster, labels, options)
    if len(found) != 1:
        raise CannotRunError(
            f"{roster.book.name}: there are {len(found)} such cards of '{labels[0]}'",
            "Give what was read, such as --record '29=34 19=0'.",
        )
    return found[0]


def _at_meet(roster: Roster, label: str, readings: Sequence[ReadBack]) -> bool:
    return shows_meet_address(roster, label, [(one.cv, one.value) for one in readings])

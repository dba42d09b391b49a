"""The command for what is keyed in and read back at the programming track."""

import typer

from rosterkit.cli.options import (
    AfterReset,
    Changes,
    Day,
    Force,
    Loco,
    ModeOption,
    PageOut,
    ReadOut,
    Record,
    Restore,
    SheetOut,
    SideOfMeet,
    TableForm,
    Width,
    WorkbookArgument,
)
from rosterkit.cli.output import say
from rosterkit.errors import CannotRunError


def cards(  # noqa: PLR0913 - an option a parameter
    workbook: WorkbookArgument,
    loco: Loco = None,
    out: SheetOut = None,
    page: PageOut = None,
    *,
    changes: Changes = False,
    after_reset: AfterReset = False,
    read_out: ReadOut = False,
    restore: Restore = False,
    mode: ModeOption = None,
    record: Record = None,
    day: Day = None,
    meet: SideOfMeet = None,
    force: Force = False,
    width: Width = 80,
    form: TableForm = "text",
) -> None:
    """Print what to key in or to read, engine by engine; or record what was read back."""
    from rosterkit.cards.card import CardOptions, MeetPhase
    from rosterkit.cards.report import printed_cards
    from rosterkit.cards.write_modes import WriteMode, cvs_words
    from rosterkit.commands.cards import cards as cards_for
    from rosterkit.commands.cards import record as record_readings
    from rosterkit.commands.cards import require_places, write_cards, write_page
    from rosterkit.commands.common import day_and_time
    from rosterkit.writeback.typed_pairs import read_back_words

    if day and not record:
        raise CannotRunError("--on is the day of what --record writes", "Give both, or neither.")
    _refuse_together(read_out, restore, changes or after_reset or bool(record or meet))
    options = CardOptions(
        mode=WriteMode(mode) if mode else None,
        changes=changes,
        after_reset=after_reset,
        phase=MeetPhase(meet) if meet else None,
        read_out=read_out,
        restore=restore,
    )
    require_places(out, page, force=force)
    if record:
        moment = day_and_time(day)
        recorded = record_readings(workbook, loco or (), record, moment.day, moment.time, options)
        say(f"recorded in {workbook}; the earlier file is {recorded.kept}")
        say(f"{', '.join(loco or ())}: {read_back_words(recorded.readings)}")
        if recorded.without_index:
            say(
                f"note: {cvs_words(recorded.without_index)} without CV31 and CV32: nobody knows under which "
                "index; give them before it, such as '31=16 32=0 257=3'"
            )
        if recorded.at_meet:
            say("that is the address for the meet: what is left of the card for the meet is printed")
        options = recorded.left
    made = cards_for(workbook, loco or (), options)
    if meet and not made:
        say("no engine has a Meet address of its own: there is nothing to key in")
    if restore and not made:
        say("no engine has a reading: there is nothing to put back")
    if out:
        write_cards(made, options, out)
        say(f"made {out}")
    if page:
        write_page(made, options, page)
        say(f"made {page}")
    typer.echo(printed_cards(made, form, width), nl=bool(made) or form != "text")


def _refuse_together(*kinds: bool) -> None:
    """Refuse options for cards of which a card can follow only one."""
    if sum(kinds) > 1:
        raise CannotRunError(
            "--read-out and --restore are lists of their own",
            "Give one of them, without --changes, --after-reset, --meet and --record.",
        )

"""Words in, words out: each command reads its words, does its work, and prints the result."""

from functools import partial
from pathlib import Path
from typing import Annotated

import typer

from rosterkit import __version__
from rosterkit.cli.copies import compare, merge, send
from rosterkit.cli.help import Command, Commands
from rosterkit.cli.lists import adopt
from rosterkit.cli.options import (
    Brief,
    CheckForm,
    Clear,
    CopiesFolder,
    Copy,
    Count,
    Force,
    ForMember,
    KindOption,
    MeetWorkbook,
    MeetWorkbooksArgument,
    Near,
    Only,
    Owner,
    PlainForm,
    Replace,
    Strict,
    WorkbookArgument,
    WorkbooksArgument,
)
from rosterkit.cli.output import leave as _leave
from rosterkit.cli.output import say as _say
from rosterkit.cli.track import cards
from rosterkit.errors import CannotRunError

app = typer.Typer(
    help="Roster and address manager for digitally controlled model locomotives, over an .xlsx workbook.",
    cls=Commands,
    invoke_without_command=True,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
    context_settings={"help_option_names": ["-h", "--help"]},
)

command = partial(app.command, cls=Command)


def _version(wanted: bool) -> None:
    if wanted:
        typer.echo(f"rosterkit {__version__}")
        raise typer.Exit


@app.callback()
def rosterkit(
    ctx: typer.Context,
    *,
    version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Print the version.")
    ] = False,
) -> None:
    """Roster and address manager for digitally controlled model locomotives, over an .xlsx workbook."""
    if ctx.invoked_subcommand is None:
        typer.echo(ctx.get_help(), err=True)
        raise typer.Exit(CannotRunError.exit_code)


@command()
def new(
    path: Annotated[Path, typer.Argument(help="Where the workbook is made.", metavar="PATH", readable=False)],
    *,
    sample: Annotated[bool, typer.Option("--sample", help="Fill it with a demo club.")] = False,
    force: Force = False,
    ranges: Annotated[
        str | None,
        typer.Option(
            help="Address ranges by a published scheme: four-digit, blocks-10, blocks-25, blocks-100, "
            "meet-pool.",
            metavar="PRESET",
        ),
    ] = None,
    member: Annotated[
        list[str] | None,
        typer.Option(help="A member who gets a block of such a scheme; may be repeated.", metavar="CODE"),
    ] = None,
) -> None:
    """Make a starter workbook, or the demo club."""
    from rosterkit.commands.new.command import make_workbook

    kept = make_workbook(path, sample=sample, force=force, ranges=ranges, members=member or ())
    _say(f"made {path}" + (f"; the earlier file is {kept}" if kept else ""))


@command()
def check(  # noqa: PLR0913 - an option a parameter
    workbooks: WorkbooksArgument,
    *,
    meet: Annotated[
        bool, typer.Option("--meet", help="Only engines that come to the meet, across all workbooks.")
    ] = False,
    together: Annotated[
        bool, typer.Option("--together", help="Also what clashes between the workbooks, at home.")
    ] = False,
    brief: Brief = False,
    owner: Owner = None,
    only: Only = None,
    form: CheckForm = "text",
    strict: Strict = False,
) -> None:
    """Say what is wrong in workbooks, each finding at its cell."""
    from rosterkit.checks.report import is_failing, printed, unsaid
    from rosterkit.commands.check import check as checked

    report = checked(workbooks, meet=meet, together=together, owner=owner, only=only)
    typer.echo(printed(report, form, brief=brief, colour=_on_terminal()))
    if left_out := unsaid(report, form):
        _say(left_out)
    _leave(failing=is_failing(report, strict=strict))


@command()
def fill(
    workbook: WorkbookArgument,
    out: Copy = None,
    *,
    values: Annotated[
        bool, typer.Option("--values", help="Write plain values in place of formulas, and no sheet Live.")
    ] = False,
    replace: Replace = False,
    strict: Strict = False,
) -> None:
    """Check a workbook, and write CVs, Check, Findings and Cards into it."""
    from rosterkit.checks.report import is_failing, summary
    from rosterkit.commands.fill import fill as fill_workbook
    from rosterkit.commands.results import fill_text

    filled = fill_workbook(workbook, out, replace=replace, values=values)
    typer.echo(fill_text(filled), err=True)
    typer.echo(summary(filled.report))
    _leave(failing=is_failing(filled.report, strict=strict))


command()(cards)


@command()
def speed(
    workbook: WorkbookArgument,
    out: Copy = None,
    *,
    replace: Replace = False,
    form: PlainForm = "text",
    strict: Strict = False,
) -> None:
    """Make speed tables and trims from timed runs, with a chart for each engine."""
    from rosterkit.checks.report import is_failing
    from rosterkit.commands.results import fill_text
    from rosterkit.commands.speed.command import speed as make_speed_tables
    from rosterkit.commands.speed.report import SPEED_FORMATS

    report, filled = make_speed_tables(workbook, out, all_steps=form == "json", replace=replace)
    typer.echo(fill_text(filled), err=True)
    _say("run 'rosterkit fill' next, for CV29, scale speeds, Findings and Cards")
    typer.echo(SPEED_FORMATS[form](report))
    _leave(failing=is_failing(filled.report, strict=strict))


@command()
def decode(
    pairs: Annotated[list[str], typer.Argument(help="CVs, such as 29=34.", metavar="CV=VALUE")],
    form: PlainForm = "text",
) -> None:
    """Say what CV values mean, with every fault in the combination."""
    from rosterkit.commands.decode import DECODE_FORMATS
    from rosterkit.cv.decode import cv_values, decoded

    result = decoded(cv_values(pairs))
    typer.echo(DECODE_FORMATS[form](result))
    _leave(failing=result.has_error)


@command()
def free(  # noqa: PLR0913 - an option a parameter
    workbooks: WorkbooksArgument,
    kind: KindOption = None,
    member: ForMember = None,
    near: Near = None,
    count: Count = 10,
    *,
    meet: Annotated[bool, typer.Option("--meet", help="Also those that are lent for a meet only.")] = False,
    ambiguous: Annotated[
        bool,
        typer.Option("--ambiguous", help="Also those that systems differ on: short 100-127, long 1-127."),
    ] = False,
    form: PlainForm = "text",
) -> None:
    """Print free addresses, the best first, and why."""
    from rosterkit.commands.free.command import free as found
    from rosterkit.commands.free.report import FREE_FORMATS, doubts
    from rosterkit.planning.addresses import Wanted

    wanted = Wanted(kind=kind, member=member, near=near, for_meet=meet, ambiguous=ambiguous)
    freed = found(workbooks, wanted, count)
    typer.echo(FREE_FORMATS[form](freed.addresses))
    if freed.unusable:
        typer.echo(doubts(freed.unusable), err=True)


@command()
def meet(
    workbooks: MeetWorkbooksArgument,
    out: MeetWorkbook = None,
    *,
    apply: CopiesFolder = None,
    clear: Clear = False,
    force: Force = False,
    form: PlainForm = "text",
) -> None:
    """Plan a meet: the fewest changes after which no two engines answer the same address."""
    from rosterkit.commands.meet.clear import clear_meet_addresses, require_one_task
    from rosterkit.commands.meet.command import make_meet_workbook
    from rosterkit.commands.meet.report import MEET_FORMATS, cleared_text, has_error, made_text, unread_text

    require_one_task(out, apply, clear=clear)
    if clear:
        typer.echo(cleared_text(clear_meet_addresses(workbooks)), err=True)
        return
    plan = make_meet_workbook(workbooks, out, copies_to=apply, force=force)
    if left_out := unread_text(plan):
        typer.echo(left_out, err=True)
    typer.echo(MEET_FORMATS[form](plan))
    _say(made_text(plan, out, apply))
    _leave(failing=has_error(plan))


command()(adopt)


command()(send)


command()(merge)


command()(compare)


@command()
def rules(
    slug: Annotated[
        str | None, typer.Argument(help="One check, such as address-shared.", metavar="SLUG")
    ] = None,
) -> None:
    """List every check, or explain one."""
    from rosterkit.checks import CHECKS, check_named
    from rosterkit.commands.rules import check_list, check_page

    typer.echo(check_page(check_named(slug)) if slug else check_list(CHECKS))


def _on_terminal() -> bool:
    import os
    import sys

    return sys.stdout.isatty() and "NO_COLOR" not in os.environ

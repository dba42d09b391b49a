"""The commands for copies: sent to members, edited by them, merged when they come back, and compared."""

from pathlib import Path
from typing import Annotated

import typer

from rosterkit.cli.options import Force, PlainForm, TableForm
from rosterkit.cli.output import leave, say

_CopiesArgument = Annotated[
    list[Path] | None,
    typer.Argument(help="The copies that came back.", metavar="COPY", readable=False),
]
_Base = Annotated[
    Path | None,
    typer.Option(
        help="The workbook as it was sent, or the master as it was then.", metavar="SENT", readable=False
    ),
]
_Into = Annotated[
    Path | None,
    typer.Option(help="The master, where it has changed since.", metavar="MASTER", readable=False),
]
_Out = Annotated[
    Path | None,
    typer.Option("-o", "--out", help="Where the merged workbook is made.", metavar="OUT", readable=False),
]
_Resolve = Annotated[
    Path | None,
    typer.Option(
        help="Carry out what was chosen under Keep in the sheet Merge of a merged workbook; merge nothing.",
        metavar="OUT",
        readable=False,
    ),
]


def merge(  # noqa: PLR0913 - an option a parameter
    copies: _CopiesArgument = None,
    *,
    base: _Base = None,
    into: _Into = None,
    out: _Out = None,
    resolve: _Resolve = None,
    force: Force = False,
    form: PlainForm = "text",
) -> None:
    """Merge copies that members edited (--base, -o), or carry out what was then chosen (--resolve)."""
    from rosterkit.commands.merge.command import merge as merge_copies
    from rosterkit.commands.merge.report import MERGE_FORMATS, is_failing, made_text
    from rosterkit.commands.merge.resolve import require_alone
    from rosterkit.commands.merge.resolve import resolve as resolve_conflicts
    from rosterkit.commands.merge.resolve_report import RESOLVE_FORMATS, is_unfinished, saved_text

    if resolve is not None:
        require_alone(copies or base or into or out)
        done = resolve_conflicts(resolve)
        say(saved_text(done))
        typer.echo(RESOLVE_FORMATS[form](done))
        leave(failing=is_unfinished(done))
        return
    report = merge_copies(copies or (), base, into, out, force=force)
    say(made_text(report))
    typer.echo(MERGE_FORMATS[form](report))
    leave(failing=is_failing(report))


def send(
    master: Annotated[
        Path, typer.Argument(help="The workbook to send out.", metavar="MASTER", readable=False)
    ],
    out: Annotated[
        Path,
        typer.Option("-o", "--out", help="Where the copy is made.", metavar="COPY", readable=False),
    ],
    *,
    member: Annotated[
        str | None,
        typer.Option(help="Lock the rows of all others, without a password.", metavar="CODE"),
    ] = None,
    force: Force = False,
) -> None:
    """Make a copy of a workbook that knows its base, to be edited, sent back and merged."""
    from rosterkit.commands.send.command import send as send_copy
    from rosterkit.commands.send.command import sent_text

    typer.echo(sent_text(send_copy(master, out, member=member, force=force)), err=True)


def compare(
    old: Annotated[Path, typer.Argument(help="The workbook as it was.", metavar="OLD", readable=False)],
    new: Annotated[Path, typer.Argument(help="The workbook as it is now.", metavar="NEW", readable=False)],
    form: TableForm = "text",
) -> None:
    """Say what changed, engine by engine, CV by CV, and row by row of the other sheets."""
    from rosterkit.commands.compare.command import compare as compare_workbooks
    from rosterkit.commands.compare.report import COMPARE_FORMATS

    typer.echo(COMPARE_FORMATS[form](compare_workbooks(old, new)))

"""The command for lists that people have already."""

from pathlib import Path
from typing import Annotated

import typer

from rosterkit.cli.options import Force, PlainForm
from rosterkit.cli.output import leave, say

_List = Annotated[
    Path,
    typer.Argument(
        help="The list: .xlsx, .xlsm, .xls, .xlsb, .ods, .csv or .txt.", metavar="LIST", readable=False
    ),
]
_Out = Annotated[
    Path | None,
    typer.Option("-o", "--out", help="Make the workbook here.", metavar="OUT", readable=False),
]
_Reading = Annotated[
    Path | None,
    typer.Option(
        help="A workbook that was made of the list, what is wrong corrected in its sheet Reading.",
        metavar="FILE",
        readable=False,
    ),
]
_As = Annotated[
    list[str] | None,
    typer.Option(
        "--as",
        help="What a column is, such as 'Fleet!C=Address' or 'Fleet!H=CV 49'; may be repeated.",
        metavar="SHEET!C=HEADING",
    ),
]
_Headings = Annotated[
    list[str] | None,
    typer.Option(
        help="The row in which a sheet has its headings, such as 'Fleet!6'; may be repeated.",
        metavar="SHEET!ROW",
    ),
]


def adopt(  # noqa: PLR0913 - an option a parameter
    path: _List,
    out: _Out = None,
    *,
    reading: _Reading = None,
    as_words: _As = None,
    headings: _Headings = None,
    force: Force = False,
    form: PlainForm = "text",
) -> None:
    """Make a workbook of a list of any shape (-o), or say how it is read; the list stays as it is."""
    from rosterkit.commands.adopt.command import adopt as adopt_list
    from rosterkit.commands.adopt.report import ADOPT_FORMATS, made_text

    words, rows = as_words or (), headings or ()
    report = adopt_list(path, out, reading=reading, as_words=words, heading_rows=rows, force=force)
    if report.out is not None:
        say(made_text(report))
    typer.echo(ADOPT_FORMATS[form](report))
    leave(failing=report.has_doubts)

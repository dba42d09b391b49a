"""The words that commands take: those that several share, those of cards and of free, and the choices."""

from pathlib import Path
from typing import Annotated, Any, Literal, get_args

import typer

PlainFormat = Literal["text", "json"]
"""How an answer is printed that is no table."""
TableFormat = Literal["text", "json", "csv"]
CheckFormat = Literal["text", "json", "csv", "annotations"]
CardMode = Literal["direct", "address-only", "register", "paged", "operations"]
AddressKind = Literal["short", "long", "consist", "accessory"]
LeastSevere = Literal["error", "warning"]
MeetSide = Literal["before", "after"]


def _choice(kind: Any, text: str, *names: str) -> Any:
    """Return an option that takes one of a few words, which its help shows: text|json."""
    return typer.Option(*names, help=text, metavar="|".join(get_args(kind)))


# Whether a file may be read its opening tells, in a sentence of ours.
WorkbookArgument = Annotated[
    Path, typer.Argument(help="The workbook (.xlsx or .xlsm).", metavar="WORKBOOK", readable=False)
]
WorkbooksArgument = Annotated[
    list[Path], typer.Argument(help="One workbook or more.", metavar="WORKBOOK", readable=False)
]

MeetWorkbooksArgument = Annotated[
    list[Path],
    typer.Argument(
        help="The workbooks in the order of registration, newcomers last: where all else is equal, the "
        "first stays.",
        metavar="WORKBOOK",
        readable=False,
    ),
]

Copy = Annotated[
    Path | None,
    typer.Option(
        "-o", "--out", help="Write a copy here, and leave the workbook.", metavar="OUT", readable=False
    ),
]
Replace = Annotated[
    bool, typer.Option("--replace", help="Replace its own sheets also where something was typed into them.")
]
Strict = Annotated[bool, typer.Option("--strict", help="Warnings count as errors.")]
CheckForm = Annotated[CheckFormat, _choice(CheckFormat, "How to print.", "--format")]
Brief = Annotated[
    bool,
    typer.Option("--brief", help="One line an engine, the worst first, and one for what many rows lack."),
]
Owner = Annotated[
    str | None,
    typer.Option(
        "--owner",
        help="Only this member's engines; sums and exit status go by what is found of them.",
        metavar="CODE",
    ),
]
Only = Annotated[
    LeastSevere | None,
    _choice(
        LeastSevere,
        "Show only errors, or errors and warnings; sums and exit status go by all findings.",
        "--only",
    ),
]
TableForm = Annotated[TableFormat, _choice(TableFormat, "How to print.", "--format")]
PlainForm = Annotated[PlainFormat, _choice(PlainFormat, "How to print.", "--format")]

Loco = Annotated[
    list[str] | None, typer.Option(help="Only this engine or accessory; may be repeated.", metavar="LABEL")
]
Changes = Annotated[bool, typer.Option("--changes", help="Only what the last readings do not already show.")]
AfterReset = Annotated[
    bool, typer.Option("--after-reset", help="Everything, as after a reset to factory values.")
]
ReadOut = Annotated[
    bool,
    typer.Option(
        "--read-out", help="A list of the CVs to read, and to write down, before a decoder is reset."
    ),
]
Restore = Annotated[
    bool, typer.Option("--restore", help="What puts the newest readings back after a decoder was reset.")
]
SheetOut = Annotated[
    Path | None,
    typer.Option(
        "-o", "--out", help="Also make a workbook with the cards here.", metavar="OUT", readable=False
    ),
]
PageOut = Annotated[
    Path | None,
    typer.Option(
        "--html",
        help="Also make a page with the cards here, for a phone or tablet at the track: it needs no network, "
        "keeps what is ticked, and makes the --record line.",
        metavar="OUT",
        readable=False,
    ),
]
ModeOption = Annotated[CardMode | None, _choice(CardMode, "How CVs are written; else as the layout has it.")]
Record = Annotated[
    list[str] | None,
    typer.Option(
        help="First write what was read of the engine, such as '29=34 19=0', into Readings; 19=- where "
        "there was no answer; or 'all', with what did not read as printed after it, such as 'all 29=6'. What "
        "is left to key in is then printed.",
        metavar="[all] CV=VALUE...",
    ),
]
Day = Annotated[
    str | None,
    typer.Option(
        "--on", help="The day of what was read, such as 2026-05-31; else today, with the time.", metavar="DAY"
    ),
]
SideOfMeet = Annotated[
    MeetSide | None,
    _choice(MeetSide, "What engines with a Meet address need before the meet, or what puts them back after."),
]
Width = Annotated[int, typer.Option(min=32, max=200, help="Columns of the text form.", metavar="N")]

KindOption = Annotated[
    AddressKind | None,
    _choice(AddressKind, "What the address is for; else the kind that a number has by itself."),
]
ForMember = Annotated[
    str | None,
    typer.Option(
        "--member", help="Whose engine or device it is for; their range comes first.", metavar="CODE"
    ),
]
Near = Annotated[
    str | None,
    typer.Option(help="The number on the engine, or an address to be near to.", metavar="NUMBER"),
]
Count = Annotated[int, typer.Option(min=1, max=10239, help="How many to print.", metavar="N")]
MeetWorkbook = Annotated[
    Path | None,
    typer.Option("-o", "--out", help="Where the meet workbook is made.", metavar="OUT", readable=False),
]
CopiesFolder = Annotated[
    Path | None,
    typer.Option(
        "--apply",
        help="Write a copy of each workbook into this folder, its Meet addresses entered.",
        metavar="FOLDER",
        readable=False,
    ),
]
Clear = Annotated[
    bool,
    typer.Option(
        "--clear", help="After the meet: empty Meet address and Meet kind in the workbooks; plan nothing."
    ),
]
Force = Annotated[bool, typer.Option("--force", help="Replace a file that is there.")]

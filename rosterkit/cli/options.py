"""The words that commands take: those that several share, those of cards and of free, and the choices."""

from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer


class CheckFormat(StrEnum):
    """How findings are printed."""

    TEXT = "text"
    JSON = "json"
    CSV = "csv"
    ANNOTATIONS = "annotations"


class CardFormat(StrEnum):
    """How cards are printed."""

    TEXT = "text"
    JSON = "json"
    CSV = "csv"


class CardMode(StrEnum):
    """How CVs are written."""

    DIRECT = "direct"
    ADDRESS_ONLY = "address-only"
    REGISTER = "register"
    PAGED = "paged"
    OPERATIONS = "operations"


class PlainFormat(StrEnum):
    """How an answer is printed that is no table."""

    TEXT = "text"
    JSON = "json"


class AddressKind(StrEnum):
    """What an address is for."""

    SHORT = "short"
    LONG = "long"
    CONSIST = "consist"
    ACCESSORY = "accessory"


class MeetSide(StrEnum):
    """On which side of a meet cards are keyed in."""

    BEFORE = "before"
    AFTER = "after"


def choices(kind: type[StrEnum]) -> str:
    """Return the choices of an option as its help shows them: text|json."""
    return "|".join(kind)


WorkbookArgument = Annotated[Path, typer.Argument(help="The workbook (.xlsx or .xlsm).", metavar="WORKBOOK")]
WorkbooksArgument = Annotated[list[Path], typer.Argument(help="One workbook or more.", metavar="WORKBOOK")]

Copy = Annotated[
    Path | None,
    typer.Option("-o", "--out", help="Write a copy here, and leave the workbook.", metavar="OUT"),
]
Replace = Annotated[
    bool, typer.Option("--replace", help="Replace its own sheets also where something was typed into them.")
]
Strict = Annotated[bool, typer.Option("--strict", help="Warnings count as errors.")]
CheckForm = Annotated[
    CheckFormat, typer.Option("--format", help="How to print.", metavar=choices(CheckFormat))
]
CardForm = Annotated[CardFormat, typer.Option("--format", help="How to print.", metavar=choices(CardFormat))]
PlainForm = Annotated[
    PlainFormat, typer.Option("--format", help="How to print.", metavar=choices(PlainFormat))
]

Loco = Annotated[list[str] | None, typer.Option(help="Only this engine; may be repeated.", metavar="LABEL")]
Changes = Annotated[bool, typer.Option("--changes", help="Only what the last readings do not already show.")]
AfterReset = Annotated[
    bool, typer.Option("--after-reset", help="Everything, as after a reset to factory values.")
]
ModeOption = Annotated[
    CardMode | None,
    typer.Option(help="How CVs are written; else as the layout has it.", metavar=choices(CardMode)),
]
Record = Annotated[
    list[str] | None,
    typer.Option(
        help="First write what was read of the engine, such as '29=34 19=0', into Readings; 19=- where "
        "there was no answer. What is left to key in is then printed.",
        metavar="CV=VALUE...",
    ),
]
Day = Annotated[
    str | None,
    typer.Option("--on", help="The day of what was read, such as 2026-05-31; else today.", metavar="DAY"),
]
SideOfMeet = Annotated[
    MeetSide | None,
    typer.Option(
        help="What engines with a Meet address need before the meet, or what puts them back after.",
        metavar=choices(MeetSide),
    ),
]
Width = Annotated[int, typer.Option(min=32, max=200, help="Columns of the text form.", metavar="N")]

KindOption = Annotated[
    AddressKind | None,
    typer.Option(
        help="What the address is for; else the kind that a number has by itself.",
        metavar=choices(AddressKind),
    ),
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

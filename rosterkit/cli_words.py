"""The words that several commands take, and the choices among which an option is made."""

from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer


class CheckFormat(StrEnum):
    """How findings are printed."""

    TEXT = "text"
    JSON = "json"
    CSV = "csv"
    GITHUB = "github"


class CardFormat(StrEnum):
    """How cards are printed."""

    TEXT = "text"
    JSON = "json"
    CSV = "csv"


class CardMode(StrEnum):
    """How registers are written."""

    DIRECT = "direct"
    PAGED = "paged"
    REGISTER = "register"
    ADDRESS_ONLY = "address-only"
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
    """Give the choices of an option as its help shows them: text|json."""
    return "|".join(kind)


Workbook = Annotated[Path, typer.Argument(help="The workbook (.xlsx or .xlsm).", metavar="WORKBOOK")]
Workbooks = Annotated[list[Path], typer.Argument(help="One workbook or more.", metavar="WORKBOOK")]

Copy = Annotated[
    Path | None,
    typer.Option("-o", "--out", help="Write a copy here, and leave the workbook.", metavar="OUT"),
]
Strict = Annotated[bool, typer.Option("--strict", help="Warnings count as errors.")]
CheckForm = Annotated[
    CheckFormat, typer.Option("--format", help="How to print.", metavar=choices(CheckFormat))
]
CardForm = Annotated[CardFormat, typer.Option("--format", help="How to print.", metavar=choices(CardFormat))]
PlainForm = Annotated[
    PlainFormat, typer.Option("--format", help="How to print.", metavar=choices(PlainFormat))
]

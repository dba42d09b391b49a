"""The sheets and columns of a rosterkit workbook, read from the schema files: the one source for both."""

import json
import unicodedata
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cache, lru_cache
from pathlib import Path
from typing import Any

from rosterkit.roster.cell_rules import CellRule


class Kind(StrEnum):
    """What the cells of a column hold."""

    TEXT = "text"
    WHOLE = "whole number"
    NUMBER = "number"
    CHOICE = "choice"
    DATE = "date"
    TIME = "time of day"


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Column:
    """A column of a sheet, or a setting of the Layout sheet."""

    name: str
    heading: str
    description: str
    kind: Kind
    schema: Mapping[str, Any]
    choices: tuple[str, ...]
    synonyms: Mapping[str, str]
    """Other ways to write a choice, folded, with the choice each means."""
    aliases: tuple[str, ...]
    default: str | int | float | None
    unit: str | None
    computed: bool
    required: bool
    unique: bool
    prose: bool
    """Free text, in which a date or a calculated number is as good as any other."""
    width: float
    rules: Mapping[str, CellRule]
    """JSON Schema keyword to the check that speaks for it here."""

    sheet: str
    """The title of the sheet that it is a column of."""

    def __reduce__(self) -> tuple[Callable[[str, str], "Column"], tuple[str, str]]:
        """Send no more than the name to another process, which has the same schema."""
        return _column_of, (self.sheet, self.name)

    @property
    def limits(self) -> str:
        """What the column takes, in words: its choices, or its lowest and highest number."""
        if self.choices:
            return ", ".join(self.choices)
        low = self.schema.get("minimum", self.schema.get("exclusiveMinimum"))
        high = self.schema.get("maximum")
        if "exclusiveMinimum" in self.schema:
            return f"more than {low}" + ("" if high is None else f", at most {high}")
        if low is not None:
            return f"at least {low}" if high is None else f"{low} to {high}"
        return str(self.schema.get("patternWords", self.kind.value))


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Sheet:
    """A sheet that rosterkit knows: its title, its columns in order, and how its rows are laid out."""

    title: str
    description: str
    transposed: bool
    """One setting a row (heading, value, unit, purpose) in place of one record a row."""
    required: bool
    columns: tuple[Column, ...]
    identity: tuple[tuple[str, ...], ...] = ()
    """Names of the columns by which a row is recognised in another workbook; several such sets are tried in
    turn, and rows that share what the last one holds are taken in their order. None of settings."""

    def __reduce__(self) -> tuple[Callable[[str], "Sheet"], tuple[str]]:
        """Send no more than the title to another process, which has the same schema."""
        return sheet, (self.title,)

    def __getitem__(self, name: str) -> Column:
        """Return the column of that schema name; KeyError if there is none."""
        for column in self.columns:
            if column.name == name:
                return column
        raise KeyError(name)

    @property
    def computed(self) -> tuple[Column, ...]:
        """The columns that rosterkit fills."""
        return tuple(column for column in self.columns if column.computed)

    @property
    def filled_by_members(self) -> tuple[Column, ...]:
        """The columns that members fill."""
        return tuple(column for column in self.columns if not column.computed)


SETTING_HEADINGS = ("Setting", "Value", "Unit", "What it is for")
"""The headings of a transposed sheet; the first two are needed to read it."""


@lru_cache(maxsize=100_000)
def folded(text: str) -> str:
    """Fold a heading, title or choice so that letter case, blanks and full-width signs do not matter."""
    plain = text if text.isascii() else unicodedata.normalize("NFKC", text)
    return "".join(plain.casefold().split()).rstrip(":")


def schema_folder() -> Path:
    """The folder of the schema files: inside an installed package, or at the top of a checkout."""
    package = Path(__file__).parents[1]
    installed = package / "_schema"
    return installed if installed.is_dir() else package.parent / "schema"


def schema_file(name: str) -> dict[str, Any]:
    """Read one schema file by its name relative to the schema folder."""
    document: dict[str, Any] = json.loads((schema_folder() / name).read_text(encoding="utf-8"))
    return document


def _kind(schema: Mapping[str, Any]) -> Kind:
    if "enum" in schema:
        return Kind.CHOICE
    if schema.get("format") == "date":
        return Kind.DATE
    if schema.get("format") == "time":
        return Kind.TIME
    return {"integer": Kind.WHOLE, "number": Kind.NUMBER, "string": Kind.TEXT}[schema["type"]]


def _column_of(title: str, name: str) -> Column:
    return sheet(title)[name]


def _column(title: str, name: str, schema: Mapping[str, Any], *, required: bool) -> Column:
    choices = tuple(schema.get("enum", ()))
    synonyms = {folded(choice): choice for choice in choices}
    synonyms |= {folded(other): choice for other, choice in schema.get("synonyms", {}).items()}
    return Column(
        name=name,
        heading=schema["title"],
        description=schema["description"],
        kind=_kind(schema),
        schema=schema,
        choices=choices,
        synonyms=synonyms,
        aliases=tuple(schema.get("aliases", ())),
        default=schema.get("default"),
        unit=schema.get("unit"),
        computed=bool(schema.get("readOnly", False)),
        required=required,
        unique=bool(schema.get("unique", False)),
        prose=bool(schema.get("prose", False)),
        width=schema.get("width", 12),
        rules={keyword: CellRule(rule) for keyword, rule in schema.get("rules", {}).items()},
        sheet=title,
    )


def _sheet(entry: Mapping[str, Any]) -> Sheet:
    document = schema_file(entry["schema"])
    needed = document.get("required", ())
    return Sheet(
        title=document["title"],
        description=document["description"],
        transposed=entry["shape"] == "settings",
        required=entry["required"],
        columns=tuple(
            _column(document["title"], name, schema, required=name in needed)
            for name, schema in document["properties"].items()
        ),
        identity=tuple(tuple(names) for names in document.get("identity", ())),
    )


@cache
def all_sheets() -> tuple[Sheet, ...]:
    """Every sheet that rosterkit reads, in the order of a new workbook."""
    return tuple(_sheet(entry) for entry in schema_file("sheets.json")["sheets"])


@cache
def _sheets_by_title() -> dict[str, Sheet]:
    return {folded(known.title): known for known in all_sheets()}


def sheet(title: str) -> Sheet:
    """Return the sheet of that title, whatever the letter case; KeyError if rosterkit knows none."""
    return _sheets_by_title()[folded(title)]


def is_known(title: str) -> bool:
    """Whether rosterkit reads a sheet of that title."""
    return folded(title) in _sheets_by_title()


@cache
def spellings(known: Sheet) -> tuple[tuple[str, Column, bool], ...]:
    """Return every folded heading with its column, and whether it is the heading itself, not an alias."""
    return tuple(
        (folded(spelling), column, place == 0)
        for column in known.columns
        for place, spelling in enumerate((column.heading, *column.aliases))
    )

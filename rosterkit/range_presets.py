"""Published schemes of address ranges, made into rows of the sheet Address ranges."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache

from rosterkit.errors import CannotRunError
from rosterkit.sheets import schema_file

FILE = "presets/address_ranges.json"
EXAMPLE_MEMBERS = tuple(f"M{number:02}" for number in range(1, 11))
"""Who gets the first blocks where nobody is named."""

Row = Mapping[str, str | int | float | None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Blocks:
    """How a scheme cuts a range into blocks, one for each member."""

    kind: str
    first: int
    last: int
    size: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Preset:
    """One published scheme."""

    name: str
    title: str
    body: str
    """Who issued it."""
    source: str
    """The title of the text."""
    date: str
    note: str
    rows: tuple[tuple[str, int, int, str, str], ...]
    """Kind, first, last, use and notes."""
    blocks: Blocks | None

    @property
    def citation(self) -> str:
        """Body, title and date of the source."""
        return f'{self.body}, "{self.source}", {self.date}'


@cache
def presets() -> tuple[Preset, ...]:
    """Give all schemes, in the order of the documentation."""
    return tuple(_preset(one) for one in schema_file(FILE)["presets"])


def _preset(one: Mapping[str, object]) -> Preset:
    source, blocks, rows = one["source"], one.get("blocks"), one["rows"]
    assert isinstance(source, dict)  # noqa: S101 - the file's own shape, which a test checks
    assert isinstance(rows, list)  # noqa: S101
    return Preset(
        name=str(one["name"]),
        title=str(one["title"]),
        body=source["body"],
        source=source["title"],
        date=source["date"],
        note=source["note"],
        rows=tuple((kind, first, last, use, notes) for kind, first, last, use, notes in rows),
        blocks=Blocks(**blocks) if isinstance(blocks, dict) else None,
    )


def preset_named(name: str) -> Preset:
    """Give a scheme by its name.

    Raises:
        CannotRunError: if there is none; the nearest name is proposed.
    """
    by_name = {preset.name: preset for preset in presets()}
    if name.lower() in by_name:
        return by_name[name.lower()]
    near = get_close_matches(name.lower(), by_name, n=1)
    fix = f"Did you mean '{near[0]}'? " if near else ""
    raise CannotRunError(f"there is no preset '{name}'", f"{fix}Choose one of {', '.join(by_name)}.")


def range_rows(preset: Preset, members: Sequence[str] = ()) -> list[Row]:
    """Give the rows of a scheme, a block for each member in turn; the first row names the source.

    Raises:
        CannotRunError: if there are more members than blocks.
    """
    rows: list[Row] = [
        {"kind": kind, "first": first, "last": last, "use": use, "notes": notes}
        for kind, first, last, use, notes in preset.rows
    ]
    if preset.blocks:
        rows += _given_out(preset.blocks, members or EXAMPLE_MEMBERS)
    notes = f"{rows[0]['notes']}. Ranges after {preset.citation}; change them as your club likes."
    return [{**rows[0], "notes": notes}, *rows[1:]]


def _given_out(blocks: Blocks, members: Sequence[str]) -> Iterator[Row]:
    firsts = range(blocks.first, blocks.last - blocks.size + 2, blocks.size)
    if len(members) > len(firsts):
        raise CannotRunError(
            f"{len(members)} members are more than the {len(firsts)} blocks of {blocks.size} addresses",
            "Choose a preset with smaller blocks, or name fewer members.",
        )
    for first, member in zip(firsts, members, strict=False):
        last = first + blocks.size - 1
        notes = f"Block of {blocks.size}"
        yield {
            "kind": blocks.kind,
            "first": first,
            "last": last,
            "use": "engines",
            "member": member,
            "notes": notes,
        }

"""Published schemes of address ranges, made into rows of the sheet Address ranges."""

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path

from rosterkit.errors import CannotRunError
from rosterkit.roster.schema import folded
from rosterkit.spelling import Spelling
from rosterkit.template.own_columns import NewValue

EXAMPLE_MEMBERS = tuple(f"M{number:02}" for number in range(1, 11))
"""Who gets the first blocks where nobody is named."""

PresetRow = Mapping[str, NewValue]


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
    rows: Sequence[PresetRow]
    blocks: Blocks | None

    @property
    def citation(self) -> str:
        """Body, title and date of the source."""
        return f'{self.body}, "{self.source}", {self.date}'


def _presets() -> Iterator[Preset]:
    for preset in json.loads(Path(__file__).with_suffix(".json").read_text(encoding="utf-8")):
        blocks = preset["blocks"]
        yield Preset(**{**preset, "blocks": Blocks(**blocks) if blocks else None})


PRESETS = tuple(_presets())
"""All schemes, in the order of the documentation."""


def preset_named(name: str) -> Preset:
    """Return a scheme by its name.

    Raises:
        CannotRunError: if there is none; the nearest name is proposed.
    """
    by_name = {preset.name: preset for preset in PRESETS}
    if name.lower() in by_name:
        return by_name[name.lower()]
    near = Spelling(by_name).nearest(name.lower())
    fix = f"Did you mean '{near}'? " if near else ""
    raise CannotRunError(f"there is no preset '{name}'", f"{fix}Choose one of {', '.join(by_name)}.")


def range_rows(preset: Preset, members: Sequence[str] = ()) -> list[PresetRow]:
    """Return the rows of a scheme, a block for each member in turn; the first row names the source.

    Raises:
        CannotRunError: if there are more members than blocks, or two with one code.
    """
    first, *others = preset.rows
    notes = f"{first['notes']}. Ranges after {preset.citation}; change them as your club likes."
    blocks = _given_out(preset.blocks, members or EXAMPLE_MEMBERS) if preset.blocks else ()
    return [{**first, "notes": notes}, *others, *blocks]


def _given_out(blocks: Blocks, members: Sequence[str]) -> Iterator[PresetRow]:
    firsts = range(blocks.first, blocks.last - blocks.size + 2, blocks.size)
    if len(members) > len(firsts):
        raise CannotRunError(
            f"{len(members)} members are more than the {len(firsts)} blocks of {blocks.size} addresses",
            "Choose a preset with smaller blocks, or name fewer members.",
        )
    _require_codes(members)
    for first, member in zip(firsts, members, strict=False):
        last, notes = first + blocks.size - 1, f"Block of {blocks.size}"
        span: dict[str, NewValue] = {"kind": blocks.kind, "first": first, "last": last}
        yield span | {"use": "engines", "member": member, "notes": notes}


def _require_codes(members: Sequence[str]) -> None:
    fix = "Give --member once for each, as in M01."
    codes: set[str] = set()
    for member in members:
        code = folded(member)
        if not code:
            raise CannotRunError("a member has no code", fix)
        if code in codes:
            raise CannotRunError(f"the member '{member}' is named twice", fix)
        codes.add(code)

"""Published schemes of address ranges, made into rows of the sheet Address ranges."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from difflib import get_close_matches

from rosterkit.commands.new.template import NewValue
from rosterkit.errors import CannotRunError
from rosterkit.roster.schema import folded

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
    rows: tuple[tuple[str, int, int, str, str], ...]
    """Kind, first, last, use and notes."""
    blocks: Blocks | None

    @property
    def citation(self) -> str:
        """Body, title and date of the source."""
        return f'{self.body}, "{self.source}", {self.date}'


PRESETS = (
    Preset(
        name="four-digit",
        title="Four digits, free to choose",
        body="FREMO",
        source="Allocation of long DCC addresses; FREMO H0-Europa, Short DCC addresses 1..127",
        date="undated",
        note=(
            "Long 200 to 299 are for devices shared by all scales, 300 to 9979 for engines; short "
            "ones are as for the meet pool."
        ),
        rows=(
            ("long", 1, 199, "never", "Looks like a short address"),
            ("long", 200, 299, "devices", "Technical devices, shared by all scales"),
            ("long", 300, 9979, "engines", "Free to choose"),
            ("long", 9980, 10239, "never", "Limits of equipment"),
            ("short", 1, 29, "new decoders", "Tests only"),
            ("short", 30, 39, "engines", "Decoders that cannot take a long address"),
            ("short", 40, 99, "meet only", "Lent for one meet"),
            ("short", 100, 127, "consists", "Kept for consists"),
        ),
        blocks=None,
    ),
    Preset(
        name="blocks-10",
        title="A block of 10 for each member",
        body="FKTT (TT module circle, Germany)",
        source="Central digital-address administration",
        date="undated",
        note=(
            "Packages on request, for example 10 addresses, within which the owner gives them out "
            "freely. Where the blocks begin is our example."
        ),
        rows=(
            ("short", 3, 3, "new decoders", "The address of every new decoder"),
            (
                "long",
                9900,
                9999,
                "meet only",
                "Guests and demonstrators: given out at the meet, lapse with it",
            ),
        ),
        blocks=Blocks(kind="long", first=1000, last=9899, size=10),
    ),
    Preset(
        name="blocks-25",
        title="A block of 25 for each member",
        body="MIT-Nord module group",
        source="Assignment of digital addresses",
        date="undated",
        note="1000 to 9999 in blocks of 25, those from 1000 to 2999 first; 250 to 254 stay empty.",
        rows=(
            ("short", 3, 3, "new decoders", "The address of every new decoder"),
            ("long", 250, 254, "never", "Stay empty"),
        ),
        blocks=Blocks(kind="long", first=1000, last=9999, size=25),
    ),
    Preset(
        name="blocks-100",
        title="A block of 100 for each keeper",
        body="FREMO H0-Europa",
        source="Address allocation of the H0 standard-gauge group; changed procedure since 2024",
        date="2024",
        note=(
            "Blocks of 100 go to keepers, who give addresses out singly. The outer limits are those "
            "of FREMO, Allocation of long DCC addresses (undated)."
        ),
        rows=(
            ("long", 1, 199, "never", "Looks like a short address"),
            ("long", 200, 299, "devices", "Technical devices, shared by all scales"),
            ("long", 9980, 10239, "never", "Limits of equipment"),
            ("short", 3, 3, "new decoders", "The address of every new decoder"),
        ),
        blocks=Blocks(kind="long", first=300, last=9899, size=100),
    ),
    Preset(
        name="meet-pool",
        title="A pool that is lent for each meet",
        body="FREMO, pre-war group",
        source="Rules of address allocation, H0-Europa before WW II",
        date="decision of 23 Oct 2023",
        note=(
            "Whatever enters from elsewhere gets a temporary address from 7200 to 7499. Short ones: "
            "FREMO H0-Europa, Short DCC addresses 1..127 (undated)."
        ),
        rows=(
            ("long", 128, 9999, "engines", "Registered addresses"),
            ("long", 7200, 7499, "meet only", "Lent for one meet"),
            ("short", 1, 29, "new decoders", "Tests only"),
            ("short", 30, 39, "engines", "Decoders that cannot take a long address"),
            ("short", 40, 99, "meet only", "Lent for one meet"),
            ("short", 100, 127, "consists", "Kept for consists"),
        ),
        blocks=None,
    ),
)
"""All schemes, in the order of the documentation."""


def preset_named(name: str) -> Preset:
    """Return a scheme by its name.

    Raises:
        CannotRunError: if there is none; the nearest name is proposed.
    """
    by_name = {preset.name: preset for preset in PRESETS}
    if name.lower() in by_name:
        return by_name[name.lower()]
    near = get_close_matches(name.lower(), by_name, n=1)
    fix = f"Did you mean '{near[0]}'? " if near else ""
    raise CannotRunError(f"there is no preset '{name}'", f"{fix}Choose one of {', '.join(by_name)}.")


def range_rows(preset: Preset, members: Sequence[str] = ()) -> list[PresetRow]:
    """Return the rows of a scheme, a block for each member in turn; the first row names the source.

    Raises:
        CannotRunError: if there are more members than blocks, or two with one code.
    """
    rows: list[PresetRow] = [
        {"kind": kind, "first": first, "last": last, "use": use, "notes": notes}
        for kind, first, last, use, notes in preset.rows
    ]
    if preset.blocks:
        rows += _given_out(preset.blocks, members or EXAMPLE_MEMBERS)
    notes = f"{rows[0]['notes']}. Ranges after {preset.citation}; change them as your club likes."
    return [{**rows[0], "notes": notes}, *rows[1:]]


def _given_out(blocks: Blocks, members: Sequence[str]) -> Iterator[PresetRow]:
    firsts = range(blocks.first, blocks.last - blocks.size + 2, blocks.size)
    if len(members) > len(firsts):
        raise CannotRunError(
            f"{len(members)} members are more than the {len(firsts)} blocks of {blocks.size} addresses",
            "Choose a preset with smaller blocks, or name fewer members.",
        )
    _require_codes(members)
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


def _require_codes(members: Sequence[str]) -> None:
    codes = [folded(member) for member in members]
    fix = "Give --member once for each, as in M01."
    for n, member in enumerate(members):
        if not codes[n]:
            raise CannotRunError("a member has no code", fix)
        if codes[n] in codes[:n]:
            raise CannotRunError(f"the member '{member}' is named twice", fix)

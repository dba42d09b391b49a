"""All blocks of the sheet Live together: declared side by side, then filled."""

from collections.abc import Sequence
from dataclasses import dataclass

from rosterkit.live.labels import Readings, Shared, fill_labels, label_blocks
from rosterkit.live.machinery import TITLE, Block, Machinery
from rosterkit.live.places import Places
from rosterkit.live.ranges import fill_ranges, range_blocks
from rosterkit.live.settings import fill_settings, settings_blocks
from rosterkit.live.writing import label_key

MOST_COUNTED = 2000
"""Engines of which Alert counts how many have an address while one types; beyond, it takes seconds."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Facts:
    """What the last fill knew, and what formulas cannot find for themselves."""

    readings: Readings = ()
    shared: Shared = ()
    taken: Sequence[tuple[int, str, int]] = ()
    """Addresses as Answers has them in rising order, each with the first engine's label and how many have it;
    needed beyond ``MOST_COUNTED`` engines only."""


def machinery_for(places: Places, facts: Facts, *, title: str = TITLE) -> Machinery:
    """Make the blocks for a workbook whose sheets stand in these places."""
    taken = Block(
        name="addresses at the last fill",
        columns=("address", "key", "loco", "engines"),
        rows=len(facts.taken),
    )
    machinery = Machinery(
        title=title,
        blocks=[
            *settings_blocks(places),
            *range_blocks(places),
            *label_blocks(places, facts.readings, facts.shared),
            *([taken] if facts.taken else []),
        ],
    )
    fill_settings(machinery, places)
    fill_ranges(machinery, places)
    fill_labels(machinery, places, facts.readings, facts.shared)
    if facts.taken:
        machinery.put(taken.name, "address", [address for address, _, _ in facts.taken])
        machinery.put(taken.name, "key", [label_key(loco) for _, loco, _ in facts.taken])
        machinery.put(taken.name, "loco", [f"'{loco}'" for _, loco, _ in facts.taken])
        machinery.put(taken.name, "engines", [engines for _, _, engines in facts.taken])
    return machinery

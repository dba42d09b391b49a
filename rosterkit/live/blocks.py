"""All blocks of the sheet Live together: declared side by side, then filled."""

from rosterkit.live.accessory_machinery import accessory_blocks, fill_accessories
from rosterkit.live.alerts import fill_words, words_block
from rosterkit.live.asked_address import asked_blocks, fill_asked
from rosterkit.live.consists import consist_blocks, fill_consists
from rosterkit.live.facts import Facts
from rosterkit.live.free_addresses import fill_free, free_blocks
from rosterkit.live.labels import fill_labels, label_blocks
from rosterkit.live.machinery import TITLE, Block, Machinery
from rosterkit.live.places import Places
from rosterkit.live.ranges import fill_ranges, range_blocks
from rosterkit.live.read_cvs import fill_read, read_blocks
from rosterkit.live.settings import fill_settings, settings_blocks


def machinery_for(places: Places, facts: Facts, *, title: str = TITLE) -> Machinery:
    """Make the blocks for a workbook whose sheets stand in these places."""
    taken = Block(
        name="addresses at the last fill",
        columns=("address", "loco", "several"),
        rows=len(facts.taken),
    )
    ranges = range_blocks(places)
    machinery = Machinery(
        title=title,
        blocks=[
            # The longest block comes first: rows below the others are short.
            *([taken] if facts.taken else []),
            *settings_blocks(places),
            *words_block(places),
            *ranges,
            *label_blocks(places, facts.readings, facts.shared),
            *consist_blocks(places),
            *accessory_blocks(places, facts.devices),
            *asked_blocks(places),
            *read_blocks(),
            *free_blocks(places, ranges[0].rows if ranges else 0),
        ],
    )
    fill_settings(machinery, places)
    fill_words(machinery, places)
    fill_ranges(machinery, places)
    fill_labels(machinery, places, facts.readings, facts.shared)
    fill_consists(machinery, places)
    fill_accessories(machinery, places, facts.devices)
    fill_asked(machinery, places)
    fill_read(machinery)
    fill_free(machinery, places)
    if facts.taken:
        machinery.put(taken.name, "address", [address for address, _, _ in facts.taken])
        machinery.put(taken.name, "loco", [f"'{loco}'" for _, loco, _ in facts.taken])
        # Most cells of thousands stay blank, which formulas take for 0.
        machinery.put(taken.name, "several", [1 if engines > 1 else None for _, _, engines in facts.taken])
    return machinery

"""The units that may stand behind a number in a cell, each in its spellings."""

from collections.abc import Mapping, Sequence

from rosterkit.roster.cell_values import Value
from rosterkit.roster.schema import Sheet, folded

Units = Mapping[str, Sequence[str]]
"""By the unit of a column, its spellings, folded, which may stand behind a number."""

FIXED_UNITS: Units = {
    "A": ("a", "amp", "amps", "ampere", "amperes"),
    "s": ("s", "sec", "secs", "second", "seconds"),
}
"""Those that no setting changes."""


def units_of(layout: Sheet, values: Mapping[str, Sequence[Value | None]]) -> Units:
    """Return the spellings of the units that the values of a Layout sheet set, and of the fixed ones."""
    units = dict(FIXED_UNITS)
    for unit, name in (("length unit", "length_unit"), ("speed unit", "speed_unit")):
        column = layout[name]
        chosen = values[name][0] or column.default
        if chosen not in column.choices:
            continue
        also = (spelling for spelling, choice in column.synonyms.items() if choice == chosen)
        units[unit] = (folded(str(chosen)), *also)
    return units

"""Plans: free addresses, the fewest changes for a meet, and speed tables from timed passes.

Nothing here knows of workbooks. Engines kept elsewhere are planned the same way::

    from rosterkit.planning import engines_from, plan_moves

    table = [
        {"key": "M01 2107", "address": 2107, "number": "2107", "owner": "M01"},
        {"key": "M02 2107", "address": 2107, "number": "2107", "owner": "M02"},
    ]
    for move in plan_moves(engines_from(table)).moves:
        print(move.party.name, move.before, "->", move.after, move.because)

The rows of a pandas DataFrame come from ``frame.to_dict("records")``.
"""

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rosterkit.planning.costs import PREFERENCES, Cost
    from rosterkit.planning.freeing import FreeAddress, Wanted, free_addresses
    from rosterkit.planning.freeing_devices import Devices, free_accessories
    from rosterkit.planning.moving import Clash, Move, Plan, Unresolved, plan_moves
    from rosterkit.planning.records import engines_from
    from rosterkit.planning.terms import Consist, Engine, Ground, Stretch

_HOMES = {
    "costs": ("PREFERENCES", "Cost"),
    "freeing_devices": ("Devices", "free_accessories"),
    "freeing": ("FreeAddress", "Wanted", "free_addresses"),
    "moving": ("Clash", "Move", "Plan", "Unresolved", "plan_moves"),
    "records": ("engines_from",),
    "terms": ("Consist", "Engine", "Ground", "Stretch"),
}

__all__ = [
    "PREFERENCES",
    "Clash",
    "Consist",
    "Cost",
    "Devices",
    "Engine",
    "FreeAddress",
    "Ground",
    "Move",
    "Plan",
    "Stretch",
    "Unresolved",
    "Wanted",
    "engines_from",
    "free_accessories",
    "free_addresses",
    "plan_moves",
]


def __getattr__(name: str) -> object:
    """Load a plan's module when it is first asked for: the check of timed runs needs none of them."""
    for home, names in _HOMES.items():
        if name in names:
            return getattr(import_module(f"rosterkit.planning.{home}"), name)
    raise AttributeError(name)

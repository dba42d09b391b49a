"""Plans of addresses: free ones, and the fewest changes for a meet.

Nothing here knows of workbooks. Engines kept elsewhere are planned the same way::

    from rosterkit.planning.addresses import engines_from, plan_moves

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
    from rosterkit.planning.addresses.accessories import Devices, free_accessories
    from rosterkit.planning.addresses.costs import PREFERENCES, Cost
    from rosterkit.planning.addresses.free import FreeAddress, Wanted, free_addresses
    from rosterkit.planning.addresses.model import Consist, Engine, LayoutRules, NumberRange
    from rosterkit.planning.addresses.moves import Clash, Move, Plan, Unresolved, plan_moves
    from rosterkit.planning.addresses.records import engines_from

_HOMES = {
    "costs": ("PREFERENCES", "Cost"),
    "accessories": ("Devices", "free_accessories"),
    "free": ("FreeAddress", "Wanted", "free_addresses"),
    "moves": ("Clash", "Move", "Plan", "Unresolved", "plan_moves"),
    "records": ("engines_from",),
    "model": ("Consist", "Engine", "LayoutRules", "NumberRange"),
}

__all__ = [
    "PREFERENCES",
    "Clash",
    "Consist",
    "Cost",
    "Devices",
    "Engine",
    "FreeAddress",
    "LayoutRules",
    "Move",
    "NumberRange",
    "Plan",
    "Unresolved",
    "Wanted",
    "engines_from",
    "free_accessories",
    "free_addresses",
    "plan_moves",
]


def __getattr__(name: str) -> object:
    """Load a plan's module when it is first asked for: the check of a workbook needs none of them."""
    for home, names in _HOMES.items():
        if name in names:
            return getattr(import_module(f"rosterkit.planning.addresses.{home}"), name)
    raise AttributeError(name)

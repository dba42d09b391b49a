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

from rosterkit.planning.addresses.accessories import Devices, free_accessories
from rosterkit.planning.addresses.costs import PREFERENCES, Cost
from rosterkit.planning.addresses.free import FreeAddress, Wanted, free_addresses
from rosterkit.planning.addresses.model import Consist, Engine, LayoutRules, NumberRange
from rosterkit.planning.addresses.moves import Clash, Move, Plan, Unresolved, plan_moves
from rosterkit.planning.addresses.records import engines_from

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

"""What a plan costs: engines in a clash, engines changed, and the preferences that break ties, in order."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields
from operator import add, attrgetter

from rosterkit.cv.number_to_address import NOT_KEPT
from rosterkit.planning.addresses.allowed import SIZE
from rosterkit.planning.addresses.parties import Party


@dataclass(frozen=True, slots=True, kw_only=True)
class Cost:
    """A plan's cost item by item; an earlier item goes before all later ones together."""

    unresolved: int = 0
    """Engines left without an address of their own."""
    agreed: int = 0
    """Engines that change an address agreed for this meet, but for a club engine of the same address."""
    moved: int = 0
    """Engines that change their address, or their consist's; each counts once, though both may change."""
    club: int = 0
    """Club engines among them."""
    seniority: int = 0
    """Sum of how many registered later than each of them: the sooner registered, the dearer to move."""
    short_only: int = 0
    """Engines among them that cannot take a long address."""
    number_lost: int = 0
    """Sum of the grades of the new addresses: 0 is the number itself, 6 keeps nothing of it."""
    outside: int = 0
    """New addresses outside the owner's own range, where the owner has one."""
    ambiguous: int = 0
    """New addresses that some systems take for the other kind."""
    distance: int = 0
    """Sum of the distances from the number, or from the old address where there is no number."""
    turn: int = 0
    """Sum of how many are listed after each of them: where all else is equal, the first in the list stays."""

    def __add__(self, other: "Cost") -> "Cost":
        return Cost(**dict(zip(_ITEMS, map(add, _VALUES(self), _VALUES(other)), strict=True)))


_ITEMS = tuple(one.name for one in fields(Cost))
_VALUES = attrgetter(*_ITEMS)

_ALWAYS = ("unresolved", "agreed", "moved")
"""The items that come first, whatever is preferred."""
PREFERENCES = _ITEMS[len(_ALWAYS) :]
"""The items that break ties between plans that change as many engines, the gravest first."""

Weights = Mapping[str, int]
"""By item a whole number, such that each outweighs all items after it together."""


def weighed(cost: Cost, weights: Weights) -> int:
    """Return a cost as one number; of two plans the one with the smaller number is the better."""
    return sum(weight * getattr(cost, item) for item, weight in weights.items())


def weights_for(parties: Sequence[Party], preferences: Sequence[str] = PREFERENCES) -> Weights:
    """Return the weights for so many parties.

    ValueError if the preferences are not those of PREFERENCES, each once, in some order.
    """
    if sorted(preferences) != sorted(PREFERENCES):
        raise ValueError(f"preferences {', '.join(preferences)}, not {', '.join(PREFERENCES)} in some order")
    number = len(parties)
    engines = sum(party.weight for party in parties)
    most = dict.fromkeys((*_ALWAYS, "club", "short_only"), engines) | {
        "seniority": number * number,
        "number_lost": NOT_KEPT * number,
        "outside": number,
        "ambiguous": number,
        "distance": SIZE * number,
        "turn": number * number,
    }
    weight, weights = 1, {}
    for item in reversed((*_ALWAYS, *preferences)):
        weights[item] = weight
        weight *= most[item] + 1
    return weights

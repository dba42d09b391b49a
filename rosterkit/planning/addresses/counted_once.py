"""Each engine counted once, though both its own address and that of its consist may change."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import TypeVar

from rosterkit.planning.addresses.costs import Cost, Weights, weighed
from rosterkit.planning.addresses.parties import Party, PartyKind

_Plan = TypeVar("_Plan")


def engines_of(parties: Iterable[Party]) -> frozenset[str]:
    """Return the engines of some parties, each once."""
    return frozenset(key for party in parties for key in party.engines)


def counts_beside(parties: Sequence[Party], moving: Sequence[Party]) -> Iterator[list[int]]:
    """Return what each party adds to the engines that change, beside a plan in which some parties move.

    A consist adds no engine that changes its own address anyway, and an engine nothing where its consist
    moves anyway. Each is told apart from the other: if both counted for nothing, neither would be missed.
    Nothing is returned that would be no other count than that of all engines.
    """
    consists = engines_of(one for one in moving if one.kind is PartyKind.CONSIST)
    alone = engines_of(one for one in moving if one.kind is not PartyKind.CONSIST)
    for of_consists, changed in ((True, alone), (False, consists)):
        counts = [
            len(set(party.engines) - changed)
            if (party.kind is PartyKind.CONSIST) is of_consists
            else party.weight
            for party in parties
        ]
        if counts != [party.weight for party in parties]:
            yield counts


def cheapest_counted_once(
    parties: Sequence[Party],
    weights: Weights,
    planned: Callable[[Sequence[int]], _Plan],
    told: Callable[[_Plan], tuple[Sequence[Party], Cost]],
) -> _Plan:
    """Return the best plan found by planning again as long as another count of the engines makes it cheaper.

    Args:
        parties: Those of one layout.
        weights: What each item of a cost weighs.
        planned: Makes the cheapest plan where each party that moves adds so many engines.
        told: Tells of a plan which parties move, and what it costs with each engine counted once.
    """
    best = planned([party.weight for party in parties])
    tried: list[list[int]] = []
    while True:
        moving, cost = told(best)
        counts = [some for some in counts_beside(parties, moving) if some not in tried]
        tried += counts
        others = [planned(some) for some in counts]
        better = min(others, key=lambda plan: weighed(told(plan)[1], weights), default=best)
        if weighed(told(better)[1], weights) >= weighed(cost, weights):
            return best
        best = better

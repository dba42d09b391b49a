"""A plan's least cost worked out apart from the planner: every party against every address, by scipy.

The order of the items and the grades are written down here once more, from the documentation of Cost.
"""

import re
from collections.abc import Sequence
from functools import cache

import numpy as np
from scipy.optimize import linear_sum_assignment

from rosterkit.addressing import Address, Space
from rosterkit.planning import Cost, Engine, Ground, Stretch

ITEMS = (
    "unresolved",
    "moved",
    "club",
    "seniority",
    "short_only",
    "number_lost",
    "outside",
    "doubtful",
    "distance",
    "turn",
)
_EVERY = [Address(Space.SHORT, n) for n in range(1, 128)] + [Address(Space.LONG, n) for n in range(1, 10240)]


@cache
def _ruler(address: Address, stretches: tuple[Stretch, ...]) -> tuple[str, str, str | None] | None:
    kinds = ("long",) if address.space is Space.LONG else ("short", "consist")
    inside = [one for one in stretches if one.kind in kinds and one.first <= address.number <= one.last]
    if not inside:
        return None
    smallest = min(inside, key=lambda one: one.last - one.first)
    return smallest.kind, smallest.use, smallest.member


@cache
def _offers(space: Space, owner: str | None, ground: Ground) -> list[tuple[int, int, str | None]]:
    return [
        (one.first, one.last, one.member)
        for one in ground.stretches
        if one.kind == space.value and one.use in ("engines", "meet only") and one.member in (None, owner)
    ]


def may_have(address: Address, engine: Engine, ground: Ground) -> bool:
    """Tell whether an engine may have an address, whoever else has it."""
    driven = ground.shorts if address.space is Space.SHORT else ground.longs
    if address.number not in driven or address == Address(Space.SHORT, 3):
        return False
    if address.space is Space.LONG and not engine.takes_long:
        return False
    ruler = _ruler(address, ground.stretches)
    if ruler is None:
        return not _offers(address.space, engine.owner, ground)
    kind, use, member = ruler
    return kind != "consist" and use in ("engines", "meet only") and member in (None, engine.owner)


def grade_of(number: str | None, address: int, rule: str) -> int:
    """Give how much of a number an address keeps, for numbers that are written in digits only."""
    if number is None or not re.fullmatch("[0-9]+", number):
        return 6
    kept = {"last four digits": 4, "last three digits": 3, "last two digits": 2}.get(rule)
    dropped = {number[:n] + number[n + 1 :] for n in range(len(number))}
    if address == int(number):
        return 0
    if kept and address == int(number[-kept:]):
        return 1
    if len(number) > 4 and address == int(number[-4:]):
        return 2
    if len(number) > 2 and address in {int(rest) for rest in dropped if len(rest) <= 4}:
        return 3
    if 1000 <= address < 10000 and address % 1000 == int(number[-3:]):
        return 4
    return 5 if address in (int(number[-3:]), int(number[-2:])) and len(number) > 2 else 6


@cache
def _own(space: Space, owner: str | None, ground: Ground) -> list[tuple[int, int, str | None]]:
    return [one for one in _offers(space, owner, ground) if one[2] is not None]


def _target(address: Address, engine: Engine, ground: Ground) -> Cost:
    own = _own(address.space, engine.owner, ground)
    short = address.space is Space.SHORT
    number = engine.number
    if number is None:
        near = engine.address.number if engine.address else 0
    else:
        near = int(number) if 1 <= int(number) <= 10239 else int(number[-4:])
    return Cost(
        doubtful=address.number in range(100, 128) if short else not 128 <= address.number <= 9999,
        outside=bool(own) and not any(first <= address.number <= last for first, last, _ in own),
        number_lost=grade_of(number, address.number, ground.address_rule),
        distance=abs(address.number - near),
    )


def least_cost(engines: Sequence[Engine], ground: Ground) -> Cost:
    """Give the least cost of a plan for engines that all run on the same rails, without consists and sets."""
    number = len(engines)
    most = dict.fromkeys(ITEMS, number) | {
        "seniority": number**2,
        "turn": number**2,
        "number_lost": 6 * number,
    }
    most["distance"] = 10240 * number
    weights, weight = {}, 1
    for item in reversed(ITEMS):
        weights[item], weight = weight, weight * (most[item] + 1)
    assert weight < 2**62, "scipy counts in 64 bits; use fewer engines"

    def total(cost: Cost) -> int:
        return sum(weights[item] * int(getattr(cost, item)) for item in ITEMS)

    costs: dict[tuple[int, int], Cost] = {}
    matrix = np.full((number, len(_EVERY) + number), weight, dtype=np.int64)
    for row, engine in enumerate(engines):
        later = sum(other.registered > engine.registered for other in engines)
        standing = {
            "club": int(engine.club),
            "seniority": later,
            "short_only": int(not engine.takes_long),
            "turn": number - 1 - row,
        }
        for column, address in enumerate(_EVERY):
            if may_have(address, engine, ground):
                moving = Cost(moved=1, **standing) + _target(address, engine, ground)
                costs[row, column] = Cost() if address == engine.address else moving
        costs[row, len(_EVERY) + row] = Cost(unresolved=1, **standing)
    for (row, column), cost in costs.items():
        matrix[row, column] = total(cost)
    chosen = linear_sum_assignment(matrix)
    return sum((costs[int(row), int(column)] for row, column in zip(*chosen, strict=True)), Cost())

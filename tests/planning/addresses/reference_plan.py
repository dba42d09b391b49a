"""A plan's least cost worked out apart from the planner: every party against every address, by scipy.

The order of the items and the grades are written down here once more, from the documentation of Cost.
"""

import re
from collections.abc import Iterable, Sequence
from functools import cache
from operator import attrgetter

import numpy as np
import numpy.typing as npt
from scipy.optimize import linear_sum_assignment

from rosterkit.cv.addresses import Address, Space
from rosterkit.planning.addresses import Cost, Engine, LayoutRules, NumberRange

ITEMS = (
    "unresolved",
    "agreed",
    "moved",
    "club",
    "seniority",
    "short_only",
    "number_lost",
    "outside",
    "ambiguous",
    "distance",
    "turn",
)
_EVERY = [Address(Space.SHORT, n) for n in range(1, 128)] + [Address(Space.LONG, n) for n in range(1, 10240)]


Matrix = npt.NDArray[np.int64]


@cache
def _ruler(address: Address, ranges: tuple[NumberRange, ...]) -> tuple[str, str, str | None] | None:
    kinds = ("long",) if address.space is Space.LONG else ("short", "consist")
    inside = [one for one in ranges if one.kind in kinds and one.first <= address.number <= one.last]
    if not inside:
        return None
    smallest = min(inside, key=lambda one: one.last - one.first)
    return smallest.kind, smallest.use, smallest.member


@cache
def _offers(space: Space, owner: str | None, rules: LayoutRules) -> list[tuple[int, int, str | None]]:
    return [
        (one.first, one.last, one.member)
        for one in rules.ranges
        if one.kind == space.value and one.use in ("engines", "meet only") and one.member in (None, owner)
    ]


def may_have(address: Address, engine: Engine, rules: LayoutRules) -> bool:
    """Tell whether an engine may have an address, whoever else has it."""
    driven = rules.shorts if address.space is Space.SHORT else rules.longs
    if address.number not in driven or address == Address(Space.SHORT, 3):
        return False
    if address.space is Space.LONG and not engine.takes_long:
        return False
    ruler = _ruler(address, rules.ranges)
    if ruler is None:
        return not _offers(address.space, engine.owner, rules)
    kind, use, member = ruler
    return kind != "consist" and use in ("engines", "meet only") and member in (None, engine.owner)


def grade_of(number: str | None, address: int, rule: str) -> int:
    """Return how much of a number an address keeps, for numbers that are written in digits only."""
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
def _own(space: Space, owner: str | None, rules: LayoutRules) -> list[tuple[int, int, str | None]]:
    return [one for one in _offers(space, owner, rules) if one[2] is not None]


def _target(address: Address, engine: Engine, rules: LayoutRules) -> Cost:
    own = _own(address.space, engine.owner, rules)
    short = address.space is Space.SHORT
    number = engine.number
    if number is None:
        near = engine.address.number if engine.address else 0
    else:
        near = int(number) if 1 <= int(number) <= 10239 else int(number[-4:])
    return Cost(
        ambiguous=address.number in range(100, 128) if short else not 128 <= address.number <= 9999,
        outside=bool(own) and not any(first <= address.number <= last for first, last, _ in own),
        number_lost=grade_of(number, address.number, rules.address_rule),
        distance=abs(address.number - near),
    )


Pairs = dict[tuple[int, int], Cost]
"""What each engine's choices cost, by its row and a column: an address, or the row's own for none."""


def _pairs(engines: Sequence[Engine], rules: LayoutRules, addresses: Sequence[Address]) -> Pairs:
    pairs: Pairs = {}
    number = len(engines)
    for row, engine in enumerate(engines):
        later = sum(other.registered > engine.registered for other in engines)
        beside = [other for other in engines if other.address == engine.address]
        given_up = any(
            other.club and other.address is not None and may_have(other.address, other, rules)
            for other in beside
        )
        standing = {
            "agreed": int(engine.agreed and (engine.club or not given_up)),
            "club": int(engine.club),
            "seniority": later,
            "short_only": int(not engine.takes_long),
            "turn": number - 1 - row,
        }
        for column, address in enumerate(addresses):
            if may_have(address, engine, rules):
                moving = Cost(moved=1, **standing) + _target(address, engine, rules)
                pairs[row, column] = Cost() if address == engine.address else moving
        pairs[row, len(addresses) + row] = Cost(unresolved=1, **standing)
    return pairs


def _sum(pairs: Pairs, chosen: Iterable[tuple[int, int]]) -> Cost:
    return sum((pairs[pair] for pair in chosen if pair in pairs), Cost())


def least_cost(engines: Sequence[Engine], rules: LayoutRules) -> Cost:
    """Return least cost of a plan for engines that all run on the same layout, without consists and sets."""
    pairs = _pairs(engines, rules, _EVERY)
    places = np.array(list(pairs)).T
    values = _values(pairs)
    most = np.zeros((len(engines), len(ITEMS)), dtype=np.int64)
    np.maximum.at(most, places[0], values)
    # Each item outweighs all after it together, and the last weight outweighs everything.
    weights = [1]
    for item in reversed(most.sum(axis=0).tolist()):
        weights.append(weights[-1] * (item + 1))
    assert weights[-1] < 2**53, "scipy counts in doubles; use least_cost_of_a_crowd"
    matrix = np.full((len(engines), len(_EVERY) + len(engines)), weights[-1], dtype=np.int64)
    matrix[places[0], places[1]] = values @ np.array(weights[-2::-1])
    rows, columns = linear_sum_assignment(matrix)
    return _sum(pairs, zip(rows.tolist(), columns.tolist(), strict=True))


def _values(pairs: Pairs) -> Matrix:
    return np.array([attrgetter(*ITEMS)(cost) for cost in pairs.values()], dtype=np.int64)


def least_cost_of_a_crowd(engines: Sequence[Engine], rules: LayoutRules) -> Cost:
    """Return the same for many engines and few addresses, item after item without any weights.

    Of the pairs that are left, those stay that the cheapest plans by one item are made of: the tight ones
    under prices that prove it. Rows are added that cost nothing, one for each column that is left over.
    """
    drivable = {Space.SHORT: rules.shorts, Space.LONG: rules.longs}
    addresses = [address for address in _EVERY if address.number in drivable[address.space]]
    pairs = _pairs(engines, rules, addresses)
    size = len(addresses) + len(engines)
    places = np.array(list(pairs)).T
    allowed = np.zeros((size, size), dtype=np.bool_)
    allowed[len(engines) :] = True
    allowed[places[0], places[1]] = True
    columns = np.arange(size)
    for values in _values(pairs).T:
        matrix = np.zeros((size, size), dtype=np.int64)
        matrix[places[0], places[1]] = values
        matrix[~allowed] = 1 + values.max() * size
        columns = linear_sum_assignment(matrix)[1]
        allowed &= _tight(matrix, columns)
    return _sum(pairs, enumerate(columns.tolist()))


def _tight(matrix: Matrix, columns: Matrix) -> npt.NDArray[np.bool_]:
    """Mark the pairs that cost no more than the prices of their ends, worked out from a cheapest assignment.

    The prices are shortest distances over exchanges of columns (R. Bellman, L. R. Ford).
    """
    exchange = matrix - matrix[np.arange(len(matrix)), columns][:, None]
    prices = np.zeros(len(matrix), dtype=np.int64)
    while True:
        nearer = np.minimum(prices, (exchange + prices[columns][:, None]).min(axis=0))
        if (nearer == prices).all():
            tight: npt.NDArray[np.bool_] = exchange + prices[columns][:, None] == prices
            return tight
        prices = nearer

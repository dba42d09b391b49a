"""Plans of crowded layouts: never dearer than scipy's, with and without rough prices first."""

import random

import pytest

from rosterkit.cv.addresses import Address, Space
from rosterkit.planning.addresses import Consist, Engine, LayoutRules, NumberRange, plan_moves
from rosterkit.planning.addresses import coarse_to_fine as crowding

from .reference_plan import least_cost_of_a_crowd

BARE = LayoutRules(shorts=range(1, 15), longs=range(300, 365))
RANGES = LayoutRules(
    shorts=range(1, 15),
    longs=range(300, 365),
    address_rule="last two digits",
    ranges=(
        NumberRange(kind="short", first=8, last=9, use="engines", member="M01"),
        NumberRange(kind="long", first=300, last=350, use="engines"),
        NumberRange(kind="long", first=320, last=322, use="devices"),
        NumberRange(kind="long", first=330, last=334, use="engines", member="M01"),
        NumberRange(kind="long", first=351, last=364, use="engines", member="M02"),
    ),
)


def crowd(seed: int, number: int) -> list[Engine]:
    """Return three members' engines, some without address, a number or a decoder that takes long ones."""
    chance = random.Random(seed)  # noqa: S311 - the same engines at every run
    engines = []
    for turn in range(number):
        short, long = Address(Space.SHORT, chance.randrange(1, 15)), chance.randrange(296, 370)
        engines.append(
            Engine(
                key=str(turn),
                address=chance.choice([None, short, *[Address(Space.LONG, long)] * 6]),
                number=chance.choice([None, str(long), str(long), str(chance.randrange(1000, 9999))]),
                owner=chance.choice(["M01", "M02", "M03"]),
                takes_long=chance.random() > 0.1,
                registered=chance.randrange(2) if seed % 2 else 0,
            )
        )
    return engines


@pytest.mark.parametrize(
    "margins",
    [None, (4,), (-16, 1), (-16,)],
    ids=["at once", "rough prices first", "rough prices too high once", "rough prices too high"],
)
@pytest.mark.parametrize("number", [40, 78, 95], ids=lambda number: f"{number} engines")
@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("rules", [BARE, RANGES], ids=["no ranges", "ranges of members"])
def test_no_plan_of_a_crowd_costs_less(
    rules: LayoutRules,
    seed: int,
    number: int,
    margins: tuple[int, ...] | None,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    if margins is not None:
        monkeypatch.setattr(crowding, "MARGINS", margins)
        monkeypatch.setattr(crowding, "CROWD", 1)
        monkeypatch.setattr(crowding, "GRAIN", 8)
        monkeypatch.setattr(crowding, "FINER", 2)
    engines = crowd(seed, number)

    plan = plan_moves(engines, rules_by_layout={"": rules})

    assert plan.cost == least_cost_of_a_crowd(engines, rules)


def at(number: int) -> Address:
    return Address(Space.LONG, number)


GUEST = LayoutRules(
    shorts=range(0),
    longs=range(300, 311),
    ranges=(
        NumberRange(kind="long", first=300, last=302, use="engines"),
        NumberRange(kind="long", first=310, last=310, use="engines", member="M01"),
    ),
)
"""Three addresses for everybody, and one for a member."""


def test_who_is_alone_at_an_address_makes_room_where_another_has_nowhere_else_to_go() -> None:
    engines = [
        Engine(key="owner", address=at(300), owner="M01", registered=0),
        *[Engine(key=f"guest {n}", address=at(n), owner="M02", registered=n) for n in (301, 302)],
        Engine(key="last guest", address=at(301), owner="M02", registered=400),
    ]

    plan = plan_moves(engines, rules_by_layout={"": GUEST})

    assert {move.party.name: move.after for move in plan.moves} == {"owner": at(310), "last guest": at(300)}
    assert plan.unresolved == ()


def test_who_registered_long_before_another_makes_room_where_that_one_has_nowhere_else_to_go() -> None:
    engines = [
        Engine(key="owner", address=at(300), owner="M01", registered=0),
        *[Engine(key=f"guest {n}", address=at(n), owner="M02", registered=n) for n in (301, 302)],
        Engine(key="last guest", address=at(300), owner="M02", registered=400),
    ]

    plan = plan_moves(engines, rules_by_layout={"": GUEST})

    assert {move.party.name: move.after for move in plan.moves} == {"owner": at(310)}
    assert plan.unresolved == ()


def test_a_crowd_costs_the_same_whether_rough_prices_come_first_or_not(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    rules = LayoutRules(shorts=range(1, 128), longs=range(300, 1500))
    chance = random.Random(1)  # noqa: S311 - the same engines at every run
    numbers = [chance.randrange(300, 1200) for _ in range(2200)]
    engines = [
        Engine(key=str(turn), address=Address(Space.LONG, number), number=str(number), registered=turn)
        for turn, number in enumerate(numbers)
    ]
    consists = [
        Consist(key=f"C{number}", address=Address(Space.SHORT, number % 7 + 1), engines=(str(number),))
        for number in range(40)
    ]

    plan = plan_moves(engines, consists, {"": rules})

    monkeypatch.setattr(crowding, "CROWD", 10**9)
    assert plan.cost == plan_moves(engines, consists, {"": rules}).cost
    # 126 short addresses, since 3 is never given, and 1,200 long ones for 2,240 parties.
    assert plan.cost.unresolved == 2240 - 1326
    assert len({move.after for move in plan.moves}) == len(plan.moves)

"""Plans of moves: never dearer than scipy's, and what holds for every one of them."""

from collections import Counter
from typing import cast

import pandas as pd
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rosterkit.cv.addresses import Address, Space
from rosterkit.planning.addresses import (
    Consist,
    Cost,
    Engine,
    LayoutRules,
    NumberRange,
    Plan,
    engines_from,
    plan_moves,
)
from rosterkit.planning.addresses.parties import PartyKind
from tests.packets import locomotive_head

from .reference_plan import least_cost, least_cost_of_a_crowd, may_have

OPEN = LayoutRules()
CLUB = LayoutRules(
    shorts=range(1, 100),
    longs=range(128, 10000),
    address_rule="last three digits",
    ranges=(
        NumberRange(kind="short", first=1, last=79, use="engines"),
        NumberRange(kind="consist", first=80, last=99, use="consists"),
        NumberRange(kind="long", first=128, last=9999, use="engines"),
        NumberRange(kind="long", first=2100, last=2109, use="engines", member="M01"),
        NumberRange(kind="long", first=2110, last=2119, use="engines", member="M02"),
        NumberRange(kind="long", first=200, last=299, use="devices"),
        NumberRange(kind="long", first=9900, last=9999, use="meet only"),
    ),
)
TIGHT = LayoutRules(
    shorts=range(1, 7),
    longs=range(200, 204),
    ranges=(NumberRange(kind="short", first=5, last=6, use="engines", member="M01"),),
)
GROUNDS = {"no rules": OPEN, "a club's ranges": CLUB, "hardly any room": TIGHT}

_NUMBERS = st.sampled_from([None, "5", "21", "115", "203", "2103", "2114", "9921", "47022", "0418"])
_ADDRESSES = st.one_of(
    st.none(),
    st.builds(Address, st.just(Space.SHORT), st.sampled_from([1, 2, 3, 5, 21, 85, 115])),
    st.builds(Address, st.just(Space.LONG), st.sampled_from([5, 200, 203, 250, 2103, 2114, 9921, 10100])),
)


@st.composite
def meets(draw: st.DrawFn, most: int = 7) -> list[Engine]:
    number = draw(st.integers(1, most))
    return [
        Engine(
            key=f"engine {turn}",
            address=draw(_ADDRESSES),
            number=draw(_NUMBERS),
            owner=draw(st.sampled_from([None, "M01", "M02", "M03"])),
            takes_long=draw(st.booleans()),
            club=draw(st.booleans()),
            agreed=draw(st.booleans()),
            registered=draw(st.integers(0, 3)),
        )
        for turn in range(number)
    ]


def after(plan: Plan, engines: list[Engine]) -> dict[str, Address | None]:
    moves = [move for move in plan.moves if move.party.kind is not PartyKind.CONSIST]
    moved = {key: move.after for move in moves for key in move.party.engines}
    return {engine.key: moved.get(engine.key, engine.address) for engine in engines}


@pytest.mark.parametrize("rules", GROUNDS.values(), ids=GROUNDS.keys())
@settings(max_examples=30, deadline=None)
@given(engines=meets())
def test_no_plan_costs_less(rules: LayoutRules, engines: list[Engine]) -> None:
    plan = plan_moves(engines, rules_by_layout={"": rules})

    assert plan.cost == least_cost(engines, rules)


@settings(max_examples=60, deadline=None)
@given(engines=meets(most=20))
def test_no_plan_costs_less_where_most_engines_find_no_room(engines: list[Engine]) -> None:
    plan = plan_moves(engines, rules_by_layout={"": TIGHT})

    assert plan.cost == least_cost_of_a_crowd(engines, TIGHT)


@pytest.mark.parametrize("rules", GROUNDS.values(), ids=GROUNDS.keys())
@settings(max_examples=100, deadline=None)
@given(engines=meets(most=12))
def test_after_the_plan_no_two_engines_share_an_address_that_was_given_or_kept(
    rules: LayoutRules, engines: list[Engine]
) -> None:
    plan = plan_moves(engines, rules_by_layout={"": rules})

    left = {key for one in plan.unresolved for key in one.party.engines}
    answers = [address for key, address in after(plan, engines).items() if key not in left]
    assert len(answers) == len(set(answers))
    by_key = {engine.key: engine for engine in engines}
    assert all(may_have(move.after, by_key[move.party.name], rules) for move in plan.moves)
    assert all(one.because and one.helps for one in plan.unresolved)


@settings(max_examples=100, deadline=None)
@given(engines=meets(most=12))
def test_nothing_moves_that_did_not_have_to(engines: list[Engine]) -> None:
    plan = plan_moves(engines)

    allowed = {engine.key for engine in engines if engine.address and may_have(engine.address, engine, OPEN)}
    sharing = Counter(engine.address for engine in engines if engine.key in allowed)
    forced = len(engines) - len(allowed)
    assert not plan.unresolved
    assert plan.cost.moved == forced + sum(count - 1 for count in sharing.values())
    for move in plan.moves:
        assert move.party.name not in allowed or sharing[move.before] > 1


@settings(max_examples=60, deadline=None)
@given(engines=meets(most=12))
def test_a_second_plan_has_nothing_to_do(engines: list[Engine]) -> None:
    plan = plan_moves(engines, rules_by_layout={"": CLUB})
    moved = after(plan, engines)
    left = {one.party.name for one in plan.unresolved}
    again = [
        Engine(key=engine.key, address=moved[engine.key], owner=engine.owner, takes_long=engine.takes_long)
        for engine in engines
        if engine.key not in left
    ]

    second = plan_moves(again, rules_by_layout={"": CLUB})

    assert second.moves == ()
    assert second.clashes == ()


@settings(max_examples=60, deadline=None)
@given(engines=meets(most=12))
def test_the_clashes_are_those_that_a_group_by_finds(engines: list[Engine]) -> None:
    plan = plan_moves(engines)

    frame = pd.DataFrame(
        [(e.key, e.address.space.value, e.address.number) for e in engines if e.address],
        columns=["key", "kind", "number"],
    )
    groups = frame.groupby(["kind", "number"])["key"].agg(set)
    expected = {address: keys for address, keys in groups.items() if len(keys) > 1}
    found = {
        (clash.address.space.value, clash.address.number): {party.name for party in clash.parties}
        for clash in plan.clashes
    }
    assert found == expected


def test_the_two_spaces_are_those_that_the_first_byte_of_a_packet_tells_apart() -> None:
    source = "NMRA S-9.2.1 (Jul 2012), section A: 1 to 127 short, 192 to 231 long"
    assert {locomotive_head(number)[0] for number in range(1, 128)} <= set(range(1, 128)), source
    assert {locomotive_head(n, long=True)[0] for n in range(1, 10240)} == set(range(192, 232)), source
    for number in (5, 99, 127):
        plan = plan_moves(
            [
                Engine(key="short", address=Address(Space.SHORT, number)),
                Engine(key="long", address=Address(Space.LONG, number)),
            ]
        )
        assert plan.moves == (), source


def short(number: int) -> Address:
    return Address(Space.SHORT, number)


def long(number: int) -> Address:
    return Address(Space.LONG, number)


def moved(plan: Plan) -> dict[str, Address]:
    return {move.party.name: move.after for move in plan.moves}


@pytest.mark.parametrize(
    ("engines", "expected"),
    [
        pytest.param(
            [
                Engine(key="guest", address=long(2107), number="2107", registered=0),
                Engine(key="club", address=long(2107), number="2107", registered=1, club=True),
            ],
            {"guest": long(217)},
            id="a club engine stays, and the other drops a digit",
        ),
        pytest.param(
            [
                Engine(key="newcomer", address=long(2107), number="2107", registered=0),
                Engine(key="agreed", address=long(2107), number="55", registered=1, agreed=True),
            ],
            {"newcomer": long(217)},
            id="an address agreed for the meet is kept, and the newcomer moves",
        ),
        pytest.param(
            [
                Engine(key="agreed", address=long(2107), number="2107", registered=0, agreed=True),
                Engine(key="club", address=long(2107), number="2107", registered=1, club=True),
            ],
            {"agreed": long(217)},
            id="a club engine stays before an agreed address",
        ),
        pytest.param(
            [
                Engine(key="club", address=long(2107), number="2107", registered=0, club=True),
                Engine(key="agreed", address=long(2107), number="55", registered=1, club=True, agreed=True),
            ],
            {"club": long(217)},
            id="of two club engines the agreed one stays",
        ),
        pytest.param(
            [
                Engine(key="front", address=long(2107), number="2107", shares="unit", registered=0),
                Engine(key="rear", address=long(2107), number="2107", shares="unit", registered=0),
                Engine(key="agreed", address=long(2107), number="55", agreed=True),
            ],
            {"front": long(217)},
            id="an agreed address is kept even if more engines change",
        ),
        pytest.param(
            [
                Engine(key="late", address=long(2107), number="2107", registered=1),
                Engine(key="soon", address=long(2107), number="2107", registered=0),
            ],
            {"late": long(217)},
            id="who registered first stays",
        ),
        pytest.param(
            [
                Engine(key="other", address=short(12), number="5412", registered=1),
                Engine(key="old decoder", address=short(12), takes_long=False, registered=1),
            ],
            {"other": long(5412)},
            id="of engines registered on one day the one that cannot take a long address stays",
        ),
        pytest.param(
            [
                Engine(key="old decoder", address=short(12), takes_long=False, registered=1),
                Engine(key="other", address=short(12), number="5412", registered=0),
            ],
            {"old decoder": short(13)},
            id="who registered first stays, even if the other cannot take a long address",
        ),
        pytest.param(
            [
                Engine(key="first in the list", address=long(5412), number="5412"),
                Engine(key="second in the list", address=long(5412), number="5412"),
            ],
            {"second in the list": long(542)},
            id="where nothing else tells them apart the first in the list stays",
        ),
        pytest.param(
            [
                Engine(key="unregistered", address=long(5412), number="5412"),
                Engine(key="registered", address=long(5412), number="5412", registered=5),
            ],
            {"unregistered": long(542)},
            id="who registered at all stays before who did not",
        ),
        pytest.param(
            [Engine(key="new", address=short(3), number="47022")],
            {"new": long(7022)},
            id="an engine at 3 takes the last four digits of its number",
        ),
        pytest.param(
            [
                Engine(key="a", address=long(600), number="600", registered=0),
                Engine(key="b", address=long(600), number="600", registered=1),
                Engine(key="c", address=long(600), number="600", registered=2),
            ],
            {"b": short(60), "c": long(60)},
            id="of a triple one stays, and the others keep two of three digits, doubtful or not",
        ),
        pytest.param(
            [
                Engine(key="a", address=long(5), number="5", layout="N"),
                Engine(key="b", address=long(5), number="5", layout="HO"),
            ],
            {},
            id="engines on different rails never meet",
        ),
    ],
)
def test_ties_are_broken_as_stated(engines: list[Engine], expected: dict[str, Address]) -> None:
    assert moved(plan_moves(engines)) == expected


def test_the_order_of_the_preferences_can_be_changed() -> None:
    engines = [
        Engine(key="guest", address=long(2107), registered=0),
        Engine(key="club", address=long(2107), registered=1, club=True),
    ]
    order = ("seniority", "club", "short_only", "ambiguous", "outside", "number_lost", "distance", "turn")

    plan = plan_moves(engines, preferences=order)

    assert moved(plan) == {"club": long(2108)}


def test_an_engine_gives_up_its_address_only_where_another_could_not_run_without_it() -> None:
    rules = LayoutRules(shorts=range(5, 7), longs=range(1000, 1010))
    engines = [
        Engine(key="old 1", address=short(5), takes_long=False, registered=0),
        Engine(key="old 2", address=short(5), takes_long=False, registered=1),
        Engine(key="new", address=short(6), number="1006", registered=2),
    ]

    plan = plan_moves(engines, rules_by_layout={"": rules})

    assert moved(plan) == {"old 2": short(6), "new": long(1006)}
    assert "makes room" in next(move.because for move in plan.moves if move.party.name == "new")


def test_a_consist_moves_as_a_whole_where_that_changes_fewer_engines() -> None:
    engines = [
        Engine(key="a", address=long(2101)),
        Engine(key="b", address=long(2102)),
        Engine(key="railcar", address=short(81), takes_long=False),
    ]
    consist = Consist(key="double", address=short(81), engines=("a", "b"))

    plan = plan_moves(engines, [consist], {"": OPEN})

    assert moved(plan) == {"railcar": short(82)}
    assert plan.cost == Cost(moved=1, short_only=1, seniority=0, number_lost=6, distance=1)


def _lead(**more: object) -> Engine:
    return Engine(key="lead", address=short(81), **more)  # type: ignore[arg-type]


_TRAIN = Consist(key="train", address=short(81), engines=("lead", "rear"))
_REAR = Engine(key="rear", address=long(3102))


@pytest.mark.parametrize(
    ("others", "rules", "expected"),
    [
        pytest.param([], OPEN, {}, id="alone there they stay"),
        pytest.param(
            [Engine(key="guest", address=short(81))], OPEN, {"guest": short(82)}, id="a guest moves"
        ),
        pytest.param(
            [Engine(key="club", address=short(81), agreed=True, club=True)],
            OPEN,
            {"lead": short(80), "train": short(82)},
            id="a club engine stays, and the lead and the consist part",
        ),
        pytest.param(
            [], CLUB, {"lead": short(79)}, id="in a range that is for consists the consist stays alone"
        ),
    ],
)
def test_a_consist_at_the_address_of_its_lead(
    others: list[Engine], rules: LayoutRules, expected: dict[str, Address]
) -> None:
    plan = plan_moves([_lead(), _REAR, *others], [_TRAIN], {"": rules})

    assert moved(plan) == expected
    assert [{party.name for party in clash.parties} for clash in plan.clashes] == [
        {"train", *(other.key for other in others), *(("lead",) if "train" in expected else ())}
        for _ in others
    ]


def test_the_consist_of_another_engine_is_a_clash() -> None:
    plan = plan_moves([_lead(), _REAR], [Consist(key="other", address=short(81), engines=("rear",))])

    assert moved(plan) == {"other": short(82)}
    assert len(plan.clashes) == 1


@settings(max_examples=60, deadline=None)
@given(engines=meets(most=8), data=st.data())
def test_consists_never_end_at_an_address_of_others(engines: list[Engine], data: st.DataObject) -> None:
    keys = [engine.key for engine in engines]
    consists = [
        Consist(
            key=f"consist {n}",
            address=short(data.draw(st.sampled_from([5, 21, 85, 115]))),
            engines=tuple(data.draw(st.lists(st.sampled_from(keys), min_size=1, unique=True))),
            agreed=data.draw(st.booleans()),
        )
        for n in range(data.draw(st.integers(0, 2)))
    ]

    plan = plan_moves(engines, consists)

    new = moved(plan)
    answers = after(plan, engines) | {one.key: new.get(one.key, one.address) for one in consists}
    for one in consists:
        others = {key for key, address in answers.items() if address == answers[one.key]} - {one.key}
        assert others <= set(one.engines)
    alone = [answers[engine.key] for engine in engines]
    assert len(alone) == len(set(alone))
    assert plan.cost.moved == len({key for move in plan.moves for key in move.party.engines})


def test_two_consists_at_one_address_are_told_apart_by_moving_the_smaller() -> None:
    engines = [Engine(key=key, address=long(number)) for number, key in enumerate("abcde", 5101)]
    consists = [
        Consist(key="pair", address=short(85), engines=("a", "b")),
        Consist(key="three", address=short(85), engines=("c", "d", "e")),
    ]

    plan = plan_moves(engines, consists, {"": CLUB})

    assert moved(plan) == {"pair": short(86)}
    assert plan.moves[0].party.kind is PartyKind.CONSIST
    assert plan.cost.moved == 2


@pytest.mark.parametrize("first", ["n", "d"])
def test_of_two_consists_that_one_moves_whose_engines_change_anyway(first: str) -> None:
    own = {"n": [1601, 2101], "d": [4001, 4002]}
    order = sorted(own, key=lambda name: name != first)
    engines = [Engine(key=f"{name}{at}", address=long(own[name][at])) for name in order for at in (0, 1)]
    engines += [Engine(key=f"k{number}", address=long(number), agreed=True) for number in own["n"]]
    consists = [Consist(key=name, address=short(85), engines=(f"{name}0", f"{name}1")) for name in order]

    plan = plan_moves(engines, consists)

    assert {move.party.name for move in plan.moves} == {"n0", "n1", "n"}
    assert plan.cost.moved == 2


@pytest.mark.parametrize("first", ["a", "b"])
def test_of_two_engines_that_one_moves_whose_consist_changes_anyway(first: str) -> None:
    order = sorted("ab", key=lambda name: name != first)
    engines = [Engine(key=name, address=long(3001)) for name in order]

    plan = plan_moves(engines, [Consist(key="of a", address=short(3), engines=("a",))], {"": CLUB})

    assert {move.party.name for move in plan.moves} == {"a", "of a"}
    assert plan.cost.moved == 1


def test_engines_that_share_on_purpose_stay_together() -> None:
    engines = [
        Engine(key="front", address=long(600), number="600", shares="unit 6", registered=1),
        Engine(key="rear", address=long(600), number="600", shares="unit 6", registered=2),
        Engine(key="other", address=long(600), number="1600", registered=0),
    ]

    plan = plan_moves(engines)

    assert moved(plan) == {"other": long(1600)}


def test_a_set_that_has_to_move_takes_all_its_engines_to_one_address() -> None:
    engines = [
        Engine(key="front", address=short(3), number="600", shares="unit 6"),
        Engine(key="rear", address=short(3), number="601", shares="unit 6"),
    ]

    plan = plan_moves(engines)

    assert [(move.party.engines, move.after) for move in plan.moves] == [(("front", "rear"), long(600))]


def test_what_cannot_be_resolved_is_said_with_what_would_help() -> None:
    engines = [Engine(key=key, address=short(1), takes_long=False) for key in ("a", "b", "c")]

    plan = plan_moves(engines, rules_by_layout={"": LayoutRules(shorts=range(1, 3))})

    assert len(plan.moves) == 1
    assert [(one.party.name, one.helps) for one in plan.unresolved] == [
        ("c", "Give it a decoder that takes long addresses, or leave another short engine at home.")
    ]
    assert plan.unresolved[0].because == "short 1 is also the address of a and b"


def test_a_plain_table_is_planned_like_a_workbook() -> None:
    frame = pd.DataFrame(
        {
            "key": ["M01 2107", "M02 2107", "M03 shunter"],
            "address": [2107, 2107, None],
            "number": ["2107", "2107", "31"],
            "owner": ["M01", "M02", "M03"],
        }
    )

    plan = plan_moves(engines_from(cast("list[dict[str, object]]", frame.to_dict("records"))))

    assert moved(plan) == {"M02 2107": long(217), "M03 shunter": short(31)}


@pytest.mark.parametrize(
    ("row", "message"),
    [
        ({"address": 5}, "row 0: no key"),
        ({"key": "a", "adress": 5}, "row 0: unknown column 'adress'"),
        ({"key": "a", "address": 5.5}, "row 0: address 5.5 is not a whole number"),
        ({"key": "a", "address": 5, "kind": "medium"}, "row 0: kind 'medium' is not short or long"),
    ],
    ids=["no key", "an unknown column", "an address with a fraction", "an unknown kind"],
)
def test_a_table_that_cannot_be_meant_is_refused(row: dict[str, object], message: str) -> None:
    with pytest.raises(ValueError, match=message):
        list(engines_from([row]))


def test_an_engine_that_stands_twice_is_refused() -> None:
    with pytest.raises(ValueError, match="the engine 'a' stands twice"):
        plan_moves([Engine(key="a", address=None), Engine(key="a", address=None)])


def test_of_more_engines_than_there_are_addresses_as_many_run_as_there_are() -> None:
    rules = LayoutRules(shorts=range(1, 12), longs=range(128, 218))
    engines = [Engine(key=str(n), address=long(128 + n % 50), registered=n) for n in range(150)]

    plan = plan_moves(engines, rules_by_layout={"": rules})

    # Ten short addresses, since 3 is never given, and 90 long ones.
    assert (plan.cost.moved, plan.cost.unresolved) == (50, 50)
    assert {one.helps for one in plan.unresolved} == {
        "150 come to a layout of 100 addresses: spread them, by Meet layout, over several."
    }


def test_a_table_may_name_the_layout_rails_as_it_did_before() -> None:
    row = {"key": "A", "address": 12}

    assert list(engines_from([row | {"rails": "N"}])) == list(engines_from([row | {"layout": "N"}]))

"""Cards: what to key in for each engine, in order, with what is to be minded."""

import pytest

from rosterkit.cards.card import Card, CardOptions, cards_of, unknown_labels
from rosterkit.cards.steps import READ, Step
from tests.rosters import roster


def _cards(*engines: dict[str, object], **layout: object) -> list[Card]:
    settings = {name.replace("_", " "): value for name, value in layout.items()}
    return cards_of(roster(engines, layout=settings))


def _keyed(card: Card) -> list[Step]:
    return [step for step in card.steps if step.state != READ]


def test_a_card_has_the_cvs_in_the_order_for_keying_in() -> None:
    (card,) = _cards({"Loco": "JV 2101", "Address": 2101, "Vstart": 8, "Vhigh": 200})

    assert [(step.cv, step.value, step.bits) for step in _keyed(card)] == [
        (19, 0, "0000 0000"),
        (17, 200, "1100 1000"),
        (18, 53, "0011 0101"),
        (29, 34, "0010 0010"),
        (2, 8, "0000 1000"),
        (5, 200, "1100 1000"),
    ]
    assert (card.workbook, card.loco, str(card.address)) == ("club.xlsx", "JV 2101", "long 2101")


def test_cards_stand_in_the_order_of_the_sheet() -> None:
    cards = _cards({"Loco": "Z", "Address": 9}, {"Loco": "A", "Address": 8}, {"Loco": "M", "Address": 7})

    assert [card.loco for card in cards] == ["Z", "A", "M"]


def test_cards_of_some_engines_are_chosen_by_label_whatever_the_letter_case() -> None:
    made = roster([{"Loco": "JV 31", "Address": 31}, {"Loco": "B", "Address": 8}, {"Address": 7}])

    assert [card.loco for card in cards_of(made, ["jv31"])] == ["JV 31"]
    assert unknown_labels(made, ["JV 31", "jv 32", "b", ""]) == ["jv 32", ""]


def test_an_engine_without_label_is_called_by_its_row() -> None:
    cards = _cards({"Loco": "A", "Address": 9}, {"Loco": "", "Address": 8})

    assert [card.loco for card in cards] == ["A", "row 3"]


@pytest.mark.parametrize(
    ("engine", "about"),
    [
        pytest.param(
            {
                "Railway": "Elm Line",
                "Number": "0418",
                "Model": "Ten-wheeler",
                "Owner": "M01",
                "Decoder": "Sound",
            },
            "Elm Line 0418, Ten-wheeler, owner M01, decoder Sound",
            id="with all it has",
        ),
        pytest.param({"Number": "0418", "Owner": "M01"}, "0418, owner M01", id="with what it has"),
        pytest.param({}, "", id="with nothing"),
    ],
)
def test_a_card_says_which_engine_it_is(engine: dict[str, object], about: str) -> None:
    (card,) = _cards({"Loco": "A", "Address": 9, **engine})

    assert card.about == about


@pytest.mark.parametrize(
    ("engine", "cautions"),
    [
        pytest.param({"Address": 9}, [], id="nothing in particular"),
        pytest.param({"Address": 9, "Fault": "Smells hot"}, ["Open fault: Smells hot"], id="an open fault"),
        pytest.param(
            {"Address": 9, "DC operation": "on"},
            [
                "DC operation is on: a glitch on the rails can start the engine at full speed, until valid "
                "packets come again."
            ],
            id="DC operation",
        ),
        pytest.param(
            {"Address": "", "Fault": "Smells hot"},
            ["Nothing to key in: Address cannot be used."],
            id="no address",
        ),
        pytest.param(
            {"DCC\naddress": 9, "Direction": "up", "BiDi": "?"},
            ["Nothing to key in: Direction and BiDi cannot be used."],
            id="two cells that cannot be used",
        ),
    ],
)
def test_a_card_minds(engine: dict[str, object], cautions: list[str]) -> None:
    (card,) = _cards({"Loco": "A", **engine})

    assert card.cautions == cautions


def test_an_engine_whose_cvs_cannot_be_computed_has_a_card_without_steps() -> None:
    (card,) = _cards({"Loco": "A", "Address": 128, "Address kind": "short"})

    assert (card.steps, card.address) == ([], None)


@pytest.mark.parametrize(
    ("mode", "states"),
    [
        pytest.param(
            "direct",
            dict.fromkeys((19, 17, 18, 29, 5), "key in"),
            id="direct reaches all",
        ),
        pytest.param(
            "paged",
            dict.fromkeys((19, 17, 18, 29, 5), "key in"),
            id="paged reaches these",
        ),
        pytest.param(
            "register",
            {29: "only after CV17 and CV18, which are not within reach of register mode"},
            id="register mode reaches CV29, but not the pair that must come before",
        ),
        pytest.param(
            "address only",
            {},
            id="address-only mode reaches none of these",
        ),
    ],
)
def test_a_step_says_whether_the_layout_s_service_mode_reaches_its_cv(
    mode: str, states: dict[int, str]
) -> None:
    """NMRA S-9.2.3 (Jul 2012), section E."""
    (card,) = _cards({"Loco": "A", "Address": 1000, "Vhigh": 200}, Service_mode=mode)

    assert {step.cv: step.state for step in _keyed(card)} == states


def test_register_mode_reaches_a_short_address() -> None:
    """NMRA S-9.2.3 (Jul 2012), section E: physical register 1."""
    (card,) = _cards({"Loco": "A", "Address": 9}, Service_mode="register")

    assert [(step.entry, step.cv, step.state) for step in _keyed(card)] == [
        ("R1", 1, "key in"),
        ("R5", 29, "key in"),
    ]


@pytest.mark.parametrize(
    ("mode", "beyond"),
    [
        pytest.param(
            "register",
            "Not within reach of register mode, and to be keyed in by another: CV5, CV17 to CV19.",
            id="eight registers",
        ),
        pytest.param(
            "address only",
            "Not within reach of address-only mode, and to be keyed in by another: "
            "CV2, CV5, CV17 to CV19, CV29.",
            id="the short address alone",
        ),
        pytest.param("direct", None, id="direct mode reaches all"),
    ],
)
def test_one_line_names_what_a_mode_cannot_write(mode: str, beyond: str | None) -> None:
    """NMRA S-9.2.3 (Jul 2012), section E."""
    (card,) = _cards({"Loco": "A", "Address": 1000, "Vstart": 5, "Vhigh": 200}, Service_mode=mode)

    assert [text for text in card.cautions if "within reach" in text] == ([beyond] if beyond else [])
    assert not card.nothing_to_do


def test_nothing_is_left_to_do_only_where_nothing_waits_for_another_mode() -> None:
    readings = [{"Loco": "A", "CV": cv, "Value": value} for cv, value in {1: 9, 29: 2, 19: 10}.items()]
    engine = {"Loco": "A", "Address": 9}
    source = roster([engine], readings=readings, layout={"Service mode": "register"})

    (card,) = cards_of(source, options=CardOptions(changes=True))

    assert (card.nothing_to_do, [step.cv for step in _keyed(card)]) == (False, [])
    assert card.cautions == ["Not within reach of register mode, and to be keyed in by another: CV19."]


@pytest.mark.parametrize(("mode", "after"), [("paged", 1), ("direct", 0), ("register", 0)])
def test_paged_mode_ends_with_the_page_register_back_at_1(mode: str, after: int) -> None:
    """NMRA S-9.2.3 (Jul 2012), paged mode."""
    (card,) = _cards({"Loco": "A", "Address": 9}, Service_mode=mode)

    assert list(card.after) == ["Page register (R6) back to 1, where the station leaves that to you."] * after


def test_the_list_to_go_through_before_speaks_of_the_track_the_order_and_the_people() -> None:
    """One decoder at a time and the isolated section: NMRA S-9.2.3 (Jul 2012); the rest: common practice."""
    (card,) = _cards({"Loco": "A", "Address": 9}, Programming_track_length=420, Clearance=25)

    words = " ".join(card.before)

    for said in (
        "One engine only",
        "wheels past both gaps",
        "Both rails cut",
        "layout not fed",
        "room for 370 mm",
        "Read CV8 and CV7 first",
        "CV17 and CV18 directly one after the other",
        "DC operation (CV29) is best off",
        "instructions",
        "local electrical codes",
        "licensed practice",
        "wiring and soldering",
    ):
        assert said in words


def _consist_lines(
    decoder: dict[str, object], sheets: dict[str, list[dict[str, object]]]
) -> list[tuple[int, str]]:
    engine = {"Loco": "A", "Address": 25, "Decoder": "D"}
    listed = [{"Decoder": "D"} | decoder]
    source = roster(
        [engine],
        decoders=listed,
        consists=sheets.get("consists", ()),
        readings=sheets.get("readings", ()),
    )
    return [(step.cv, step.state) for step in cards_of(source)[0].steps if step.cv in (19, 20)]


_IN_TEN = [{"Consist": "X", "Address": 10, "Position": 1, "Loco": "A"}]
_READ_TEN = [{"Loco": "A", "CV": 19, "Value": 10}]


@pytest.mark.parametrize(
    ("decoder", "sheets", "lines"),
    [
        pytest.param({"CV20": "yes"}, {}, [(19, "key in"), (20, "key in")], id="cleared with CV19"),
        pytest.param(
            {"CV20": "yes"},
            {"consists": _IN_TEN},
            [(19, "key in"), (20, "key in")],
            id="cleared in a consist",
        ),
        pytest.param({}, {}, [(19, "key in")], id="not asked for where no consist was ever read"),
        pytest.param(
            {},
            {"readings": _READ_TEN},
            [(20, "read"), (19, "key in")],
            id="read first where a consist is left and nobody knows of CV20",
        ),
        pytest.param({"CV20": "no"}, {"consists": _IN_TEN}, [(19, "key in")], id="there is none"),
        pytest.param({}, {"consists": _IN_TEN}, [(20, "read"), (19, "key in")], id="read first in a consist"),
        pytest.param(
            {},
            {"consists": _IN_TEN, "readings": [{"Loco": "A", "CV": 20, "Value": 0}]},
            [(19, "key in")],
            id="left alone where it was read as 0",
        ),
    ],
)
def test_what_cv20_holds_never_makes_another_consist_of_cv19(
    decoder: dict[str, object], sheets: dict[str, list[dict[str, object]]], lines: list[tuple[int, str]]
) -> None:
    """RCN-225 (27.07.2025), CV19/20: the consist's address is 100 times CV20 and CV19."""
    assert _consist_lines(decoder, sheets) == lines


def test_a_clearance_that_nobody_understands_is_not_taken_for_none() -> None:
    source = roster(
        [{"Loco": "A", "Address": 25, "Length": 395}],
        layout={"Programming track length": 400, "Clearance": "a hand's breadth"},
    )

    (card,) = cards_of(source)

    assert not [line for line in card.before if "room for" in line]
    assert [line for line in card.before if "cannot be understood" in line] == [
        "Measure whether the engine fits the section: Clearance in the sheet Layout cannot be understood."
    ]

"""Cards of accessory decoders: what is keyed in, what is held back, and how a number is learnt.

CVs: NMRA S-9.2.2 (Jul 2012), Table 3. Decoders that learn their number from the first command: common
practice, no source.
"""

import csv
import io
import json

import pytest
from jsonschema import Draft202012Validator

from rosterkit.cards.accessory_cards import AccessoryCard, accessory_cards
from rosterkit.cards.card import CardOptions
from rosterkit.cards.report import cards_csv, cards_json, cards_text
from rosterkit.cards.sheet import cards_sheet
from rosterkit.cards.steps import KEY_IN
from rosterkit.cards.write_modes import WriteMode
from rosterkit.roster.model import Roster
from rosterkit.roster.schema import schema_file
from tests.rosters import Rows, roster

_T17 = {"Accessory": "Yard throat", "Address": 17}
_WHOLE = {"BiDi": "off", "Aspects": 0, "Method": "decoder"}
Keyed = list[tuple[int, int | None]]


def _made(*rows: dict[str, object], readings: Rows = (), offset: int = 0) -> Roster:
    return roster(
        [{"Loco": "E", "Address": 12}],
        layout={"Accessory offset": offset},
        accessories=rows,
        readings=readings,
    )


def _read(cv: int, value: object, label: str = "Yard throat") -> dict[str, object]:
    return {"Date": "2026-05-31", "Loco": label, "CV": cv, "Value": value}


def _keyed(card: AccessoryCard) -> Keyed:
    return [(step.cv, step.value) for step in card.steps if step.state == KEY_IN]


@pytest.mark.parametrize(
    ("row", "keyed", "called"),
    [
        pytest.param({}, [(1, 5), (9, 0), (29, 128)], "decoder 5, 17 to 20", id="by its decoder's address"),
        pytest.param(
            {"Method": "output"}, [(1, 17), (9, 0), (29, 192)], "output 17", id="by its first output"
        ),
        pytest.param(
            {"Method": "output", "Outputs": 2, "Aspects": 4, "BiDi": "on", "Address": 1044},
            [(1, 20), (9, 4), (29, 232)],
            "outputs 1044 to 1045",
            id="a signal decoder of two outputs with BiDi",
        ),
        pytest.param(
            {"Address": 253}, [(1, 0), (9, 1), (29, 128)], "decoder 64, 253 to 256", id="decoder 64"
        ),
    ],
)
def test_a_card_has_cv1_cv9_and_cv29(row: dict[str, object], keyed: Keyed, called: str) -> None:
    (card,) = accessory_cards(_made(_T17 | row))

    assert (_keyed(card), card.called) == (keyed, called)


def test_on_a_layout_that_counts_four_lower_the_number_that_is_called_stands_beside_the_one_keyed_in() -> (
    None
):
    (card,) = accessory_cards(_made(_T17 | {"Method": "output"}, offset=4))

    assert _keyed(card) == [(1, 13), (9, 0), (29, 192)]
    assert card.steps[2].meaning == "first output 13 (called 17 on this layout), low bits"
    assert card.numbers == [17]


def test_rows_of_one_decoder_share_a_card_that_each_of_their_labels_finds() -> None:
    made = _made(_T17, {"Accessory": "Yard track", "Address": 20}, {"Accessory": "Far", "Address": 21})

    cards = accessory_cards(made)

    assert [list(card.devices) for card in cards] == [["Yard throat", "Yard track"], ["Far"]]
    assert accessory_cards(made, ["YARD TRACK"]) == cards[:1]


@pytest.mark.parametrize(
    ("row", "readings", "first", "meaning"),
    [
        pytest.param(
            _WHOLE,
            [],
            [],
            "BiDi off, basic packets, address of the decoder, accessory decoder",
            id="all that CV29 holds is stated",
        ),
        pytest.param(
            {"BiDi": "on"},
            [],
            ["configuration: bits 5 and 6 are assumed below"],
            "BiDi on, accessory decoder; assumed: basic packets, address of the decoder",
            id="what is assumed is read first",
        ),
        pytest.param(
            {"BiDi": "on", "Method": "decoder"},
            [_read(29, 161)],
            [],
            "BiDi on, address of the decoder, accessory decoder; kept as read: extended packets, "
            "reserved bits set (value 1)",
            id="what was read is kept",
        ),
    ],
)
def test_a_card_says_what_of_cv29_is_kept_and_what_is_assumed(
    row: dict[str, object], readings: Rows, first: list[str], meaning: str
) -> None:
    (card,) = accessory_cards(_made(_T17 | row, readings=readings))

    assert [step.meaning for step in card.steps if step.cv == 29] == [*first, meaning]


@pytest.mark.parametrize(
    ("readings", "keyed", "nothing"),
    [
        pytest.param([], [(1, 5), (9, 0), (29, 128)], False, id="nothing read"),
        pytest.param(
            [_read(1, 5), _read(521, 0)], [(29, 128)], False, id="the address read, CV9 by its alias"
        ),
        pytest.param([_read(1, 5), _read(9, 0), _read(29, 128)], [], True, id="all as the row says"),
        pytest.param(
            [_read(1, 5), _read(9, 0), _read(29, 160)], [(29, 128)], False, id="extended, said to be basic"
        ),
        pytest.param([_read(1, 5), _read(9, 0), _read(29, 129)], [], True, id="a reserved bit is kept"),
        pytest.param([_read(1, 5), _read(9, 0), _read(29, "")], [(29, 128)], False, id="no acknowledgment"),
    ],
)
def test_changes_are_what_the_last_readings_do_not_show(
    readings: Rows, keyed: Keyed, *, nothing: bool
) -> None:
    (card,) = accessory_cards(_made(_T17 | _WHOLE, readings=readings), options=CardOptions(changes=True))

    assert (_keyed(card), card.nothing_to_do) == (keyed, nothing)


def test_after_a_reset_everything_is_keyed_in_and_the_factory_address_is_named() -> None:
    readings = [_read(1, 5), _read(9, 0), _read(29, 128)]
    (card,) = accessory_cards(_made(_T17 | _WHOLE, readings=readings), options=CardOptions(after_reset=True))

    assert _keyed(card) == [(1, 5), (9, 0), (29, 128)]
    # NMRA S-9.2.2 (Jul 2012), Table 3: CV1 = 1 and CV9 = 0 as shipped.
    assert card.cautions[0].startswith(
        "As after a reset to factory values: the decoder has decoder address 1 (CV1 = 1"
    )


@pytest.mark.parametrize(
    ("row", "errors", "cautions"),
    [
        pytest.param({"Address": ""}, {}, ["Nothing to key in: Address cannot be used."], id="no address"),
        pytest.param(
            {"BiDi": "perhaps"}, {}, ["Nothing to key in: BiDi cannot be used."], id="an unusable cell"
        ),
        pytest.param(
            {"Outputs": "some"}, {}, ["Nothing to key in: Outputs cannot be used."], id="unusable outputs"
        ),
        pytest.param(
            {},
            {2: ["Error in Address: 17 is also the number of 'X' (B3)."]},
            [
                "Nothing to key in before this is put right:",
                "Error in Address: 17 is also the number of 'X' (B3).",
            ],
            id="an error that a check has found",
        ),
    ],
)
def test_a_card_with_a_fault_has_its_reasons_and_nothing_to_key_in(
    row: dict[str, object], errors: dict[int, list[str]], cautions: list[str]
) -> None:
    (card,) = accessory_cards(_made(_T17 | row), errors=errors)

    assert (list(card.steps), list(card.cautions), card.nothing_to_do) == ([], cautions, False)
    assert list(card.after) == []


@pytest.mark.parametrize(
    ("mode", "keyed"),
    [
        (WriteMode.DIRECT, True),
        (WriteMode.PAGED, True),
        (WriteMode.REGISTER, False),
        (WriteMode.ADDRESS_ONLY, False),
        (WriteMode.OPERATIONS, False),
    ],
)
def test_only_modes_that_reach_the_whole_address_key_it_in(mode: WriteMode, *, keyed: bool) -> None:
    (card,) = accessory_cards(_made(_T17), options=CardOptions(mode=mode))

    assert bool(card.steps) is keyed
    assert any("Nothing to key in here" in words for words in card.cautions) is not keyed
    assert card.after[-1] == "If the decoder learns its number instead: call 17 once while it learns."


def test_in_paged_mode_each_cv_has_its_page_and_the_page_register_ends_at_1() -> None:
    (card,) = accessory_cards(_made(_T17), options=CardOptions(mode=WriteMode.PAGED))

    # NMRA S-9.2.3 (Jul 2012), paged mode: page = (CV - 1) // 4 + 1.
    meanings = {step.cv: step.meaning for step in card.steps}
    assert [meanings[cv].rpartition(" (")[2] for cv in (1, 9, 29)] == [
        "page 1, R1)",
        "page 3, R1)",
        "page 8, R1)",
    ]
    assert card.after[0].startswith("Page register (R6) back to 1")


def test_the_way_of_decoders_that_learn_stands_before_the_batch_in_general() -> None:
    (card,) = accessory_cards(_made(_T17))

    assert any("learn their number from the first command" in line for line in card.before)


def test_the_text_form_is_a_block_a_decoder() -> None:
    made = _made(_T17 | _WHOLE | {"Kind": "signal", "Aspects": 4, "Outputs": 2})

    assert (
        cards_text(accessory_cards(made)).split("\n\n")[1]
        == """\
--------------------------------------------------------------------------------
Yard throat                                                  decoder 5, 17 to 18
signal 17 with 4 aspects
                              last  read
            value  bits       read  back  what it means
  [ ] CV8       -                -  ____  read first: manufacturer ID
  [ ] CV1       5  0000 0101     -  ____  decoder address 5, low bits
  [ ] CV9       0  0000 0000     -  ____  decoder address 5, high bits
  [ ] CV29    160  1010 0000     -  ____  BiDi off, extended packets, address of
                                          the decoder, accessory decoder
  [ ] Then call 17 and 18 from a throttle by extended packets: this decoder
      should act, and no other. If one acts whose number is four off, Accessory
      offset in Layout may be wrong.
  [ ] If the decoder learns its number instead: call 17 once while it learns."""
    )


def test_the_json_form_is_as_its_schema_says() -> None:
    cards = accessory_cards(
        _made(_T17, {"Accessory": "Far", "Address": 21, "Method": "output"}, {"Accessory": "No"})
    )

    document = json.loads(cards_json(cards))

    Draft202012Validator(schema_file("outputs/cards.json")).validate(document)
    told = [(one["devices"], one["numbers"], one["decoder"]) for one in document["accessories"]]
    assert told == [(["Yard throat"], [17, 18, 19, 20], 5), (["Far"], [21], None), (["No"], [], None)]
    assert document["cards"] == []


def test_the_csv_form_has_a_row_a_cv_with_the_kind_accessory() -> None:
    rows = list(csv.DictReader(io.StringIO(cards_csv(accessory_cards(_made(_T17 | _WHOLE))))))

    assert [(row["loco"], row["address"], row["kind"], row["cv"], row["value"]) for row in rows] == [
        ("Yard throat", "17", "accessory", "8", ""),
        ("Yard throat", "17", "accessory", "1", "5"),
        ("Yard throat", "17", "accessory", "9", "0"),
        ("Yard throat", "17", "accessory", "29", "128"),
    ]


def test_the_sheet_has_the_block_with_what_comes_afterwards() -> None:
    page = cards_sheet(accessory_cards(_made(_T17 | _WHOLE)))

    texts = [[cell.value for cell in row] for row in page.rows if row]
    assert ["Yard throat", None, None, None, "decoder 5, 17 to 20", None, None] in texts
    assert any(
        str(text).startswith("If the decoder learns its number instead") for row in texts for text in row
    )


def test_nothing_is_looked_at_before_where_nothing_is_keyed_in() -> None:
    text = cards_text(accessory_cards(_made(_T17 | {"BiDi": "perhaps"})))

    assert "Before you begin" not in text
    assert text.endswith("  - Nothing to key in: BiDi cannot be used.")

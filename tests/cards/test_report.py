"""Cards as text, JSON and CSV."""

import csv
import io
import json
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from rosterkit.cards.card import cards_of
from rosterkit.cards.report import cards_csv, cards_json, cards_text
from rosterkit.roster.schema import schema_file
from tests.reports import CARDS
from tests.rosters import roster


def test_text_is_cautions_and_a_block_an_engine() -> None:
    made = roster(
        [
            {
                "Loco": "JV 2101",
                "Owner": "M01",
                "Railway": "Juniper Valley",
                "Number": "2101",
                "Address": 2101,
            },
            {"Loco": "KC 12", "Address": 12, "Deceleration": 10, "DC operation": "on"},
        ]
    )

    blocks = cards_text(cards_of(made)).split("\n\n")

    assert blocks[0].splitlines()[:3] == [
        "Before you begin",
        "  - One engine only on the isolated section: every decoder there takes what is",
        "    keyed in.",
    ]
    assert (
        "\n\n".join(blocks[1:])
        == """\
--------------------------------------------------------------------------------
JV 2101                                                                long 2101
Juniper Valley 2101, owner M01
                              last  read
            value  bits       read  back  what it means
  [ ] CV8       -                -  ____  read first: manufacturer ID
  [ ] CV7       -                -  ____  read first: decoder version
  [ ] CV29      -                -  ____  read first: configuration: bits 0, 1,
                                          2, 3 and 4 are assumed below
  [ ] CV19      0  0000 0000     -  ____  in no consist
  [ ] CV17    200  1100 1000     -  ____  long address 2101, high byte
  [ ] CV18     53  0011 0101     -  ____  long address 2101, low byte
  [ ] CV29     34  0010 0010     -  ____  long address (CV17 and CV18); assumed:
                                          direction normal, 28 or 128 speed
                                          steps, DC operation off, BiDi off,
                                          3-point curve (CV2, CV6, CV5)

--------------------------------------------------------------------------------
KC 12                                                                   short 12
  - DC operation is on: a glitch on the rails can start the engine at full
    speed, until valid packets come again.
                              last  read
            value  bits       read  back  what it means
  [ ] CV8       -                -  ____  read first: manufacturer ID
  [ ] CV7       -                -  ____  read first: decoder version
  [ ] CV29      -                -  ____  read first: configuration: bits 0, 1,
                                          3 and 4 are assumed below
  [ ] CV19      0  0000 0000     -  ____  in no consist
  [ ] CV1      12  0000 1100     -  ____  short address 12
  [ ] CV29      6  0000 0110     -  ____  DC operation on, short address (CV1);
                                          assumed: direction normal, 28 or 128
                                          speed steps, BiDi off, 3-point curve
                                          (CV2, CV6, CV5)
  [ ] CV4      10  0000 1010     -  ____  deceleration: 9.0 s from top to stop"""
    )


def test_text_for_a_phone_takes_a_line_for_each_thing() -> None:
    made = roster([{"Loco": "A", "Address": 12}], readings=[{"Loco": "A", "CV": 1, "Value": 3}])

    lines = cards_text(cards_of(made), 40).splitlines()

    begin = lines.index("[ ] CV1     12  0000 1100")
    assert lines[begin : begin + 3] == [
        "[ ] CV1     12  0000 1100",
        "    short address 12",
        "    last read 3, read back ____",
    ]


def test_a_cv_that_gave_no_answer_says_so_and_not_that_it_was_never_read() -> None:
    readings = [{"Loco": "A", "CV": 1, "Value": 12}, {"Loco": "A", "CV": 1}]
    made = cards_of(roster([{"Loco": "A", "Address": 12}], readings=readings))

    wide, narrow = cards_text(made).splitlines(), cards_text(made, 40).splitlines()
    step = next(step for step in json.loads(cards_json(made))["cards"][0]["steps"] if step["cv"] == 1)

    assert "  [ ] CV1      12  0000 1100     -  ____  short address 12 - no acknowledgment" in wide
    assert (
        narrow[narrow.index("    short address 12") + 1] == "    no acknowledgment last time, read back ____"
    )
    assert (step["last_read"], step["no_answer"]) == (None, True)


@pytest.mark.parametrize("width", [32, 40, 59, 60, 80, 120])
def test_text_keeps_to_its_width(width: int) -> None:
    assert [line for line in cards_text(CARDS, width).splitlines() if len(line) > width] == []


@given(st.text(max_size=40), st.text(max_size=80), st.text(max_size=200))
@pytest.mark.slow
def test_text_keeps_to_80_columns_and_to_printable_signs_whatever_a_label_holds(
    loco: str, model: str, tag: str
) -> None:
    made = roster([{"Loco": loco, "Address": 12, "Model": model, "Fault": tag}])

    printed = cards_text(cards_of(made))

    assert [line for line in printed.split("\n") if len(line) > 80] == []
    assert re.findall(r"[\x00-\x09\x0b-\x1f\x7f]", printed) == []


def test_an_engine_whose_cvs_cannot_be_computed_says_so() -> None:
    block = next(block for block in cards_text(CARDS).split("\n\n") if "\nC " in block)

    assert block.splitlines()[1:] == [
        "C" + " " * 69 + "no address",
        "  - Nothing to key in: DCC address cannot be used.",
    ]


def test_a_cv_that_a_mode_may_not_write_says_so() -> None:
    made = roster([{"Loco": "A", "Address": 1000}], layout={"Service mode": "register"})

    assert cards_text(cards_of(made)).splitlines()[-1] == "- not to be keyed in: the reason stands beside it"


def test_paged_mode_has_a_box_for_the_page_register_at_the_end() -> None:
    made = roster([{"Loco": "A", "Address": 12}], layout={"Service mode": "paged"})

    assert cards_text(cards_of(made)).splitlines()[-1] == (
        "  [ ] Page register (R6) back to 1, where the station leaves that to you."
    )


def test_json_is_as_its_schema_says() -> None:
    schema = schema_file("outputs/cards.json")

    for cards in (CARDS, []):
        Draft202012Validator(schema).validate(json.loads(cards_json(cards)))


def test_json_has_all_that_a_card_has() -> None:
    cards = json.loads(cards_json(CARDS))["cards"]

    assert [(card["address"], card["kind"], len(card["steps"])) for card in cards] == [
        (500, "long", 7),
        (500, "long", 7),
        (None, None, 0),
        (44, "short", 9),
    ]
    assert cards[3]["steps"][4] == {
        "cv": 1,
        "value": 44,
        "bits": "0010 1100",
        "meaning": "short address 44 (page 1, R1)",
        "mode": "paged",
        "page": None,
        "last_read": None,
        "no_answer": False,
        "state": "key in",
        "entry": "CV1",
        "register": None,
    }


def test_csv_marks_a_cv_that_gave_no_answer() -> None:
    made = cards_of(roster([{"Loco": "A", "Address": 12}], readings=[{"Loco": "A", "CV": 1}]))

    rows = list(csv.DictReader(io.StringIO(cards_csv(made))))

    assert [(row["cv"], row["no_answer"]) for row in rows if row["no_answer"]] == [("1", "yes")]


def test_csv_has_a_row_a_cv_in_order() -> None:
    rows = list(csv.DictReader(io.StringIO(cards_csv(CARDS))))

    assert [(row["address"], row["order"], row["cv"], row["value"]) for row in rows[:7]] == [
        ("500", "1", "8", ""),
        ("500", "2", "7", ""),
        ("500", "3", "29", ""),
        ("500", "4", "19", "0"),
        ("500", "5", "17", "193"),
        ("500", "6", "18", "244"),
        ("500", "7", "29", "34"),
    ]
    assert [(row["address"], row["order"], row["cv"], row["value"]) for row in rows[-5:]] == [
        ("44", "5", "1", "44"),
        ("44", "6", "29", "2"),
        ("44", "7", "2", "5"),
        ("44", "8", "5", "200"),
        ("44", "9", "6", "90"),
    ]


def test_no_cell_of_the_csv_begins_a_formula() -> None:
    cells = [cell for row in csv.reader(io.StringIO(cards_csv(CARDS))) for cell in row]

    assert [cell for cell in cells if cell[:1] in "=+-@\t\r" and cell] == []
    assert "'-B" in cells

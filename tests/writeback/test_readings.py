"""Readings typed at the bench, as rows of the sheet Readings; and the whole way from the track and back."""

from pathlib import Path

import pytest
from openpyxl import load_workbook

from rosterkit.cards.card import CardOptions
from rosterkit.cards.steps import KEY_IN
from rosterkit.commands.cards import cards as cards_for
from rosterkit.commands.cards import record as record_readings
from rosterkit.commands.check import check as check_workbooks
from rosterkit.commands.new.command import make_workbook
from rosterkit.commands.new.demo_club import demo_club
from rosterkit.errors import CannotRunError
from rosterkit.template.new_workbook import new_workbook
from rosterkit.writeback.computed_columns import computed_rows
from rosterkit.writeback.readings import readings_change
from rosterkit.writeback.typed_pairs import ReadBack, parse_read_back, read_back_words
from tests.command_line import run
from tests.rosters import enrolled, grid, roster, sheet_of, workbook_of

READ_ENGINES = tuple(dict.fromkeys(str(row["loco"]) for row in demo_club()["Readings"]))
"""The engines of the demo club's track session."""


@pytest.mark.parametrize(
    ("texts", "readings"),
    [
        pytest.param(["29=34"], [ReadBack(cv=29, value=34)], id="one pair"),
        pytest.param(
            ["CV17=195,cv18=232", "19=0"],
            [ReadBack(cv=17, value=195), ReadBack(cv=18, value=232), ReadBack(cv=19, value=0)],
            id="several texts, commas and letter case",
        ),
        pytest.param(["29=-"], [ReadBack(cv=29, value=None)], id="no answer"),
        pytest.param(
            ["257=1 31=16 32=2 257=5 513=7"],
            [
                ReadBack(cv=257, value=1),
                ReadBack(cv=31, value=16),
                ReadBack(cv=32, value=2),
                ReadBack(cv=257, value=5, index=(16, 2)),
                ReadBack(cv=513, value=7),
            ],
            id="CV31 and CV32 are the index of what follows (NMRA S-9.2.2 (Jul 2012), CV31/32)",
        ),
    ],
)
def test_what_was_typed_is(texts: list[str], readings: list[ReadBack]) -> None:
    assert parse_read_back(texts) == readings


@pytest.mark.parametrize(
    ("text", "message"),
    [
        pytest.param("29=6 29=7", "CV29 is given twice, 29=6 and 29=7", id="one CV with two values"),
        pytest.param(
            "29=6 1=3 29=-", "CV29 is given twice, 29=6 and 29=-", id="one read, and without answer"
        ),
        pytest.param(
            "31=16 32=0 300=1 300=2", "CV300 is given twice, 300=1 and 300=2", id="two values under one index"
        ),
        pytest.param("29=6 29=6", None, id="not one value said twice"),
        pytest.param("31=16 32=0 300=1 32=1 300=2", None, id="not a CV under two indexes"),
    ],
)
def test_a_contradiction_is_refused(text: str, message: str | None) -> None:
    if message is None:
        assert parse_read_back([text])
        return
    with pytest.raises(CannotRunError) as refused:
        parse_read_back([text])

    assert refused.value.message == message


@pytest.mark.parametrize(
    ("texts", "said"),
    [
        pytest.param("257=3", True, id="neither typed nor in the workbook"),
        pytest.param("31=16 257=3", True, id="half of it"),
        pytest.param("31=16 32=0 257=3", False, id="not one that was typed"),
        pytest.param("300=3", False, id="not that of the only extra value"),
    ],
)
def test_the_index_that_nobody_knows_is_spoken_of(tmp_path: Path, texts: str, *, said: bool) -> None:
    extra: dict[str, str | int | float | None]
    extra = {"loco": "A", "cv": 300, "value": 5, "index_high": 16, "index_low": 0}
    path = tmp_path / "club.xlsx"
    path.write_bytes(new_workbook({"Locomotives": [{"loco": "A", "address": 12}], "Extra values": [extra]}))

    ran = run("cards", path, "--loco", "A", "--record", texts)

    assert ran.status == 0
    assert ("note: CV257 without CV31 and CV32" in ran.err) is said


@pytest.mark.parametrize(
    "text", ["29", "29=", "=34", "29=256", "0=1", "1025=1", "29=3.4", "x=1", "29=-1", ""]
)
def test_what_is_no_reading_is_refused(text: str) -> None:
    with pytest.raises(CannotRunError) as refused:
        parse_read_back([text])

    assert refused.value.fix.endswith(".")


def test_what_is_recorded_is_said_in_words() -> None:
    assert read_back_words(parse_read_back(["1=31 29=-"])) == "CV1 read 31, CV29 gave no acknowledgment"


def test_rows_go_below_the_last_with_what_is_wanted_and_the_verdict() -> None:
    made = roster(
        [{"Loco": "A", "Address": 12}],
        readings=[
            {"Verdict": "", "Date": "2026-04-18", "Loco": "A", "CV": 1, "Value": 3, "Mine": "x", "Wanted": ""}
        ],
    )

    change = readings_change(made, "a", parse_read_back(["1=12 49=7 29=-"]), "2026-04-19", "20:15:30")

    assert [(cell.row, cell.column, cell.value) for cell in change.sheets[0].cells] == [
        *[(3, 2, "2026-04-19"), (3, 3, "A"), (3, 4, 1), (3, 5, 12), (3, 7, 12), (3, 1, "agrees")],
        *[(4, 2, "2026-04-19"), (4, 3, "A"), (4, 4, 49), (4, 5, 7), (4, 1, "not set here")],
        *[(5, 2, "2026-04-19"), (5, 3, "A"), (5, 4, 29), (5, 7, 2)],
    ]
    assert change.own_sheets == ()


@pytest.mark.parametrize(
    ("readings", "texts", "message"),
    [
        pytest.param(
            ("Loco", "CV", "Value"),
            "1=12",
            "club.xlsx: the sheet 'Readings' has no column Date",
            id="no date",
        ),
        pytest.param(
            ("Date", "Loco", "CV", "Value"),
            "31=16 32=0 300=1",
            "club.xlsx: the sheet 'Readings' has no column Index high and Index low",
            id="no index, and one is needed",
        ),
        pytest.param(
            ("What", "I", "read"),
            "1=12",
            "club.xlsx: the sheet 'Readings' has no heading row of ours",
            id="no row",
        ),
    ],
)
def test_a_sheet_that_cannot_take_the_rows_is_left_alone(
    readings: tuple[str, ...], texts: str, message: str
) -> None:
    made = enrolled(
        workbook_of(sheet_of("Locomotives", [{"Loco": "A", "Address": 12}]), grid("Readings", readings))
    )

    with pytest.raises(CannotRunError) as refused:
        readings_change(made, "A", parse_read_back([texts]), "2026-04-19")

    assert refused.value.message == message


def _demo(folder: Path) -> Path:
    path = folder / "demo.xlsx"
    make_workbook(path, sample=True)
    return path


def _re_keyed(path: Path) -> dict[str, list[tuple[int, int | None]]]:
    cards = cards_for(path, READ_ENGINES, CardOptions(changes=True))
    return {
        card.loco: [(step.cv, step.value) for step in card.steps if step.state == KEY_IN]
        for card in cards
        if not card.nothing_to_do
    }


def _found_in_readings(path: Path) -> list[tuple[str | None, str]]:
    found = check_workbooks([path]).findings
    return [(finding.loco, finding.rule) for finding in found if finding.place.sheet == "Readings"]


def test_a_track_session_is_judged_re_keyed_and_recorded_until_nothing_is_left(tmp_path: Path) -> None:
    path = _demo(tmp_path)

    assert len(READ_ENGINES) == 9
    assert _found_in_readings(path) == [
        ("NE 814", "factory-values-left"),
        ("HB 1001", "dc-operation-still-on"),
        ("KC 502", "address-not-active"),
        ("JV 31", "consist-left-behind"),
    ]
    re_key = _re_keyed(path)
    assert re_key == {
        "JV 31": [(19, 0)],
        "NE 814": [(17, 195), (18, 46)],
        "KC 502": [(29, 34)],
        "HB 1001": [(29, 34)],
    }

    for loco, steps in re_key.items():
        record_readings(path, [loco], [f"{cv}={value}" for cv, value in steps], "2026-04-19")

    assert _found_in_readings(path) == []
    assert _re_keyed(path) == {}


def test_recording_leaves_every_other_cell_as_it_was(tmp_path: Path) -> None:
    path = _demo(tmp_path)
    before = load_workbook(path)

    saved = record_readings(path, ["JV 31"], ["19=0"], "2026-04-19", "20:15:30")

    after = load_workbook(path)
    changed = [
        (sheet.title, cell.coordinate, cell.value)
        for sheet in after.worksheets
        for row in sheet.iter_rows()
        for cell in row
        if cell.value != before[sheet.title][cell.coordinate].value
    ]
    row = before["Readings"].max_row
    while before["Readings"][f"C{row}"].value is None:
        row -= 1
    assert changed == [
        ("Readings", f"A{row + 1}", "2026-04-19"),
        ("Readings", f"B{row + 1}", "20:15:30"),
        ("Readings", f"C{row + 1}", "JV 31"),
        ("Readings", f"D{row + 1}", 19),
        ("Readings", f"E{row + 1}", 0),
        ("Readings", f"I{row + 1}", 0),
        ("Readings", f"J{row + 1}", "agrees"),
    ]
    assert saved.kept == tmp_path / "demo.earlier.xlsx"


def test_a_workbook_without_readings_gets_the_sheet_and_then_further_rows(tmp_path: Path) -> None:
    path = _demo(tmp_path)
    workbook = load_workbook(path)
    del workbook["Readings"]
    workbook.save(path)

    record_readings(path, ["JV 31"], ["19=0"], "2026-04-19", "20:15:30")
    record_readings(path, ["JV 31"], ["1=31"], "2026-04-20")

    rows = list(load_workbook(path)["Readings"].iter_rows(values_only=True))
    assert rows[0][:5] == ("Date", "Time", "Loco", "CV", "Value")
    assert [row[:5] for row in rows[1:]] == [
        ("2026-04-19", "20:15:30", "JV 31", 19, 0),
        ("2026-04-20", None, "JV 31", 1, 31),
    ]


@pytest.mark.parametrize("labels", [[], ["JV 31", "JV 32"]])
def test_readings_are_of_one_engine_at_a_time(labels: list[str], tmp_path: Path) -> None:
    path = _demo(tmp_path)
    before = path.read_bytes()

    with pytest.raises(CannotRunError, match="one engine at a time"):
        record_readings(path, labels, ["19=0"], "2026-04-19")

    assert path.read_bytes() == before


def test_readings_of_a_device_stand_under_its_label_with_what_its_row_wants() -> None:
    made = roster(
        [{"Loco": "A", "Address": 12}],
        accessories=[{"Accessory": "Yard throat", "Address": 1, "BiDi": "on"}],
        readings=[{"Date": "", "Loco": "A", "CV": 1, "Value": 12, "Wanted": "", "Verdict": ""}],
    )

    change = readings_change(made, "yard throat", parse_read_back(["1=1 541=160 29=- 3=7"]), "2026-04-19")

    (sheet,) = change.sheets
    rows = {row: {one.column: one.value for one in sheet.cells if one.row == row} for row in range(3, 7)}
    assert rows == {
        3: {1: "2026-04-19", 2: "Yard throat", 3: 1, 4: 1, 5: 1, 6: "agrees"},
        4: {1: "2026-04-19", 2: "Yard throat", 3: 541, 4: 160, 5: 168, 6: "differs"},
        5: {1: "2026-04-19", 2: "Yard throat", 3: 29, 5: 168},
        6: {1: "2026-04-19", 2: "Yard throat", 3: 3, 4: 7, 6: "not set here"},
    }


def test_wanted_and_verdict_of_a_reading_of_a_device_are_computed() -> None:
    made = roster(
        [{"Loco": "A", "Address": 12}],
        accessories=[{"Accessory": "Yard throat", "Address": 1}],
        readings=[{"Loco": "Yard throat", "CV": cv, "Value": value} for cv, value in ((1, 2), (29, 161))],
    )

    assert list(computed_rows(made, "Readings")) == [
        {"wanted": 1, "verdict": "differs"},
        {"wanted": 161, "verdict": "agrees"},
    ]

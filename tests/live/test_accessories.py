"""CV1, CV9 and CV29 by formulas: worked values of the standards, and the tool's own code over the domain."""

from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rosterkit.live.accessories import accessory_formulas
from rosterkit.roster.schema import sheet
from tests.live.row_cases import (
    ASPECTS_STATES,
    BIDI_STATES,
    ENDS_OF_NUMBERS,
    METHODS,
    NUMBERS,
    OFFSETS,
    SOME_READINGS,
    Row,
    below_other_rows,
    device,
    devices,
    every_number,
    every_reading,
    read,
)
from tests.live.row_sheets import Cvs, RowSheets, agree, claims_nothing_wrong

NMRA = "NMRA S-9.2.2 (Jul 2012), CV1[513], CV9[521], CV29[541]"
RCN = "RCN-225 (27.07.2025), section 3.1"
OFFSET = "an offset of 4 is common practice, no source"
OURS = "no standard: what rows of one decoder share"
NOTHING: Cvs = ("", "", "")


@pytest.mark.parametrize(
    ("source", "cells", "offset", "cvs"),
    [
        pytest.param(RCN, device(1), None, (1, 0, 128), id="turnout 1 is decoder 1"),
        pytest.param(RCN, device(5), None, (2, 0, 128), id="turnout 5 is decoder 2"),
        pytest.param(NMRA, device(253), None, (0, 1, 128), id="decoder 64 is 0 and 1"),
        pytest.param(NMRA, device(2040), None, (62, 7, 128), id="the highest decoder for a device"),
        pytest.param(NMRA, device(2045), None, (0, 0, 128), id="numbers begin again at decoder 0"),
        pytest.param(NMRA, device(255, "output"), None, (255, 0, 192), id="an output's number"),
        pytest.param(NMRA, device(256, "Output"), None, (0, 1, 192), id="output 256 is 0 and 1"),
        pytest.param(NMRA, device(1044, "output", "on"), None, (20, 4, 200), id="output 1044 with BiDi"),
        pytest.param(OFFSET, device(5), 4, (1, 0, 128), id="an offset is a decoder less"),
        pytest.param(OFFSET, device(5, "output"), "4", (1, 0, 192), id="an offset of an output"),
        pytest.param(OFFSET, device(1, "output"), 4, (253, 7, 192), id="an offset begins again at the end"),
        pytest.param(OFFSET, device(5), "", (2, 0, 128), id="a blank offset is none"),
        pytest.param(
            OFFSET, device(5, "decoder", "off", 0), "4 or 0", NOTHING, id="an offset that is not clear"
        ),
        pytest.param(NMRA, device(1, "decoder", "on", 0), None, (1, 0, 136), id="BiDi"),
        pytest.param(NMRA, device(1, "decoder", "off", 3), None, (1, 0, 160), id="an extended decoder"),
        pytest.param(NMRA, device("0001", "", "yes", "256"), None, (1, 0, 168), id="numbers typed as text"),
        pytest.param(NMRA, device(0), None, NOTHING, id="number 0"),
        pytest.param(NMRA, device(2049), None, NOTHING, id="a number that is too high"),
        pytest.param(NMRA, device(1.5), None, NOTHING, id="a fraction"),
        pytest.param(NMRA, device("$00005"), None, NOTHING, id="a sum of money"),
        pytest.param(NMRA, device("-5"), None, NOTHING, id="a number below 0"),
        pytest.param(NMRA, device(""), None, NOTHING, id="no number"),
        pytest.param(NMRA, device(1, "both"), None, NOTHING, id="a method that is none"),
        pytest.param(NMRA, device(1, "", "maybe"), None, NOTHING, id="a BiDi that is neither"),
        pytest.param(NMRA, device(1, "", "", 257), None, NOTHING, id="too many aspects"),
        pytest.param(NMRA, device(1, "", "", "some"), None, NOTHING, id="aspects in a word"),
    ],
)
def test_the_cvs_of_a_row(source: str, cells: Row, offset: object, cvs: Cvs) -> None:
    made = devices([cells], offset=offset)

    assert made.evaluated() == [cvs], source
    if offset != "4 or 0":  # the tool takes 0 there
        assert made.wanted() == [cvs], source


@pytest.mark.parametrize(
    ("source", "rows", "readings", "cv29s"),
    [
        pytest.param(NMRA, [device()], [read(136)], [136], id="a blank BiDi is as it was read"),
        pytest.param(NMRA, [device(bidi="off")], [read(136)], [128], id="a column goes before a reading"),
        pytest.param(NMRA, [device()], [read(224)], [224], id="a blank Method and blank Aspects too"),
        pytest.param(NMRA, [device(method="decoder")], [read(224)], [160], id="a method goes before it"),
        pytest.param(NMRA, [device(bidi="on")], [read(151)], [159], id="reserved bits are kept"),
        pytest.param(NMRA, [device()], [read(136, cv=541)], [136], id="CV541 is CV29"),
        pytest.param(NMRA, [device()], [read(255)], [128], id="255 is no reading"),
        pytest.param(NMRA, [device()], [read(14)], [128], id="without bit 7 it tells nothing"),
        pytest.param(
            OURS, [device()], [read(136), read(160, date="2026-02-01")], [160], id="the newest reading"
        ),
        pytest.param(
            OURS, [device(), device(2, bidi="on")], [], [136, 136], id="a decoder's rows share BiDi"
        ),
        pytest.param(OURS, [device(), device(2, aspects=3)], [], [160, 160], id="and whether it is extended"),
        pytest.param(OURS, [device(), device(5, bidi="on")], [], [128, 136], id="another decoder is apart"),
        pytest.param(
            OURS, [device(), device(2, "output", "on")], [], [128, 200], id="an output's own address is apart"
        ),
        pytest.param(
            OURS,
            [device(), device(2, bidi="on"), device(3, bidi="off")],
            [],
            [136, 136, 128],
            id="the first row that says it goes before the others",
        ),
        pytest.param(
            OURS,
            [device(), device(2, label="T2")],
            [read(151, "T2")],
            [151, 151],
            id="a decoder's rows share readings",
        ),
        pytest.param(
            OURS,
            [device(), device(2, label="T2")],
            [read(144), read(137, "T2")],
            [144, 137],
            id="but each has its own first",
        ),
        pytest.param(
            OURS,
            [device(label="T2"), device(2)],
            [read(200)],
            [128, 200],
            id="a row that holds an output's number as read shares nothing",
        ),
        pytest.param(
            OURS,
            [device(), device(2, "both", "on"), device(3, bidi="off")],
            [],
            ["", "", 128],
            id="a row whose method is not clear leaves open what it says",
        ),
        pytest.param(
            OURS,
            [device(), device(2, "", "maybe"), device(3, bidi="on")],
            [],
            ["", "", 136],
            id="so does a BiDi that is not clear",
        ),
        pytest.param(
            OURS,
            [device(), device("2.0", "", "on"), device(3, bidi="off", aspects=0)],
            [read(128, "T1")],
            ["", "", 128],
            id="an address that only the tool reads leaves open what its row says",
        ),
        pytest.param(
            OURS,
            [device(), device("see T2", "", "on")],
            [],
            [128, ""],
            id="an address that nobody reads says nothing",
        ),
    ],
)
def test_cv29_of_rows(source: str, rows: list[Row], readings: list[Row], cv29s: list[object]) -> None:
    made = devices(rows, readings)

    assert [cv29 for _, _, cv29 in made.evaluated()] == cv29s, source
    assert claims_nothing_wrong(made)


def test_a_row_that_no_formula_sees_leaves_open_what_others_share() -> None:
    rows = [
        device(),
        device(5, "decoder", "on", 0),
        *[{"Accessory": f"S{n}"} for n in range(30)],
        device(2, "", "on"),
    ]
    all_seen = RowSheets("Accessories", rows)
    some_seen = RowSheets("Accessories", rows, last_row=3)

    assert [cv29 for _, _, cv29 in all_seen.evaluated()[:2]] == [136, 136]
    assert [cv29 for _, _, cv29 in some_seen.evaluated()] == ["", ""]


def test_a_reading_of_an_engine_of_the_same_label_is_the_engines() -> None:
    made = devices([device(label="e1")], [read(136, "E1")])

    assert made.evaluated() == made.wanted() == [(1, 0, 128)]


@pytest.mark.parametrize("label", ["W*1", "W?1", "W~1", "w 1", "Ünder", "12", 12, "T2:"])
def test_a_reading_is_found_by_a_label_of_any_signs(label: object) -> None:
    made = devices([device(label=label), device(5, label="Wx1")], [read(136, label)])

    assert made.evaluated() == made.wanted() == [(1, 0, 136), (2, 0, 128)]


def test_rows_are_counted_from_the_headings_wherever_they_stand() -> None:
    assert all(map(agree, below_other_rows()))


def test_without_their_columns_there_are_no_formulas() -> None:
    bare = devices([{"Accessory": "T1", "Address": 5}])

    assert bare.evaluated() == bare.wanted() == [(2, 0, 128)]
    without_address = devices([{"Accessory": "T1"}])
    assert accessory_formulas(without_address.places, without_address.machinery) == {}


BIDI = sorted(sheet("Accessories")["bidi"].synonyms)


@pytest.mark.parametrize("offset", OFFSETS)
def test_numbers_at_the_ends_of_each_run_with_every_setting(offset: int) -> None:
    states = product(BIDI_STATES, ASPECTS_STATES)

    assert all(agree(every_number(ENDS_OF_NUMBERS, offset, *both)) for both in states)


@pytest.mark.domain
@pytest.mark.parametrize("offset", OFFSETS)
@pytest.mark.parametrize("aspects", ASPECTS_STATES)
@pytest.mark.parametrize("bidi", BIDI_STATES)
def test_every_number(offset: int, bidi: object, aspects: object) -> None:
    assert agree(every_number(NUMBERS, offset, bidi, aspects))


@pytest.mark.parametrize("method", METHODS)
def test_some_readings_with_every_setting(method: str) -> None:
    assert agree(every_reading(SOME_READINGS, method))


@pytest.mark.domain
@pytest.mark.parametrize("first", range(0, 256, 32))
@pytest.mark.parametrize("method", METHODS)
def test_every_reading_with_every_setting(method: str, first: int) -> None:
    assert agree(every_reading(range(first, first + 32), method))


@pytest.mark.parametrize("bidi", [*BIDI, "YES", " on "])
def test_every_spelling_of_bidi(bidi: str) -> None:
    assert agree(devices([device(bidi=bidi)]))


LABELS = st.sampled_from([*(f"T{n}" for n in range(6)), ""])
CLEAR = st.builds(
    device,
    st.sampled_from([1, 2, 3, 4, 5, 6, 2041, 2045, 2048, "2", "", 0, "none yet"]),
    st.sampled_from(["", "", *METHODS]),
    st.sampled_from(["", "", "on", "off"]),
    st.sampled_from(["", "", 0, 3]),
    LABELS,
).filter(lambda one: any(one.values()))
READINGS = st.lists(
    st.builds(
        read,
        st.sampled_from([136, 160, 192, 255, 127, ""]) | st.integers(0, 255),
        LABELS.filter(bool),
        st.sampled_from([29, 541, 1]),
        st.sampled_from(["2026-01-05", "2026-01-06", ""]),
    ),
    max_size=8,
)


@settings(max_examples=60, deadline=None)
@given(st.lists(CLEAR, min_size=1, max_size=14), READINGS, st.sampled_from([None, 0, 4]))
def test_rows_of_decoders_share_what_the_tool_says(
    rows: list[Row], readings: list[Row], offset: object
) -> None:
    assert agree(devices(rows, readings, offset))


ODD = st.builds(
    device,
    st.sampled_from([1, 2, 3, 5, "2.0", "+3", "\uff11", "1\u00a0", "1 000", True, 2.5, "1/2", "2a", "-"]),
    st.sampled_from(["", *METHODS, "decoder:", "output ", "\uff4futput", "both", 1, True]),
    st.sampled_from(["", "on", "off", "on:", "maybe", 1, 0, True, False, "\uff4fn"]),
    st.sampled_from(["", 0, 3, "3.0", "\uff13", 257, -1, "many", True, 2.5]),
    st.sampled_from(["T1", "t 1", "T1:", "\uff341", "", 5]),
).filter(lambda one: any(str(cell).strip() for cell in one.values()))


@settings(max_examples=60, deadline=None)
@given(st.lists(ODD | CLEAR, min_size=1, max_size=10), READINGS, st.sampled_from([None, 4, "4:", "5"]))
def test_no_cell_makes_a_wrong_value(rows: list[Row], readings: list[Row], offset: object) -> None:
    assert claims_nothing_wrong(devices(rows, readings, offset))

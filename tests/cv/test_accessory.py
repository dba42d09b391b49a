"""A row of Accessories as its decoder has it: the numbers that it answers, and CV1, CV9 and CV29.

Bits of CV29: NMRA S-9.2.2 (Jul 2012), CV29[541]; RCN-225 (27.07.2025), section 3.1. Four numbers of a decoder
address: NMRA S-9.2.1 (Jul 2012), section D. Turnout 1 is packet address 4: RCN-225, section 3.1. Decoders of
more than four outputs take the addresses that follow: common practice, no source.
"""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rosterkit.cv.accessory import Device, accessory_cvs, devices_in, packets_taken
from tests.rosters import Rows, roster

_ENGINE = [{"Loco": "E", "Address": 12}]


def _devices(rows: Rows, readings: Rows = (), offset: int = 0) -> list[Device]:
    made = roster(_ENGINE, layout={"Accessory offset": offset}, accessories=rows, readings=readings)
    return list(devices_in(made))


def _device(row: dict[str, object], *readings: dict[str, object]) -> Device:
    (device,) = _devices([{"Accessory": "T", "Address": 17} | row], readings)
    return device


@pytest.mark.parametrize(
    ("row", "numbers"),
    [
        pytest.param({}, [17, 18, 19, 20], id="a decoder has four where nothing is said"),
        pytest.param({"Address": 20}, [17, 18, 19, 20], id="from its first one, whichever it is called by"),
        pytest.param({"Outputs": 2}, [17, 18], id="a decoder of two"),
        pytest.param(
            {"Outputs": 6}, [17, 18, 19, 20, 21, 22], id="a decoder of six goes on into the next four"
        ),
        pytest.param({"Method": "output"}, [17], id="an output is one where nothing is said"),
        pytest.param({"Method": "output", "Outputs": 3}, [17, 18, 19], id="three outputs from the first on"),
        pytest.param(
            {"Method": "output", "Address": 2047, "Outputs": 3},
            [2047, 2048, 1],
            id="past the last they begin again",
        ),
        pytest.param(
            {"Aspects": 4}, [17, 18, 19, 20], id="a signal decoder by the method decoder has four too"
        ),
        pytest.param({"Aspects": 4, "Method": "output"}, [17], id="a signal by the method output is one"),
    ],
)
def test_the_numbers_that_a_decoder_answers(row: dict[str, object], numbers: list[int]) -> None:
    assert _device(row).numbers == numbers


@pytest.mark.parametrize(
    ("row", "readings", "cv29", "kept", "assumed"),
    [
        pytest.param(
            {}, [], 128, 0, 8 + 32 + 64, id="blank and never read: bits 3, 5 and 6 are assumed to be 0"
        ),
        pytest.param({"BiDi": "off", "Aspects": 0, "Method": "decoder"}, [], 128, 0, 0, id="all stated as 0"),
        pytest.param({"BiDi": "on", "Aspects": 0, "Method": "decoder"}, [], 136, 0, 0, id="BiDi"),
        pytest.param({"BiDi": "off", "Aspects": 3, "Method": "decoder"}, [], 160, 0, 0, id="extended"),
        pytest.param({"BiDi": "off", "Aspects": 0, "Method": "output"}, [], 192, 0, 0, id="by output"),
        pytest.param(
            {"BiDi": "on", "Aspects": 0, "Method": "output"}, [], 200, 0, 0, id="by output with BiDi"
        ),
        pytest.param(
            {"BiDi": "off", "Aspects": 3, "Method": "output"}, [], 224, 0, 0, id="extended by output"
        ),
        pytest.param({}, [(29, 224)], 224, 0b01111111, 0, id="blank and read: every bit is kept"),
        pytest.param({}, [(541, 160)], 160, 0b01111111, 0, id="read by its alias, CV541"),
        pytest.param({"Aspects": 0}, [(29, 160)], 128, 0b01011111, 0, id="stated as basic, read as extended"),
        pytest.param(
            {"BiDi": "on"}, [(29, 161)], 169, 0b01110111, 0, id="a reserved bit is kept beside BiDi"
        ),
        pytest.param(
            {}, [(29, 128), (541, 160)], 160, 0b01111111, 0, id="of CV29 and CV541 the later one counts"
        ),
        pytest.param({}, [(29, 6)], 128, 0, 8 + 32 + 64, id="read without bit 7: nothing is kept of it"),
        pytest.param(
            {}, [(29, 255)], 128, 0, 8 + 32 + 64, id="255 is what stations show where nothing answered"
        ),
        pytest.param({}, [(29, "")], 128, 0, 8 + 32 + 64, id="no acknowledgment: nothing is kept"),
    ],
)
def test_cv29_is_what_is_stated_else_what_was_read_else_0(
    row: dict[str, object], readings: list[tuple[int, object]], cv29: int, kept: int, assumed: int
) -> None:
    rows = [{"Date": "2026-05-31", "Loco": "T", "CV": cv, "Value": value} for cv, value in readings]

    device = _device(row, *rows)

    assert (device.cv29, device.kept, device.assumed) == (cv29, kept, assumed)
    assert accessory_cvs(device)[29] == cv29


@given(
    st.sampled_from(["", "off", "on"]),
    st.sampled_from(["", 0, 1, 32]),
    st.sampled_from(["", "decoder", "output"]),
    st.one_of(st.none(), st.integers(0, 255)),
)
def test_every_bit_that_a_row_leaves_blank_is_as_it_was_read(
    bidi: str, aspects: object, method: str, read: int | None
) -> None:
    readings = [] if read is None else [{"Date": "2026-05-31", "Loco": "T", "CV": 29, "Value": read}]

    device = _device({"BiDi": bidi, "Aspects": aspects, "Method": method}, *readings)

    stated = {3: (bidi, bidi == "on"), 5: (aspects, aspects not in ("", 0)), 6: (method, method == "output")}
    known = read if read is not None and 128 <= read < 255 else None  # 255: nothing was read
    for bit in range(7):
        cell, on = stated.get(bit, ("", False))
        want = on if cell != "" else bool((known or 0) >> bit & 1)
        assert bool(device.cv29 >> bit & 1) is want
        assert bool(device.kept >> bit & 1) is (cell == "" and known is not None)
        assert bool(device.assumed >> bit & 1) is (cell == "" and known is None and bit in stated)
    assert device.cv29 >= 128


def test_what_one_row_of_a_decoder_states_and_what_was_read_of_it_holds_for_its_other_rows() -> None:
    rows = [
        {"Accessory": "A", "Address": 17, "BiDi": "on"},
        {"Accessory": "B", "Address": 18, "Aspects": 5},
        {"Accessory": "C", "Address": 21},
    ]
    readings = [{"Loco": "B", "CV": 29, "Value": 129}]

    assert [device.cv29 for device in _devices(rows, readings)] == [169, 169, 128]


def test_readings_under_a_label_that_an_engine_has_are_the_engines() -> None:
    rows = [{"Accessory": "e", "Address": 17}]

    assert [one.cv29 for one in _devices(rows, [{"Loco": "E", "CV": 29, "Value": 160}])] == [128]


@pytest.mark.parametrize("column", ["Method", "BiDi", "Aspects"])
def test_a_row_with_a_cell_that_cv29_needs_and_cannot_use_has_no_cvs(column: str) -> None:
    assert accessory_cvs(_device({column: "perhaps"})) == {}


def test_outputs_change_no_cv() -> None:
    assert accessory_cvs(_device({"Outputs": 2})) == accessory_cvs(_device({})) == {1: 5, 9: 0, 29: 128}


def test_all_outputs_of_all_devices_are_taken() -> None:
    rows = [
        {"Accessory": "A", "Address": 1, "Outputs": 2},
        {"Accessory": "B", "Address": 9, "Method": "output", "Outputs": 2},
        {"Accessory": "C", "Address": 16, "Outputs": 1},
    ]
    made = roster(_ENGINE, accessories=rows)

    # Turnout 1 is packet address 4. The number of C is beyond its one output, and taken all the same.
    assert packets_taken(made) == {4, 5, 12, 13, 16, 19}

"""What a person typed under computed headings before fill ever ran is not written over."""

from pathlib import Path

import openpyxl
import pytest

from rosterkit.commands.fill import fill
from rosterkit.errors import CannotRunError
from rosterkit.writeback.typed_values import typed_values, was_filled
from tests.command_line import written
from tests.rosters import enrolled, roster, workbook


def test_fill_refuses_to_write_over_cvs_that_a_person_typed(tmp_path: Path) -> None:
    path = tmp_path / "club.xlsx"
    written(path, workbook([{"Loco": "A", "Address": 1000, "CV1": 0, "CV29": 38, "CV17": "see card"}]))
    before = path.read_bytes()

    with pytest.raises(CannotRunError) as refused:
        fill(path)

    assert str(refused.value).endswith(
        "C2 under CV1 in the sheet 'Locomotives' holds 0, which rosterkit did not write and would replace by "
        "nothing (1 of 2 such values)"
    )
    assert refused.value.fix == (
        "Enter what was read from decoders in the sheet Readings, then empty those cells; or rename the "
        "heading if the column is your own."
    )
    assert path.read_bytes() == before
    assert [one.name for one in tmp_path.iterdir()] == ["club.xlsx"]


def test_values_that_are_as_computed_are_no_hindrance_and_what_fill_wrote_it_writes_anew(
    tmp_path: Path,
) -> None:
    path = tmp_path / "club.xlsx"
    written(path, workbook([{"Loco": "A", "Address": 12, "CV1": 12, "CV29": 2}]))
    fill(path)
    book = openpyxl.load_workbook(path)
    book["Locomotives"]["B2"] = 13
    book.save(path)

    fill(path)

    assert openpyxl.load_workbook(path, data_only=True)["Locomotives"]["C2"].value == 13


@pytest.mark.parametrize(
    ("row", "filled", "places"),
    [
        pytest.param({"CV29": 38}, False, ["C2"], id="another value"),
        pytest.param({"CV29": 0}, False, ["C2"], id="a 0"),
        pytest.param({"CV29": 2, "CV1": ""}, False, [], id="the value that would be computed"),
        pytest.param({"CV29": "as on the card"}, False, [], id="a text is left where it is anyway"),
        pytest.param({"CV29": 38}, True, [], id="another value in a workbook that was filled"),
        pytest.param({"CV29": 38, "Check": "error [CV29] of old"}, False, [], id="beside a text of ours"),
        pytest.param({"Answers": 1, "CV1": 12}, True, ["C2"], id="Answers from before there was an Alert"),
        pytest.param({"Answers": 12}, True, [], id="Answers as it would be computed"),
        pytest.param({"Answers": "yes"}, True, [], id="Answers in words is left where it is anyway"),
        pytest.param({"Answers": 1, "Alert": ""}, True, [], id="Answers that fill wrote beside Alert"),
        pytest.param({"Answers": 1, "Alert": ""}, False, ["C2"], id="Answers in one never filled"),
    ],
)
def test_a_typed_value_is(row: dict[str, object], filled: bool, places: list[str]) -> None:
    made = enrolled(workbook([{"Loco": "A", "Address": 12, **row}], filled=filled))

    assert [one.table.place(one.column, one.index).cell for one in typed_values(made)] == places


def test_a_scale_speed_that_somebody_worked_out_is_one_too() -> None:
    run_ = {"Loco": "A", "Way": "forward", "Drive level": 40, "Distance": 1000, "Time": 10, "Scale speed": 99}
    made = roster([{"Loco": "A", "Address": 12}], runs=[run_])

    (one,) = typed_values(made)

    assert (one.table.title, one.column, one.stored, one.wanted) == (
        "Speed runs",
        "scale_speed",
        "99",
        "31.4",
    )


def test_a_workbook_was_filled_by_its_pages_and_not_by_a_sheet_that_recording_made() -> None:
    assert was_filled(enrolled(workbook([{"Loco": "A", "Address": 12}], filled=True)))
    assert not was_filled(roster([{"Loco": "A", "Address": 12}]))

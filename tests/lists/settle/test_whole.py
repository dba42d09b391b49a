"""Workbooks of ours adopted as lists: a doubt only where a roster refuses a value."""

from pathlib import Path

from tests.lists.pipeline import adopted_from

SAMPLES = Path(__file__).parents[3] / "sample_workbooks"


def test_a_workbook_of_ours_without_a_fault_has_no_doubt() -> None:
    assert adopted_from(SAMPLES / "clean.xlsx").doubts == ()


def test_a_value_that_a_roster_refuses_is_a_doubt_and_stays_as_typed() -> None:
    found = adopted_from(SAMPLES / "faulty" / "value-not-allowed.xlsx")

    assert [row.as_typed for row in found.engines if row.as_typed] == [{"Direction": "sideways"}]
    assert [doubt.message for doubt in found.doubts] == ["'sideways' is not one of normal, reversed"]

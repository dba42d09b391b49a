"""What was read, beside what is wanted."""

from datetime import time, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rosterkit.cv.readings import Verdict, newest_readings, nothing_read, verdict
from tests.rosters import brief, findings, roster, workbook

S922 = "NMRA S-9.2.2 (Jul 2012), CV19: 0 in bits 0 to 6 is no consist"
PRACTICE = "common practice, no source"


@pytest.mark.parametrize(
    ("source", "cv", "value", "wanted", "said"),
    [
        pytest.param(S922, 4, 5, 5, Verdict.AGREES, id="the value that is wanted"),
        pytest.param(S922, 4, 5, 6, Verdict.DIFFERS, id="another value"),
        pytest.param(S922, 4, 5, None, Verdict.NOT_SET_HERE, id="a CV that the roster does not set"),
        pytest.param(S922, 4, None, 5, None, id="no answer"),
        pytest.param(S922, None, 5, 5, None, id="no CV"),
        pytest.param(S922, 19, 128, 0, Verdict.AGREES, id="128 in CV19 is no consist, as wanted"),
        pytest.param(S922, 19, 0, 128, Verdict.AGREES, id="0 in CV19 is no consist either"),
        pytest.param(S922, 19, 138, 10, Verdict.DIFFERS, id="the other direction in a consist"),
        pytest.param(S922, 4, 128, 0, Verdict.DIFFERS, id="128 in another CV"),
    ],
)
def test_a_reading_beside_what_is_wanted(
    source: str, cv: int | None, value: int | None, wanted: int | None, said: Verdict | None
) -> None:
    assert verdict(cv, value, wanted) == said, source


@pytest.mark.parametrize(
    ("source", "values", "nothing"),
    [
        pytest.param(PRACTICE, {5: 255, 6: 255}, False, id="full drive in CV5 and CV6"),
        pytest.param(PRACTICE, {5: 255, 94: 255}, False, id="full drive at the top of curve and table"),
        pytest.param(PRACTICE, {18: 255, 5: 255}, False, id="the low byte of a long address and full drive"),
        pytest.param(PRACTICE, {29: 255}, False, id="one value says nothing"),
        pytest.param(PRACTICE, {5: 255, 29: 255}, True, id="a CV29 of 255 beside it"),
        pytest.param(PRACTICE, {5: 255, 6: None}, True, id="no answer beside it"),
        pytest.param(PRACTICE, {3: 255, 4: 255}, True, id="255 where it is no ordinary value"),
        pytest.param(PRACTICE, {5: 255, 29: 34}, False, id="another value beside it"),
    ],
)
def test_whether_anything_was_read(source: str, values: dict[int, int | None], nothing: bool) -> None:
    assert nothing_read(values.items()) is nothing, source


_MOMENTS = st.tuples(st.sampled_from(["2026-04-18", "2026-04-19", ""]), st.integers(0, 86_399))
_READ = st.dictionaries(_MOMENTS, st.tuples(st.sampled_from([1, 4, 19, 29]), st.integers(0, 255)), min_size=2)


@given(read=_READ, data=st.data())
def test_sorting_readings_with_times_changes_no_verdict(
    read: dict[tuple[str, int], tuple[int, int]], data: st.DataObject
) -> None:
    rows = [
        {"Date": day, "Time": str(timedelta(seconds=second)), "Loco": "A", "CV": cv, "Value": value}
        for (day, second), (cv, value) in read.items()
    ]
    said = []
    for order in (rows, data.draw(st.permutations(rows))):
        book = workbook([{"Loco": "A", "Address": 12, "Deceleration": 5}], readings=order)
        found = findings(book)
        newest = newest_readings(roster([{"Loco": "A", "Address": 12}], readings=order), "A")
        assert [one for one in found if one.rule == "readings-contradict"] == []
        said.append(
            (
                {key: (one.date, one.time, one.value) for key, one in newest.items()},
                sorted((rule, severity) for rule, _, severity in brief(found)),
            )
        )
    assert said[0] == said[1]


@pytest.mark.parametrize(
    ("typed", "clock"),
    [
        pytest.param("20:15", "20:15:00", id="hours and minutes"),
        pytest.param("9:05:07", "09:05:07", id="a digit for the hour"),
        pytest.param(time(20, 15, 30), "20:15:30", id="what a spreadsheet stores"),
        pytest.param(timedelta(hours=20), "20:00:00", id="shown as a length of time"),
        pytest.param("", None, id="blank"),
    ],
)
def test_a_time_of_day_is(typed: object, clock: str | None) -> None:
    made = roster(
        [{"Loco": "A", "Address": 12}], readings=[{"Loco": "A", "CV": 1, "Value": 3, "Time": typed}]
    )

    assert made.faults == ()
    assert [one.time for one in made.readings] == [clock]


@pytest.mark.parametrize("typed", ["24:00", "20:60", "evening", "20.15", 0.5, timedelta(hours=24)])
def test_what_is_no_time_of_day_is_found(typed: object) -> None:
    made = roster(
        [{"Loco": "A", "Address": 12}], readings=[{"Loco": "A", "CV": 1, "Value": 3, "Time": typed}]
    )

    assert [fault.fix for fault in made.faults] == ["Enter a time of day, such as 20:15."]
    assert [one.time for one in made.readings] == [None]

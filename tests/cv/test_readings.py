"""What was read, beside what is wanted."""

import pytest

from rosterkit.cv.readings import Verdict, nothing_read, verdict

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

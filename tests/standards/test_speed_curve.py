"""The three-value curve, the speed table and the trims."""

import pytest

from rosterkit.standards import speed_curve

CURVE = "NMRA S-9.2.2 (Jul 2012), CV2, CV5, CV6; RCN-225 (27.07.2025)"
LINES = "common practice, no source: straight lines between the three values"
TABLE = "NMRA S-9.2.2 (Jul 2012), CV67-94; derived"
TRIM = "NMRA S-9.2.2 (Jul 2012), CV66 and CV95; derived"
PRACTICE = "common practice, no source"


@pytest.mark.parametrize(
    ("source", "step", "steps", "curve", "drive"),
    [
        pytest.param(CURVE, 0, 28, (60, 128, 255), 0.0, id="step 0 stands still"),
        pytest.param(CURVE, 1, 28, (51, 128, 255), 0.2, id="CV2 is the drive at step 1"),
        pytest.param(CURVE, 1, 28, (0, 0, 0), 0.0, id="a CV2 of 0 is none"),
        pytest.param(CURVE, 1, 28, (255, 0, 0), 1.0, id="a CV2 of 255 is full"),
        pytest.param(CURVE, 28, 28, (0, 0, 204), 0.8, id="CV5 is the drive at the top step"),
        pytest.param(CURVE, 126, 128, (0, 0, 204), 0.8, id="the top of 128 steps is 126"),
        pytest.param(CURVE, 28, 28, (0, 0, 0), 1.0, id="a CV5 of 0 is not used"),
        pytest.param(CURVE, 28, 28, (0, 0, 1), 1.0, id="a CV5 of 1 is not used"),
        pytest.param(CURVE, 14, 28, (0, 102, 255), 0.4, id="CV6 is the drive at the middle of 28 steps"),
        pytest.param(CURVE, 7, 14, (0, 102, 255), 0.4, id="CV6 is the drive at the middle of 14 steps"),
        pytest.param(CURVE, 63, 128, (0, 102, 255), 0.4, id="CV6 is the drive at the middle of 128 steps"),
        pytest.param(LINES, 10, 28, (0, 0, 0), 1 / 3, id="a third of the way is a third of full"),
        pytest.param(LINES, 10, 28, (0, 1, 0), 1 / 3, id="a CV6 of 1 is passed over"),
        pytest.param(LINES, 21, 28, (0, 51, 255), 0.6, id="half-way from the middle to the top"),
        pytest.param(LINES, 4, 14, (51, 153, 255), 0.4, id="half-way from step 1 to the middle"),
    ],
)
def test_drive_along_the_curve(
    source: str, step: int, steps: int, curve: tuple[int, int, int], drive: float
) -> None:
    cv2, cv6, cv5 = curve

    assert speed_curve.drive_at_step(step, steps, cv2=cv2, cv6=cv6, cv5=cv5) == pytest.approx(drive), source


@pytest.mark.parametrize(
    ("step", "steps", "cv2", "cv6", "cv5", "message"),
    [
        pytest.param(29, 28, 0, 0, 0, "^speed step 29 is outside 0 to 28$", id="step 29 of 28"),
        pytest.param(127, 128, 0, 0, 0, "^speed step 127 is outside 0 to 126$", id="step 127 of 128"),
        pytest.param(1, 27, 0, 0, 0, "^speed steps 27, not one of 14, 28, 128$", id="27 steps"),
        pytest.param(1, 28, 256, 0, 0, "^CV2 256 is outside 0 to 255$", id="CV2 of 256"),
        pytest.param(1, 28, 0, 256, 0, "^CV5 or CV6 256 is outside 0 to 255$", id="CV6 of 256"),
        pytest.param(1, 28, 0, 0, -1, "^CV5 or CV6 -1 is outside 0 to 255$", id="CV5 of -1"),
    ],
)
def test_steps_and_values_outside_are_refused(
    step: int, steps: int, cv2: int, cv6: int, cv5: int, message: str
) -> None:
    with pytest.raises(ValueError, match=message):
        speed_curve.drive_at_step(step, steps, cv2=cv2, cv6=cv6, cv5=cv5)


@pytest.mark.parametrize(
    ("source", "cv2", "cv6", "cv5", "rises"),
    [
        pytest.param(PRACTICE, 5, 100, 200, True, id="5, 100, 200 rises"),
        pytest.param(PRACTICE, 5, 0, 200, True, id="without a middle only the ends count"),
        pytest.param(PRACTICE, 5, 0, 0, True, id="without a top it is full"),
        pytest.param(PRACTICE, 5, 220, 200, False, id="a middle over the top"),
        pytest.param(PRACTICE, 120, 100, 200, False, id="a start over the middle"),
        pytest.param(PRACTICE, 120, 0, 100, False, id="a start over the top"),
        pytest.param(PRACTICE, 100, 100, 200, False, id="a start as high as the middle"),
        pytest.param(PRACTICE, 5, 255, 255, True, id="full drive in the middle already"),
        pytest.param(PRACTICE, 5, 255, 0, True, id="full drive in the middle already, and no top"),
        pytest.param(PRACTICE, 5, 200, 200, False, id="a middle as high as a top that is not full"),
        pytest.param(PRACTICE, 255, 255, 255, False, id="full drive from the start"),
        pytest.param(PRACTICE, 255, 0, 1, False, id="a full start leaves nothing to rise to"),
    ],
)
def test_a_curve_rises_from_start_to_top(source: str, cv2: int, cv6: int, cv5: int, rises: bool) -> None:
    assert speed_curve.curve_rises(cv2=cv2, cv6=cv6, cv5=cv5) is rises, source


@pytest.mark.parametrize(
    ("source", "step", "cv"),
    [
        pytest.param(TABLE, 1, 67, id="step 1 is CV67"),
        pytest.param(TABLE, 2, 68, id="step 2 is CV68"),
        pytest.param(TABLE, 14, 80, id="step 14 is CV80"),
        pytest.param(TABLE, 15, 81, id="step 15 is CV81"),
        pytest.param(TABLE, 28, 94, id="step 28 is CV94"),
    ],
)
def test_a_table_step_has_its_cv(source: str, step: int, cv: int) -> None:
    assert speed_curve.cv_for_table_step(step) == cv, source
    assert speed_curve.table_step_for_cv(cv) == step, source


def test_the_28_cvs_are_67_to_94_in_order() -> None:
    cvs = [speed_curve.cv_for_table_step(step) for step in range(1, 29)]

    assert cvs == list(range(67, 95)) == list(speed_curve.SPEED_TABLE_CVS)


@pytest.mark.parametrize("step", [pytest.param(0, id="step 0"), pytest.param(29, id="step 29")])
def test_there_is_no_other_table_step(step: int) -> None:
    with pytest.raises(ValueError, match=f"^speed table step {step} is outside 1 to 28$"):
        speed_curve.cv_for_table_step(step)


@pytest.mark.parametrize("cv", [pytest.param(66, id="CV66, a trim"), pytest.param(95, id="CV95, a trim")])
def test_the_trims_are_not_in_the_table(cv: int) -> None:
    with pytest.raises(ValueError, match=f"^speed table CV {cv} is outside 67 to 94$"):
        speed_curve.table_step_for_cv(cv)


def test_a_straight_table_rises_evenly() -> None:
    table = speed_curve.straight_table()

    # Common practice, no source: no standard prints a table; rounded k x 255 / 28.
    assert table == (
        *(9, 18, 27, 36, 46, 55, 64, 73, 82, 91, 100, 109, 118, 128),
        *(137, 146, 155, 164, 173, 182, 191, 200, 209, 219, 228, 237, 246, 255),
    )


def test_a_straight_table_ends_at_the_top_asked_for() -> None:
    table = speed_curve.straight_table(140)

    assert table == tuple(range(5, 141, 5))


@pytest.mark.parametrize(
    ("source", "table", "steps"),
    [
        pytest.param(PRACTICE, [5 * n for n in range(28)], (), id="a rising table"),
        pytest.param(PRACTICE, [9] * 28, (), id="a level table does not fall"),
        pytest.param(PRACTICE, [*range(27), 3], (28,), id="a fall at the end"),
        pytest.param(PRACTICE, [50, 40, 60, 55, *range(100, 124)], (2, 4), id="two falls"),
    ],
)
def test_the_steps_where_a_table_falls(source: str, table: list[int], steps: tuple[int, ...]) -> None:
    assert speed_curve.falling_steps(table) == steps, source


@pytest.mark.parametrize(
    ("source", "entries", "falls"),
    [
        pytest.param(PRACTICE, {}, (), id="no entry"),
        pytest.param(PRACTICE, {5: 0}, (), id="one entry"),
        pytest.param(PRACTICE, {2: 5, 1: 10, 3: 12}, ((1, 2),), id="neighbours that fall, in any order"),
        pytest.param(PRACTICE, {1: 10, 9: 8, 28: 7}, ((1, 9), (9, 28)), id="falls over unknown steps"),
        pytest.param(PRACTICE, {1: 10, 9: 10}, (), id="level entries"),
    ],
)
def test_where_some_entries_of_a_table_fall(
    source: str, entries: dict[int, int], falls: tuple[tuple[int, int], ...]
) -> None:
    assert speed_curve.falls_among(entries) == falls, source


@pytest.mark.parametrize(
    ("table", "message"),
    [
        pytest.param([1] * 27, "^number of speed table entries 27, not one of 28$", id="27 entries"),
        pytest.param([1] * 27 + [256], "^speed table entry 256 is outside 0 to 255$", id="an entry of 256"),
    ],
)
def test_what_is_no_table_is_refused(table: list[int], message: str) -> None:
    with pytest.raises(ValueError, match=message):
        speed_curve.falling_steps(table)


@pytest.mark.parametrize(
    ("source", "cv", "factor"),
    [
        pytest.param(TRIM, 0, None, id="0 is no trim"),
        pytest.param(TRIM, 1, 0.0078125, id="1 is the least factor"),
        pytest.param(TRIM, 64, 0.5, id="64 is a half"),
        pytest.param(TRIM, 128, 1.0, id="128 is 1"),
        pytest.param(TRIM, 160, 1.25, id="160 is one and a quarter"),
        pytest.param(TRIM, 192, 1.5, id="192 is one and a half"),
        pytest.param(TRIM, 255, 1.9921875, id="255 is the greatest factor"),
    ],
)
def test_a_trim_counts_in_128ths(source: str, cv: int, factor: float | None) -> None:
    assert speed_curve.trim_factor(cv) == factor, source

"""A simulated engine is timed, the computed CVs are keyed in, and it is timed again."""

import numpy as np
import pytest

from rosterkit.planning.speed.engines import measured
from rosterkit.planning.speed.plans import Goal, Member, Part, SpeedPlan, plan
from rosterkit.planning.speed.remarks import Doubt
from rosterkit.planning.speed.targets import Shape
from rosterkit.planning.speed.timed_run import Way
from rosterkit.planning.speed.trims import Trimmed
from tests.planning.speed.simulator import CHARACTERS, DRIVES, Motor, both, dead, speeds, timed

SEEDS = range(1, 9)


def planned(
    motors: list[Motor], goal: Goal, *, noise: float = 0.0, seed: int = 7, table: bool = True
) -> SpeedPlan:
    members = [
        Member(
            label=f"E{n}",
            measured=measured(timed(m, DRIVES, noise=noise, seed=seed + 100 * n)),
            has_table=table,
        )
        for n, m in enumerate(motors)
    ]
    found = plan(members, goal)
    assert found is not None
    return found


def cvs(part: Part) -> dict[int, int]:
    setting = part.setting
    if isinstance(setting, Trimmed):
        trims = {66: setting.forward or 0, 95: setting.reverse or 0}
        return {29: 18} | trims | {66 + step: value for step, value in enumerate(setting.table, 1)}
    return {29: 2, 2: setting.cv2, 6: setting.cv6, 5: setting.cv5}


def off(motor: Motor, found: SpeedPlan, part: Part) -> float:
    """Greatest difference from the goal at any step, either way, as a share of the top speed."""
    each = [np.abs(np.array(speeds(motor, cvs(part), way)) - found.wanted).max() for way in Way]
    return float(max(each)) / found.top


@pytest.mark.parametrize("shape", [Shape.STRAIGHT, Shape.GENTLE])
@pytest.mark.parametrize("motor", CHARACTERS.values(), ids=CHARACTERS)
def test_without_noise_every_step_is_within_3_per_cent_of_the_goal(motor: Motor, shape: Shape) -> None:
    found = planned([motor], Goal(top=100.0, shape=shape))

    assert found.top == 100
    assert off(motor, found, found.parts[0]) < 0.03


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("motor", CHARACTERS.values(), ids=CHARACTERS)
def test_with_3_per_cent_noise_every_step_is_within_6_per_cent_of_the_goal(motor: Motor, seed: int) -> None:
    found = planned([motor], Goal(top=100.0), noise=0.03, seed=seed)

    assert off(motor, found, found.parts[0]) < 0.06


@pytest.mark.parametrize("motor", CHARACTERS.values(), ids=CHARACTERS)
def test_the_first_step_starts_the_engine_both_ways(motor: Motor) -> None:
    found = planned([motor], Goal(top=100.0))

    assert [speeds(motor, cvs(found.parts[0]), way)[0] > 0 for way in Way] == [True, True]


def test_a_matched_pair_differs_by_3_per_cent_at_most() -> None:
    pair = [CHARACTERS["a fast one that saturates early"], CHARACTERS["a stiff one, slower reverse"]]

    found = planned(pair, Goal())

    runs = np.array(
        [speeds(m, cvs(part), way) for m, part in zip(pair, found.parts, strict=True) for way in Way]
    )
    assert found.top == pytest.approx(112.0)
    assert (np.ptp(runs, axis=0)[1:] / found.top).max() < 0.03
    assert found.mismatch[1:].max() < 0.03


def test_the_uncertainty_told_covers_what_the_noise_did() -> None:
    motor = CHARACTERS["one that runs better reverse"]

    parts = [planned([motor], Goal(top=100.0), noise=0.03, seed=seed).parts[0] for seed in range(1, 41)]

    inside = [
        np.abs(np.array(speeds(motor, cvs(part), each.curve.way)) - each.kmh) <= each.within
        for part in parts
        for each in part.predictions
    ]
    # Two standard errors hold 95 in 100 where the spread is normal; curve drawing adds a little.
    assert 0.9 < np.mean(inside) < 0.99


def test_a_decoder_without_a_table_comes_as_near_as_three_values_can() -> None:
    motor = CHARACTERS["an even runner"]

    found = planned([motor], Goal(top=100.0), table=False)

    assert off(motor, found, found.parts[0]) < 0.03


def test_the_slower_engine_sets_the_top_speed_and_the_faster_one_gives_up_the_rest() -> None:
    fast = Motor(dead=dead(20, 20), top=both(160, 160), bend=0.5)
    slow = Motor(dead=dead(20, 20), top=both(100, 100), bend=0.5)

    found = planned([fast, slow], Goal(top=140.0))

    assert found.top == pytest.approx(100.0)
    assert [part.loss for part in found.parts] == pytest.approx([0.375, 0.0])
    (remark,) = [each for each in found.remarks if each.doubt is Doubt.TOP_UNREACHED]
    assert remark.message == "'E1' forward was timed no faster than 29 % below the wanted top speed"
    assert remark.fix == "Want a lower top speed."


def test_a_pair_timed_in_different_units_is_noticed() -> None:
    fast = Motor(dead=dead(20, 20), top=both(160.9, 160.9), bend=0.5)
    slow = Motor(dead=dead(20, 20), top=both(100, 100), bend=0.5)

    found = planned([fast, slow], Goal())

    assert [each.message for each in found.remarks if each.doubt is Doubt.UNIT_SLIP] == [
        "'E0' is 1.61 times as fast as 'E1': perhaps km/h taken for mph"
    ]


def test_a_top_speed_beyond_what_was_measured_asks_for_more_runs() -> None:
    motor = CHARACTERS["an even runner"]
    member = Member(label="E0", measured=measured(timed(motor, (15, 40, 80, 120, 160))))

    found = plan([member], Goal(top=140.0))

    assert found is not None
    assert found.parts[0].predictions[0].drives[-1] == 160
    assert found.remarks[0].fix == ("Time three runs forward at drive level 255; 160 is the highest so far.")


def test_a_goal_slower_than_the_start_is_no_goal() -> None:
    motor = CHARACTERS["an even runner"]
    member = Member(label="E0", measured=measured(timed(motor, (40, 80, 120, 160, 255))))

    assert plan([member], Goal(top=10.0)) is None


def test_planning_the_same_passes_twice_gives_the_same() -> None:
    pair = list(CHARACTERS.values())[:2]

    first = planned(pair, Goal(), noise=0.03)
    second = planned(pair, Goal(), noise=0.03)

    assert [cvs(part) for part in first.parts] == [cvs(part) for part in second.parts]

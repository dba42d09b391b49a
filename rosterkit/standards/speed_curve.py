"""The speed curve: CV2, CV6 and CV5, or the 28-entry table in CV67 to CV94; and the trims CV66 and CV95."""

from collections.abc import Mapping, Sequence
from itertools import pairwise
from math import floor

from rosterkit.standards.bounds import BYTE, one_of, within
from rosterkit.standards.speed_steps import top_step

SPEED_TABLE_CVS = range(67, 95)
"""NMRA S-9.2.2 (Jul 2012), CV67 to CV94; step k is CV 66 + k."""

TABLE_STEPS = range(1, 29)

FULL_DRIVE = 255


def is_used_in_curve(cv5_or_6: int) -> bool:
    """Tell whether CV5 or CV6, 0 to 255, takes part in the curve: 0 and 1 mean that it does not.

    NMRA S-9.2.2 (Jul 2012), CV5 and CV6; RCN-225 (27.07.2025), CV5 and CV6. ValueError outside.
    """
    return within(cv5_or_6, BYTE, "CV5 or CV6") > 1


def drive_at_step(step: int, steps: int, *, cv2: int, cv6: int = 0, cv5: int = 0) -> float:
    """Return the drive at a step, 0 to the top, of 14, 28 or 128 steps, as a fraction of full: 0.0 to 1.0.

    CV2 sets step 1, CV6 the middle (7, 14 or 63), CV5 the top, each in 255ths (NMRA S-9.2.2, Jul 2012, CV2,
    CV5, CV6). Straight lines between are common practice; the standards give no rule. CV6 of 0 or 1 is passed
    over, CV5 of 0 or 1 is full drive. 128 steps have 126 to run at. ValueError outside.
    """
    top = top_step(steps)
    within(step, range(top + 1), "speed step")
    if step == 0:
        return 0.0
    points = [(1, within(cv2, BYTE, "CV2") / FULL_DRIVE)]
    if is_used_in_curve(cv6):
        points.append((top // 2, cv6 / FULL_DRIVE))
    points.append((top, cv5 / FULL_DRIVE if is_used_in_curve(cv5) else 1.0))
    return _on_lines(step, points)


def _on_lines(step: int, points: Sequence[tuple[int, float]]) -> float:
    (low, low_drive), (high, high_drive) = next(line for line in pairwise(points) if step <= line[1][0])
    return low_drive + (high_drive - low_drive) * (step - low) / (high - low)


def curve_rises(*, cv2: int, cv6: int = 0, cv5: int = 0) -> bool:
    """Tell whether CV2 lies below CV6 and CV6 below CV5, as far as CV6 and CV5 are used (common practice).

    An unused CV5 counts as full drive, and full drive may be reached at CV6 already. All are 0 to 255;
    ValueError outside.
    """
    values = [within(cv2, BYTE, "CV2")]
    if is_used_in_curve(cv6):
        values.append(cv6)
    values.append(cv5 if is_used_in_curve(cv5) else FULL_DRIVE)
    if values[-2:] == [FULL_DRIVE, FULL_DRIVE] and len(values) > 2:
        values.pop()
    return all(low < high for low, high in pairwise(values))


def cv_for_table_step(step: int) -> int:
    """Return the CV of a speed table's step, 1 to 28 (NMRA S-9.2.2, Jul 2012); ValueError outside."""
    return 66 + within(step, TABLE_STEPS, "speed table step")


def table_step_for_cv(cv: int) -> int:
    """Return the speed table's step of CV67 to CV94 (NMRA S-9.2.2, Jul 2012); ValueError outside."""
    return within(cv, SPEED_TABLE_CVS, "speed table CV") - 66


def straight_table(top: int = FULL_DRIVE) -> tuple[int, ...]:
    """Return 28 entries from rest to a top, 0 to 255, on a line (common practice); ValueError outside."""
    within(top, BYTE, "top of the speed table")
    return tuple(floor(step * top / 28 + 0.5) for step in TABLE_STEPS)


def falling_steps(table: Sequence[int]) -> tuple[int, ...]:
    """Return the steps of a speed table whose entry is below the one before.

    Common practice: a table never falls. ValueError unless there are 28 entries of 0 to 255.
    """
    one_of(len(table), (len(TABLE_STEPS),), "number of speed table entries")
    return tuple(step for _, step in falls_among(dict(zip(TABLE_STEPS, table, strict=True))))


def falls_among(entries: Mapping[int, int]) -> tuple[tuple[int, int], ...]:
    """Return the neighbours among some entries of a speed table between which it falls, lower step first.

    Entries are 0 to 255 by step, 1 to 28. Common practice: a table never falls. ValueError outside.
    """
    for step, value in entries.items():
        within(step, TABLE_STEPS, "speed table step")
        within(value, BYTE, "speed table entry")
    return tuple((low, high) for low, high in pairwise(sorted(entries)) if entries[high] < entries[low])


def trim_factor(cv66_or_95: int) -> float | None:
    """Return the factor of a trim CV, 0 to 255, in 128ths: 128 is 1.0; None for 0, no trim.

    NMRA S-9.2.2 (Jul 2012), CV66 and CV95. ValueError outside.
    """
    return within(cv66_or_95, BYTE, "trim") / 128 or None

"""Drives at speed steps, by the engine's own curve.

NMRA S-9.2.2 (Jul 2012): CV2 is the drive at the first step, CV6 at the middle (14 of 28, 7 of 14), CV5 at the
top, CV67 to CV94 a table of 28. Straight lines between are common practice, no source.
"""

import pytest

from rosterkit.planning.speed.step_drive import drive_of_step
from tests.rosters import roster

_CURVED = {"Loco": "A", "Address": 12, "Vstart": 10, "Vmid": 60, "Vhigh": 200}
_TABLE = [{"Table": "Even"} | {str(step): 9 * step for step in range(1, 29)}]


@pytest.mark.parametrize(
    ("engine", "step", "steps", "drive"),
    [
        pytest.param({}, 0, 28, 0, id="stop"),
        pytest.param({}, 1, 28, 10, id="CV2 at the first of 28"),
        pytest.param({}, 14, 28, 60, id="CV6 at the middle of 28"),
        pytest.param({}, 28, 28, 200, id="CV5 at the top of 28"),
        pytest.param({}, 21, 28, 130, id="half-way from the middle to the top"),
        pytest.param({}, 7, 14, 60, id="CV6 at the middle of 14"),
        pytest.param({}, 126, 128, 200, id="CV5 at the top of 128, which is 126"),
        pytest.param({"Vmid": 0}, 28, 28, 200, id="without a middle the top"),
        pytest.param({"Vmid": 1, "Vhigh": 0}, 28, 28, 255, id="without a top full drive"),
        pytest.param(
            {"Speed curve": "table", "Speed table": "Even"}, 7, 28, 63, id="the entry of a speed table"
        ),
        pytest.param({"Speed curve": "table", "Speed table": "Even"}, 0, 28, 0, id="stop by a speed table"),
    ],
)
def test_the_drive_at_a_step(engine: dict[str, object], step: int, steps: int, drive: int) -> None:
    source = roster([_CURVED | engine], tables=_TABLE)

    assert drive_of_step(step, steps, "a", source) == drive


def test_a_table_that_was_made_of_the_runs_does_not_count() -> None:
    engine = _CURVED | {"Speed curve": "table", "Speed table": "Even"}
    source = roster([engine], tables=_TABLE, goals=[{"Loco": "A", "Table": "Even"}])

    assert drive_of_step(14, 28, "A", source) == 60

"""What the column Answers holds, and what in it and in Alert may be of rosterkit."""

import pytest

from rosterkit.roster.schema import sheet
from rosterkit.writeback.computed_columns import computed_rows, may_be_ours
from rosterkit.xlsx.grid import Calculated, Raw
from tests.rosters import roster


@pytest.mark.parametrize(
    ("engine", "answers"),
    [
        pytest.param({"Address": 1}, 1, id="the lowest short address"),
        pytest.param({"Address": 127}, 127, id="the highest short address"),
        pytest.param({"Address": 128}, -128, id="long by its number"),
        pytest.param({"Address": 10239}, -10239, id="the highest long address"),
        pytest.param({"Address": 25, "Address kind": "long"}, -25, id="long by its kind"),
        pytest.param({"Address": 200, "Address kind": "short"}, None, id="no short address"),
        pytest.param({"Address": ""}, None, id="no address"),
        pytest.param({"Address": 10240}, None, id="beyond all addresses"),
        pytest.param({"Address": 25, "Address kind": "medium"}, None, id="a kind that is none"),
        pytest.param({"Address": 25, "Meet address": 1000}, 25, id="the home address, not that of a meet"),
        pytest.param({"Address": 25, "Direction": "sideways"}, 25, id="known though CV29 is not"),
    ],
)
def test_a_row_answers(engine: dict[str, object], answers: int | None) -> None:
    """Short 1 to 127: NMRA S-9.2.2 (Jul 2012), CV1; long 1 to 10239: RCN-225 (27.07.2025), CV17/18."""
    (row,) = computed_rows(roster([{"Loco": "A", **engine}]), "Locomotives")

    assert row["answers"] == answers


def test_a_number_is_long_from_where_the_layout_says() -> None:
    made = roster(
        [{"Loco": "A", "Address": 99}, {"Loco": "B", "Address": 100}], layout={"Long addresses from": 100}
    )

    assert [row["answers"] for row in computed_rows(made, "Locomotives")] == [99, -100]


@pytest.mark.parametrize(
    ("column", "stored", "ours"),
    [
        pytest.param("answers", 127.0, True, id="short 127"),
        pytest.param("answers", -10239.0, True, id="long 10239"),
        pytest.param("answers", "-5201", True, id="long 5201 that a program keeps as text"),
        pytest.param("answers", 128.0, False, id="128, which would be no short address"),
        pytest.param("answers", "-", False, id="a dash"),
        pytest.param("answers", "yes", False, id="a word under Answers"),
        pytest.param("answers", Calculated(25.0), False, id="a formula under Answers"),
        pytest.param("alert", "error [Address] short 25 is also that of 'B'", True, id="an error"),
        pytest.param("alert", "ring the owner first", False, id="a member's words under Alert"),
        pytest.param("alert", 7.0, False, id="a number under Alert"),
        pytest.param("alert", "", True, id="a blank cell"),
    ],
)
def test_may_be_ours(column: str, stored: Raw, ours: bool) -> None:
    assert may_be_ours(sheet("Locomotives")[column], stored) is ours

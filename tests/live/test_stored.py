"""A formula of ours is known again however it is spelt, and what became of it is told apart."""

import pytest

from rosterkit.formulas.shared import pieces_of
from rosterkit.live.stored import State, Surroundings, state_of

OURS = 'IF($B7="","",COUNTIF($F$1:$F$60,$F7)+INDEX(\'Live\'!$N$2:$N$9,1)+\'Live\'!$P$2&"Ab"+10)'
AROUND = Surroundings(live="live", own_titles=frozenset({"live", "findings"}), last_rows={None: 50})


@pytest.mark.parametrize(
    ("before", "after", "state"),
    [
        pytest.param("", "", State.OURS, id="as we write it"),
        pytest.param("IF(", "if (", State.OURS, id="in small letters and with blanks"),
        pytest.param("'Live'!$P$2", "LIVE!$P$2", State.OURS, id="a title without quotes"),
        pytest.param("10)", "10.0)", State.OURS, id="a number with a zero"),
        pytest.param("$P$2", "$ZZ$14", State.OURS, id="a block of Live that stood elsewhere"),
        pytest.param("$N$2:$N$9", "$AA$2:$AA$400", State.OURS, id="a longer block of Live"),
        pytest.param("'Live'!$P$2", "Findings!$P$2", State.OURS, id="another title of a sheet of ours"),
        pytest.param("$F$1:$F$60", "$F$1:$F$50", State.OURS, id="a range just to the last row"),
        pytest.param("$F$1:$F$60", "$F$1:$F$900", State.OURS, id="a longer range"),
        pytest.param("$F$1:$F$60", "$F$1:$F$49", State.SHORT, id="a range that ends too early"),
        pytest.param("$F$1:$F$60", "$F$2:$F$60", State.CHANGED, id="a range that begins elsewhere"),
        pytest.param("$F$1:$F$60", "$G$1:$G$60", State.CHANGED, id="a range of another column"),
        pytest.param("$F$1:$F$60", "$F$1:$F60", State.CHANGED, id="a range whose end moves"),
        pytest.param("$F$1:$F$60", "$F$1", State.CHANGED, id="a cell in place of a range"),
        pytest.param("$F$1:$F$60", "#REF!", State.LOST, id="a lost range"),
        pytest.param("$F$1:$F$60", "#REF!:$F$60", State.LOST, id="a range with a lost beginning"),
        pytest.param("$F$1:$F$60", "$F$1:#REF!", State.LOST, id="a range with a lost end"),
        pytest.param("$B7", "#REF!", State.LOST, id="a lost column"),
        pytest.param("'Live'!$P$2", "#REF!$P$2", State.LOST, id="a lost sheet, with the cell behind it"),
        pytest.param("'Live'!$N$2:$N$9", "#REF!$N$2:$N$9", State.LOST, id="a range of a lost sheet"),
        pytest.param("'Live'!$P$2", "Live!#REF!", State.LOST, id="a lost cell of Live"),
        pytest.param("'Live'!$P$2", "[1]Live!$P$2", State.ELSEWHERE, id="Live of another workbook"),
        pytest.param("'Live'!$P$2", "'[b c.xlsx]Live'!$P$2", State.ELSEWHERE, id="of one with its name"),
        pytest.param("'Live'!$P$2", "Mine!$P$2", State.CHANGED, id="a sheet of the member's"),
        pytest.param("$F7)", "$F8)", State.CHANGED, id="another row"),
        pytest.param("$F7)", "$G7)", State.CHANGED, id="another column"),
        pytest.param("$F7)", "F7)", State.CHANGED, id="a column that moves"),
        pytest.param("Ab", "ab", State.CHANGED, id="another text"),
        pytest.param("10)", "11)", State.CHANGED, id="another number"),
        pytest.param("COUNTIF", "SUMIF", State.CHANGED, id="another function"),
        pytest.param("+10)", ")", State.CHANGED, id="a shorter formula"),
        pytest.param(OURS, "$B7&live!$N$2", State.CHANGED, id="a formula that reads Live"),
        pytest.param(OURS, "$B7&#REF!", State.FOREIGN, id="a formula of which nobody knows what it read"),
        pytest.param(OURS, "$B7*Mine!$N$2", State.FOREIGN, id="a formula that reads a member's sheet"),
        pytest.param(OURS, '$B7&"Live!"', State.FOREIGN, id="a formula with the word Live in a text"),
        pytest.param(OURS, "B7*2", State.FOREIGN, id="a formula of somebody's own"),
        pytest.param(OURS, "", State.FOREIGN, id="nothing"),
    ],
)
def test_a_stored_formula_is(before: str, after: str, state: State) -> None:
    assert before in OURS

    assert state_of(OURS.replace(before, after) if before else OURS, OURS, AROUND) is state


def test_the_worst_of_several_faults_counts() -> None:
    stored = OURS.replace("$F$1:$F$60", "$F$1:$F$9").replace("'Live'!$P$2", "[1]Live!$P$2")

    assert state_of(stored, OURS, AROUND) is State.ELSEWHERE
    assert state_of(stored.replace("$B7", "#REF!"), OURS, AROUND) is State.LOST


@pytest.mark.parametrize(
    ("stored", "row", "filled"),
    [
        pytest.param("$B7+C7*D$7", 7, "$B12+C12*D$7", id="rows that move do, fixed ones do not"),
        pytest.param('"$B7"&$B7', 7, '"$B7"&$B12', id="a text is left"),
        pytest.param(
            "SUM($B7:$D7)+B$77", 7, "SUM($B12:$D12)+B$77", id="both ends of a range, not a fixed row"
        ),
        pytest.param(
            "'Live 7'!B7+LOG10(7)", 7, "'Live 7'!B12+LOG10(7)", id="titles, functions and numbers are left"
        ),
        pytest.param("SUM($B$1:B7)", 7, "SUM($B$1:B12)", id="one end of a range"),
        pytest.param("'Live'!#REF!+B7", 7, "'Live'!#REF!+B12", id="what is lost is left"),
    ],
)
def test_a_formula_is_parted_where_it_names_its_row(stored: str, row: int, filled: str) -> None:
    pieces = pieces_of(stored, row)

    assert pieces is not None
    assert "12".join(pieces) == filled
    assert str(row).join(pieces) == stored


@pytest.mark.parametrize("stored", ["B8+1", "B7+B8", "SUM(B6:B7)", "'Live'!B6"])
def test_a_formula_that_names_another_row_is_not_parted(stored: str) -> None:
    assert pieces_of(stored, 7) is None

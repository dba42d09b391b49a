"""What the cells of a group have, by ECMA-376-1, 18.3.1.40; the reference is openpyxl's Translator."""

from hypothesis import given
from hypothesis import strategies as st
from openpyxl.formula.translate import Translator

from rosterkit.cell_names import column_letters
from rosterkit.formulas.shared import SharedFormula
from rosterkit.formulas.shift import shifted

_WORDS = st.lists(
    st.sampled_from(
        [
            "A7", "$B7", "$b7", "B07", "B$7", "$C8", "SUM($D7:E7)", "SUM($D$1:E7)", "Layout!F7",
            "'My 7'!$G7", '"A7 ""$B7"""', "LOG10(7)", "7:7", "A:A", "1.5", "Table7", "ZZZ7", "#REF!",
        ]
    ),
    max_size=8,
)  # fmt: skip


@given(_WORDS, st.integers(1, 1_048_576), st.integers(1, 9))
def test_each_cell_has_what_filling_the_first_one_would_give(words: list[str], row: int, column: int) -> None:
    text = "+".join(words)

    shared = SharedFormula(text, 7, 3)

    assert shared.at(row, column) == shifted(text, row - 7, column - 3)


_OURS = st.lists(
    st.sampled_from(
        ["$B7", "$C7", "$D$7", "'It''s'!$E$7", "SUM($F$1:$F7)", '"$B7"', "LOG10(7)", "Live!$N$2"]
    ),
    min_size=1,
    max_size=8,
)


@given(_OURS, st.integers(1, 1_048_576))
def test_a_formula_that_names_its_own_row_alone_differs_in_that_number(words: list[str], row: int) -> None:
    text = "&".join(words)

    shared = SharedFormula(text, 7, 14)

    assert shared.is_filled_down(14)
    assert not shared.is_filled_down(15)
    assert "=" + shared.at(row, 14) == Translator("=" + text, origin="N7").translate_formula(
        f"{column_letters(14)}{row}"
    )


def test_a_formula_that_names_another_row_differs_in_more() -> None:
    assert not SharedFormula("$B6+1", 7, 3).is_filled_down(3)
    assert not SharedFormula("7:7", 7, 3).is_filled_down(3)

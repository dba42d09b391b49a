"""Formulas filled down and across, by ECMA-376-1, 18.17.2.3 (references) and 18.3.1.40 (shared)."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rosterkit.formulas.shift import shifted
from rosterkit.formulas.tokens import canonical, tokens


@pytest.mark.parametrize(
    ("text", "rows", "columns", "wanted"),
    [
        pytest.param("A1+B2", 2, 1, "B3+C4", id="cells without a dollar sign move"),
        pytest.param("$A1+A$1+$A$1", 2, 1, "$A3+B$1+$A$1", id="a dollar sign holds column or row"),
        pytest.param("SUM(A1:B$9)", 1, 0, "SUM(A2:B$9)", id="both ends of a range move"),
        pytest.param("A1", -1, 0, "#REF!", id="a cell above the sheet is gone"),
        pytest.param("A1", 0, -1, "#REF!", id="a cell left of the sheet is gone"),
        pytest.param("XFD1048576", 1, 0, "#REF!", id="a cell below the sheet is gone"),
        pytest.param("SUM(A1:A9)", -1, 0, "SUM(#REF!)", id="a range that leaves the sheet is gone"),
        pytest.param("Layout!A2", 1, 0, "Layout!A3", id="with a sheet's title"),
        pytest.param("'It''s A1'!A2", 1, 0, "'It''s A1'!A3", id="a quoted title stays"),
        pytest.param("Layout!A1", -1, 0, "Layout!#REF!", id="gone from another sheet"),
        pytest.param('"A1 ""B2"""&A1', 1, 0, '"A1 ""B2"""&A2', id="texts stay"),
        pytest.param("LOG10(A1)+A1", 1, 0, "LOG10(A2)+A2", id="a function named like a cell stays"),
        pytest.param("_xlfn.XLOOKUP(A1,B1:B2,1)", 1, 0, "_xlfn.XLOOKUP(A2,B2:B3,1)", id="unknown functions"),
        pytest.param("Tax_1+ABCD1+XFE1", 1, 0, "Tax_1+ABCD1+XFE1", id="names that no cell has stay"),
        pytest.param("SUM(A:A)+SUM($B:C)", 5, 1, "SUM(B:B)+SUM($B:D)", id="whole columns"),
        pytest.param("SUM(1:1)+SUM($2:3)", 5, 1, "SUM(6:6)+SUM($2:8)", id="whole rows"),
        pytest.param("Table1[[#This Row],[A1]]+A1", 1, 0, "Table1[[#This Row],[A1]]+A2", id="table columns"),
        pytest.param("[1]Sheet1!A1+'[1]My b'!A1", 1, 0, "[1]Sheet1!A2+'[1]My b'!A2", id="other workbooks"),
        pytest.param("Sheet1:Sheet3!A1", 1, 0, "Sheet1:Sheet3!A2", id="several sheets"),
        pytest.param("#REF!+A1", 1, 0, "#REF!+A2", id="what is gone stays so"),
        pytest.param("{1,2;3,4}+A1#", 1, 0, "{1,2;3,4}+A2#", id="constants and spilled ranges"),
        pytest.param("1E5+A1+1.5E-3", 1, 0, "1E5+A2+1.5E-3", id="numbers with exponents stay"),
        pytest.param("a1+$b$2", 1, 0, "A2+$B$2", id="small letters are read"),
        pytest.param("A1:INDEX(A1:A9,2)", 1, 0, "A2:INDEX(A2:A10,2)", id="a range up to a found cell"),
    ],
)
def test_a_formula_is_shifted(text: str, rows: int, columns: int, wanted: str) -> None:
    assert shifted(text, rows, columns) == wanted


_WORDS = st.lists(
    st.sampled_from(
        [
            "A1",
            "$B$2",
            "C$3",
            "$D4:E5",
            "Layout!F6",
            "'My sheet'!G7",
            '"A1 ""x"""',
            "LEFT(",
            ")",
            ",",
            "+",
            "1.5",
        ]
    ),
    max_size=12,
)


@given(st.text())
def test_the_words_of_any_text_joined_are_the_text(text: str) -> None:
    assert "".join(token.text for token in tokens(text)) == text


@pytest.mark.parametrize("sign", ["[", "'", '"', "a:", "[a", "'a", "$", "#"])
def test_a_text_of_many_signs_that_begin_something_is_taken_apart(sign: str) -> None:
    text = sign * 8000

    assert "".join(token.text for token in tokens(text)) == text


def test_a_text_that_is_too_long_for_a_formula_is_not_looked_into() -> None:
    text = "+".join(["A1"] * 9000)

    assert shifted(text, 1, 0) == text


@given(_WORDS, st.integers(0, 1000), st.integers(0, 1000))
def test_a_formula_shifted_there_and_back_is_the_same(words: list[str], rows: int, columns: int) -> None:
    text = " ".join(words)

    assert shifted(shifted(text, rows, columns), -rows, -columns) == text


@given(_WORDS, st.integers(0, 99), st.integers(0, 99))
def test_two_shifts_are_one(words: list[str], first: int, second: int) -> None:
    text = " ".join(words)

    assert shifted(shifted(text, first, 0), second, 0) == shifted(text, first + second, 0)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        pytest.param("if(a1=1,2,3)", "IF(A1=1,2,3)", id="case"),
        pytest.param("IF( A1 = 1 , 2,3 )", "IF(A1=1,2,3)", id="blanks"),
        pytest.param("Layout!$A$1", "'layout'!$A$1", id="quotes and case of a title"),
        pytest.param("'It''s'!a1", "'IT''S'!A1", id="a title with an apostrophe"),
        pytest.param("1.50+2", "1.5+2.0", id="zeros of numbers"),
        pytest.param("IF(TRUE(),1,2)", "IF(true,1,2)", id="TRUE as a function"),
    ],
)
def test_formulas_that_differ_in_spelling_only_have_the_same_words(one: str, other: str) -> None:
    assert canonical(one) == canonical(other)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        pytest.param('"a"', '"A"', id="case of a text"),
        pytest.param('"a b"', '"ab"', id="blanks of a text"),
        pytest.param("$A$1", "A1", id="dollar signs"),
        pytest.param("Layout!A1", "A1", id="a title"),
        pytest.param("A1", "A2", id="another cell"),
    ],
)
def test_formulas_that_differ_in_more_have_other_words(one: str, other: str) -> None:
    assert canonical(one) != canonical(other)


def test_the_words_of_a_formula_can_be_read_again() -> None:
    words = canonical("IF('It''s'!A1=\"it's\",'a b'!B2,C3)")

    assert canonical("".join(words)) == words

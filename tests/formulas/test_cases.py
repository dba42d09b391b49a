"""What formulas come to, case by case; ``test_programs.py`` has spreadsheet programs say the same."""

import pytest

from rosterkit.formulas.formula import compiled
from rosterkit.formulas.syntax import UnknownFormula
from rosterkit.formulas.values import UNSURE, Content
from tests.formulas.case import alike, parameters
from tests.formulas.condition_cases import CONDITIONS
from tests.formulas.operator_cases import COMPARISONS, OPERATORS
from tests.formulas.range_cases import AGGREGATES, ARRAYS, LOOKUPS
from tests.formulas.sheets import CASES, result
from tests.formulas.text_cases import NUMBERS, TEXTS
from tests.formulas.unsure_cases import UNSURE_CASES

SURE = (*OPERATORS, *COMPARISONS, *TEXTS, *NUMBERS, *CONDITIONS, *AGGREGATES, *LOOKUPS, *ARRAYS)


@pytest.mark.parametrize(("text", "wanted"), parameters(SURE))
def test_a_formula_comes_to(text: str, wanted: Content) -> None:
    assert alike(result(text), wanted)


@pytest.mark.parametrize(("text", "wanted"), parameters(UNSURE_CASES))
def test_no_result_is_claimed_of(text: str, wanted: Content) -> None:
    assert result(text) == wanted == UNSURE


@pytest.mark.parametrize(
    "text",
    [
        pytest.param("", id="nothing"),
        pytest.param("1+", id="a value is missing"),
        pytest.param("(1", id="a bracket is open"),
        pytest.param("1)", id="a bracket is closed"),
        pytest.param("1 2", id="two values side by side"),
        pytest.param('"a', id="a text without an end"),
        pytest.param("A1:A3", id="a range alone"),
        pytest.param("A1:A3+1", id="a range where one value is needed"),
        pytest.param("SUM(A:A)", id="a whole column"),
        pytest.param("SUM(1:1)", id="a whole row"),
        pytest.param("SUM(A1:A3 A2:B2)", id="cells that two ranges share"),
        pytest.param("A1:INDEX(A1:A9,2)", id="a range up to a found cell"),
        pytest.param("[1]Sheet1!A1", id="another workbook"),
        pytest.param("Sheet1:Sheet3!A1", id="several sheets"),
        pytest.param("Owners", id="a name"),
        pytest.param("Table1[Loco]", id="a column of a table"),
        pytest.param("{1,2}", id="a constant of several values"),
        pytest.param("NOW()", id="a volatile function"),
        pytest.param("XLOOKUP(1,A1:A3,B1:B3)", id="a function that not every program has"),
        pytest.param("IF(1)", id="too few arguments"),
        pytest.param("LEN(1,2)", id="too many arguments"),
        pytest.param("IF(1,,2)", id="an argument left out"),
        pytest.param("MATCH(1,A1:A3,-1)", id="MATCH of numbers that descend"),
        pytest.param("MATCH(1,A1:A3,B1)", id="MATCH of a kind that is worked out"),
        pytest.param("COUNTIF(1,2)", id="COUNTIF in what is no range"),
        pytest.param("ISBLANK(1)", id="ISBLANK of what is no cell"),
        pytest.param("ROW(A1:A3)", id="the rows of a range"),
        pytest.param("2^3^2", id="a power of a power"),
        pytest.param("A1#", id="a range that spills"),
        pytest.param("@A1", id="the cell of a range in the same row"),
        pytest.param("(" * 99 + "1" + ")" * 99, id="too many brackets in one another"),
        pytest.param("-" * 99 + "1", id="too many signs"),
        pytest.param("+".join("1" * 999), id="too many terms"),
        pytest.param("(" * 40 + "1" + "+1+1+1+1)" * 40, id="too many terms in one another"),
    ],
)
def test_other_formulas_are_not_known(text: str) -> None:
    with pytest.raises(UnknownFormula):
        compiled(text, CASES, 1)

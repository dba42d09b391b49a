"""CSV that no spreadsheet program takes for formulas."""

import pytest

from rosterkit.formats import as_csv


@pytest.mark.parametrize(
    ("text", "written"),
    [
        pytest.param("=1+1", "'=1+1", id="a formula"),
        pytest.param(
            "Tested;=1+1", "Tested;'=1+1", id="a formula behind a semicolon, where a cell may begin"
        ),
        pytest.param("a; -5", "a; '-5", id="and behind spaces"),
        pytest.param("\uff1d1+1", "'\uff1d1+1", id="a full-width equals sign"),
        pytest.param("JV 2101; NE 5", "JV 2101; NE 5", id="a list of labels"),
        pytest.param("A=1", "A=1", id="a sign within a text"),
    ],
)
def test_a_text_that_may_be_taken_for_a_formula_gets_an_apostrophe(text: str, written: str) -> None:
    assert as_csv(["text"], [[text]]) == f"text\n{written}"

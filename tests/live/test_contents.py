"""What a cell holds as formulas see it; dates as numbers by ECMA-376-1, 18.17.4 (the days from memory)."""

from datetime import date, datetime, time, timedelta

import pytest

from rosterkit.formulas.values import UNSURE, Content, FormulaError
from rosterkit.live.contents import columns_of, contents
from rosterkit.xlsx.grid import BadDate, Calculated, CellError, NoStoredValue, Raw, ScientificNumber
from tests.rosters import grid


@pytest.mark.parametrize(
    ("cell", "found"),
    [
        pytest.param("", None, id="a blank cell"),
        pytest.param(" ", " ", id="a cell with a blank in it"),
        pytest.param("007", "007", id="digits kept as text"),
        pytest.param(25.0, 25, id="a number"),
        pytest.param(True, True, id="a truth value"),
        pytest.param(ScientificNumber(400.0), 400, id="a number in scientific notation"),
        pytest.param(Calculated(12.0), 12, id="a formula's number"),
        pytest.param(Calculated(""), "", id="a formula's empty text, which is no blank cell"),
        pytest.param(CellError("#REF!"), FormulaError("#REF!"), id="an error"),
        pytest.param(NoStoredValue("A1+1"), UNSURE, id="a formula without a result"),
        pytest.param(date(1900, 1, 1), 1, id="the first day"),
        pytest.param(date(1900, 2, 28), 59, id="the day before the one that never was"),
        pytest.param(date(1900, 3, 1), 61, id="the day after it"),
        pytest.param(date(2026, 5, 31), 46173, id="a day of this century"),
        pytest.param(datetime(2026, 5, 31, 12), 46173.5, id="its noon"),
        pytest.param(time(6), 0.25, id="a time of day"),
        pytest.param(timedelta(hours=36), 1.5, id="a duration"),
        pytest.param(BadDate("60"), 60, id="the day that never was"),
        pytest.param(BadDate("-3"), -3, id="a number that is no day"),
        pytest.param(BadDate("nan"), "nan", id="a text that is no number"),
    ],
)
def test_formulas_see(cell: Raw, found: Content) -> None:
    (content,) = contents([cell])

    assert content == found
    assert type(content) is type(found) or isinstance(found, int)


def test_days_count_from_1904_where_the_workbook_says_so() -> None:
    assert contents([date(1904, 1, 1), date(2026, 5, 31), 25.0], date1904=True) == [0, 44711, 25]


def test_a_column_has_a_cell_for_each_row_of_the_sheet() -> None:
    source = grid("Locomotives", ("Loco", "Address"), ("A",), (), ("B", 12.0, "red"))

    assert columns_of(source, (2, 9)) == {2: ["Address", None, None, 12], 9: [None] * 4}

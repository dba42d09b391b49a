"""What a member typed, and what a spreadsheet made of it, as the value that a column means."""

import string
from datetime import date, datetime, time, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rosterkit.roster.cell_values import UnreadableCell, Value, all_cleaned, cleaned, shown
from rosterkit.roster.schema import Column, Kind, sheet
from rosterkit.xlsx.grid import BadDate, CellError, NoStoredValue, Raw, ScientificNumber

ENGINES = sheet("Locomotives")
TEXT, PROSE = ENGINES["number"], ENGINES["notes"]
WHOLE, NUMBER = ENGINES["address"], ENGINES["length"]
CHOICE, DAY = ENGINES["speed_steps"], ENGINES["checked_on"]
SWITCH = ENGINES["dc_operation"]


def test_the_columns_of_these_tests_are_of_every_kind() -> None:
    kinds = [column.kind for column in (TEXT, PROSE, WHOLE, NUMBER, CHOICE, DAY)]

    assert kinds == [Kind.TEXT, Kind.TEXT, Kind.WHOLE, Kind.NUMBER, Kind.CHOICE, Kind.DATE]
    assert [TEXT.prose, PROSE.prose] == [False, True]


@pytest.mark.parametrize(
    ("column", "raw", "value"),
    [
        pytest.param(TEXT, "", None, id="nothing is blank"),
        pytest.param(WHOLE, "  \t\n ", None, id="blanks are blank"),
        pytest.param(TEXT, "\u00a0\u200b\ufeff\u00a0", None, id="signs that nobody sees are blank"),
        pytest.param(TEXT, " 0418 ", "0418", id="blanks around a text go, leading zeros stay"),
        pytest.param(TEXT, "4E2", "4E2", id="4E2 typed into a text column stays"),
        pytest.param(TEXT, "1-2", "1-2", id="1-2 typed into a text column stays"),
        pytest.param(TEXT, "ＪＶ　７", "ＪＶ　７", id="a text stays as it is typed, full width too"),
        pytest.param(TEXT, 2101.0, "2101", id="a number in a text column is its digits"),
        pytest.param(TEXT, 7, "7", id="a whole number in a text column is its digits"),
        pytest.param(TEXT, 12.5, "12.5", id="a decimal in a text column is its digits"),
        pytest.param(TEXT, 999999999999999.0, "999999999999999", id="15 digits are exact"),
        pytest.param(TEXT, True, "TRUE", id="a truth value in a text column is the word"),
        pytest.param(WHOLE, "12", 12, id="a number stored as text"),
        pytest.param(WHOLE, " 12 ", 12, id="a number stored as text with blanks"),
        pytest.param(WHOLE, "12.0", 12, id="12.0 typed as text"),
        pytest.param(WHOLE, 12.0, 12, id="3.0 for 3"),
        pytest.param(WHOLE, "１２", 12, id="full-width digits"),
        pytest.param(WHOLE, "+12", 12, id="a plus"),
        pytest.param(WHOLE, "\u22125", -5, id="a minus sign of typography"),
        pytest.param(WHOLE, "-5", -5, id="a hyphen for minus"),
        pytest.param(WHOLE, "0012", 12, id="leading zeros of a number do not count"),
        pytest.param(WHOLE, 12.5, 12.5, id="a decimal stays, for the schema to judge"),
        pytest.param(WHOLE, "12.5", 12.5, id="a decimal as text stays, for the schema to judge"),
        pytest.param(WHOLE, "twelve", "twelve", id="a word stays, for the schema to judge"),
        pytest.param(WHOLE, "12,5", "12,5", id="a decimal comma is no whole number"),
        pytest.param(WHOLE, "1e2", "1e2", id="typed scientific notation is no whole number"),
        pytest.param(WHOLE, "1_000", "1_000", id="an underscore is no digit"),
        pytest.param(WHOLE, "12 13", "12 13", id="two numbers are none"),
        pytest.param(WHOLE, "1 026", 1026, id="a blank between thousands"),
        pytest.param(WHOLE, "1\u202f026", 1026, id="a narrow blank between thousands"),
        pytest.param(WHOLE, "12 1234", "12 1234", id="four digits behind a blank are another number"),
        pytest.param(WHOLE, "9" * 301, "9" * 301, id="more than 300 digits stay text"),
        pytest.param(WHOLE, "9" * 300, 10**300 - 1, id="300 digits are a number yet"),
        pytest.param(WHOLE, True, True, id="a truth value stays, for the schema to judge"),
        pytest.param(WHOLE, ScientificNumber(400.0), 400, id="a scientific number where one is wanted"),
        pytest.param(NUMBER, "3,5", 3.5, id="a decimal comma"),
        pytest.param(NUMBER, "0,25", 0.25, id="a decimal comma with two digits"),
        pytest.param(NUMBER, "1,2345", 1.2345, id="a decimal comma with four digits"),
        pytest.param(NUMBER, "1,234", "1,234", id="three digits after a comma may be thousands"),
        pytest.param(NUMBER, "1.234", 1.234, id="a decimal point is one"),
        pytest.param(NUMBER, ".5", 0.5, id="a decimal without a zero"),
        pytest.param(NUMBER, "5.", 5, id="a point with nothing behind it"),
        pytest.param(NUMBER, "195 mm", "195 mm", id="a unit is no number"),
        pytest.param(NUMBER, 3.0, 3, id="a whole number in a column of numbers"),
        pytest.param(NUMBER, ScientificNumber(1.5), 1.5, id="a scientific number in a column of numbers"),
        pytest.param(CHOICE, "28", "28/128", id="another way to write a choice"),
        pytest.param(CHOICE, 128.0, "28/128", id="a number for a choice"),
        pytest.param(CHOICE, " 28 / 128 ", "28/128", id="blanks within a choice"),
        pytest.param(CHOICE, "２８", "28/128", id="full-width digits of a choice"),
        pytest.param(CHOICE, "fast", "fast", id="no choice, for the schema to judge"),
        pytest.param(CHOICE, 99, "99", id="no choice as number, for the schema to judge"),
        pytest.param(CHOICE, ScientificNumber(14.0), "14", id="a scientific number for a choice"),
        pytest.param(SWITCH, "ON", "on", id="letter case of a choice"),
        pytest.param(SWITCH, True, "on", id="TRUE for on"),
        pytest.param(SWITCH, False, "off", id="FALSE for off"),
        pytest.param(SWITCH, 1, "on", id="1 for on"),
        pytest.param(SWITCH, 0.0, "off", id="0 for off"),
        pytest.param(DAY, datetime(2026, 4, 11, 15, 30), "2026-04-11", id="a moment is its day"),
        pytest.param(DAY, date(2026, 4, 11), "2026-04-11", id="a day"),
        pytest.param(DAY, "2026-04-11", "2026-04-11", id="a day as text"),
        pytest.param(DAY, "２０２６-04-11", "2026-04-11", id="a day in full width"),
        pytest.param(DAY, time(10, 30), "10:30:00", id="a time is no day, for the schema to judge"),
        pytest.param(DAY, 46123, 46123, id="a number is no day, for the schema to judge"),
        pytest.param(PROSE, date(2026, 4, 11), "2026-04-11", id="a date in prose"),
        pytest.param(PROSE, datetime(2026, 4, 11, 9, 5), "2026-04-11 09:05", id="a moment in prose"),
        pytest.param(PROSE, timedelta(hours=1), "1:00:00", id="a duration in prose"),
        pytest.param(PROSE, ScientificNumber(400.0), "400", id="a scientific number in prose"),
        pytest.param(PROSE, 1e15, "1000000000000000", id="a long number in prose"),
    ],
)
def test_a_cell_means(column: Column, raw: Raw, value: Value | None) -> None:
    meant = cleaned(column, raw)

    assert (type(meant), meant) == (type(value), value)


@pytest.mark.parametrize(
    ("typed", "value"),
    [
        pytest.param("195 mm", 195, id="a blank before it"),
        pytest.param("12,5mm", 12.5, id="none, and a decimal comma"),
        pytest.param("1 200 MM", 1200, id="thousands, and whatever the letter case"),
        pytest.param("195 in", "195 in", id="another unit is not guessed at"),
        pytest.param("about 195 mm", "about 195 mm", id="other words stay, for the schema to judge"),
        pytest.param("mm", "mm", id="a unit alone is no number"),
        pytest.param("3 x 5 mm", "3 x 5 mm", id="two numbers are none"),
    ],
)
def test_the_unit_of_the_column_may_stand_behind_a_number(typed: str, value: Value) -> None:
    assert cleaned(NUMBER, typed, units=("mm", "millimetres")) == value


@pytest.mark.parametrize("typed", ["128 to 9999", "128-9999", "128 \u2013 9999", "128..9999", "128 - 9999"])
def test_a_range_is_written_in_many_ways(typed: str) -> None:
    assert cleaned(sheet("Layout")["long_range"], typed) == "128-9999"


@pytest.mark.parametrize(
    ("column", "raw", "rule", "fix"),
    [
        pytest.param(
            TEXT,
            datetime(2026, 2, 1),
            "number-became-date",
            "Format the cell as text, then type it again.",
            id="a road number turned into a date",
        ),
        pytest.param(
            TEXT,
            time(14, 0),
            "number-became-date",
            "Format the cell as text, then type it again.",
            id="a time",
        ),
        pytest.param(
            TEXT,
            timedelta(hours=30),
            "number-became-date",
            "Format the cell as text, then type it again.",
            id="a duration",
        ),
        pytest.param(
            CHOICE,
            date(2026, 4, 3),
            "number-became-date",
            "Format the cell as text, then type it again.",
            id="a choice turned into a date",
        ),
        pytest.param(
            WHOLE,
            date(1900, 1, 12),
            "number-became-date",
            "Format the cell as a plain number, then type it again.",
            id="a number shown as a date",
        ),
        pytest.param(
            NUMBER,
            datetime(1900, 1, 12),
            "number-became-date",
            "Format the cell as a plain number, then type it again.",
            id="a length shown as a date",
        ),
        pytest.param(
            DAY,
            BadDate("-3"),
            "number-became-date",
            "Format the cell as a plain number, then type it again.",
            id="a date that is none",
        ),
        pytest.param(
            TEXT,
            ScientificNumber(400.0),
            "number-became-float",
            "Format the cell as text, then type it again.",
            id="4E2 turned into a number",
        ),
        pytest.param(
            TEXT, 1e15, "number-became-float", "Format the cell as text, then type it again.", id="16 digits"
        ),
        pytest.param(
            TEXT,
            -1e15,
            "number-became-float",
            "Format the cell as text, then type it again.",
            id="minus 16 digits",
        ),
        pytest.param(
            WHOLE,
            CellError("#REF!"),
            "value-is-error",
            "Mend the formula, or type the value.",
            id="an error of the spreadsheet",
        ),
        pytest.param(
            PROSE,
            CellError("#N/A"),
            "value-is-error",
            "Mend the formula, or type the value.",
            id="an error of the spreadsheet in prose",
        ),
        pytest.param(
            NUMBER,
            NoStoredValue("B2*2"),
            "formula-without-value",
            "Open the workbook in a spreadsheet program, let it calculate, and save it.",
            id="a formula that was never calculated",
        ),
    ],
)
def test_a_cell_is_spoiled_by(column: Column, raw: Raw, rule: str, fix: str) -> None:
    unreadable = cleaned(column, raw)

    assert isinstance(unreadable, UnreadableCell)
    assert (unreadable.rule, unreadable.fix) == (rule, fix)


@pytest.mark.parametrize(
    ("raw", "text"),
    [
        pytest.param(12.0, "12", id="a whole number without its point"),
        pytest.param(12.5, "12.5", id="a decimal"),
        pytest.param(1e15, "1000000000000000.0", id="a number that has lost digits with its point"),
        pytest.param(1e300, "1e+300", id="a number too large for digits"),
        pytest.param(True, "TRUE", id="a truth value as spreadsheets write it"),
        pytest.param(datetime(2026, 4, 11), "2026-04-11", id="midnight as a day"),
        pytest.param(datetime(2026, 4, 11, 9, 5, 7), "2026-04-11 09:05", id="a moment to the minute"),
        pytest.param(" two\n lines\t", "two lines", id="line ends as blanks"),
        pytest.param("x" * 60, "x" * 60, id="60 signs whole"),
        pytest.param("x" * 61, "x" * 57 + "...", id="61 signs cut"),
        pytest.param(CellError("#DIV/0!"), "#DIV/0!", id="an error by its code"),
        pytest.param(NoStoredValue("A1+1"), "=A1+1", id="a formula with its sign"),
        pytest.param(ScientificNumber(400.0), "4E+02", id="a scientific number as it was typed"),
        pytest.param(BadDate("-3"), "-3", id="a date that is none by its number"),
    ],
)
def test_content_is_shown_in_sentences_as(raw: Raw, text: str) -> None:
    assert shown(raw) == text


@given(st.integers(-(10**15) + 1, 10**15 - 1))
def test_a_whole_number_is_the_same_typed_stored_as_text_or_as_float(number: int) -> None:
    full_width = str(number).translate(str.maketrans(string.digits, "０１２３４５６７８９"))

    assert [cleaned(WHOLE, raw) for raw in (number, float(number), str(number), full_width)] == [number] * 4


@given(st.text(max_size=20))
def test_a_text_comes_through_unchanged_but_for_blanks_around_it(text: str) -> None:
    value = cleaned(TEXT, text)

    assert value is None or (isinstance(value, str) and value in text and value == value.strip())


@given(st.sampled_from(ENGINES.columns), st.text(max_size=10) | st.integers() | st.floats(allow_nan=False))
def test_cleaning_a_second_time_changes_nothing(column: Column, raw: str | int | float) -> None:
    once = cleaned(column, raw)

    assert once is None or isinstance(once, UnreadableCell) or cleaned(column, once) == once


_CELLS = st.one_of(
    st.just(""),
    st.text(max_size=5),
    st.floats(),
    st.integers(-5, 300),
    st.booleans(),
    st.sampled_from([" ", "\u200b", " 7 ", "\uff17", 1.0, True, 7.5, date(2026, 5, 1), CellError("#REF!")]),
)


@given(
    st.sampled_from([TEXT, PROSE, WHOLE, NUMBER, CHOICE, DAY]),
    st.lists(_CELLS, max_size=12) | st.lists(st.floats() | st.just(""), max_size=12) | st.lists(st.text()),
)
def test_a_column_is_cleaned_as_each_of_its_cells(column: Column, cells: list[Raw]) -> None:
    assert list(map(repr, all_cleaned(column, cells))) == [repr(cleaned(column, cell)) for cell in cells]

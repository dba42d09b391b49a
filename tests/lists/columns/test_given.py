"""What somebody says of a heading goes before what the list says."""

import re

import pytest

from rosterkit.errors import CannotRunError
from rosterkit.lists.reading import Sure
from tests.lists.columns.layouts import read

LINES = [["Loco", "Addr", "Snd", "Who"], ["NE 1", "1", "12", "M01"], ["NE 2", "2", "13", "M02"]]


@pytest.mark.parametrize(
    ("word", "read_as"),
    [
        pytest.param("address", "address", id="the name of a column"),
        pytest.param("Meet address", "meet_address", id="a heading"),
        pytest.param("Braking", "deceleration", id="an alias"),
        pytest.param("CV49", "cv:49", id="a CV"),
        pytest.param("cv:49", "cv:49", id="a CV as readings have it"),
        pytest.param("CV17/18", "cv:17/18", id="both halves of a long address"),
        pytest.param("Own", "own", id="own"),
        pytest.param("nothing", "nothing", id="nothing"),
        pytest.param("engine", "engine", id="a label of the engine, which is an alias of Loco too"),
        pytest.param("value", "value", id="the values of CVs"),
    ],
)
def test_a_word_is_understood(word: str, read_as: str) -> None:
    column = read(LINES, C=word).columns[2]

    assert (column.read_as, column.sure) == (read_as, Sure.GIVEN)


def test_a_field_that_is_given_is_read_from_no_other_column() -> None:
    reading = read(LINES, C="address")

    assert [one.read_as for one in reading.columns] == ["engine", "own", "address", "owner"]


def test_a_table_that_seems_to_have_no_engines_is_read_if_somebody_says_what_it_has() -> None:
    reading = read([["A", "B"], ["x", "1"], ["y", "2"]], A="loco", B="address")

    assert reading.subject == "Locomotives"
    assert [one.read_as for one in reading.columns] == ["loco", "address"]


def test_a_table_of_no_engines_stays_one_if_somebody_says_that_a_column_is_their_own() -> None:
    assert read([["Turnout", "Address"], ["T1", "1"], ["T2", "2"]], B="own").subject == ""


def test_a_correction_of_a_sheet_of_ours_is_of_its_columns() -> None:
    lines = [["Consist", "Address", "Position", "Loco"], ["C1", "12", "1", "A"]]

    assert read(lines, "Consists", C="Functions").columns[2].read_as == "functions"


@pytest.mark.parametrize(
    ("letter", "word", "message"),
    [
        pytest.param("C", "Adress", "S!C cannot be read as 'Adress'", id="a word that is not known"),
        pytest.param("C", "CV2000", "S!C cannot be read as 'CV2000'", id="a CV that there is not"),
        pytest.param("Z", "Address", "the list has no heading at 'S!Z'", id="a column that there is not"),
    ],
)
def test_a_correction_is_refused(letter: str, word: str, message: str) -> None:
    with pytest.raises(CannotRunError, match=re.escape(message)) as refused:
        read(LINES, **{letter: word})

    assert refused.value.fix.endswith(".")

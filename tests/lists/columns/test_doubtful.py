"""Columns that are not sure: each rule with a list that has the doubt and one that has not."""

import pytest

from rosterkit.lists.columns.recognise import recognised
from rosterkit.lists.reading import Corrections, Sure
from rosterkit.lists.tables import Layout, Origin
from tests.lists.columns.layouts import read, table

ENGINES = ["Loco", "Decoder"]
ROWS = [["NE 1", "plain"], ["NE 14", "snd"], ["SM 3", "plain"]]


def _lines(headings: str, *columns: str) -> list[list[str]]:
    rows = zip(ROWS, *(column.split("|") for column in columns), strict=True)
    return [[*ENGINES, *headings.split("|")], *([*row, *more] for row, *more in rows)]


@pytest.mark.parametrize(
    ("lines", "said", "letter", "phrase"),
    [
        pytest.param(
            _lines("Kurze Adr.|Lange Adr.", "1|14|3", "201|214|"),
            {"C": "address"}, "D", "said so of S!C", id="the address that a correction drives out",
        ),
        pytest.param(
            _lines("Adresse alt|Adresse neu", "1|14|3", "21|22|23"), {}, "C", "no column is read as that",
            id="two addresses of which neither is sure",
        ),
        pytest.param(
            [["Loco", "Addr", "Chip 1", "Chip 2"], ["NE 1", "1", "a", "b"], ["NE 2", "2", "a", "b"]], {},
            "D", "which is S!C", id="a second column for one field",
        ),
        pytest.param(
            [["Road number class owner", "Addr"], ["NE 14 GP M01", "14"], ["NE 15 GP M02", "15"],
             ["NE 16 GP M02", "16"]], {},
            "A", "several columns", id="columns that run together",
        ),
        pytest.param(
            [["Road", "Engine", "Cab #", "Decoder"], ["NE", "101", "1", "a"], ["NE", "102", "20", "a"],
             ["SM", "7", "3", "b"]], {},
            "C", "as well as Number", id="a cab number beside the engines' own",
        ),
    ],
)  # fmt: skip
def test_a_doubtful_column_is_unsure_and_says_why(
    lines: list[list[str]], said: dict[str, str], letter: str, phrase: str
) -> None:
    column = read(lines, **said).columns["ABCDEFG".index(letter)]

    assert column.sure is Sure.UNSURE
    assert phrase in column.why


@pytest.mark.parametrize(
    ("lines", "said"),
    [
        pytest.param(
            _lines("Kurze Adr.|Lange Adr.", "1|14|3", "201|214|"), {"C": "address", "D": "own"},
            id="both addresses said",
        ),
        pytest.param(_lines("Adresse alt|Adr.", "1|14|3", "21|22|23"), {}, id="an old one too"),
        pytest.param(_lines("Adr.|Mail address", "1|14|3", "a@b|c@d|"), {}, id="addresses of another kind"),
        pytest.param(
            [["Loco", "Addr", "Chip 1", "Colour 2"], ["NE 1", "1", "a", "b"], ["NE 2", "2", "a", "b"]], {},
            id="a count without a second",
        ),
        pytest.param(
            [["Engine", "Addr"], ["NE 14 GP", "14"], ["NE 15 GP", "15"], ["NE 16 GP", "16"]], {},
            id="one word for the engine",
        ),
        pytest.param(
            [["Road", "Cab #", "Decoder"], ["NE", "101", "a"], ["NE", "102", "a"], ["SM", "7", "b"]], {},
            id="a cab number alone",
        ),
    ],
)  # fmt: skip
def test_other_columns_are_not(lines: list[list[str]], said: dict[str, str]) -> None:
    assert Sure.UNSURE not in {one.sure for one in read(lines, **said).columns}


def test_the_first_of_two_columns_for_one_field_is_the_field() -> None:
    lines = [["Loco", "Addr", "Chip 1", "Chip 2"], ["NE 1", "1", "a", "b"], ["NE 2", "2", "a", "b"]]

    assert [one.read_as for one in read(lines).columns] == ["engine", "address", "decoder", "own"]


def test_neither_of_two_addresses_that_are_counted_is_the_address() -> None:
    reading = read(_lines("Adresse 1|Adresse 2", "1|14|3", "21|22|23"))

    assert "address" not in {one.read_as for one in reading.columns}
    assert reading.columns[2].sure is Sure.UNSURE


@pytest.mark.parametrize(
    ("second", "read_as"),
    [
        pytest.param([["NE 1", "1", ""], ["NE 2", "", "2"]], ["address", "address"], id="never together"),
        pytest.param([["NE 1", "1", "5"], ["NE 2", "", "2"]], ["address", "own"], id="once together"),
    ],
)
def test_labels_of_forms_compete_only_where_they_stand_in_one_form(
    second: list[list[str]], read_as: list[str]
) -> None:
    forms = table([["Lok", "Adresse", "Adr."], *second])
    labels = tuple(type(one)(one.key, one.text, Origin.LABEL, one.at) for one in forms.headings)
    forms = type(forms)(forms.sheet, labels, forms.records, 0)
    columns = recognised(Layout((forms,)), Corrections({}, {}))[0].columns

    assert sorted(one.read_as for one in columns[1:]) == read_as

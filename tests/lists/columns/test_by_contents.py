"""Columns that their contents alone explain, or a word that leans on the column before it."""

import pytest

from tests.lists.columns.layouts import words


@pytest.mark.parametrize(
    ("texts", "read_as"),
    [
        pytest.param("NE 3 shunter|free|SM 12 tram|bench|NE 44", "engine", id="labels and words for nobody"),
        pytest.param(
            "NE 3 shunter|free|SM 12 tram|bench|NE 45", "own", id="a number that is not the address"
        ),
        pytest.param("NE 3|17|SM 12|9|NE 44", "own", id="bare numbers among labels"),
        pytest.param("free|free|SM 12 tram|bench|NE 44", "own", id="two labels only"),
    ],
)
def test_what_takes_an_address(texts: str, read_as: str) -> None:
    addresses = ["3", "9", "12", "17", "44"]
    rows = [list(row) for row in zip(addresses, texts.split("|"), ["M01"] * 5, strict=True)]

    assert words([["Adresse", "Steht für", "Besitzer"], *rows]).split()[1] == read_as


@pytest.mark.parametrize(
    ("headings", "read_as"),
    [
        pytest.param("Lok|Adr.|geprüft am|durch", "checked_by", id="beside the day, in German"),
        pytest.param("Loc|Adres|Getest op|door", "checked_by", id="beside the day, in Dutch"),
        pytest.param("geprüft am|Lok|Adr.|durch", "own", id="not elsewhere"),
        pytest.param("Lok|Adr.|Kaufdatum|durch", "own", id="not beside another day"),
    ],
)
def test_who_did_what_the_column_before_says(headings: str, read_as: str) -> None:
    shown = {
        "durch": "M0{0}",
        "door": "M0{0}",
        "Lok": "NE {0}",
        "Loc": "NE {0}",
        "Adr.": "{0}",
        "Adres": "{0}",
    }
    top = headings.split("|")
    rows = [[shown.get(one, "{0}.4.2022").format(number) for one in top] for number in (1, 2, 3)]

    assert words([top, *rows]).split()[3] == read_as


@pytest.mark.parametrize(
    ("heading", "texts", "read_as"),
    [
        pytest.param("Vem", "A|A|LK", "owner", id="initials below who"),
        pytest.param("Vem", "x|x|x", "own", id="not ticks below who"),
        pytest.param("V/R", "V|R|V", "direction", id="letters of direction"),
        pytest.param("V/R", "V|200|V", "own", id="not voltages below them"),
        pytest.param("Puce", "plain|snd|plain", "decoder", id="what is fitted"),
        pytest.param("Puce", "oui|non|oui", "own", id="not whether one is"),
        pytest.param("Matr.", "101|0021|7", "number", id="numbers of engines"),
        pytest.param("Matr.", "2021-04-03|2021-05-03|2021-06-03", "own", id="not days"),
    ],
)
def test_short_words_need_what_fits(heading: str, texts: str, read_as: str) -> None:
    rows = [[f"NE {number}", str(number), text] for number, text in enumerate(texts.split("|"), 1)]

    assert words([["Lok", "Adr.", heading], *rows]).split()[2] == read_as

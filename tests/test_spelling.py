"""The known word that somebody probably meant."""

import pytest

from rosterkit.spelling import Spelling

KNOWN = ("Night mail", "Slate tank", "Weed killer")


@pytest.mark.parametrize(
    ("word", "meant"),
    [
        pytest.param("Nihgt mail", "Night mail", id="two letters exchanged"),
        pytest.param("Slate tnk", "Slate tank", id="a letter left out"),
        pytest.param("Dining car", None, id="nothing like it"),
        pytest.param("", None, id="nothing at all"),
    ],
)
def test_the_nearest_known_word_is_proposed(word: str, meant: str | None) -> None:
    assert Spelling(KNOWN).nearest(word) == meant


def test_a_stricter_likeness_proposes_less() -> None:
    assert Spelling(KNOWN).nearest("Weed k") == "Weed killer"
    assert Spelling(KNOWN, likeness=0.9).nearest("Weed k") is None


def test_after_very_many_comparisons_nothing_is_proposed_any_more() -> None:
    spelling = Spelling([*KNOWN, *map(str, range(9_997))])

    answers = [spelling.nearest("Nihgt mail") for _ in range(12)]

    assert answers == ["Night mail"] * 10 + [None] * 2

"""The words for what a column is read as, there and back."""

import pytest

from rosterkit.commands.adopt.words import may_repeat, read_as_for, word_for, words_for
from rosterkit.errors import CannotRunError
from rosterkit.roster.schema import all_sheets


@pytest.mark.parametrize(
    ("word", "read_as"),
    [
        ("Address", "address"),
        ("address", "address"),
        ("DC operation", "dc_operation"),
        ("vstart", "vstart"),
        ("Start", "vstart"),
        ("CV 49", "cv:49"),
        ("cv49", "cv:49"),
        ("CV:049", "cv:49"),
        ("CV29", "cv:29"),
        ("CV2", "cv:2"),
        ("CV 17/18", "cv:17/18"),
        ("own column", "own"),
        ("own", "own"),
        ("Nothing", "nothing"),
        ("engine label", "engine"),
        ("CV numbers", "cv"),
        ("CV values", "value"),
    ],
)
def test_a_word_of_engines_means_a_field(word: str, read_as: str) -> None:
    assert read_as_for(word, "Locomotives", "Fleet!C") == read_as


@pytest.mark.parametrize(
    ("word", "subject", "read_as"),
    [
        ("CV", "Extra values", "cv"),
        ("Value", "Extra values", "value"),
        ("Position", "Consists", "position"),
        ("Address", "", "address"),
    ],
)
def test_a_word_means_a_column_of_the_sheet_that_the_rows_go_into(
    word: str, subject: str, read_as: str
) -> None:
    assert read_as_for(word, subject, "Fleet!C") == read_as


@pytest.mark.parametrize(
    ("word", "fix"),
    [
        ("Adress", "Write 'Address' if it is meant; else"),
        ("CV 1025", "Give a CV from 1 to 1024"),
        ("CV 0", "Give a CV from 1 to 1024"),
        ("Position", "a heading of the sheet Locomotives"),
        ("zzz", "Write a heading of the sheet Locomotives, a CV as 'CV 49', 'own column' or 'nothing'."),
    ],
)
def test_a_word_that_means_nothing_is_refused_with_what_may_be_meant(word: str, fix: str) -> None:
    with pytest.raises(CannotRunError) as caught:
        read_as_for(word, "Locomotives", "Fleet!C")

    assert caught.value.message == f"Fleet!C cannot be read as '{word}'"
    assert fix in caught.value.fix


@pytest.mark.parametrize("subject", [one.title for one in all_sheets()])
def test_every_word_that_is_offered_leads_back_to_itself(subject: str) -> None:
    for word in words_for(subject):
        assert word_for(read_as_for(word, subject, "A!A"), subject) == word


def test_only_what_is_no_single_field_may_stand_twice() -> None:
    assert [may_repeat(one) for one in ("own", "nothing", "cv", "value", "address", "cv:49")] == [
        True,
        True,
        True,
        True,
        False,
        False,
    ]

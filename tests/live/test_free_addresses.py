"""Free addresses on the sheet Live are those that the command free offers, in its order, with its reasons."""

import random
from pathlib import Path

import pytest

from tests.live.clubs import answer_of_free, random_club, random_question, saved
from tests.live.pages import Answer, page_of
from tests.rosters import workbook

_FURTHER = "others are too far away to be found here; 'rosterkit free' lists them"
_ENDED = ("no address is free", "no other address is free")


def _differing(seed: int, questions: int, folder: Path) -> list[object]:
    """Return the questions of a club to which the sheet answers something else than the command."""
    source, rnd = random_club(seed), random.Random(seed)  # noqa: S311 - no secrets
    page, path = page_of(source), saved(source, folder / "club.xlsx")
    found: list[object] = []
    for question in (random_question(rnd) for _ in range(questions)):
        answer = page.asked(**question)
        shown, wanted = answer.free(), answer_of_free(path, question)
        complete = shown == wanted and (len(shown) == 10) is (_words(answer) == "")
        cut = shown == wanted[: len(shown)] and _words(answer) == _FURTHER
        if not complete and not cut:
            found.append((question, shown, wanted, _words(answer)))
    return found


def _words(answer: Answer) -> object:
    return answer.under_the_list()


@pytest.mark.parametrize("seed", range(8))
def test_random_questions_are_answered_as_the_command_does(seed: int, tmp_path: Path) -> None:
    assert _differing(seed, 8, tmp_path) == []


@pytest.mark.domain
@pytest.mark.parametrize("seed", range(100, 140))
def test_many_random_questions_are_answered_as_the_command_does(seed: int, tmp_path: Path) -> None:
    assert _differing(seed, 12, tmp_path) == []


def test_a_list_that_does_not_reach_all_offers_nothing_behind_its_end() -> None:
    engines = [{"Loco": f"E{n}", "Address": 2000 + n} for n in range(125)]
    ranges = [{"Kind": "long", "From": 2000, "To": 2900, "Use": "engines", "Member": "M01"}]
    answer = page_of(workbook(engines, ranges=ranges)).asked(member="M01")

    assert answer.free() == [
        ("long 2125", "in M01's range long 2000 to 2900"),
        ("long 2126", "in M01's range long 2000 to 2900"),
    ]
    assert _words(answer) == _FURTHER


def test_where_nothing_is_left_the_sheet_says_so() -> None:
    page = page_of(workbook([{"Loco": "A", "Address": 5}], layout={"Short address range": "5-6"}))

    assert [page.asked(free_kind="short").free(), _words(page.asked(free_kind="short"))] == [
        [("short 6", "the lowest free")],
        _ENDED[1],
    ]
    page = page_of(workbook([{"Loco": "A", "Address": 5}], layout={"Short address range": "5-5"}))
    assert [page.asked(free_kind="short").free(), _words(page.asked(free_kind="short"))] == [[], _ENDED[0]]


@pytest.mark.parametrize(
    "near", ["47022A", "-5", -5, 2.5, "1e3", "3,5", "class 9", 12345678, "12 34"], ids=repr
)
def test_what_is_no_number_offers_nothing_and_names_the_command(near: object) -> None:
    answer = page_of(workbook([{"Loco": "A", "Address": 5}])).asked(near=near)

    assert answer.free() == []
    assert _words(answer) == "here a whole number of at most six digits; 'rosterkit free --near' takes others"


@pytest.mark.parametrize("kind", ["accessory", "middle", 5])
def test_a_kind_that_is_not_offered_here_names_those_that_are(kind: object) -> None:
    answer = page_of(workbook([{"Loco": "A", "Address": 5}])).asked(free_kind=kind)

    assert answer.free() == []
    assert str(_words(answer)).startswith("kinds here are short, long and consist")


def test_a_workbook_without_addresses_says_why_there_is_no_list() -> None:
    page = page_of(workbook([{"Loco": "A", "Owner": "M01"}]))
    answer = page.asked(near=5, number=5)

    assert answer.cell(17, 1) == (
        "The sheet Locomotives has no columns Loco and Address, without which nothing is known."
    )
    assert [answer.said("It is"), answer.said("Engines")] == ["short 5", ""]

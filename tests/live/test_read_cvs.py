"""CVs typed into the sheet Live mean what decode says: the address, CV29 in words, every fault."""

import random
from collections.abc import Iterator, Mapping
from itertools import product

import pytest

from rosterkit.cv.decode import decoded
from rosterkit.cv.stored_addresses import stored_words
from rosterkit.live.page import SHOWN_FAULTS
from rosterkit.standards.configuration import (
    accessory_configuration,
    accessory_configuration_words,
    configuration,
    configuration_words,
)
from tests.live.pages import Answer, Page, page_of
from tests.rosters import workbook

Cvs = Mapping[int, int]


@pytest.fixture(scope="module")
def page() -> Page:
    """A club of one engine."""
    return page_of(workbook([{"Loco": "A", "Address": 5}]))


def _asked(page: Page, cvs: Cvs) -> Answer:
    return page.asked(**{f"cv{cv}": value for cv, value in cvs.items()})


def _faults(answer: Answer) -> list[tuple[object, ...]]:
    columns = (answer.block("faults", name) for name in ("place", "severity", "words", "fix"))
    return [tuple(rest) for place, *rest in zip(*columns, strict=True) if place != 99]


def _differing(page: Page, cases: list[Cvs]) -> list[object]:
    """Return the sets of CVs of which the sheet says something else than decode."""
    found: list[object] = []
    for cvs in cases:
        answer, wanted = _asked(page, cvs), decoded(cvs)
        faults = [(one.severity.value, one.message, one.fix) for one in wanted.faults]
        address = str(wanted.address) if wanted.address else stored_words(cvs) or "not known from these"
        if (_faults(answer), answer.said("Answers")) != (faults, address):
            found.append((cvs, _faults(answer), faults, answer.said("Answers"), address))
    return found


def _cases() -> Iterator[Cvs]:
    """Every combination of what is told apart: missing, inside, at both ends and outside."""
    values = (
        (None, 0, 3, 25, 99, 100, 127, 128, 255),
        (None, 5, 8, 191, 192, 195, 231, 232, 255),
        (None, 0, 105, 232, 255),
        (None, 0, 2, 4, 6, 18, 32, 34, 38, 66, 98, 127, 128, 160, 255),
    )
    for some in product(*values):
        cvs = {cv: value for cv, value in zip((1, 17, 18, 29), some, strict=True) if value is not None}
        if cvs:
            yield cvs


def test_a_sample_of_all_combinations_means_what_decode_says(page: Page) -> None:
    assert _differing(page, random.Random(7).sample(list(_cases()), 500)) == []  # noqa: S311 - no secrets


@pytest.mark.domain
def test_all_combinations_mean_what_decode_says(page: Page) -> None:
    assert _differing(page, list(_cases())) == []


def test_every_cv29_is_said_in_words(page: Page) -> None:
    for value in range(256):
        words = (
            configuration_words(configuration(value))
            if value < 128
            else accessory_configuration_words(accessory_configuration(value))
        )

        assert _asked(page, {29: value}).said("CV29 in words") == ", ".join(words), value


def test_a_fault_is_shown_with_what_to_do(page: Page) -> None:
    answer = _asked(page, {1: 201, 29: 2})

    assert answer.fault(1) == (
        "error: CV1 = 201 is no short address, and CV29 = 2 says short: the engine answers none, and RCN-225 "
        "blocks DCC. Set CV1 to an address from 1 to 127."
    )
    assert answer.fault(2) == ""


def test_there_are_never_more_faults_than_are_shown() -> None:
    assert max(len(decoded(cvs).faults) for cvs in _cases()) <= SHOWN_FAULTS


@pytest.mark.parametrize("typed", [256, -1, 2.5, "x", "0x10", "1e1", "$12"], ids=repr)
@pytest.mark.parametrize("cv", [1, 17, 18, 29])
def test_what_no_cv_can_be_is_named(page: Page, cv: int, typed: object) -> None:
    answer = page.asked(**({"cv1": 3, "cv29": 6} | {f"cv{cv}": typed}))

    assert answer.said("Answers") == "CVs are whole numbers from 0 to 255"
    assert answer.said("CV29 in words") == ""
    assert _faults(answer) == []


def test_digits_typed_as_text_count(page: Page) -> None:
    assert page.asked(cv1=" 25 ", cv29="06").said("Answers") == "short 25"


def test_without_cvs_nothing_is_said(page: Page) -> None:
    answer = page.asked()

    assert [answer.said("Answers"), answer.said("CV29 in words"), _faults(answer)] == ["", "", []]

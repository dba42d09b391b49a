"""Every check: what it finds, at which cell and how grave, and what it lets pass."""

import pytest

from rosterkit.checks import CHECKS
from rosterkit.checks.framework import Check
from tests.checks import (
    accessory_cases,
    address_cases,
    cell_cases,
    consist_cases,
    engine_cases,
    extra_cases,
    formula_cases,
    meet_cases,
    other_sheet_cases,
    range_cases,
    reading_cases,
    setting_cases,
    speed_cases,
)
from tests.checks.cases import Case
from tests.each import for_each

CASES = (
    *address_cases.CASES,
    *range_cases.CASES,
    *setting_cases.CASES,
    *engine_cases.CASES,
    *meet_cases.CASES,
    *cell_cases.CASES,
    *other_sheet_cases.CASES,
    *extra_cases.CASES,
    *formula_cases.CASES,
    *consist_cases.CASES,
    *accessory_cases.CASES,
    *reading_cases.CASES,
    *speed_cases.CASES,
)


@pytest.mark.parametrize("case", CASES, ids=str)
def test_a_check_finds_what_the_table_says(case: Case) -> None:
    found = case.briefly()

    assert found == list(case.found)


@for_each([check.slug for check in CHECKS])
def test_the_tables_have_lines_that_pass_and_lines_that_fail_for_every_check(slug: str) -> None:
    outcomes = {bool(case.found) for case in CASES if case.check == slug}

    assert outcomes == {False, True}


@for_each(CHECKS)
def test_a_check_says_of_itself_every_severity_that_it_can_have(check: Check) -> None:
    found = {severity for case in CASES if case.check == check.slug for _, severity in case.briefly()}

    assert found == {severity.value for severity in check.severities}


def test_the_tables_speak_of_no_check_that_is_not_there() -> None:
    spoken_of = {case.check for case in CASES}

    assert spoken_of == {check.slug for check in CHECKS}

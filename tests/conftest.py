"""What holds for all tests: which are slow where they do not say so, and what is made once for many."""

from collections.abc import Iterator, Mapping
from functools import cache

import pytest

from rosterkit.commands.new import command
from rosterkit.template.formulas import with_formulas
from rosterkit.template.new_workbook import new_workbook

SLOW = {
    "test_a_crowd_costs_the_same_whether_rough_prices_come_first_or_not",
    "test_every_reading_keeps_the_bits_of_blank_columns_and_no_other",
    "test_what_is_proposed_is_offered_by_free",
    "test_after_the_plan_no_two_engines_share_an_address_that_was_given_or_kept",
    "test_no_plan_costs_less",
    "test_no_plan_of_a_crowd_costs_less",
    "test_no_plan_costs_less_where_most_engines_find_no_room",
    "test_the_cost_is_the_least_that_there_is",
    "test_the_derived_parts_of_the_readme_are_up_to_date",
}


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Mark the tests of the table."""
    for item in items:
        if item.name.partition("[")[0] in SLOW:
            item.add_marker(pytest.mark.slow)


@pytest.fixture(autouse=True, scope="session")
def each_new_workbook_is_made_once() -> Iterator[None]:
    """Make a new workbook of the same rows once: hundreds of tests begin with one."""
    made: dict[str, bytes] = {}
    filled = cache(with_formulas)

    def once(rows: Mapping[str, object]) -> bytes:
        if (key := repr(rows)) not in made:
            made[key] = new_workbook(rows)  # type: ignore[arg-type]
        return made[key]

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(command, "template", once)
        patch.setattr(command, "with_formulas", lambda data, _name: filled(data, "new.xlsx"))
        yield

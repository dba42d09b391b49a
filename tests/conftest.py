"""Marks as slow what takes seconds in folders whose tests say nothing of their time themselves."""

import pytest

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

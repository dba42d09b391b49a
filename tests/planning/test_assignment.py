"""The solver against scipy's (scipy.optimize.linear_sum_assignment), which shares no code with it."""

from collections.abc import Iterator

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linear_sum_assignment

from rosterkit.planning.assignment import cheapest_assignment


def solved(costs: list[list[int | None]], without: list[int]) -> tuple[list[int | None], int]:
    edges = [sorted((cost, at) for at, cost in enumerate(row) if cost is not None) for row in costs]
    columns = cheapest_assignment([iter(row) for row in edges], without)
    total = sum(
        without[row] if column is None else next(cost for cost, at in edges[row] if at == column)
        for row, column in enumerate(columns)
    )
    return columns, total


def scipy_total(costs: list[list[int | None]], without: list[int]) -> int:
    rows, columns = len(costs), len(costs[0]) if costs else 0
    forbidden = 1 + sum(without) + sum(cost or 0 for row in costs for cost in row)
    matrix = np.full((rows, columns + rows), forbidden, dtype=np.int64)
    for row, line in enumerate(costs):
        for column, cost in enumerate(line):
            if cost is not None:
                matrix[row, column] = cost
        matrix[row, columns + row] = without[row]
    chosen = linear_sum_assignment(matrix)
    return int(matrix[chosen].sum())


@st.composite
def problems(draw: st.DrawFn) -> tuple[list[list[int | None]], list[int]]:
    rows, columns = draw(st.integers(1, 7)), draw(st.integers(1, 7))
    cost = st.one_of(st.none(), st.integers(0, 12))
    costs = draw(st.lists(st.lists(cost, min_size=columns, max_size=columns), min_size=rows, max_size=rows))
    return costs, draw(st.lists(st.integers(0, 30), min_size=rows, max_size=rows))


@settings(max_examples=400, deadline=None)
@given(problems())
def test_the_cost_is_the_least_that_there_is(problem: tuple[list[list[int | None]], list[int]]) -> None:
    costs, without = problem

    columns, total = solved(costs, without)

    used = [column for column in columns if column is not None]
    assert len(used) == len(set(used))
    assert total == scipy_total(costs, without)


@pytest.mark.parametrize("seed", range(6))
def test_the_cost_is_the_least_for_hundreds_of_rows(seed: int) -> None:
    random = np.random.default_rng(seed)
    costs: list[list[int | None]] = random.integers(0, 1000, size=(120, 100)).tolist()
    without: list[int] = random.integers(0, 400, size=120).tolist()

    _, total = solved(costs, without)

    assert total == scipy_total(costs, without)


def test_a_row_that_begins_with_a_free_column_gives_it_up_where_that_is_cheaper() -> None:
    edges = [iter([(0, 7), (1, 8)]), iter([(0, 7), (9, 8)])]

    columns = cheapest_assignment(edges, [100, 100], {0: 7})

    assert columns == [8, 7]


def test_costs_beyond_what_a_machine_word_holds_are_not_rounded() -> None:
    large = 10**40
    edges = [iter([(large, 1), (large + 2, 2)]), iter([(large, 1), (large + 1, 2)])]

    columns = cheapest_assignment(edges, [10**45, 10**45])

    assert columns == [1, 2]


def test_no_more_edges_are_looked_at_than_are_needed() -> None:
    def endless() -> Iterator[tuple[int, int]]:
        for number in range(1, 10**9):
            seen.append(number)
            yield number, number

    seen: list[int] = []

    columns = cheapest_assignment([endless(), endless()], [10**12, 10**12])

    assert sorted(column or 0 for column in columns) == [1, 2]
    assert len(seen) < 10

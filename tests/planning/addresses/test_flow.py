"""The solver against scipy's (scipy.optimize.linear_sum_assignment), which shares no code with it."""

from bisect import bisect_left
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import linear_sum_assignment

from rosterkit.planning.addresses.flow import Assignment
from rosterkit.planning.addresses.path_graph import PathGraph
from rosterkit.planning.addresses.shortest_path import augment, cheapest_assignment


def solved(costs: list[list[int | None]], without: list[int]) -> tuple[list[int | None], int]:
    edges = [sorted((cost, at) for at, cost in enumerate(row) if cost is not None) for row in costs]
    found = cheapest_assignment(edges, without, PathGraph(len(costs[0])))
    total = sum(
        without[row] if column is None else next(cost for cost, at in edges[row] if at == column)
        for row, column in enumerate(found.columns)
    )
    return found.columns, total


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
    edges = [[(0, 7), (1, 8)], [(0, 7), (9, 8)]]

    found = cheapest_assignment(edges, [100, 100], PathGraph(9), {0: 7})

    assert found.columns == [8, 7]


def test_costs_beyond_what_a_machine_word_holds_are_not_rounded() -> None:
    large = 10**40
    edges = [[(large, 1), (large + 2, 2)], [(large, 1), (large + 1, 2)]]

    found = cheapest_assignment(edges, [10**45, 10**45], PathGraph(3))

    assert found.columns == [1, 2]


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """Rows that pay their distance along two lines, which share columns, and less for some single columns."""

    lines: list[list[int]]
    """The columns of each, which lie where their numbers say."""
    stands_at: list[int]
    tolls: list[list[int]]
    """What it costs each row to use each line."""
    singles: list[dict[int, int]]
    without: list[int]

    @property
    def columns(self) -> int:
        return 1 + max(column for line in self.lines for column in line)

    def costs(self) -> list[list[int | None]]:
        found: list[list[int | None]] = []
        for at, tolls, singles in zip(self.stands_at, self.tolls, self.singles, strict=True):
            least = dict(singles)
            for line, toll in zip(self.lines, tolls, strict=True):
                for column in line:
                    least[column] = min(least.get(column, 10**6), toll + abs(column - at))
            found.append([least.get(column) for column in range(self.columns)])
        return found

    def solved(self, prices: list[int] | None = None) -> Assignment:
        lines = PathGraph(self.columns)
        places = [lines.add(line, line) for line in self.lines]
        ways = [
            sorted([*self._entries(row, places), *((cost, at) for at, cost in self.singles[row].items())])
            for row in range(len(self.stands_at))
        ]
        assignment = Assignment(ways, self.without, lines, prices and lines.bounded(prices))
        augment(assignment)
        return assignment

    def _entries(self, row: int, places: list[range]) -> Iterator[tuple[int, int]]:
        at = self.stands_at[row]
        for line, toll, nodes in zip(self.lines, self.tolls[row], places, strict=True):
            above = bisect_left(line, at)
            for index in range(max(above - 1, 0), min(above + 1, len(line))):
                yield toll + abs(line[index] - at), nodes[index]

    def total(self, columns: list[int | None]) -> int:
        costs = self.costs()
        paid = [
            self.without[row] if column is None else costs[row][column] for row, column in enumerate(columns)
        ]
        assert None not in paid
        return sum(one or 0 for one in paid)


def field_of(seed: int, rows: int, columns: int) -> Field:
    random = np.random.default_rng(seed)
    lines = [sorted(random.permutation(columns)[: columns * 2 // 3].tolist()) for _ in range(2)]
    return Field(
        lines=lines,
        stands_at=random.integers(0, columns // 2, size=rows).tolist(),
        tolls=random.integers(0, 40, size=(rows, 2)).tolist(),
        singles=[
            dict(zip(row.tolist(), random.integers(0, 30, size=3).tolist(), strict=True))
            for row in random.integers(0, min(line[-1] for line in lines), size=(rows, 3))
        ],
        without=random.integers(20, 400, size=rows).tolist(),
    )


@pytest.mark.parametrize("rows", [3, 12, 200, 320], ids=lambda rows: f"{rows} rows")
@pytest.mark.parametrize("seed", range(4))
def test_along_lines_too_the_cost_is_the_least(seed: int, rows: int) -> None:
    field = field_of(seed, rows, columns=max(rows, 12))

    columns = field.solved().columns

    used = [column for column in columns if column is not None]
    assert len(used) == len(set(used))
    assert field.total(columns) == scipy_total(field.costs(), field.without)


@settings(max_examples=200, deadline=None)
@given(seed=st.integers(0, 10**6), rows=st.integers(1, 14), columns=st.integers(6, 16))
def test_along_short_lines_too_the_cost_is_the_least(seed: int, rows: int, columns: int) -> None:
    field = field_of(seed, rows, columns)

    assert field.total(field.solved().columns) == scipy_total(field.costs(), field.without)


@settings(max_examples=200, deadline=None)
@given(seed=st.integers(0, 10**6), lower=st.integers(-60, 60))
def test_whatever_prices_it_begins_with_what_is_proven_is_the_least(seed: int, lower: int) -> None:
    field = field_of(seed, rows=12, columns=12)
    random = np.random.default_rng(seed)
    first = field.solved()
    rough: list[int] = random.integers(-5, 6, size=first.first_row).tolist()
    prices = [min(0, first.price[at] + one + lower) for at, one in enumerate(rough)]

    again = field.solved(prices)

    least = scipy_total(field.costs(), field.without)
    assert field.total(again.columns) >= least
    assert not again.proven or field.total(again.columns) == least

"""Rows recognised by their marks: what is paired, and that nothing is lost or paired twice."""

from collections.abc import Hashable, Sequence

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rosterkit.versions.row_matching import paired

Rows = Sequence[Sequence[Hashable]]


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        pytest.param(
            [("a1", "a"), ("b1", "b")], [("b1", "b"), ("a1", "a")], {0: 1, 1: 0}, id="in another order"
        ),
        pytest.param([("a1", "a")], [("a2", "a")], {0: 0}, id="by their name, if the rest has changed"),
        pytest.param([("a1", "a")], [("b1", "b")], {}, id="not at all, if all is new"),
        pytest.param(
            [((1, 2, 3), "a"), ((4, 5, 6), "a")],
            [((4, 5, 9), "a"), ((1, 2, 8), "a")],
            {0: 1, 1: 0},
            id="by most cells in common, where one name stands on several",
        ),
        pytest.param(
            [((1, 7), "a"), ((2, 7), "a")],
            [((4, 7), "a"), ((3, 7), "a")],
            {0: 1, 1: 0},
            id="by what stands in them and not by their order, where they have as much in common",
        ),
        pytest.param(
            [("a1", "a"), ("a2", "a")],
            [("a0", "a"), ("a1", "a"), ("a2", "a")],
            {1: 0, 2: 1},
            id="as the same rows, where one of the same name was put before them",
        ),
        pytest.param(
            [("a1", "a"), ("a2", "a")],
            [("a3", "a"), ("a4", "a"), ("a5", "a")],
            {0: 0, 1: 1},
            id="in the order of the sheets, where one name stands on several",
        ),
        pytest.param(
            [("a1", "x", "a"), ("b1", "x", "b")],
            [("c1", "x", "c"), ("b2", "x", "b")],
            {1: 1},
            id="by nothing between the first and the last mark that several share",
        ),
        pytest.param(
            [("a1", "x", "a")], [("b1", "x", "b")], {0: 0}, id="by a mark between them that only one has"
        ),
        pytest.param([("a1", None, "a")], [("b1", None, "b")], {}, id="by no mark that is missing"),
    ],
)
def test_rows_are_recognised(old: Rows, new: Rows, expected: dict[int, int]) -> None:
    assert paired(old, new) == expected


_ROWS = st.lists(
    st.tuples(st.integers(0, 5), st.none() | st.sampled_from("pq"), st.sampled_from("ab")), max_size=12
)


@given(_ROWS, _ROWS)
def test_each_row_has_one_partner_at_most_and_none_is_left_while_another_waits(old: Rows, new: Rows) -> None:
    pairs = paired(old, new)

    assert len(set(pairs.values())) == len(pairs)
    left = {row[-1] for n, row in enumerate(old) if n not in pairs.values()}
    waiting = {row[-1] for n, row in enumerate(new) if n not in pairs}
    assert left & waiting == set()


def _whole(rows: Rows) -> Rows:
    """Return rows that are recognised first by all that stands in them."""
    return [(tuple(row), *row[1:]) for row in rows]


@given(_ROWS.flatmap(lambda rows: st.tuples(st.just(rows), st.permutations(rows))))
def test_the_same_rows_in_any_order_are_all_paired_with_themselves(sides: tuple[Rows, Rows]) -> None:
    old, new = (_whole(rows) for rows in sides)

    pairs = paired(old, new)

    assert [old[pairs[n]] for n in range(len(new))] == new

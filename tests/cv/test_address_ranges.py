"""Which range rules a number, against the plain rule: the smallest that holds it."""

from collections.abc import Sequence
from dataclasses import dataclass

from hypothesis import given
from hypothesis import strategies as st

from rosterkit.cv.address_ranges import Rulings, ruling_of


@dataclass(frozen=True)
class Row:
    first: int | None
    last: int | None
    kind: str | None = "long"
    use: str | None = "engines"
    member: str | None = None


ENDS = st.one_of(st.none(), st.integers(0, 40))
ROWS = st.lists(st.builds(Row, ENDS, ENDS), max_size=12)


@given(ROWS, st.integers(-1, 42))
def test_the_smallest_range_that_holds_a_number_rules_it(rows: Sequence[Row], number: int) -> None:
    holding = [
        (one.last - one.first, place)
        for place, one in enumerate(rows)
        if one.first is not None and one.last is not None and one.first <= number <= one.last
    ]

    ruling = Rulings(rows).of(number)

    # Of two of one size the upper row goes first.
    assert ruling is (rows[min(holding)[1]] if holding else None)
    assert ruling_of(number, rows) is ruling


def test_thousands_of_nested_ranges_are_each_looked_at_once() -> None:
    rows = [Row(first, 9000 - first) for first in range(4000)]

    rulings = Rulings(rows)

    assert [rulings.of(number) for number in (0, 17, 3999, 4500)] == [
        rows[0],
        rows[17],
        rows[3999],
        rows[3999],
    ]
    assert rulings.of(9001) is None

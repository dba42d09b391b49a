"""Sheets with very many rows that are wrong alike: the work grows with the rows, not their square."""

import pytest

from rosterkit.checks import address_ranges
from tests.rosters import findings, roster

ENGINES = [{"Loco": "A", "Address": 12, "Owner": "M01"}]


def _overlaps(count: int) -> list[tuple[str | None, str]]:
    rows = [
        {"Kind": "long", "From": 200 + n, "To": 900 + n, "Use": "engines", "Member": ""} for n in range(count)
    ]
    return [
        (one.place.cell, one.message)
        for one in findings(roster(ENGINES, ranges=rows))
        if one.rule == "ranges-overlap"
    ]


def test_ranges_are_compared_up_to_a_number_of_pairs_and_the_first_that_is_not_is_named(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(address_ranges, "_MOST_PAIRS", 10)

    # Five ranges that all overlap make ten pairs.
    assert [cell for cell, _ in _overlaps(5)] == ["B2", "B3", "B4", "B5", "B6"]
    assert dict(_overlaps(6))["B7"] == (
        "so many ranges overlap that those from long 205 to 905 on are not compared"
    )
    assert len(_overlaps(6)) == 6

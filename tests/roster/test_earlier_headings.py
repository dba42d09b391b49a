"""A workbook with the headings and words of earlier versions is read as one with those of today."""

from typing import Any

import pytest

from rosterkit.roster.schema import all_sheets
from rosterkit.xlsx.grid import Workbook
from tests.rosters import Rows, findings, roster, workbook

_ENGINE = {"Loco": "A", "Owner": "M01", "Address": 12}

EARLIER: list[tuple[str, dict[str, object], dict[str, object]]] = [
    ("engines", {"Start": 8}, {"Vstart": 8}),
    ("engines", {"Middle": 90}, {"Vmid": 90}),
    ("engines", {"Top": 200}, {"Vhigh": 200}),
    ("engines", {"Braking": 3}, {"Deceleration": 3}),
    ("engines", {"DC running": "on"}, {"DC operation": "on"}),
    ("engines", {"Tag": "Coupler hangs low"}, {"Fault": "Coupler hangs low"}),
    ("decoders", {"Decoder": "Plain", "Maker ID": 13}, {"Decoder": "Plain", "Manufacturer ID": 13}),
    (
        "extras",
        {"Loco": "A", "CV": 259, "Value": 8, "Page high": 16, "Page low": 1},
        {"Loco": "A", "CV": 259, "Value": 8, "Index high": 16, "Index low": 1},
    ),
    (
        "readings",
        {"Loco": "A", "CV": 259, "Value": 8, "Page high": 16, "Page low": 1},
        {"Loco": "A", "CV": 259, "Value": 8, "Index high": 16, "Index low": 1},
    ),
    (
        "runs",
        {"Loco": "A", "Way": "backward", "Drive": 90, "Distance": 900, "Time": 9},
        {"Loco": "A", "Way": "reverse", "Drive level": 90, "Distance": 900, "Time": 9},
    ),
    (
        "consists",
        {"Consist": "Coal", "Address": 84, "Position": 1, "Loco": "A", "Facing": "backward"},
        {"Consist": "Coal", "Address": 84, "Position": 1, "Loco": "A", "Facing": "reverse"},
    ),
    (
        "ranges",
        {"Kind": "short", "From": 3, "To": 3, "Use": "bench"},
        {"Kind": "short", "From": 3, "To": 3, "Use": "new decoders"},
    ),
    ("goals", {"Loco": "A", "Rolls": 420}, {"Loco": "A", "Stopping distance": 420}),
]
"""By the sheet: a row as it was headed and worded before, and the same row of today."""

SETTINGS = {
    "Long from": ("Long addresses from", 100),
    "Layout speed": ("Line speed", 90),
    "Most braking distance": ("Longest stopping distance", 1500),
    "Engines per head": ("Engines per member", 3),
    "Checked by another": ("Second-person check", "no"),
    "Open tags": ("Open faults", "may come"),
    "Club's member code": ("Owner code of club engines", "M00"),
}


def _with(title: str, row: dict[str, object]) -> Workbook:
    engines: Rows = [_ENGINE | row] if title == "engines" else [_ENGINE]
    others: dict[str, Any] = {} if title == "engines" else {title: [row]}
    return workbook(engines, **others)


@pytest.mark.parametrize(
    ("title", "before", "today"), EARLIER, ids=[f"{row[0]}: {[*row[1]][-1]}" for row in EARLIER]
)
def test_a_row_of_earlier_words_means_the_same_and_has_the_same_findings(
    title: str, before: dict[str, object], today: dict[str, object]
) -> None:
    earlier, later = _with(title, before), _with(title, today)

    found = [(one.rule, one.place, one.severity) for one in findings(earlier)]

    assert found == [(one.rule, one.place, one.severity) for one in findings(later)]
    assert [one for one in found if one[0] in ("heading-unknown", "value-not-allowed")] == []


def test_settings_of_earlier_names_set_the_same() -> None:
    earlier = roster([_ENGINE], layout={before: value for before, (_, value) in SETTINGS.items()})
    later = roster([_ENGINE], layout=dict(SETTINGS.values()))

    assert [one.rule for one in findings(earlier)] == [one.rule for one in findings(later)]
    for sheet in all_sheets():
        if sheet.transposed:
            names = [column.name for column in sheet.filled_by_members]
            assert [getattr(earlier.layout, name) for name in names] == [
                getattr(later.layout, name) for name in names
            ]

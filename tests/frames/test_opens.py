"""What is written from a frame is what other programs show: LibreOffice, Gnumeric and calamine."""

from datetime import datetime
from pathlib import Path

import pandas as pd
import pytest

import rosterkit
from tests.command_line import written
from tests.rosters import Rows, workbook
from tests.xlsx.readers import Values, by_calamine, by_gnumeric, by_libreoffice

pytestmark = [pytest.mark.external, pytest.mark.xdist_group("programs read written frames")]

ENGINES: Rows = [
    {"Loco": "A", "Number": "7", "Address": 12, "Checked on": datetime(2026, 3, 14), "Mine": "left"},
    {"Loco": "B", "Number": "8", "Address": 13, "Checked on": datetime(2026, 3, 15), "Mine": "right"},
]
"""Columns A to E."""


def _differences(before: Values, after: Values) -> dict[tuple[int, int], tuple[str | None, str | None]]:
    assert before.keys() == after.keys()
    old, new = before["Locomotives"], after["Locomotives"]
    return {at: (old.get(at), new.get(at)) for at in old.keys() | new.keys() if old.get(at) != new.get(at)}


def test_other_programs_show_the_changed_cells_and_no_other_change(tmp_path: Path) -> None:
    before = written(tmp_path / "before.xlsx", workbook(ENGINES))
    read = rosterkit.read(before)
    frame = read.locomotives
    frame.loc[2, "Address"] = 4242
    frame.loc[2, "Number"] = "=1+1"
    frame.loc[3, "Checked on"] = pd.Timestamp(2026, 3, 14)
    frame.loc[3, "Mine"] = None
    after = read.write(frame, tmp_path / "after.xlsx")
    by_office = by_libreoffice([before, after], tmp_path)

    shown = {
        "LibreOffice": (by_office[before], by_office[after]),
        "Gnumeric": (by_gnumeric(before, tmp_path), by_gnumeric(after, tmp_path)),
        "calamine": (by_calamine(before), by_calamine(after)),
    }

    for program, (old, new) in shown.items():
        day = {day: old["Locomotives"][row, 4] for row, day in ((2, 14), (3, 15))}
        assert day[14] != day[15]
        assert _differences(old, new) == {
            (2, 2): ("7", "=1+1"),
            (2, 3): ("12", "4242"),
            (3, 4): (day[15], day[14]),
            (3, 5): ("right", None),
        }, program

"""The demo club: invented railways, members M01 to M06, and a handful of faults of different kinds.

Its sheets are in ``demo/``, one CSV file each, under the names of the schema's columns. The timed runs are
those of an invented afternoon with a tape measure, a loop of 6.4 m and a stopwatch: four engines of different
character, two of them a pair. Of the nine engines that were read at the track, five are right; three are
wrong, each in its own way: half of a pair (NE 814), DC operation (HB 1001), an address that is not active
(KC 502); JV 31 was left in a consist of an earlier meet, in reverse.
"""

import csv
import json
from collections.abc import Iterator
from pathlib import Path

from rosterkit.roster.schema import Kind, Sheet, all_sheets
from rosterkit.template.own_columns import NewValue

_FOLDER = Path(__file__).parent / "demo"


def demo_club() -> dict[str, list[dict[str, NewValue]]]:
    """Return the records of the demo club by sheet title and column name."""
    return {sheet.title: list(_records(sheet)) for sheet in all_sheets()}


def _records(sheet: Sheet) -> Iterator[dict[str, NewValue]]:
    numbers = {column.name for column in sheet.columns if column.kind in (Kind.WHOLE, Kind.NUMBER)}
    path = _FOLDER / f"{sheet.title.lower().replace(' ', '_')}.csv"
    with path.open(encoding="utf-8", newline="") as lines:
        for record in csv.DictReader(lines):
            yield {
                name: json.loads(text) if name in numbers else text for name, text in record.items() if text
            }

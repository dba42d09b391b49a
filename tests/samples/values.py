"""What rosterkit finds and calculates in each sample workbook, as it was when this was last written.

``python -m tests.samples --values`` writes ``values.json`` anew: for changes that are meant.
"""

import json
import shutil
import tempfile
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from openpyxl.utils import get_column_letter
from python_calamine import CalamineWorkbook

from rosterkit.commands.check import check
from rosterkit.commands.fill import fill
from rosterkit.roster.schema import Sheet, all_sheets, folded
from tests.samples.__main__ import FOLDER

FILE = Path(__file__).with_name("values.json")


def values_of_samples() -> dict[str, dict[str, object]]:
    """Return the findings and the computed numbers of each sample, by its path in sample_workbooks/."""
    return {path.relative_to(FOLDER).as_posix(): values_of(path) for path in sorted(FOLDER.rglob("*.xlsx"))}


def values_of(path: Path) -> dict[str, object]:
    """Return a sample's findings as [check, severity, sheet, cell], and its numbers after ``fill``."""
    found = check([path]).findings
    with tempfile.TemporaryDirectory() as folder:
        filled = Path(shutil.copy(path, folder))
        fill(filled)
        book = CalamineWorkbook.from_path(filled)
        numbers = dict(
            number
            for sheet in all_sheets()
            if sheet.title in book.sheet_names
            for number in _computed(
                sheet, book.get_sheet_by_name(sheet.title).to_python(skip_empty_area=False)
            )
        )
    return {
        "findings": sorted(
            [f.rule, f.severity.value, f.place.sheet or "", f.place.cell or ""] for f in found
        ),
        "values": dict(sorted(numbers.items())),
    }


def _computed(sheet: Sheet, rows: list[list[Any]]) -> Iterator[tuple[str, float]]:
    """Yield the numbers of computed columns, below the first row with two headings of the sheet."""
    known = {folded(column.heading) for column in sheet.columns}
    places = [{folded(str(value)): place for place, value in enumerate(row) if value != ""} for row in rows]
    first = next((row for row, headings in enumerate(places) if len(known & set(headings)) >= 2), len(rows))
    headings = places[first] if first < len(rows) else {}
    for column in sheet.columns:
        place = headings.get(folded(column.heading))
        if column.computed and place is not None:
            for number, cells in enumerate(rows[first + 1 :], start=first + 2):
                value = cells[place]
                if isinstance(value, int | float):
                    cell = f"{get_column_letter(place + 1)}{number}"
                    yield f"{sheet.title}!{cell}", int(value) if value == int(value) else value


def written_values() -> dict[str, dict[str, object]]:
    """Return what the file says."""
    said: dict[str, dict[str, object]] = json.loads(FILE.read_text(encoding="utf-8"))
    return said


def write_values(values: Mapping[str, Mapping[str, object]]) -> None:
    """Write the file, one line a sample."""
    lines = [
        f"{json.dumps(name)}:{json.dumps(values[name], separators=(',', ':'), ensure_ascii=False)}"
        for name in sorted(values)
    ]
    FILE.write_text("{\n" + ",\n".join(lines) + "\n}\n", encoding="utf-8")

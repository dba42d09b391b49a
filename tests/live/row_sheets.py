"""Workbooks of a few sheets with the formulas of their rows, and what spreadsheet programs make of them."""

import subprocess
from collections.abc import Mapping, Sequence
from pathlib import Path

from openpyxl import Workbook, load_workbook

from rosterkit.cell_names import column_letters
from rosterkit.live.accessories import accessory_formulas
from rosterkit.live.accessory_machinery import device_readings_in
from rosterkit.live.blocks import Facts, machinery_for
from rosterkit.live.consists import consist_formulas
from rosterkit.live.machinery import Machinery
from rosterkit.live.places import Places, SheetPlace
from rosterkit.live.writing import filled
from rosterkit.roster.model import Roster
from rosterkit.roster.schema import sheet
from rosterkit.writeback.computed_columns import computed_rows
from tests.rosters import roster

Rows = Sequence[Mapping[str, object]]
FORMULAS = {"Consists": consist_formulas, "Accessories": accessory_formulas}
CVS = {"Consists": ("cv19", "cv20", "cv21", "cv22"), "Accessories": ("cv1", "cv9", "cv29")}
ENGINES = [{"Loco": "E1", "Address": 12}]


class RowSheets:
    """A workbook in memory: what members typed, and for each cell of ours the formula."""

    def __init__(
        self,
        *,
        consists: Rows = (),
        accessories: Rows = (),
        layout: Mapping[str, object] | None = None,
        readings: Rows = (),
        below: int = 0,
    ) -> None:
        """Take the sheets as ``tests.rosters.roster`` does; ``below`` rows have no formulas of their own."""
        self.rows = {"Consists": consists, "Accessories": accessories}
        self.layout = layout
        others = {"readings": readings} if readings else {}
        self.roster: Roster = roster(
            ENGINES, layout=layout, consists=consists, accessories=accessories, **others
        )
        self.places: Places = self._places(below)
        self.machinery: Machinery = machinery_for(self.places, Facts(devices=device_readings_in(self.roster)))

    def _places(self, below: int) -> Places:
        places = {}
        for title, rows in self.rows.items():
            if rows:
                names = {sheet(title)[name].heading: name for name in _names(title)}
                headings = [*_headings(rows), *(sheet(title)[name].heading for name in CVS[title])]
                columns = {names[heading]: n for n, heading in enumerate(headings, 1)}
                places[title] = SheetPlace(
                    title=title, columns=columns, heading_row=1, last_row=1 + len(rows) - below
                )
        if self.layout is not None:
            places["Layout"] = SheetPlace(
                title="Layout",
                columns={"heading": 1, "value": 2},
                heading_row=1,
                last_row=1 + len(self.layout),
            )
        return places

    def typed(self) -> Mapping[str, Mapping[tuple[int, int], object]]:
        """Return the contents that are no formulas, by sheet, row and column."""
        cells: dict[str, dict[tuple[int, int], object]] = {"Live": {}}
        for title, rows in self.rows.items():
            if rows:
                headings = _headings(rows)
                table = [headings, *([row.get(heading, "") for heading in headings] for row in rows)]
                cells[title] = _cells(table)
        if self.layout is not None:
            cells["Layout"] = _cells([("Setting", "Value"), *self.layout.items()])
        for at, one in self.machinery.cells.items():
            if one.formula is None and one.value is not None:
                cells["Live"][at] = one.value
        return cells

    def formulas(self) -> Mapping[str, Mapping[tuple[int, int], str]]:
        """Return the formulas, without ``=``, by sheet, row and column."""
        found: dict[str, dict[tuple[int, int], str]] = {
            "Live": {at: one.formula for at, one in self.machinery.cells.items() if one.formula is not None}
        }
        for title, made in FORMULAS.items():
            if title in self.places:
                place = self.places[title]
                found[title] = {
                    (row, place.columns[name]): filled(template, row)
                    for name, template in made(self.places, self.machinery).items()
                    for row in range(place.heading_row + 1, place.last_row + 1)
                }
        return found

    def wanted(self, title: str) -> list[tuple[object, ...]]:
        """Return the CVs by the tool's own code; an empty text for none. Each row must hold something."""
        rows = computed_rows(self.roster, title)
        assert len(rows) == len(self.rows[title])
        return [tuple("" if row[cv] is None else row[cv] for cv in CVS[title]) for row in rows]

    def calculated(self, title: str, values: Mapping[tuple[int, int], object]) -> list[tuple[object, ...]]:
        """Pick the CVs of a sheet out of all its values."""
        place = self.places[title]
        rows = range(place.heading_row + 1, place.last_row + 1)
        return [tuple(values.get((row, place.columns[cv]), "") for cv in CVS[title]) for row in rows]

    def save(self, path: Path) -> None:
        """Write the workbook with formulas that have no results yet."""
        workbook = Workbook()
        del workbook["Sheet"]
        typed, formulas = self.typed(), self.formulas()
        for title in typed:
            made = workbook.create_sheet(title)
            for (row, column), content in typed[title].items():
                if content != "":
                    made.cell(row, column).value = content  # type: ignore[assignment]
            for (row, column), formula in formulas.get(title, {}).items():
                made[f"{column_letters(column)}{row}"] = f"={formula}"
        workbook.save(path)


def by_libreoffice(sheets: RowSheets, folder: Path) -> dict[str, dict[tuple[int, int], object]]:
    """Have LibreOffice calculate a workbook."""
    sheets.save(folder / "rows.xlsx")
    command = ["soffice", f"-env:UserInstallation={(folder / 'profile').as_uri()}", "--headless"]
    command += ["--convert-to", "xlsx", "--outdir", str(folder / "office"), str(folder / "rows.xlsx")]
    subprocess.run(command, check=True, capture_output=True, timeout=600)
    return _values(folder / "office" / "rows.xlsx")


def by_gnumeric(sheets: RowSheets, folder: Path) -> dict[str, dict[tuple[int, int], object]]:
    """Have Gnumeric calculate a workbook."""
    sheets.save(folder / "rows.xlsx")
    command = ["ssconvert", "--recalc", str(folder / "rows.xlsx"), str(folder / "gnumeric.xlsx")]
    subprocess.run(command, check=True, capture_output=True, timeout=600)
    return _values(folder / "gnumeric.xlsx")


def _values(path: Path) -> dict[str, dict[tuple[int, int], object]]:
    book = load_workbook(path, data_only=True)
    return {
        one.title: {
            (cell.row, cell.column): cell.value
            for row in one.iter_rows()
            for cell in row
            if cell.value is not None and cell.column is not None
        }
        for one in book.worksheets
    }


def _names(title: str) -> list[str]:
    return [column.name for column in sheet(title).columns]


def _headings(rows: Rows) -> list[str]:
    return list(dict.fromkeys(heading for row in rows for heading in row))


def _cells(table: Sequence[Sequence[object]]) -> dict[tuple[int, int], object]:
    return {(row, column): cell for row, cells in enumerate(table, 1) for column, cell in enumerate(cells, 1)}

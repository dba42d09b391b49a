"""The sheets Consists and Accessories with their formulas, and what the evaluator makes of them."""

from collections.abc import Callable, Mapping, Sequence

from rosterkit.formulas.calculation import Calculation, SheetCells
from rosterkit.formulas.formula import Formula, compiled
from rosterkit.formulas.shift import shifted
from rosterkit.formulas.values import Content
from rosterkit.live.accessories import accessory_formulas
from rosterkit.live.accessory_machinery import device_readings_in
from rosterkit.live.blocks import machinery_for
from rosterkit.live.consists import consist_formulas
from rosterkit.live.facts import Facts
from rosterkit.live.machinery import Machinery
from rosterkit.live.places import Places, SheetPlace
from rosterkit.live.writing import filled
from rosterkit.roster.schema import sheet
from rosterkit.writeback.computed_columns import computed_rows
from tests.rosters import roster

Rows = Sequence[Mapping[str, object]]
Cells = Mapping[tuple[int, int], object]
Cvs = tuple[object, ...]
"""The CVs of a row; an empty text for one that is not set."""

FORMULAS: Mapping[str, Callable[[Places, Machinery], Mapping[str, str]]] = {
    "Consists": consist_formulas,
    "Accessories": accessory_formulas,
}
CVS = {"Consists": ("cv19", "cv20", "cv21", "cv22"), "Accessories": ("cv1", "cv9", "cv29")}
ENGINES = [{"Loco": "E1", "Address": 12}]


class RowSheets:
    """One of the two sheets in a workbook in memory: what members typed, and our formulas."""

    def __init__(
        self,
        title: str,
        rows: Rows,
        *,
        layout: Mapping[str, object] | None = None,
        readings: Rows = (),
        heading_row: int = 1,
        last_row: int | None = None,
    ) -> None:
        """Take sheets as ``tests.rosters.roster`` does; rows below ``last_row`` have no formulas."""
        self.title = title
        self.rows = rows
        self.layout = layout
        others = {title.lower(): rows} | ({"readings": readings} if readings else {})
        self.roster = roster(ENGINES, layout=layout, **others)  # type: ignore[arg-type]
        self.headings = list(dict.fromkeys(heading for row in rows for heading in row))
        self.heading_row = heading_row
        self.places = self._places(last_row or heading_row + len(rows))
        self.machinery = machinery_for(self.places, Facts(devices=device_readings_in(self.roster)))

    @property
    def place(self) -> SheetPlace:
        """Where the sheet stands."""
        return self.places[self.title]

    def _places(self, last_row: int) -> Places:
        known = sheet(self.title)
        names = {column.heading: column.name for column in known.columns}
        headings = [*self.headings, *(known[name].heading for name in CVS[self.title])]
        columns = {names[heading]: n for n, heading in enumerate(headings, 1)}
        places = {
            self.title: SheetPlace(
                title=self.title, columns=columns, heading_row=self.heading_row, last_row=last_row
            )
        }
        if self.layout is not None:
            places["Layout"] = SheetPlace(
                title="Layout",
                columns={"heading": 1, "value": 2},
                heading_row=1,
                last_row=1 + len(self.layout),
            )
        return places

    def typed(self) -> Mapping[str, Cells]:
        """Return the contents that are no formulas, by sheet, row and column."""
        table: list[Sequence[object]] = [self.headings]
        table += [[row.get(heading, "") for heading in self.headings] for row in self.rows]
        known = {at: one.value for at, one in self.machinery.cells.items() if one.formula is None}
        cells = {
            self.title: _cells(table, self.heading_row),
            "Live": {at: value for at, value in known.items() if value},
        }
        if self.layout is not None:
            cells["Layout"] = _cells([("Setting", "Value"), *self.layout.items()])
        return cells

    def formulas(self) -> Mapping[str, Mapping[tuple[int, int], str]]:
        """Return the formulas, without ``=``, by sheet, row and column."""
        templates = FORMULAS[self.title](self.places, self.machinery)
        rows = range(self.place.heading_row + 1, self.place.last_row + 1)
        return {
            "Live": {at: one.formula for at, one in self.machinery.cells.items() if one.formula is not None},
            self.title: {
                (row, self.place.columns[name]): filled(template, row)
                for name, template in templates.items()
                for row in rows
            },
        }

    def wanted(self) -> list[Cvs]:
        """Return the CVs by the tool's own code; in every row something must be typed."""
        rows = computed_rows(self.roster, self.title)
        assert len(rows) == len(self.rows)
        ours: list[Cvs] = [
            tuple("" if row[cv] is None else row[cv] for cv in CVS[self.title]) for row in rows
        ]
        return ours[: self.place.last_row - self.place.heading_row]

    def picked(self, value: Callable[[int, int], object]) -> list[Cvs]:
        """Pick the CVs of the rows with formulas out of the values of a calculated sheet."""
        rows = range(self.place.heading_row + 1, self.place.last_row + 1)
        columns = [self.place.columns[cv] for cv in CVS[self.title]]
        return [tuple(value(row, column) for column in columns) for row in rows]

    def evaluated(self) -> list[Cvs]:
        """Return the CVs as the evaluator works them out."""
        formulas = self.formulas()
        sheets = {
            title: _sheet_cells(title, cells, formulas.get(title, {}))
            for title, cells in self.typed().items()
        }
        calculation = Calculation(sheets)
        return self.picked(lambda row, column: calculation.value(self.title, row, column))


def differing(found: list[Cvs], wanted: list[Cvs], *, or_nothing: bool = False) -> list[tuple[int, Cvs, Cvs]]:
    """Return the rows that differ, by their place; with ``or_nothing`` formulas may claim nothing."""
    claimed = [tuple("" if str(one) == "#UNSURE!" else one for one in row) for row in found]
    return [
        (n, one, other)
        for n, (one, other) in enumerate(zip(claimed if or_nothing else found, wanted, strict=True))
        if one != other and not (or_nothing and all(a in ("", b) for a, b in zip(one, other, strict=True)))
    ]


def agree(sheets: "RowSheets") -> bool:
    """Tell whether the formulas give what the tool's own code gives, in every cell."""
    return differing(sheets.evaluated(), sheets.wanted()) == []


def claims_nothing_wrong(sheets: "RowSheets") -> bool:
    """Tell whether the formulas give in every cell what the tool's own code gives, or nothing."""
    return differing(sheets.evaluated(), sheets.wanted(), or_nothing=True) == []


def _cells(table: Sequence[Sequence[object]], first: int = 1) -> Cells:
    return {
        (row, column): cell
        for row, cells in enumerate(table, first)
        for column, cell in enumerate(cells, 1)
        if cell != ""
    }


def _sheet_cells(title: str, typed: Cells, formulas: Mapping[tuple[int, int], str]) -> SheetCells:
    """Make a sheet for the evaluator; a column of one formula that is filled down is compiled once."""
    columns: dict[int, dict[int, str]] = {}
    for (row, column), text in formulas.items():
        columns.setdefault(column, {})[row] = text
    fills: dict[int, tuple[Formula, range]] = {}
    single: dict[tuple[int, int], Formula] = {}
    for column, texts in columns.items():
        first, last = min(texts), max(texts)
        if last > first and shifted(texts[first], last - first, 0) == texts[last]:
            assert len(texts) == last + 1 - first
            fills[column] = compiled(texts[first], title, first), range(first, last + 1)
        else:
            single |= {(row, column): compiled(text, title, row) for row, text in texts.items()}
    values: dict[int, list[Content]] = {}
    for (row, column), content in sorted(typed.items(), key=lambda one: one[0]):
        assert isinstance(content, str | float | int)
        cells = values.setdefault(column, [])
        cells += [None] * (row - len(cells))
        cells[row - 1] = content
    return SheetCells(values=values, fills=fills, single=single)

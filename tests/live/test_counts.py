"""What is open, counted on the sheet Live."""

from dataclasses import replace

from rosterkit.formulas.calculation import SheetCells
from tests.live.pages import Answer, page_of
from tests.rosters import workbook

_ENGINES = [
    {"Loco": "A", "Address": 25},
    {"Loco": "B", "Address": 25},
    {"Loco": "C", "Address": 3},
    {"Loco": "D", "Address": 26},
    {"Loco": "", "Address": 27},
]
"""Two with an error, one with a warning only."""


def _line(answer: Answer, label: str) -> list[object]:
    for row in range(28, 37):
        if answer.page.sheet.rows[row - 1] and answer.page.sheet.rows[row - 1][0].value == label:
            return [answer.cell(row, column) for column in range(2, 6)]
    raise KeyError(label)


def test_alerts_are_counted_by_the_gravest_of_each_engine() -> None:
    answer = page_of(workbook(_ENGINES)).asked()

    assert _line(answer, "Engines") == [5, 2, 1, 0]


def test_rows_below_the_last_formula_are_counted_as_without() -> None:
    page = page_of(workbook(_ENGINES))
    place = page.made.places["Locomotives"]
    below = place.last_row + 1000
    cells = page.others["Locomotives"]
    column = place.columns["loco"]
    held = list(cells.values[column])
    held += [None] * (below - len(held))
    held[place.last_row + 4] = "typed beyond"
    held[below - 1] = "the last that counts"
    beyond = SheetCells(values={**cells.values, column: held}, fills=cells.fills)
    answer = replace(page, others={**page.others, "Locomotives": beyond}).asked()

    assert _line(answer, "Engines") == [7, 2, 1, 2]
    assert answer.cell(31, 1) == (
        "rows without formulas are not counted above as used or open: run 'rosterkit fill'"
    )


def test_other_sheets_have_their_lines() -> None:
    source = workbook(
        _ENGINES,
        consists=[{"Consist": "K", "Address": 60, "Loco": "A"}, {"Consist": "K", "Address": 60, "Loco": "B"}],
        accessories=[{"Accessory": "P 1", "Address": 7}],
    )
    answer = page_of(source).asked()

    assert _line(answer, "Rows of consists")[:3] == [2, None, None]
    assert _line(answer, "Accessories")[:3] == [1, None, None]


def test_beyond_what_is_counted_while_one_types_the_sheet_says_so() -> None:
    words = [row[0].value for row in page_of(workbook(_ENGINES), counted=False).sheet.rows if row]
    without = [row[0].value for row in page_of(workbook(_ENGINES)).sheet.rows if row]

    assert any(str(word).startswith("More than 2000 engines") for word in words)
    assert not any(str(word).startswith("More than 2000 engines") for word in without)

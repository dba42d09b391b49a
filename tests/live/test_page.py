"""The sheet Live as a sheet: what people see, what is hidden, and what programs can hold."""

from itertools import pairwise

import pytest

from rosterkit.live.inputs import INPUTS
from rosterkit.live.machinery import FIRST_COLUMN
from rosterkit.live.page import with_results
from rosterkit.xlsx.xml.values import LONGEST_FORMULA
from tests.live.pages import Page, page_of
from tests.rosters import workbook


@pytest.fixture(scope="module")
def page() -> Page:
    """A club with every sheet that the sheet Live looks at."""
    return page_of(
        workbook(
            [{"Loco": "A", "Address": 5, "Owner": "M01", "Meet address": 7}],
            layout={"Long addresses from": 128},
            ranges=[{"Kind": "short", "From": 1, "To": 9, "Use": "engines", "Member": "M01"}],
            decoders=[{"Decoder": "small"}],
            consists=[{"Consist": "K", "Address": 60, "Loco": "A"}],
            accessories=[{"Accessory": "P 1", "Address": 7}],
        ),
        counted=False,
    )


def test_all_blocks_stand_in_hidden_columns_and_nothing_else_does(page: Page) -> None:
    used = {
        column for row in page.sheet.rows for column, cell in enumerate(row, 1) if cell.value or cell.formula
    }

    assert {column for column in used if column >= FIRST_COLUMN} <= set(page.sheet.hidden_columns)
    assert min(page.sheet.hidden_columns) == FIRST_COLUMN
    assert max(column for column in used if column < FIRST_COLUMN) <= len(page.sheet.widths)


def test_no_formula_is_longer_than_programs_take(page: Page) -> None:
    lengths = [len(cell.formula) for row in page.sheet.rows for cell in row if cell.formula]

    assert len(lengths) > 2000
    assert max(lengths) < LONGEST_FORMULA


def test_merged_cells_hold_their_first_cell_only(page: Page) -> None:
    for top, left, bottom, right in page.sheet.merges:
        row = page.sheet.rows[top - 1]

        assert bottom == top
        assert not any(cell.value or cell.formula or cell.typed for cell in row[left:right]), (top, left)
    assert len({top for top, *_ in page.sheet.merges}) == len(page.sheet.merges)


def test_every_merged_row_has_a_height_for_its_text(page: Page) -> None:
    assert {top for top, *_ in page.sheet.merges} == set(page.sheet.heights)


def test_inputs_stand_behind_their_labels_in_reading_order(page: Page) -> None:
    for one in INPUTS.values():
        cells = page.sheet.rows[one.row - 1]

        assert str(cells[one.column - 2].value).strip() == one.label
        assert cells[one.column - 1].typed
    places = [(one.row, one.column) for one in INPUTS.values()]
    assert all(before < after for before, after in pairwise(places))


def test_no_label_stands_twice(page: Page) -> None:
    texts = [str(cell.value).strip() for row in page.sheet.rows for cell in row[:7] if cell.value]

    assert [texts.count(one.label) for one in INPUTS.values()] == [1] * len(INPUTS)


def test_only_inputs_are_free_to_type_into(page: Page) -> None:
    assert sum(cell.typed for row in page.sheet.rows for cell in row) == len(INPUTS)


def test_it_prints_on_one_upright_page_in_width(page: Page) -> None:
    assert (page.sheet.landscape, page.sheet.paper) == (False, "A4")


def test_results_are_put_into_formulas_only(page: Page) -> None:
    results: dict[tuple[int, int], str | int | float | None] = {(6, 2): "short 5", (7, 2): 5, (4, 1): "no"}
    rows = with_results(page.sheet, results).rows

    assert [rows[5][1].value, rows[6][1].value, rows[3][0].value] == ["short 5", 5, "An address"]
    assert rows[5][1].formula == page.sheet.rows[5][1].formula


def test_every_formula_has_a_result_that_is_certain_where_nothing_is_typed(page: Page) -> None:
    answer = page.asked()
    shown = {at: answer.cell(*at) for at in page.single if at[1] < FIRST_COLUMN}

    assert {at: value for at, value in shown.items() if not isinstance(value, str | float | int)} == {}

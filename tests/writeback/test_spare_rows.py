"""Which rows of a member's sheet get formulas beforehand: free ones below the list, up to an obstacle."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
import xlsxwriter

from rosterkit.roster.load import roster_at
from rosterkit.writeback.formula_places import columns_of, formula_places, rows_of

HEADINGS = ("Loco", "Address", "Mine")


def _rows(path: Path, lay_out: Callable[[Any, Any], None]) -> list[int]:
    """The rows that get formulas in a workbook with engines in rows 2, 3 and 5."""
    book = xlsxwriter.Workbook(str(path))
    sheet = book.add_worksheet("Locomotives")
    sheet.write_row("A1", HEADINGS)
    for row, cells in ((1, ("A", 12, "red")), (2, ("B", 1000, "blue")), (4, ("C", 7, "red"))):
        sheet.write_row(row, 0, cells)
    lay_out(book, sheet)
    book.close()
    read = roster_at(path).book
    table = read.tables["Locomotives"]
    return rows_of(table, columns_of(table), read)


def _nothing(_: Any, __: Any) -> None:
    """Leave the sheet as it is."""


def _remark_in_an_own_column(_: Any, sheet: Any) -> None:
    sheet.write("C9", "ask M02 about these")


def _remark_beyond(_: Any, sheet: Any) -> None:
    sheet.write("Z8", "as of May")


def _total(_: Any, sheet: Any) -> None:
    sheet.write_formula("C6", "=COUNTA(C2:C5)", None, 3)


def _merged(book: Any, sheet: Any) -> None:
    sheet.merge_range("B10:D12", "", book.add_format({"bold": True}))


def _merged_below_the_added_columns(book: Any, sheet: Any) -> None:
    sheet.merge_range("G10:H12", "", book.add_format({"bold": True}))


def _another_table(_: Any, sheet: Any) -> None:
    sheet.add_table("A12:B14", {"header_row": False})


def _another_table_beyond(_: Any, sheet: Any) -> None:
    sheet.add_table("Z12:AA14", {"header_row": False})


def _box(_: Any, sheet: Any) -> None:
    sheet.insert_textbox("B16", "spare rooms", {"width": 60, "height": 40})


def _table(_: Any, sheet: Any) -> None:
    sheet.add_table("A1:C5", {"columns": [{"header": one} for one in HEADINGS]})


def _long_table(_: Any, sheet: Any) -> None:
    sheet.add_table("A1:C20", {"columns": [{"header": one} for one in HEADINGS]})


def _table_with_totals(_: Any, sheet: Any) -> None:
    columns: list[dict[str, str]] = [{"header": one} for one in HEADINGS]
    sheet.add_table("A1:C6", {"columns": columns, "total_row": True})


@pytest.mark.parametrize(
    ("lay_out", "last"),
    [
        pytest.param(_nothing, 45, id="40 rows below the last engine"),
        pytest.param(_remark_in_an_own_column, 8, id="up to a remark in a column of the member's"),
        pytest.param(_remark_beyond, 7, id="up to a remark beyond the headings"),
        pytest.param(_total, 5, id="none above a total of the member's"),
        pytest.param(_merged, 9, id="up to merged cells"),
        pytest.param(_merged_below_the_added_columns, 9, id="up to merged cells below added columns"),
        pytest.param(_another_table, 11, id="up to another table, be it empty"),
        pytest.param(_another_table_beyond, 45, id="beside a table beyond the columns"),
        pytest.param(_box, 15, id="up to a box"),
        pytest.param(_table, 5, id="none below a table, which takes a new row in by itself"),
        pytest.param(_long_table, 19, id="the free rows of a table but its last"),
        pytest.param(_table_with_totals, 5, id="none among the totals of a table, be they blank"),
    ],
)
def test_rows_below_the_list_get_formulas(
    tmp_path: Path, lay_out: Callable[[Any, Any], None], last: int
) -> None:
    assert _rows(tmp_path / "club.xlsx", lay_out) == [2, 3, 5, *range(6, last + 1)]


def _club(path: Path) -> None:
    book = xlsxwriter.Workbook(str(path))
    engines = book.add_worksheet(" locomotives ")
    engines.write_row("B3", ("Loco", "Address", "CV29", "Answers"))
    engines.write_row("B4", ("A", 12))
    layout = book.add_worksheet("Layout")
    layout.write_row("C2", ("Setting", "Value"))
    layout.write_row("C5", ("Short addresses", "1-99"))
    consists = book.add_worksheet("Consists")
    consists.write_row("A1", ("Consist", "Loco", "Address"))
    kinds = book.add_worksheet("Decoder types")
    kinds.write_row("A1", ("Decoder", "Notes"))
    kinds.write_row("A2", ("D1", "small"))
    book.close()


def test_places_are_where_the_member_keeps_the_sheets(tmp_path: Path) -> None:
    path = tmp_path / "club.xlsx"
    _club(path)

    places = formula_places(roster_at(path).book)

    engines, consists = places["Locomotives"], places["Consists"]
    assert (engines.title, engines.heading_row, engines.last_row) == (" locomotives ", 3, 44)
    assert {name: engines.columns[name] for name in ("loco", "address", "cv29", "answers", "cv1")} == {
        "loco": 2,
        "address": 3,
        "cv29": 4,
        "answers": 5,
        "cv1": 6,
    }
    assert (consists.heading_row, consists.last_row) == (1, 21)
    assert (places["Layout"].columns, places["Layout"].last_row) == ({"heading": 3, "value": 4}, 5)
    assert (places["Decoder types"].last_row, "Members" in places) == (2, False)

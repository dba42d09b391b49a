"""Tables and filters beside the columns that rosterkit adds: they join, or stay as they are."""

from collections.abc import Callable
from pathlib import Path

import openpyxl
import pytest

from rosterkit.errors import CannotRunError
from tests.xlsx.clubs import HEADINGS, TITLE, club, locomotives
from tests.xlsx.edits import changed
from tests.xlsx.packages import element, elements, parts, patch, replaced

TABLE = "xl/tables/table1.xml"
SHEET = "xl/worksheets/sheet1.xml"


@pytest.fixture
def tabled(tmp_path: Path) -> Path:
    path = tmp_path / "tables.xlsx"
    book = club(path)
    columns = [{"header": heading} for heading in HEADINGS]
    columns[4] |= {"total_function": "sum"}
    table = {"columns": columns, "name": "Engines", "total_row": True, "style": "Table Style Light 9"}
    locomotives(book).add_table("A1:E7", table)
    book.close()
    return path


def test_headings_directly_right_of_a_table_become_its_columns(tabled: Path) -> None:
    changed(tabled, (1, 6, "CV17"), (1, 7, "Remark _x0041_"), (2, 6, 192), (3, 6, 193))

    table = openpyxl.load_workbook(tabled)[TITLE].tables["Engines"]
    columns = elements(parts(tabled)[TABLE], "tableColumn")

    assert (table.ref, table.autoFilter.ref) == ("A1:G7", "A1:G6")
    assert [column.get("name") for column in columns] == [*HEADINGS, "CV17", "Remark _x005F_x0041_"]
    assert [column.get("id") for column in columns] == ["1", "2", "3", "4", "5", "6", "7"]
    assert element(parts(tabled)[TABLE], "tableColumns").get("count") == "7"


def test_a_table_is_left_alone_when_its_new_columns_are_written_again(tabled: Path) -> None:
    changed(tabled, (1, 6, "CV17"), (2, 6, 192))
    before = parts(tabled)[TABLE]

    changed(tabled, (1, 6, "CV17"), (2, 6, 200))

    assert parts(tabled)[TABLE] == before


@pytest.mark.parametrize(
    ("cells", "ref"),
    [
        pytest.param([(1, 7, "CV17"), (2, 7, 192)], "A1:E7", id="headings with a free column between"),
        pytest.param([(2, 6, 192)], "A1:E7", id="values without a heading"),
        pytest.param([(1, 6, "owner"), (2, 6, 192)], "A1:E7", id="a heading that the table has already"),
        pytest.param([(1, 6, "CV17"), (1, 7, "cv17")], "A1:F7", id="the same heading twice"),
        pytest.param([(1, 6, 17)], "A1:E7", id="a number for a heading"),
    ],
)
def test_only_fitting_headings_join_a_table(
    tabled: Path, cells: list[tuple[int, int, str | int]], ref: str
) -> None:
    changed(tabled, *cells)

    assert element(parts(tabled)[TABLE], "autoFilter").getparent() is not None
    assert openpyxl.load_workbook(tabled)[TITLE].tables["Engines"].ref == ref


@pytest.mark.parametrize(
    ("cell", "why"),
    [
        pytest.param(
            (1, 2, "Engine"), "is the heading 'Loco' of a column of the table 'Engines'", id="another heading"
        ),
        pytest.param(
            (1, 2, None), "is the heading 'Loco' of a column of the table 'Engines'", id="no heading"
        ),
        pytest.param((7, 5, 3), "lies among the totals of the table 'Engines'", id="a total"),
    ],
)
def test_a_table_is_not_harmed(tabled: Path, cell: tuple[int, int, str | int | None], why: str) -> None:
    before = tabled.read_bytes()

    with pytest.raises(CannotRunError, match=why):
        changed(tabled, cell)

    assert tabled.read_bytes() == before


def test_the_heading_that_a_table_column_has_may_be_written(tabled: Path) -> None:
    result = changed(tabled, (1, 2, "Loco"), (2, 2, "Renamed shunter"))

    assert result.changed


def test_a_table_does_not_grow_over_merged_cells_or_another_table(tmp_path: Path) -> None:
    path = tmp_path / "beside.xlsx"
    book = club(path)
    sheet = locomotives(book)
    sheet.add_table("A1:B6", {"columns": [{"header": "Owner"}, {"header": "Loco"}], "name": "Left"})
    sheet.add_table("D1:E6", {"columns": [{"header": "Bought"}, {"header": "Length"}], "name": "Right"})
    sheet.merge_range("F3:G4", "")
    book.close()

    changed(path, (1, 3, "Address"), (1, 4, "Bought"), (1, 6, "CV17"))

    tables = openpyxl.load_workbook(path)[TITLE].tables
    assert {table.name: table.ref for table in tables.values()} == {"Left": "A1:C6", "Right": "D1:E6"}


def test_a_table_fed_from_outside_does_not_grow(tabled: Path) -> None:
    patch(tabled, {TABLE: replaced(' totalsRowCount="1"', ' totalsRowCount="1" tableType="queryTable"')})

    changed(tabled, (1, 6, "CV17"))

    assert b'ref="A1:E7"' in parts(tabled)[TABLE]


@pytest.fixture
def filtered(tmp_path: Path) -> Path:
    path = tmp_path / "filter.xlsx"
    book = club(path)
    sheet = locomotives(book)
    sheet.autofilter("A1:E6")
    sheet.filter_column("A", "Owner == M01")
    book.close()
    return path


def test_a_filter_grows_over_headings_directly_right_of_it(filtered: Path) -> None:
    changed(filtered, (1, 6, "CV17"), (1, 7, "CV18"), (1, 9, "apart"), (2, 6, 192))

    data = parts(filtered)

    assert element(data[SHEET], "autoFilter").get("ref") == "A1:G6"
    assert element(data["xl/workbook.xml"], "definedName").text == "Locomotives!$A$1:$G$6"
    assert len(elements(data[SHEET], "filter")) == 1


def test_a_filter_grows_only_once(filtered: Path) -> None:
    changed(filtered, (1, 6, "CV17"))

    assert not changed(filtered, (1, 6, "CV17")).changed


def test_a_filter_without_its_defined_name_grows_as_well(filtered: Path) -> None:
    name = '<definedNames><definedName name="_xlnm._FilterDatabase" localSheetId="0" hidden="1">'
    patch(
        filtered,
        {"xl/workbook.xml": replaced(f"{name}Locomotives!$A$1:$E$6</definedName></definedNames>", "")},
    )

    changed(filtered, (1, 6, "CV17"))

    assert element(parts(filtered)[SHEET], "autoFilter").get("ref") == "A1:F6"


def test_a_table_beside_the_list_does_not_take_its_headings_in(tmp_path: Path) -> None:
    path = tmp_path / "beside.xlsx"
    book = club(path)
    columns = [{"header": "Wagon"}, {"header": "Colour"}]
    locomotives(book).add_table("G1:H4", {"columns": columns, "name": "Wagons"})
    book.close()
    before = parts(path)[TABLE]

    changed(path, (1, 9, "CV29"), (2, 9, 2), (1, 10, "Check"))

    assert parts(path)[TABLE] == before


def test_a_filter_beside_the_list_does_not_take_its_headings_in(tmp_path: Path) -> None:
    path = tmp_path / "beside.xlsx"
    book = club(path)
    sheet = locomotives(book)
    sheet.write_row("G1", ["Wagon", "Colour"])
    sheet.autofilter("G1:H4")
    book.close()

    changed(path, (1, 9, "CV29"), (2, 9, 2))

    assert element(parts(path)[SHEET], "autoFilter").get("ref") == "G1:H4"


def _without_totals(path: Path) -> None:
    book = club(path)
    columns = [{"header": heading} for heading in HEADINGS]
    locomotives(book).add_table("A1:E6", {"columns": columns, "name": "Engines"})
    locomotives(book).write("G8", "a remark beside")
    book.close()


NEW_ROWS = ((7, 1, "M04"), (7, 2, "Brake van"), (9, 1, "M04"), (9, 2, "Tender"))


def test_rows_added_below_a_table_join_it(tmp_path: Path) -> None:
    path = tmp_path / "rows.xlsx"
    _without_totals(path)

    changed(path, *NEW_ROWS, (1, 6, "CV17"), last_row=9)

    table = openpyxl.load_workbook(path)[TITLE].tables["Engines"]
    assert (table.ref, table.autoFilter.ref) == ("A1:F9", "A1:F9")
    assert [column.name for column in table.tableColumns] == [*HEADINGS, "CV17"]


def test_rows_added_inside_a_table_leave_it_as_it_is(tmp_path: Path) -> None:
    path = tmp_path / "rows.xlsx"
    _without_totals(path)
    before = parts(path)[TABLE]

    changed(path, (6, 2, "Weed killer 2"), last_row=6)

    assert parts(path)[TABLE] == before


def test_rows_written_below_a_table_that_are_not_added_do_not_join_it(tmp_path: Path) -> None:
    path = tmp_path / "rows.xlsx"
    _without_totals(path)

    changed(path, *NEW_ROWS)

    assert openpyxl.load_workbook(path)[TITLE].tables["Engines"].ref == "A1:E6"


def _remark_below(path: Path) -> None:
    _without_totals(path)
    changed(path, (8, 3, "a remark below"))


def _table_below(path: Path) -> None:
    book = club(path)
    sheet = locomotives(book)
    columns = [{"header": heading} for heading in HEADINGS]
    sheet.add_table("A1:E6", {"columns": columns, "name": "Engines"})
    sheet.add_table("C8:D9", {"columns": [{"header": "x"}, {"header": "y"}], "name": "Below"})
    book.close()


def _totals(path: Path) -> None:
    book = club(path)
    columns = [{"header": heading} for heading in HEADINGS]
    locomotives(book).add_table("A1:E7", {"columns": columns, "name": "Engines", "total_row": True})
    book.close()


@pytest.mark.parametrize(
    ("make", "why"),
    [
        pytest.param(_remark_below, "the cell C8 .*stands below the table 'Engines'", id="a remark"),
        pytest.param(_table_below, "the cell C8 .*stands below the table 'Engines'", id="another table"),
        pytest.param(_totals, "would lie below the totals of the table 'Engines'", id="its totals"),
    ],
)
def test_rows_that_cannot_join_the_table_are_refused(
    tmp_path: Path, make: Callable[[Path], None], why: str
) -> None:
    path = tmp_path / "rows.xlsx"
    make(path)
    before = path.read_bytes()

    with pytest.raises(CannotRunError, match=why):
        changed(path, (10, 1, "M04"), (10, 2, "Brake van"), last_row=10)

    assert path.read_bytes() == before


def test_rows_added_below_a_filter_come_under_it(filtered: Path) -> None:
    changed(filtered, *NEW_ROWS, last_row=9)

    data = parts(filtered)
    assert element(data[SHEET], "autoFilter").get("ref") == "A1:E9"
    assert element(data["xl/workbook.xml"], "definedName").text == "Locomotives!$A$1:$E$9"


def test_a_filter_does_not_grow_over_what_stands_below_it(filtered: Path) -> None:
    changed(filtered, (7, 4, "a remark"))

    changed(filtered, (8, 2, "Brake van"), last_row=8)

    assert element(parts(filtered)[SHEET], "autoFilter").get("ref") == "A1:E6"


SORTED = (
    '<sortState{way} ref="A2:E6"><sortCondition descending="1" ref="{by}"/>'
    '<sortCondition ref="B2:B6"/></sortState>'
)


def _sort_of(data: bytes) -> list[str | None]:
    return [one.get("ref") for name in ("sortState", "sortCondition") for one in elements(data, name)]


@pytest.mark.parametrize(
    ("old", "new"),
    [
        pytest.param("</autoFilter>", SORTED + "</autoFilter>", id="sorted by the buttons of the filter"),
        pytest.param("</autoFilter>", "</autoFilter>" + SORTED, id="sorted beside the filter"),
    ],
)
def test_what_a_filter_sorts_grows_with_it(filtered: Path, old: str, new: str) -> None:
    patch(filtered, {SHEET: replaced(old, new.format(way="", by="E2:E6"))})

    changed(filtered, (1, 6, "CV17"), (2, 6, 192), (7, 2, "Brake van"), last_row=7)

    data = parts(filtered)[SHEET]
    assert element(data, "autoFilter").get("ref") == "A1:F7"
    assert _sort_of(data) == ["A2:F7", "E2:E7", "B2:B7"]
    assert not changed(filtered, (1, 6, "CV17"), (2, 6, 192), (7, 2, "Brake van"), last_row=7).changed


def test_what_was_sorted_without_a_filter_grows_as_well(tmp_path: Path) -> None:
    path = tmp_path / "sorted.xlsx"
    club(path).close()
    sort = SORTED.format(way="", by="E2:E6")
    patch(path, {SHEET: replaced("</sheetData>", "</sheetData>" + sort)})

    changed(path, (1, 6, "CV17"), (2, 6, 192))

    assert _sort_of(parts(path)[SHEET]) == ["A2:F6", "E2:E6", "B2:B6"]


def test_what_a_table_sorts_grows_with_it(tmp_path: Path) -> None:
    path = tmp_path / "sorted.xlsx"
    _without_totals(path)
    sort = SORTED.format(way="", by="E2:E6")
    patch(path, {TABLE: replaced("<tableColumns", sort + "<tableColumns")})

    changed(path, (1, 6, "CV17"), (7, 2, "Brake van"), last_row=7)

    assert _sort_of(parts(path)[TABLE]) == ["A2:F7", "E2:E7", "B2:B7"]


@pytest.mark.parametrize(
    "sort",
    [
        pytest.param(SORTED.format(way=' columnSort="1"', by="A2:E2"), id="from left to right"),
        pytest.param('<sortState ref="C2:C5"><sortCondition ref="C2:C5"/></sortState>', id="a part only"),
    ],
)
def test_what_was_sorted_otherwise_stays_as_it_is(filtered: Path, sort: str) -> None:
    patch(filtered, {SHEET: replaced("</autoFilter>", sort + "</autoFilter>")})
    before = _sort_of(parts(filtered)[SHEET])

    changed(filtered, (1, 6, "CV17"), (7, 2, "Brake van"), last_row=7)

    assert _sort_of(parts(filtered)[SHEET]) == before

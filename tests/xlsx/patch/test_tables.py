"""Tables and filters beside the columns that rosterkit adds: they join, or stay as they are."""

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

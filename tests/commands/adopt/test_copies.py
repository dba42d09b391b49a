"""The copies of a list's sheets, and the sheets of ours beside them, seen by another reader."""

import io
from collections.abc import Mapping
from dataclasses import replace

import pytest
from openpyxl import Workbook, load_workbook
from openpyxl.worksheet.worksheet import Worksheet

from rosterkit.commands.adopt.copies import titles_of_copies, write_copies
from rosterkit.commands.adopt.rows import rows_of
from rosterkit.commands.adopt.shown_as import shown
from rosterkit.commands.adopt.whole import require_whole
from rosterkit.commands.adopt.workbook import workbook_of
from rosterkit.errors import CannotRunError
from rosterkit.lists.adopted import Adopted, AdoptedRow
from rosterkit.lists.plain import PlainArea, PlainCell, PlainList, PlainSheet
from rosterkit.xlsx.package.opening import opened_in_memory
from rosterkit.xlsx.read.workbook import read_workbook
from tests.commands.adopt.fleet import adopted, fleet, read


@pytest.fixture(scope="module")
def made() -> bytes:
    """The workbook of the fleet."""
    return workbook_of(fleet(), read(), adopted(), "new.xlsx")


@pytest.fixture(scope="module")
def seen(made: bytes) -> Mapping[str, Worksheet]:
    """Its sheets as openpyxl reads them."""
    return {page.title: page for page in load_workbook(io.BytesIO(made)).worksheets}


@pytest.mark.parametrize(
    ("row", "value", "number_format"),
    [
        (1, 7, "000"),
        (2, 12.5, '0.00" €"'),
        (3, 0.45, "0%"),
        (5, "2019-03-02 20:15:00", "dd.mm.yyyy hh:mm"),
        (6, "20:15:30", "hh:mm:ss"),
        (8, True, "General"),
        (9, 1234.5, "#,##0.0"),
        (10, "3rd of May", "@"),
        (12, "#REF!", "@"),
        (13, 400, "0.00E+00"),
        (14, 5210, "General"),
        (16, "1899-12-30", "@"),
    ],
)
def test_a_value_stands_in_the_copy_as_it_was_shown(
    seen: Mapping[str, Worksheet], row: int, value: object, number_format: str
) -> None:
    cell = seen["Values"].cell(row, 1)

    assert (cell.value if type(cell.value) is type(value) else str(cell.value)) == value
    assert cell.number_format == number_format
    assert cell.data_type != "f"


def test_a_number_that_no_format_shows_so_stands_as_its_text() -> None:
    assert shown(PlainCell("12,5", 12.5)).value == "12,5"
    assert shown(PlainCell('12"', 12)).value == '12"'
    assert shown(PlainCell("12", 12.4)).value == 12.4
    assert shown(PlainCell("13", 12.4)).value == "13"
    assert shown(PlainCell("inf", float("inf"))).value == "inf"


def test_colours_notes_and_merged_cells_are_there_and_nothing_is_lost_below_merged_ones(
    seen: Mapping[str, Worksheet],
) -> None:
    page = seen["Locomotives (list)"]

    assert page["A1"].fill.start_color.rgb == "00FFCC00"
    assert page["A1"].comment is not None
    assert page["A1"].comment.text == "kept since 2011"
    assert [str(area) for area in page.merged_cells.ranges] == ["A1:C1"]
    assert seen["Values"]["A15"].fill.start_color.rgb == "0000FF00"


def test_what_stands_below_a_merged_cell_stands_there_still() -> None:
    cells = {(1, 1): PlainCell("a", "a"), (1, 2): PlainCell("hidden below", "hidden below")}
    plain = PlainList("a.xlsx", (PlainSheet("A", cells, merged=(PlainArea(1, 1, 1, 2),)),))

    made = workbook_of(plain, read(), Adopted({}, (), (), ()), "new.xlsx")

    grid = read_workbook(opened_in_memory(made, "new.xlsx"), "A".__eq__).grids["A"]
    assert grid.rows == [["a", "hidden below"]]


def test_the_copies_bear_their_mark_and_stay_hidden_where_they_were(made: bytes) -> None:
    sheets = opened_in_memory(made, "new.xlsx").sheets

    assert [(one.title, one.hidden) for one in sheets if one.is_copy] == [
        ("Locomotives (list)", False),
        ("Values", False),
        ("Old", True),
    ]
    assert [one.title for one in sheets if one.is_own] == ["Reading", "Live"]


@pytest.mark.parametrize(
    ("titles", "copies"),
    [
        (["Fleet", "M01"], ["Fleet", "M01"]),
        (["LOCOMOTIVES", "loco motives"], ["LOCOMOTIVES (list)", "loco motives (list)"]),
        (["Locomotives", "Locomotives (list)"], ["Locomotives (list)", "Locomotives (list) 2"]),
        (["A" * 40, "A" * 31 + "B"], ["A" * 31, "A" * 29 + " 2"]),
        (["a/b:c", "History"], ["a b c", "History 1"]),
    ],
)
def test_titles_are_kept_as_far_as_a_workbook_can_have_them(titles: list[str], copies: list[str]) -> None:
    plain = PlainList("a.ods", tuple(PlainSheet(title, {}) for title in titles))

    assert list(titles_of_copies(plain, ["Locomotives", "Reading"]).values()) == copies


def test_a_list_that_is_longer_than_a_sheet_is_refused() -> None:
    plain = PlainList("a.csv", (PlainSheet("a", {(1_048_577, 1): PlainCell("x", "x")}),))

    with pytest.raises(CannotRunError, match="over 1,048,576 rows"):
        write_copies(Workbook(), plain, {"a": "a"})


def test_a_text_that_is_longer_than_a_cell_is_refused() -> None:
    long = "x" * 40_000
    plain = PlainList("a.csv", (PlainSheet("a", {(1, 1): PlainCell(long, long)}),))

    with pytest.raises(CannotRunError, match="more than 32,767 signs in A1"):
        workbook_of(plain, read(), Adopted({}, (), (), ()), "new.xlsx")


def test_own_columns_stand_after_ours_and_what_rosterkit_says_after_them(
    seen: Mapping[str, Worksheet],
) -> None:
    rows = [[cell.value for cell in row] for row in seen["Locomotives"].iter_rows(max_row=4)]
    at = rows[0].index("Shed")

    assert rows[0][at - 1] == "Check"
    assert rows[0][at:] == ["Shed", "From (list)", "Address (as typed)", "From", "Doubts", "Colour"]
    assert rows[1][at:] == ["Northford", "M02", None, "Locomotives!4", None, None]
    assert rows[2][at : at + 4] == ["@home", None, "12 or 45", "Locomotives!5"]
    assert rows[2][at + 4] == (
        "'12 or 45' is two numbers. Type the one that the engine answers into Address."
    )
    assert rows[3][at:] == ["Süd", "M01", None, "Locomotives!6", None, "sold"]


def test_texts_are_no_formulas_and_settings_and_extra_values_are_there(
    seen: Mapping[str, Worksheet],
) -> None:
    notes = [cell.value for cell in seen["Locomotives"][1]].index("Notes") + 1
    settings = {row[0].value: row[1].value for row in seen["Layout"].iter_rows()}

    assert seen["Locomotives"].cell(2, notes).data_type == "s"
    assert settings["Length unit"] == "mm"
    assert [[c.value for c in row[:3]] for row in seen["Extra values"].iter_rows(min_row=2, max_row=3)] == [
        ["007", 49, 12],
        ["1-2", 49, 255],
    ]


def test_a_workbook_that_lacks_a_cell_of_the_list_is_refused(made: bytes) -> None:
    plain = fleet()
    more = PlainSheet("Values", {**plain.sheets[1].cells, (30, 3): PlainCell("late", "late")})
    titles = {"Locomotives": "Locomotives (list)", "Values": "Values", "Old": "Old"}
    require_whole(made, "new.xlsx", plain, titles, rows_of(adopted()))

    with pytest.raises(CannotRunError, match="'late' would not stand in the sheet 'Values'"):
        require_whole(
            made, "new.xlsx", PlainList("fleet.ods", (plain.sheets[0], more)), titles, rows_of(adopted())
        )


def test_a_workbook_that_lacks_a_value_of_ours_is_refused(made: bytes) -> None:
    whole = adopted()
    rows = {**whole.rows, "Extra values": (AdoptedRow({"loco": "007", "cv": 50, "value": 12}),)}

    with pytest.raises(CannotRunError, match="'50' would not stand in the sheet 'Extra values'"):
        require_whole(made, "new.xlsx", PlainList("a", ()), {}, rows_of(replace(whole, rows=rows)))


def test_a_copy_prints_one_page_wide_and_a_title_alone_in_its_row_makes_no_column_wide(
    seen: Mapping[str, Worksheet],
) -> None:
    title = PlainCell("The engines of all members, as they were in spring", "")
    cells = {(1, 1): title, (2, 1): PlainCell("NE 5", "NE 5"), (2, 2): PlainCell("5", "5")}
    workbook = Workbook()

    write_copies(workbook, PlainList("list.csv", (PlainSheet("list", cells),)), {"list": "list"})

    assert workbook["list"].column_dimensions["A"].width == 9
    for page in (workbook["list"], seen["Values"]):
        assert (page.page_setup.fitToWidth, page.page_setup.fitToHeight) == (1, 0)
        assert page.page_setup.orientation == "landscape"
        assert page.sheet_properties.pageSetUpPr is not None
        assert page.sheet_properties.pageSetUpPr.fitToPage


def test_rows_are_as_high_as_their_sentences_and_columns_as_wide_as_their_labels() -> None:
    long = "Tannwalder Kreisbahn VT 31"
    first, *others = adopted().engines
    engines = (replace(first, values={**first.values, "loco": long}), *others)
    doubt = replace(adopted().doubts[0], message="the address is doubtful for a reason " * 6)
    many = replace(adopted(), rows={**adopted().rows, "Locomotives": engines}, doubts=(doubt, doubt))

    data = workbook_of(fleet(), read(), many, "new.xlsx")
    page = load_workbook(io.BytesIO(data))["Locomotives"]

    assert page.column_dimensions["A"].width == len(long) + 2
    assert page.row_dimensions[2].height is None
    doubts = next(cell for cell in page[1] if cell.value == "Doubts")
    assert page.column_dimensions[doubts.column_letter].width == 70
    height = page.row_dimensions[3].height
    assert height is not None
    assert 2 * 4 * 15 <= height <= 2 * 5 * 15  # two doubts of 4 to 5 lines of 69 signs

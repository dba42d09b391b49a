"""What fill wants to change in a member's sheets: computed cells, Check, and marks."""

from pathlib import Path

import openpyxl

from rosterkit.commands.fill import fill
from rosterkit.findings import Finding
from rosterkit.writeback.places import computed_places
from rosterkit.writeback.sheets import check_text, sheet_changes
from rosterkit.xlsx.changes import CellChange, CellStyle, SheetChange
from rosterkit.xlsx.grid import CellError, NoStoredValue, Workbook
from tests.rosters import enrolled, findings, grid, sheet_of, workbook, workbook_of


def _changes(source: Workbook) -> dict[str, SheetChange]:
    roster = enrolled(source)
    return {change.title: change for change in sheet_changes(roster, findings(roster))}


def _cells(source: Workbook) -> dict[tuple[int, int], str | int | float | None]:
    return {(cell.row, cell.column): cell.value for cell in _changes(source)["Locomotives"].cells}


def test_columns_that_are_missing_are_added_at_the_right_end() -> None:
    source = workbook([{"Loco": "A", "Address": 12, "Colour": "green"}, {"Loco": "B", "Address": 1000}])

    assert _changes(source)["Locomotives"].cells == (
        CellChange(row=1, column=4, value="CV1", look=CellStyle.HEADING),
        CellChange(row=1, column=5, value="CV17", look=CellStyle.HEADING),
        CellChange(row=1, column=6, value="CV18", look=CellStyle.HEADING),
        CellChange(row=1, column=7, value="CV19", look=CellStyle.HEADING),
        CellChange(row=1, column=8, value="CV29", look=CellStyle.HEADING),
        CellChange(row=1, column=9, value="Check", look=CellStyle.HEADING),
        CellChange(row=2, column=4, value=12, look=CellStyle.COMPUTED),
        CellChange(row=2, column=7, value=0, look=CellStyle.COMPUTED),
        CellChange(row=2, column=8, value=2, look=CellStyle.COMPUTED),
        CellChange(row=3, column=5, value=195, look=CellStyle.COMPUTED),
        CellChange(row=3, column=6, value=232, look=CellStyle.COMPUTED),
        CellChange(row=3, column=7, value=0, look=CellStyle.COMPUTED),
        CellChange(row=3, column=8, value=34, look=CellStyle.COMPUTED),
    )


def test_answers_is_a_value_where_the_column_is_there() -> None:
    source = workbook([{"Loco": "B", "Address": 1000, "Answers": "", "CV29 read": "", "Alert": ""}])

    cells = _changes(source)["Locomotives"].cells

    assert [(one.row, one.column, one.value, one.look) for one in cells if one.column in {3, 4, 5}] == [
        (2, 3, -1000, CellStyle.COMPUTED_ADDRESS)
    ]


def test_columns_that_are_there_are_filled_where_they_stand() -> None:
    source = workbook(
        [
            {"CV29": "", "Loco": "A", "CV1": "", "Address": 12, "CV17": "", "Check": "", "CV18": ""}
            | {"CV19": "", "Alert": "", "Answers": "", "CV29 read": ""}
        ]
    )

    assert _cells(source) == {(2, 1): 2, (2, 3): 12, (2, 8): 0, (2, 10): 12}


def test_columns_are_added_beyond_what_stands_without_a_heading() -> None:
    engines = enrolled(
        workbook_of(
            grid("Locomotives", ("Loco", "Address", "CV1"), ("A", 12, "", "", "a word", "", "", "", ""))
        )
    ).book.tables["Locomotives"]

    columns, added = computed_places(engines)

    assert added == ["answers", "cv17", "cv18", "cv19", "cv29", "cv29_read", "alert", "check"]
    assert columns == {"cv1": 3} | {name: at for at, name in enumerate(added, 6)}


def test_a_0_is_written_into_a_blank_cell() -> None:
    source = workbook(
        [
            {
                "Loco": "A",
                "Address": 256,
                "Answers": "",
                "CV1": "",
                "CV17": "",
                "CV18": "",
                "CV19": "",
                "CV29": "",
                "CV29 read": "",
                "Alert": "",
                "Check": "",
            }
        ]
    )

    assert _cells(source) == {(2, 3): -256, (2, 5): 193, (2, 6): 0, (2, 7): 0, (2, 8): 34}


def test_cells_that_are_as_they_should_be_are_left_out() -> None:
    source = workbook(
        [
            {
                "Loco": "A",
                "Address": 256,
                "Answers": -256,
                "CV1": "",
                "CV17": 193.0,
                "CV18": 0.0,
                "CV19": 0,
                "CV29": 34,
                "CV29 read": "",
                "Alert": "",
                "Check": "",
            }
        ]
    )

    assert _cells(source) == {}


def test_stale_values_are_replaced_and_those_of_an_engine_that_cannot_be_computed_emptied() -> None:
    source = workbook(
        [
            {"Loco": "A", "Address": 12, "CV1": 13, "CV17": 193, "CV18": "", "CV29": "2", "Check": "old"},
            {"Loco": "B", "Address": 0, "CV1": 13, "CV17": "", "CV18": "", "CV29": 2, "Check": ""},
        ]
    )

    cells = _cells(source)

    assert {at: value for at, value in cells.items() if at[1] < 7} == {
        (2, 3): 12,
        (2, 4): None,
        (2, 6): 2,
        (3, 3): None,
        (3, 6): None,
    }
    assert str(cells[3, 7]).startswith("error [Address] 0 is too small: Address takes 1 to 10239")


def test_errors_formulas_and_truth_values_in_computed_cells_are_left() -> None:
    source = workbook(
        [{"Loco": "A", "Address": 12, "CV1": NoStoredValue("B2"), "CV17": CellError("#REF!"), "CV18": True}]
    )

    cells = _cells(source)

    assert {(2, 3), (2, 4), (2, 5)} & cells.keys() == set()


def test_what_stands_in_a_row_without_an_engine_is_left() -> None:
    source = workbook(
        [
            {
                "Loco": "A",
                "Address": 12,
                "Answers": 12,
                "CV1": 12,
                "CV17": "",
                "CV18": "",
                "CV19": 0,
                "CV29": 2,
                "CV29 read": "",
                "Alert": "",
                "Check": "",
            },
            {"Loco": "", "Address": "", "CV1": 13, "CV29": 2, "Check": "old"},
        ]
    )

    assert _cells(source) == {}


def test_check_says_the_graver_first_each_with_its_heading() -> None:
    source = workbook(
        [{"Loco": "A", "DCC\naddress": 3, "DC operation": "on", "Vstart": 300, "Fault": "Smells"}]
    )
    roster = enrolled(source)

    assert check_text(findings(roster)) == (
        "error [Vstart] 300 is too large: Vstart takes 0 to 255; "
        "warning [DCC address] 3 is the address of most new decoders; "
        "warning [DC operation] DC operation is on: a glitch on the rails can start the engine at full "
        "speed, until valid packets come again; "
        "note [Fault] open fault: Smells"
    )


def test_check_is_blank_where_there_is_nothing_to_say() -> None:
    assert check_text([]) is None


def test_check_stays_within_what_a_cell_holds() -> None:
    found: list[Finding] = findings(workbook([{"Loco": "A", "Address": 12, "Fault": "x" * 190}])) * 100

    assert len(check_text(found) or "") == 4000


def test_a_finding_about_another_row_or_sheet_is_not_in_check() -> None:
    source = workbook(
        [{"Loco": "A", "Address": 12}, {"Loco": "B", "Address": 0}],
        ranges=[{"Kind": "short", "From": 99, "To": 1, "Use": "engines"}],
    )

    cells = _cells(source)

    assert cells[1, 8] == "Check"
    assert (2, 8) not in cells
    assert (3, 8) in cells


def test_faulty_cells_are_marked_by_a_formula_on_check_so_that_marks_move_with_a_sorted_row() -> None:
    source = workbook([{"Mine": "", "Loco": "A", "Address": 3, "Check": "", "Notes": ""}] * 3)

    marks = _changes(source)["Locomotives"].highlights

    assert [(mark.ranges, mark.look) for mark in marks] == [
        (("B2:E4",), CellStyle.ERROR),
        (("B2:E4",), CellStyle.WARNING),
    ]
    assert marks[0].formula == (
        'AND(N("rosterkit")=0,TRIM(SUBSTITUTE(B$1,CHAR(10)," "))<>"",'
        'ISNUMBER(FIND("error ["&TRIM(SUBSTITUTE(B$1,CHAR(10)," "))&"]",$D2)))'
    )


def test_faulty_cells_of_sheets_without_check_are_marked_each_by_its_place() -> None:
    source = workbook(
        [{"Loco": "A", "Address": 12}],
        layout={"Scale": "G", "Long addresses from": 100, "Event": "Spring"},
        ranges=[{"Kind": "short", "From": 1, "To": 50, "Use": "engines"}] * 2,
    )

    changes = _changes(source)

    assert [(m.ranges, m.look) for m in changes["Layout"].highlights] == [(("B2",), CellStyle.ERROR)]
    assert [(m.ranges, m.look) for m in changes["Address ranges"].highlights] == [
        (("B2", "B3"), CellStyle.WARNING)
    ]


def test_a_sheet_without_fault_loses_earlier_marks() -> None:
    changes = _changes(
        workbook_of(
            sheet_of("LOCOMOTIVES", [{"Loco": "A", "Address": 12}]),
            grid("Layout", ("Setting", "Value"), ("Scale", "N")),
        )
    )

    assert list(changes) == ["LOCOMOTIVES", "Layout"]
    assert (changes["Layout"].highlights, changes["Layout"].cells) == ((), ())


def test_a_total_and_a_note_under_computed_headings_come_back_from_fill(tmp_path: Path) -> None:
    path = tmp_path / "club.xlsx"
    book = openpyxl.Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.title = "Locomotives"
    for row in (("Loco", "Address", "CV1", "CV29"), ("A", 12, 12, "see card"), ("B", 13)):
        sheet.append(row)
    sheet["C5"], sheet["D5"], sheet["D7"] = "=SUM(C2:C3)", "=COUNTIF(D2:D3,2)", "sum of all"
    book.save(path)

    filled = fill(path)

    after = openpyxl.load_workbook(path)["Locomotives"]
    kept = {place: after[place].value for place in ("D2", "C5", "D5", "D7")}
    assert kept == {"D2": "see card", "C5": "=SUM(C2:C3)", "D5": "=COUNTIF(D2:D3,2)", "D7": "sum of all"}
    results = openpyxl.load_workbook(path, data_only=True)["Locomotives"]
    assert (results["C2"].value, results["D3"].value) == (12, 2)
    found = {one.place.cell for one in filled.report.findings if one.rule == "computed-not-ours"}
    assert found == {"D2", "C5", "C7"}

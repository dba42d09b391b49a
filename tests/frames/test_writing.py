"""What a changed frame changes in its workbook: the cells that differ, and no other byte."""

from collections.abc import Callable
from datetime import date, datetime, time
from pathlib import Path
from typing import Any

import openpyxl
import pandas as pd
import pytest
from openpyxl.worksheet.table import Table

import rosterkit
from rosterkit.frames import WorkbookFrames
from tests.command_line import run, written
from tests.frames.changed_cells import changed_cells, changed_parts
from tests.frames.reading import cells
from tests.rosters import Rows, grid, workbook, workbook_of

SAMPLES = Path(__file__).parents[2] / "sample_workbooks"
DEMO = SAMPLES / "demo_club.xlsx"
ENGINES: Rows = [
    {
        "Loco": "A",
        "Number": "007",
        "Address": 12,
        "Length": 180.5,
        "Direction": "Reversed",
        "Checked on": datetime(2026, 3, 14),
        "Registered on": "2026-03-15",
        "CV1": 12,
        "Shelf": "left",
        "Bought": datetime(2019, 5, 1),
        "Price": 89.5,
        "Twice": "=2*C2",
        "Vstart": "=15+15",
    },
    {"Loco": "B", "Address": 20_000, "Vstart": 30, "Twice": "=2*C3"},
    {"Loco": "C", "Address": 3, "Twice": "=2*C4"},
]
"""Columns A to M: Loco, Number, Address, Length, Direction, Checked on, Registered on, CV1, Shelf, Bought,
Price, Twice, Vstart."""
SOME_SAMPLES = sorted([*SAMPLES.glob("*.xlsx"), *SAMPLES.glob("meet/*.xlsx")])


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return written(tmp_path / "club.xlsx", workbook(ENGINES))


@pytest.fixture
def read(path: Path) -> WorkbookFrames:
    return rosterkit.read(path)


@pytest.mark.parametrize("path", SOME_SAMPLES, ids=lambda path: path.name)
def test_a_workbook_of_which_nothing_is_changed_is_written_with_the_same_bytes(
    path: Path, tmp_path: Path
) -> None:
    for defaults in (False, True):
        read = rosterkit.read(path, defaults=defaults)

        out = read.write({title: read[title] for title in read}, tmp_path / "out.xlsx")

        assert out.read_bytes() == path.read_bytes()


@pytest.mark.slow
def test_a_workbook_with_faults_is_written_with_the_same_bytes(tmp_path: Path) -> None:
    faulty = sorted((SAMPLES / "faulty").rglob("*.xlsx"))

    assert len(faulty) > 50
    for path in faulty:
        read = rosterkit.read(path)
        out = read.write({title: read[title] for title in read}, tmp_path / "out.xlsx")
        assert out.read_bytes() == path.read_bytes(), path.name


@pytest.mark.parametrize(
    ("heading", "value", "cell", "stored"),
    [
        pytest.param("Address", 4242, "C2", 4242, id="a number"),
        pytest.param("Length", 12.25, "D2", 12.25, id="a number with decimals"),
        pytest.param("Length", pd.NA, "D2", None, id="NA, which empties the cell"),
        pytest.param("Number", "0815", "B2", "0815", id="a text of digits, which stays a text"),
        pytest.param("Number", "=1+1", "B2", "=1+1", id="a text that begins like a formula"),
        pytest.param("Number", "", "B2", None, id="a text without any sign"),
        pytest.param("Direction", "normal", "E2", "normal", id="a choice"),
        pytest.param(
            "Checked on",
            pd.Timestamp(2026, 4, 1),
            "F2",
            datetime(2026, 4, 1),
            id="a day in a cell with a date, which stays a date",
        ),
        pytest.param(
            "Registered on",
            pd.Timestamp(1888, 4, 1),
            "G2",
            "1888-04-01",
            id="a day in a cell with a day typed as text",
        ),
        pytest.param("Shelf", "=right", "I2", "=right", id="a text in a column of the member's own"),
        pytest.param("Bought", pd.Timestamp(2020, 1, 2), "J2", datetime(2020, 1, 2), id="a day in one"),
        pytest.param("Price", 90.0, "K2", 90, id="a number in one"),
        pytest.param("Price", None, "K2", None, id="nothing in one"),
    ],
)
def test_one_cell_changes_to(
    path: Path, tmp_path: Path, heading: str, value: Any, cell: str, stored: object
) -> None:
    read = rosterkit.read(path)
    frame = read.locomotives
    frame.loc[2, heading] = value

    out = read.write(frame, tmp_path / "out.xlsx")

    assert changed_cells(path, out) == {("Locomotives", cell): stored}
    assert changed_parts(path, out) <= {"xl/worksheets/sheet1.xml", "xl/workbook.xml"}
    assert openpyxl.load_workbook(out)["Locomotives"][cell].data_type != "f"
    again = rosterkit.read(out).locomotives
    assert cells(again, 2, heading) == [None if value is pd.NA or value == "" else value]
    pd.testing.assert_frame_equal(
        again.drop(columns=heading), rosterkit.read(path).locomotives.drop(columns=heading)
    )


def test_a_refused_cell_takes_a_value_and_else_keeps_its_text(
    read: WorkbookFrames, path: Path, tmp_path: Path
) -> None:
    frame = read.locomotives.copy()
    frame.loc[4, "Address"] = 5
    kept = read.write(frame, tmp_path / "kept.xlsx")
    frame.loc[3, "Address"] = 200
    mended = read.write(frame, tmp_path / "mended.xlsx")

    assert changed_cells(path, kept) == {("Locomotives", "C4"): 5}
    assert changed_cells(path, mended) == {("Locomotives", "C4"): 5, ("Locomotives", "C3"): 200}


def test_a_frame_may_be_sorted_filtered_and_lack_columns(
    read: WorkbookFrames, path: Path, tmp_path: Path
) -> None:
    frame = read.locomotives.sort_values("Loco", ascending=False).query("Loco != 'B'")
    frame = frame.assign(Address=[33, 44])[["Address", "Loco"]]

    out = read.write(frame, tmp_path / "out.xlsx")

    assert changed_cells(path, out) == {("Locomotives", "C4"): 33, ("Locomotives", "C2"): 44}


def test_other_dtypes_of_the_same_values_change_nothing(
    read: WorkbookFrames, path: Path, tmp_path: Path
) -> None:
    frame = read.locomotives.astype({"Address": "float64", "Direction": object, "Checked on": object})
    frame["Checked on"] = frame["Checked on"].map(lambda day: day.date() if day is not pd.NaT else None)

    out = read.write(frame, tmp_path / "out.xlsx")

    assert out.read_bytes() == path.read_bytes()


def test_with_defaults_only_what_was_changed_is_written(path: Path, tmp_path: Path) -> None:
    read = rosterkit.read(path, defaults=True)
    frame = read.locomotives
    frame["Loco"] += "1"

    out = read.write(frame, tmp_path / "out.xlsx")

    assert changed_cells(path, out) == {
        ("Locomotives", f"A{n}"): f"{name}1" for n, name in enumerate("ABC", 2)
    }


def test_several_sheets_are_written_at_once(tmp_path: Path) -> None:
    read = rosterkit.read(DEMO)
    engines, consists = read.locomotives, read["consists"]
    engines.loc[2, "Notes"] = "oiled"
    consists.loc[2, "Position"] = 7
    layout = read.layout
    layout["Programming track length"] = 500.5
    layout["Closing date"] = pd.Timestamp(2026, 9, 1)

    out = read.write({"locomotives": engines, "Consists": consists, "Layout": layout}, tmp_path / "out.xlsx")

    changed = changed_cells(DEMO, out)
    assert sorted(changed.values(), key=str) == ["2026-09-01", 500.5, 7, "oiled"]
    assert {title for title, _ in changed} == {"Locomotives", "Consists", "Layout"}
    again = rosterkit.read(out)
    assert again.layout["Programming track length"].tolist() == [500.5]
    assert again.layout["Closing date"].tolist() == [pd.Timestamp(2026, 9, 1)]


def test_a_workbook_written_in_place_keeps_the_earlier_file(read: WorkbookFrames, path: Path) -> None:
    before = path.read_bytes()
    frame = read.locomotives
    frame.loc[4, "Address"] = 99

    assert read.write(frame, path) == path

    assert path.with_name("club.earlier.xlsx").read_bytes() == before
    assert cells(rosterkit.read(path).locomotives, 4, "Address") == [99]
    with pytest.raises(ValueError, match="changed"):
        read.write(frame, path)


def test_a_time_stays_a_time(tmp_path: Path) -> None:
    readings: Rows = [
        {"Date": date(2026, 5, 1), "Time": time(20, 15), "Loco": "A", "CV": 1, "Value": 3},
        {"Date": date(2026, 5, 1), "Time": "20:30", "Loco": "A", "CV": 1, "Value": 3},
    ]
    path = written(tmp_path / "club.xlsx", workbook([{"Loco": "A", "Address": 3}], readings=readings))
    read = rosterkit.read(path)
    frame = read["Readings"]
    assert frame["Time"].tolist() == ["20:15:00", "20:30:00"]

    out = read.write(frame.assign(Time=["08:05:30", "9:00"]), tmp_path / "out.xlsx")

    assert changed_cells(path, out) == {("Readings", "B2"): time(8, 5, 30), ("Readings", "B3"): "09:00:00"}
    assert rosterkit.read(out)["Readings"]["Time"].tolist() == ["08:05:30", "09:00:00"]


def test_new_rows_go_below_the_list_in_their_order(read: WorkbookFrames, path: Path, tmp_path: Path) -> None:
    frame = read.locomotives
    new = pd.DataFrame({"Loco": ["D", "E"], "Address": [40, 50], "Shelf": [None, "top"]}, index=[-1, 3000])
    frame.loc[2, "Address"] = 21

    out = read.write({"Locomotives": pd.concat([new.rename_axis("row"), frame])}, tmp_path / "out.xlsx")

    assert changed_cells(path, out) == {
        ("Locomotives", "C2"): 21,
        ("Locomotives", "A5"): "D",
        ("Locomotives", "C5"): 40,
        ("Locomotives", "A6"): "E",
        ("Locomotives", "C6"): 50,
        ("Locomotives", "I6"): "top",
    }


def test_a_row_set_with_loc_is_a_new_one(tmp_path: Path) -> None:
    path = written(tmp_path / "club.xlsx", workbook([{"Loco": "A", "Address": 3}]))
    read = rosterkit.read(path)
    frame = read.locomotives[["Loco", "Address"]].copy()
    frame.loc[100, "Loco"], frame.loc[100, "Address"] = "B", 4

    out = read.write(frame, tmp_path / "out.xlsx")

    assert changed_cells(path, out) == {("Locomotives", "A3"): "B", ("Locomotives", "B3"): 4}


def test_new_rows_pass_over_what_stands_below_the_list_and_widen_its_table(tmp_path: Path) -> None:
    path = tmp_path / "club.xlsx"
    source = grid("Locomotives", ("Loco", "Address", "Mine"), ("A", 3, ""), (), ("", "", "a remark"))
    book = openpyxl.load_workbook(written(path, workbook_of(source, grid("Consists", ("Consist", "Loco")))))
    book["Consists"].add_table(Table(displayName="Trains", ref="A1:B2"))
    book.save(path)
    read = rosterkit.read(path)
    frame = read.locomotives[["Loco", "Address"]].copy()
    frame.loc[100, "Loco"], frame.loc[100, "Address"] = "B", 4
    frame.loc[101, "Loco"], frame.loc[101, "Address"] = "C", 5
    consists = read["Consists"][["Consist", "Loco"]].copy()
    consists.loc[100, "Consist"], consists.loc[100, "Loco"] = "T", "B"
    consists.loc[101, "Consist"], consists.loc[101, "Loco"] = "T", "C"

    out = read.write({"Locomotives": frame, "Consists": consists}, tmp_path / "out.xlsx")

    assert cells(rosterkit.read(out).locomotives, 5, "Loco", "Address") == ["B", 4]
    assert len(rosterkit.read(out)["Consists"]) == 2
    table = openpyxl.load_workbook(out)["Consists"].tables["Trains"]
    assert table.ref == "A1:B3"


def test_a_starter_workbook_is_filled_from_a_frame(tmp_path: Path) -> None:
    path = tmp_path / "club.xlsx"
    run("new", path)
    engines = pd.DataFrame({"Loco": [f"E {n}" for n in range(60)], "Address": range(1000, 1060)})

    read = rosterkit.read(path)
    read.write({"Locomotives": engines.rename_axis("row").rename(lambda n: -n - 1)}, path)

    again = rosterkit.read(path)
    assert again.locomotives["Address"].tolist() == list(range(1000, 1060))
    assert run("check", path).status == 0
    assert run("fill", path).status == 0
    assert rosterkit.read(path).locomotives["CV29"].notna().all()


@pytest.mark.parametrize(
    ("heading", "value", "said"),
    [
        pytest.param(
            "Address",
            20_000,
            r"C2 \(Address\) 20000 is too large: Address takes 1 to 10239\. Enter a whole number, 1 to 10239",
            id="a value that the schema refuses",
        ),
        pytest.param("Direction", "sideways", r"E2 \(Direction\) 'sideways' is not one of", id="no choice"),
        pytest.param("Loco", "x" * 41, r"A2 \(Loco\) '.*' is longer than 40", id="too long a text"),
        pytest.param("Length", float("inf"), r"D2 \(Length\) inf is no number", id="an infinite number"),
        pytest.param("Length", "\x07", r"D2 \(Length\) '.*' is longer than cells are, or", id="a bell"),
        pytest.param(
            "Checked on",
            datetime(2026, 1, 1, 12),
            r"F2 \(Checked on\) 2026-01-01 12:00 has a time of day",
            id="a day with a time",
        ),
        pytest.param("Number", datetime(2026, 1, 1), r"B2 \(Number\) 2026-01-01 is a date", id="a day"),
        pytest.param("Shelf", ["left"], r"I2 \(Shelf\) a list is nothing that a cell holds", id="a list"),
        pytest.param("Price", 2**60, r"K2 \(Price\) 1152921504606846976 is no number", id="too exact"),
        pytest.param("CV1", 13, r"H2 \(CV1\) is computed\. .* run 'rosterkit fill'", id="a computed cell"),
        pytest.param("Twice", 1, r"L2 \(Twice\) holds a formula\. Change it in", id="a member's formula"),
        pytest.param("Vstart", 1, r"M2 \(Vstart\) holds a formula", id="a formula in a column of ours"),
        pytest.param("Vmid", 1, r"the value for Vmid has no place", id="a column that the sheet lacks"),
    ],
)
def test_a_value_is_refused_with_its_cell(
    read: WorkbookFrames, tmp_path: Path, heading: str, value: Any, said: str
) -> None:
    frame = read.locomotives.astype({heading: object})
    frame.at[2, heading] = value

    with pytest.raises(ValueError, match=rf"cannot write .*club\.xlsx: in the sheet 'Locomotives', {said}"):
        read.write(frame, tmp_path / "out.xlsx")

    assert not (tmp_path / "out.xlsx").exists()


def test_the_number_of_refused_cells_is_told(read: WorkbookFrames, tmp_path: Path) -> None:
    frame = read.locomotives.assign(Address=11_000)

    with pytest.raises(ValueError, match=r"C2 .* 10239 \(1 of 3 such cells\)\. Enter"):
        read.write(frame, tmp_path / "out.xlsx")


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        pytest.param(
            lambda frame: frame.reset_index(drop=True), "index is not the sheet's rows", id="numbered anew"
        ),
        pytest.param(
            lambda frame: pd.concat({"club.xlsx": frame}, names=["workbook"]),
            "index is not the sheet's rows",
            id="of several workbooks",
        ),
        pytest.param(
            lambda frame: frame.assign(Adress=1),
            r"there is no heading 'Adress'\. Did you mean 'Address'\? Else drop the column",
            id="one with a misspelt heading",
        ),
        pytest.param(
            lambda frame: frame.assign(zz=1),
            r"there is no heading 'zz'\. Drop",
            id="one with another heading",
        ),
        pytest.param(
            lambda frame: pd.concat([frame, frame.loc[[3]]]),
            "the frame has row 3 twice",
            id="one with a row twice",
        ),
        pytest.param(
            lambda frame: pd.concat([frame, frame[["Loco"]]], axis=1),
            "the frame has 'Loco' twice",
            id="one with a column twice",
        ),
        pytest.param(
            lambda frame: pd.concat([frame, frame.loc[[3]].rename({3: 0})[["Shelf"]]]),
            "a new row would be blank",
            id="one with a new row without a value",
        ),
        pytest.param(
            lambda frame: pd.concat([frame, frame.loc[[2]].rename({2: 0})[["Loco", "CV1"]]]),
            r"H5 \(CV1\) is computed",
            id="one with a new row with a computed value",
        ),
    ],
)
def test_a_frame_is_refused(
    read: WorkbookFrames, tmp_path: Path, changed: Callable[[pd.DataFrame], pd.DataFrame], said: str
) -> None:
    with pytest.raises(ValueError, match=said):
        read.write({"Locomotives": changed(read.locomotives)}, tmp_path / "out.xlsx")

    assert list(tmp_path.iterdir()) == [tmp_path / "club.xlsx"]


def test_no_setting_can_be_added_as_a_row(tmp_path: Path) -> None:
    read = rosterkit.read(DEMO)
    layout = pd.concat([read.layout, read.layout.rename({1: 7})])

    with pytest.raises(ValueError, match="in the sheet 'Layout', no row can be added"):
        read.write(layout, tmp_path / "out.xlsx")


def test_rows_for_a_sheet_that_the_workbook_lacks_are_refused(read: WorkbookFrames, tmp_path: Path) -> None:
    with pytest.raises(ValueError, match=r"it has no sheet 'Consists'\. Add the sheet"):
        read.write(read["Consists"], tmp_path / "out.xlsx")


def test_a_frame_that_forgot_its_sheet_is_written_by_its_title(
    read: WorkbookFrames, path: Path, tmp_path: Path
) -> None:
    frame = pd.DataFrame(read.locomotives.to_dict(), index=read.locomotives.index)

    with pytest.raises(ValueError, match=r"does not say of which sheet it is .* Write it by the title"):
        read.write(frame, tmp_path / "out.xlsx")
    assert read.write({"Locomotives": frame}, tmp_path / "out.xlsx").read_bytes() == path.read_bytes()


def test_an_unknown_sheet_is_a_key_error(read: WorkbookFrames, tmp_path: Path) -> None:
    with pytest.raises(KeyError, match="did you mean 'Locomotives'"):
        read.write({"Locomotive": read.locomotives}, tmp_path / "out.xlsx")


def test_what_is_no_frame_is_a_type_error(read: WorkbookFrames, tmp_path: Path) -> None:
    with pytest.raises(TypeError, match="from a DataFrame, not from a Series"):
        read.write({"Locomotives": read.locomotives["Loco"]}, tmp_path / "out.xlsx")  # type: ignore[dict-item]


def test_a_folder_that_is_not_there_is_file_not_found(read: WorkbookFrames, tmp_path: Path) -> None:
    with pytest.raises(FileNotFoundError, match="its folder is not there"):
        read.write(read.locomotives, tmp_path / "away" / "out.xlsx")


def test_a_copy_with_another_ending_is_refused(read: WorkbookFrames, tmp_path: Path) -> None:
    with pytest.raises(ValueError, match=r"does not end in \.xlsx"):
        read.write(read.locomotives, tmp_path / "out.csv")

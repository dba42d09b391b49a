"""Sheets as frames: dtypes, blank and refused cells, members' own columns, CVs and findings."""

from datetime import datetime
from pathlib import Path

import pandas as pd
import pytest

import rosterkit
from rosterkit.commands.check import check
from rosterkit.frames import WorkbookFrames
from tests.command_line import run, written
from tests.frames.reading import cells, rows_of
from tests.rosters import Rows, grid, sheet_of, workbook, workbook_of

SAMPLES = Path(__file__).parents[2] / "sample_workbooks"
DEMO = SAMPLES / "demo_club.xlsx"
ENGINES: Rows = [
    {
        "Loco": "A",
        "Number": "007",
        "Length": 180.5,
        "Address": 12,
        "Direction": "Reversed",
        "Checked on": datetime(2026, 3, 14),
        "Shelf": "left",
        "Bought": datetime(2019, 5, 1),
        "Price": 89.5,
        "Spare couplers": 2,
        "Remarks of mine": "x",
    },
    {"Loco": "B", "Address": 20_000, "Vstart": "full", "Checked on": "soon", "Remarks of mine": 7},
]


@pytest.fixture
def frames(tmp_path: Path) -> WorkbookFrames:
    return rosterkit.read(written(tmp_path / "club.xlsx", workbook(ENGINES)))


def test_the_index_is_the_row_of_the_sheet(tmp_path: Path) -> None:
    engines = ("Loco", "Address"), ("A", 3), (), ("B", 4)
    source = workbook_of(grid("Locomotives", ("the club's engines",), (), *engines))

    read = rosterkit.read(written(tmp_path / "club.xlsx", source))

    assert read.locomotives["Loco"].to_dict() == {4: "A", 6: "B"}
    assert read.locomotives.index.name == "row"


@pytest.mark.parametrize(
    ("heading", "dtype"),
    [
        pytest.param("Loco", "string", id="a text"),
        pytest.param("Address", "Int64", id="a whole number"),
        pytest.param("Length", "Float64", id="a number"),
        pytest.param("Direction", "category", id="a drop-down"),
        pytest.param("Checked on", "datetime64[us]", id="a day"),
        pytest.param("CV29", "Int64", id="a computed number"),
        pytest.param("Lock", "Int64", id="a column that the sheet lacks"),
        pytest.param("Shelf", "string", id="texts in a column of the member's own"),
        pytest.param("Price", "Float64", id="numbers in one"),
        pytest.param("Spare couplers", "Int64", id="whole numbers in one"),
        pytest.param("Bought", "datetime64[us]", id="days in one"),
        pytest.param("Remarks of mine", "object", id="texts and numbers in one"),
    ],
)
def test_a_column_has_the_dtype_of(frames: WorkbookFrames, heading: str, dtype: str) -> None:
    assert str(frames.locomotives[heading].dtype) == dtype


def test_values_are_as_the_roster_has_them(frames: WorkbookFrames) -> None:
    headings = "Number", "Length", "Direction", "Checked on", "Spare couplers"

    assert cells(frames.locomotives, 2, *headings) == [
        "007",
        180.5,
        "reversed",
        pd.Timestamp(2026, 3, 14),
        2,
    ]
    assert frames.locomotives["Remarks of mine"].tolist() == ["x", 7.0]


def test_a_blank_cell_is_na_whatever_blank_means(frames: WorkbookFrames) -> None:
    headings = "Owner", "At meet", "Registered on", "Length", "Price"

    assert cells(frames.locomotives, 3, *headings) == [None] * 5


def test_a_cell_that_the_schema_refuses_is_na_and_named_in_findings(frames: WorkbookFrames) -> None:
    headings = "Address", "Vstart", "Checked on"
    found = frames.findings.query("row == 3 and rule in ('address-out-of-range', 'value-not-allowed')")

    assert cells(frames.locomotives, 3, *headings) == [None] * 3
    assert sorted(found["column"]) == ["Address", "Checked on", "Vstart"]
    assert cells(frames.as_typed("Locomotives"), 3, *headings) == ["20000", "full", "soon"]


def test_a_typed_text_is_whole_and_as_it_stands(tmp_path: Path) -> None:
    long = "a  b " * 30
    engines: Rows = [{"Loco": "A", "Address": 3, "Notes": long, "Mine": True, "CV1": "?", "At meet": "Yes "}]

    typed = rosterkit.read(written(tmp_path / "club.xlsx", workbook(engines))).as_typed("locomotives")

    headings = "Notes", "Mine", "CV1", "At meet", "Owner"
    assert cells(typed, 2, *headings) == [long, "TRUE", "?", "Yes ", None]


def test_the_choices_of_a_drop_down_are_its_categories_in_order(frames: WorkbookFrames) -> None:
    direction = frames.locomotives["Direction"].cat

    assert direction.categories.tolist() == ["normal", "reversed"]
    assert not direction.ordered


def test_a_computed_cell_that_holds_something_else_is_na(tmp_path: Path) -> None:
    engines: Rows = [{"Loco": "A", "Address": 3, "CV1": "three"}, {"Loco": "B", "Address": 4, "CV1": 4}]

    read = rosterkit.read(written(tmp_path / "club.xlsx", workbook(engines)))

    assert rows_of(read.locomotives[["CV1"]]) == [(None,), (4,)]


@pytest.mark.parametrize(
    ("heading", "first", "second"),
    [
        pytest.param("At meet", "yes", "no", id="the schema's default"),
        pytest.param("Address kind", "short", "long", id="by the layout's Long addresses from"),
        pytest.param("Meet kind", None, "short", id="by the number, where there is a meet address"),
        pytest.param("Direction", "reversed", None, id="a setting that stays as the decoder has it"),
    ],
)
def test_with_defaults_a_blank_cell_has_what_it_means(
    tmp_path: Path, heading: str, first: object, second: object
) -> None:
    engines: Rows = [
        {"Loco": "A", "Address": 99, "At meet": "yes", "Direction": "reversed"},
        {"Loco": "B", "Address": 100, "Meet address": 7},
    ]
    path = written(tmp_path / "club.xlsx", workbook(engines, layout={"Long addresses from": 100}))

    column = rosterkit.read(path, defaults=True).locomotives[[heading]]

    assert rows_of(column) == [(first,), (second,)]


def test_with_defaults_a_refused_cell_is_still_na(tmp_path: Path) -> None:
    engines: Rows = [{"Loco": "A", "Address": 12, "At meet": "perhaps", "Address kind": "both"}]
    layout = {"Scale": "G?", "Length unit": ""}

    read = rosterkit.read(written(tmp_path / "club.xlsx", workbook(engines, layout=layout)), defaults=True)

    assert cells(read.locomotives, 2, "At meet", "Address kind") == [None, None]
    assert read.layout["Scale"].isna().all()
    assert read.layout["Length unit"].tolist() == ["mm"]


def test_with_defaults_a_run_has_the_unit_of_the_layout(tmp_path: Path) -> None:
    source = workbook(
        [{"Loco": "A", "Address": 3}],
        layout={"Length unit": "in"},
        runs=[{"Loco": "A", "Drive level": 20, "Distance": 30, "Time": 4, "Unit": ""}],
    )
    path = written(tmp_path / "club.xlsx", source)

    assert rosterkit.read(path, defaults=True)["Speed runs"]["Unit"].tolist() == ["in"]
    assert rosterkit.read(path)["Speed runs"]["Unit"].isna().all()


def test_the_layout_is_one_row_of_settings(tmp_path: Path) -> None:
    layout = {"Programming track length": 420, "Scale": "N", "Closing date": datetime(2026, 4, 1)}
    source = workbook([{"Loco": "A", "Address": 3}], layout=layout)

    read = rosterkit.read(written(tmp_path / "club.xlsx", source)).layout

    assert len(read) == 1
    assert read["Programming track length"].item() == 420.0
    assert read["Closing date"].item() == pd.Timestamp(2026, 4, 1)
    assert str(read["Scale"].dtype) == "category"


def test_a_sheet_that_the_workbook_lacks_has_all_columns_and_no_row(frames: WorkbookFrames) -> None:
    consists = frames["Consists"]

    assert len(consists) == 0
    assert str(consists["Address"].dtype) == "Int64"
    assert frames.sheets == ("Locomotives",)
    assert list(frames) == ["Locomotives"]
    assert len(frames.layout) == 1


def test_a_workbook_without_engines_yet_is_read(tmp_path: Path) -> None:
    run("new", tmp_path / "club.xlsx")

    read = rosterkit.read(tmp_path / "club.xlsx")

    assert len(read.locomotives) == 0
    assert len(read.cvs) == 0
    assert str(read.findings["severity"].dtype) == "category"


def test_two_own_columns_of_one_heading_are_told_apart_by_their_letters(tmp_path: Path) -> None:
    engines = ("Loco", "Address", "Shelf", "Shelf", "On\nloan"), ("A", 3, "left", "right", "no")
    source = workbook_of(grid("Locomotives", *engines))

    read = rosterkit.read(written(tmp_path / "club.xlsx", source)).locomotives

    assert cells(read, 2, "Shelf", "Shelf (D)", "On loan") == ["left", "right", "no"]


def test_headings_are_ours_however_the_member_spells_them(tmp_path: Path) -> None:
    source = workbook_of(grid("LOCOMOTIVES", ("loco", " Address ", "Start"), ("A", 3, 5)))

    read = rosterkit.read(written(tmp_path / "club.xlsx", source))

    assert cells(read.locomotives, 2, "Loco", "Address", "Vstart") == ["A", 3, 5]
    assert set(read.findings["sheet"]) == {"Locomotives"}


def test_cvs_are_long_and_agree_with_the_computed_columns_and_the_extra_values() -> None:
    read = rosterkit.read(DEMO)
    engines, extras = read.locomotives, read["Extra values"]

    found = read.cvs
    assert list(found.columns) == ["row", "loco", "cv", "index_high", "index_low", "value"]
    assert [str(dtype) for dtype in found.dtypes] == ["Int64", "string", *["Int64"] * 4]
    for cv in (1, 17, 18, 19, 29):
        stored = engines[f"CV{cv}"].dropna()
        assert len(stored) > 3
        assert found.query("cv == @cv").set_index("row")["value"].to_dict() == stored.to_dict()
    typed = extras[["Loco", "CV", "Index high", "Index low", "Value"]]
    keys = ["loco", "cv", "index_high", "index_low", "value"]
    assert set(rows_of(typed)) <= set(rows_of(found[keys]))
    assert found["index_high"].notna().any()
    joined = found.join(engines, on="row")
    assert joined["loco"].tolist() == joined["Loco"].tolist()


def test_registers_are_another_name_of_the_cvs() -> None:
    read = rosterkit.read(DEMO)

    assert read.registers is read.cvs


def test_findings_are_those_of_the_command_check() -> None:
    read = rosterkit.read(DEMO)
    report = check([DEMO])

    found = read.findings
    assert found[["rule", "message", "fix"]].values.tolist() == [
        [one.rule, one.message, one.fix] for one in report.findings
    ]
    assert found["severity"].tolist() == [one.severity.value for one in report.findings]
    assert found["cell"].isna().tolist() == [one.place.cell is None for one in report.findings]


def test_the_severity_of_findings_is_ordered() -> None:
    found = rosterkit.read(DEMO).findings

    assert found["severity"].cat.categories.tolist() == ["note", "warning", "error"]
    assert set(found[found["severity"] > "note"]["severity"]) == {"warning", "error"}


def test_findings_join_their_sheet_by_row() -> None:
    read = rosterkit.read(DEMO)

    joined = read.findings.query("sheet == 'Locomotives'").join(read.locomotives, on="row")

    about = joined.dropna(subset="loco")
    assert len(about) > 5
    assert about["loco"].tolist() == about["Loco"].tolist()


def test_read_all_has_the_rows_of_each_workbook_below_each_other() -> None:
    paths = sorted((SAMPLES / "meet").glob("*.xlsx"))
    each = {str(path): rosterkit.read(path) for path in paths}

    together = rosterkit.read_all([*paths, paths[0]])

    assert list(together.workbooks) == list(each)
    assert together.locomotives.index.names == ["workbook", "row"]
    for name, one in each.items():
        pd.testing.assert_frame_equal(_of(together.locomotives, name), one.locomotives)
        pd.testing.assert_frame_equal(_of(together["Address ranges"], name), one["Address ranges"])
        pd.testing.assert_frame_equal(_of(together.as_typed("Layout"), name), one.as_typed("Layout"))
    assert together["Consists"].index.unique("workbook").tolist() == [str(paths[1])]
    assert len(together.layout) == len(paths)
    assert together.findings["workbook"].isin(each).all()
    assert len(together.findings) == sum(len(one.findings) for one in each.values())
    joined = together.cvs.join(together.locomotives, on=["workbook", "row"])
    assert joined["loco"].tolist() == joined["Loco"].tolist()


def _of(frame: pd.DataFrame, name: str) -> pd.DataFrame:
    return frame.loc[[name]].droplevel("workbook")


def test_read_all_joins_own_columns_of_different_kinds(tmp_path: Path) -> None:
    for name, price in (("a", 5), ("b", "a gift"), ("c", "")):
        written(tmp_path / f"{name}.xlsx", workbook([{"Loco": name, "Address": 3, "Price": price}]))

    together = rosterkit.read_all(sorted(tmp_path.glob("*.xlsx")))

    assert together.locomotives["Price"].fillna("-").tolist() == [5, "a gift", "-"]


def test_the_repr_is_one_short_line(frames: WorkbookFrames, tmp_path: Path) -> None:
    path = tmp_path / "club.xlsx"

    assert repr(frames) == f"<rosterkit frames of {path}: 2 Locomotives>"
    assert repr(rosterkit.read_all([path])) == "<rosterkit frames of 1 workbook: 2 Locomotives>"


def test_a_file_that_is_not_there_is_file_not_found(tmp_path: Path) -> None:
    with pytest.raises(FileNotFoundError, match=r"there is no such file\. Check the spelling"):
        rosterkit.read(tmp_path / "club.xlsx")


def test_a_folder_is_a_directory(tmp_path: Path) -> None:
    with pytest.raises(IsADirectoryError, match="Give a workbook inside it"):
        rosterkit.read(tmp_path)


def test_what_is_no_workbook_is_a_value_error_with_its_fix_also_while_another_error_is_handled(
    tmp_path: Path,
) -> None:
    path = tmp_path / "club.xlsx"
    path.write_bytes(b"")

    try:
        (tmp_path / "nothing").read_bytes()
    except FileNotFoundError:
        with pytest.raises(ValueError, match=r"it is empty \(0 bytes\)\. Copy the file again"):
            rosterkit.read(path)


def test_a_workbook_without_engines_sheet_is_a_value_error(tmp_path: Path) -> None:
    path = written(tmp_path / "club.xlsx", workbook_of(sheet_of("Lokomotives", [{"Loco": "A"}])))

    with pytest.raises(ValueError, match="Rename the sheet 'Lokomotives' to 'Locomotives'"):
        rosterkit.read_all([path])


def test_no_workbook_at_all_is_a_value_error() -> None:
    with pytest.raises(ValueError, match="Give at least one path"):
        rosterkit.read_all([])


def test_an_unknown_sheet_is_a_key_error_with_the_nearest_title(frames: WorkbookFrames) -> None:
    with pytest.raises(KeyError, match="there is no sheet 'Consist': did you mean 'Consists'"):
        frames["Consist"]
    with pytest.raises(KeyError, match="there are Layout, Address ranges"):
        frames.as_typed("zzzz")

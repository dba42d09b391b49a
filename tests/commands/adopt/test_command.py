"""Lists in real files, adopted, corrected and adopted again."""

import json
from collections.abc import Sequence
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator
from openpyxl import Workbook, load_workbook

from rosterkit.roster.load import roster_at
from rosterkit.roster.schema import schema_file
from tests.command_line import run
from tests.samples.__main__ import saved_by_libreoffice

HEADINGS = ("Road", "No.", "Adr", "Decoder", "Box", "CV3", "Remarks")
FLEET = (
    ("NE", "5201", "5201", "type A", "shelf 2", "12", "new bell"),
    ("NE", "007", "7", "type B", "shelf 3", "9", "=1+1"),
    ("SM", "21", "12 or 45", "type A", "", "", "two labels"),
)
CLEAN = FLEET[:2]


def csv_list(path: Path, rows: Sequence[Sequence[str]] = FLEET, headings: Sequence[str] = HEADINGS) -> Path:
    """Write a list as text with semicolons."""
    path.write_text("\n".join(";".join(row) for row in (headings, *rows)) + "\n", encoding="utf-8")
    return path


def read_as(workbook: Path, place: str) -> str:
    """Return what stands under Read as in the sheet Reading."""
    return _cell(workbook, place)[1]


def _cell(workbook: Path, place: str) -> tuple[str, str]:
    for row in load_workbook(workbook)["Reading"].iter_rows():
        if row[0].value == place:
            return row[2].coordinate, str(row[2].value)
    raise KeyError(place)


def correct(workbook: Path, place: str, word: str) -> None:
    """Type into Read as, as a member does."""
    book = load_workbook(workbook)
    book["Reading"][_cell(workbook, place)[0]].value = word
    book.save(workbook)


def test_without_out_nothing_is_written(tmp_path: Path) -> None:
    before = csv_list(tmp_path / "fleet.csv").read_bytes()

    ran = run("adopt", tmp_path / "fleet.csv")

    assert (ran.status, ran.err) == (1, "")
    assert ran.out.startswith(f"{tmp_path / 'fleet.csv'}: 3 engines")
    assert "    fleet!C  'Adr'      Address" in ran.out
    assert "'12 or 45'" in ran.out
    assert [one.name for one in tmp_path.iterdir()] == ["fleet.csv"]
    assert (tmp_path / "fleet.csv").read_bytes() == before


def test_a_list_without_doubts_ends_well_and_its_workbook_passes_the_check(tmp_path: Path) -> None:
    fleet, out = csv_list(tmp_path / "fleet.csv", CLEAN), tmp_path / "club.xlsx"

    ran = run("adopt", fleet, "-o", out)

    assert (ran.status, ran.err) == (0, f"made {out}\n")
    assert run("check", out).status == 0
    engines = {one.loco: one for one in roster_at(out).engines}
    assert engines["NE 5201"].address == 5201
    assert engines["NE 007"].number == "007"
    assert engines["NE 007"].notes == "=1+1"
    assert engines["NE 007"].acceleration == 9


def test_fill_keeps_reading_and_the_copies(tmp_path: Path) -> None:
    out = tmp_path / "club.xlsx"
    run("adopt", csv_list(tmp_path / "fleet.csv", CLEAN), "-o", out)

    assert run("fill", out).status == 0

    titles = load_workbook(out).sheetnames
    assert {"Reading", "fleet", "Findings", "Cards", "Live"} <= set(titles)
    assert read_as(out, "fleet!C") == "Address"
    assert "engines-elsewhere" not in run("check", out).out


def test_the_json_is_as_its_schema_says(tmp_path: Path) -> None:
    ran = run("adopt", csv_list(tmp_path / "fleet.csv"), "--format", "json")

    document = json.loads(ran.out)
    Draft202012Validator(schema_file("outputs/adopt.json")).validate(document)
    assert document["counts"]["Locomotives"] == 3
    assert ran.status == 1


def test_what_is_corrected_in_reading_is_read_so_the_next_time(tmp_path: Path) -> None:
    fleet, out, again = csv_list(tmp_path / "fleet.csv", CLEAN), tmp_path / "a.xlsx", tmp_path / "b.xlsx"
    run("adopt", fleet, "-o", out)
    correct(out, "fleet!E", "Owner")
    correct(out, "fleet!F", "CV 49")

    assert run("adopt", fleet, "--reading", out, "-o", again).status == 0

    roster = roster_at(again)
    assert [one.owner for one in roster.engines] == ["shelf 2", "shelf 3"]
    assert [one.acceleration for one in roster.engines] == [None, None]
    assert [(one.cv, one.value) for one in roster.extra_values] == [(49, 12), (49, 9)]
    given = {row[0].value: row[3].value for row in load_workbook(again)["Reading"].iter_rows()}
    assert [given[f"fleet!{letter}"] for letter in "EF"] == ["given", "given"]
    assert given["fleet!B"] != "given"


@pytest.mark.external
def test_a_reading_that_libreoffice_saved_is_read_as_well(tmp_path: Path) -> None:
    fleet, out, again = csv_list(tmp_path / "fleet.csv", CLEAN), tmp_path / "a.xlsx", tmp_path / "b.xlsx"
    run("adopt", fleet, "-o", out)
    correct(out, "fleet!E", "Owner")
    (tmp_path / "saved").mkdir()
    saved = saved_by_libreoffice(out, tmp_path / "saved")

    assert run("adopt", fleet, "--reading", saved, "-o", again).status == 0
    assert [one.owner for one in roster_at(again).engines] == ["shelf 2", "shelf 3"]
    assert run("check", saved).status == 0
    assert run("adopt", saved).out.count("a copy of a list") == 1


def test_what_is_said_at_the_terminal_goes_before_the_sheet_reading(tmp_path: Path) -> None:
    fleet, out = csv_list(tmp_path / "fleet.csv", CLEAN), tmp_path / "a.xlsx"
    run("adopt", fleet, "-o", out)
    correct(out, "fleet!E", "Owner")

    ran = run("adopt", fleet, "--reading", out, "--as", "fleet!e = Model", "--format", "json")

    columns = {one["place"]: one["read_as"] for one in json.loads(ran.out)["tables"][0]["columns"]}
    assert columns["fleet!E"] == "model"


@pytest.mark.parametrize(
    ("words", "why", "fix"),
    [
        (
            ["--as", "fleet!Z=Address"],
            "fleet.csv has no 'fleet!Z', which --as names",
            "if it is meant.",
        ),
        (["--as", "Address"], "--as cannot be 'Address'", "Write it as 'SHEET!C=Address'."),
        (["--as", "fleet!C=Adress"], "fleet!C cannot be read as 'Adress'", "Write 'Address' if it is meant"),
        (
            ["--as", "C=Owner", "--as", "fleet!E=Owner"],
            "fleet!C and fleet!E cannot both be read as 'Owner'",
            "Say it of one of them only.",
        ),
        (
            ["--headings", "fleat!1"],
            "fleet.csv has no sheet 'fleat', which --headings names",
            "Name one of its sheets, such as 'fleet'.",
        ),
        (["--headings", "fleet!zero"], "--headings cannot be 'fleet!zero'", "as in 'SHEET!6'."),
    ],
)
def test_what_names_nothing_of_the_list_is_refused(
    tmp_path: Path, words: list[str], why: str, fix: str
) -> None:
    ran = run("adopt", csv_list(tmp_path / "fleet.csv"), *words)

    assert (ran.status, ran.out) == (2, "")
    assert ran.err.startswith(f"rosterkit: {why}. ")
    assert fix in ran.err


@pytest.mark.parametrize(
    ("headings", "why"),
    [
        (
            ("Road", "No.", "Shed", "Decoder", "Box", "CV3", "Remarks"),
            "fleet!C of fleet.csv is headed 'Shed', and in the sheet Reading of a.xlsx 'Adr'",
        ),
        (
            HEADINGS[:-1],
            "fleet.csv has no 'fleet!G', which the sheet Reading of a.xlsx names ('Remarks')",
        ),
    ],
)
def test_a_reading_is_refused_where_the_headings_moved(
    tmp_path: Path, headings: Sequence[str], why: str
) -> None:
    fleet, out = csv_list(tmp_path / "fleet.csv", CLEAN), tmp_path / "a.xlsx"
    run("adopt", fleet, "-o", out)
    csv_list(fleet, [row[: len(headings)] for row in CLEAN], headings)

    ran = run("adopt", fleet, "--reading", out, "-o", tmp_path / "b.xlsx")

    assert (ran.status, ran.out) == (2, "")
    assert ran.err.startswith(f"rosterkit: {why}. ")
    assert not (tmp_path / "b.xlsx").exists()


def test_a_workbook_without_a_sheet_reading_is_refused(tmp_path: Path) -> None:
    run("new", tmp_path / "new.xlsx")

    ran = run("adopt", csv_list(tmp_path / "fleet.csv"), "--reading", tmp_path / "new.xlsx")

    assert ran.status == 2
    assert "has no sheet 'Reading' that rosterkit made" in ran.err


def test_a_list_in_which_no_engine_is_found_shows_the_rows_that_may_be_headings(tmp_path: Path) -> None:
    path = tmp_path / "diary.csv"
    path.write_text("Our diary\nDay,Weather\nMonday,rain\nTuesday,sun\n", encoding="utf-8")

    ran = run("adopt", path, "-o", tmp_path / "out.xlsx")

    assert (ran.status, ran.out) == (2, "")
    assert "no engine was found in diary.csv; rows that may be headings: " in ran.err
    assert "diary!2 ('Day', 'Weather')" in ran.err
    assert "--headings 'diary!" in ran.err
    assert not (tmp_path / "out.xlsx").exists()


@pytest.mark.parametrize(
    ("heading", "sign"),
    [
        pytest.param("Remarks", "a", id="in a column that is read as one of ours"),
        pytest.param("Box", "a", id="in a column of the member's own"),
        pytest.param("Box", "\N{STEAM LOCOMOTIVE}", id="of signs that count twice"),
    ],
)
def test_a_text_too_long_for_a_cell_is_parted_and_none_of_it_is_lost(
    tmp_path: Path, heading: str, sign: str
) -> None:
    fleet, out, text = tmp_path / "fleet.csv", tmp_path / "club.xlsx", sign * 70_000
    csv_list(fleet, (("NE", "5201", "5201", text), ("NE", "11", "11", "short")), (*HEADINGS[:3], heading))

    ran = run("adopt", fleet, "-o", out)

    assert ran.status == 1
    assert "fleet!D2: a text of 70,000 signs" in ran.out
    assert "the rest stands from E2 in the copy of its sheet. Keep what is needed of it." in ran.out
    cells = [str(cell.value or "") for cell in load_workbook(out)["fleet"][2]]
    assert cells[:3] == ["NE", "5201", "5201"]
    assert "".join(cells[3:]) == text


def test_the_instructions_of_a_workbook_of_ours_are_copied_out_of_sight(tmp_path: Path) -> None:
    ours, out = tmp_path / "ours.xlsx", tmp_path / "club.xlsx"
    run("adopt", csv_list(tmp_path / "fleet.csv", CLEAN), "-o", ours)

    run("adopt", ours, "-o", out)

    states = {page.title: page.sheet_state for page in load_workbook(out)}
    assert states["Instructions (list)"] == states["Reading (list)"] == "hidden"
    assert states["Locomotives (list)"] == "visible"


def test_a_sheet_of_a_member_that_is_titled_instructions_stays_in_sight(tmp_path: Path) -> None:
    fleet, out = tmp_path / "fleet.xlsx", tmp_path / "club.xlsx"
    book = Workbook()
    engines = book.create_sheet("Fleet", 0)
    for row in (HEADINGS, *CLEAN):
        engines.append(row)
    book.create_sheet("Instructions").append(["Oil the bearings each May"])
    book.save(fleet)

    run("adopt", fleet, "-o", out)

    assert load_workbook(out)["Instructions (list)"].sheet_state == "visible"


TWO_ADDRESSES = (("NE", "5201", "5201", "3"), ("NE", "11", "211", "11"), ("QV", "7", "1207", "7"))


def two_addresses(path: Path) -> Path:
    """Write a list with two columns of addresses, of which the first is read as Address."""
    return csv_list(path, TWO_ADDRESSES, ("Road", "No.", "Address", "Second one"))


def test_a_correction_that_drives_another_column_out_is_a_doubt_there(tmp_path: Path) -> None:
    ran = run("adopt", two_addresses(tmp_path / "fleet.csv"), "--as", "D=Address")

    assert ran.status == 1
    assert ran.out.count("    fleet!C1: 'Address' ") == 1


def test_it_is_none_once_somebody_says_what_the_other_column_is(tmp_path: Path) -> None:
    ran = run(
        "adopt", two_addresses(tmp_path / "fleet.csv"), "--as", "D=Address", "--as", "fleet!C=own column"
    )

    assert (ran.status, ran.err) == (0, "")


def test_a_correction_in_the_sheet_reading_that_drives_another_out_is_a_doubt_too(tmp_path: Path) -> None:
    fleet, out = two_addresses(tmp_path / "fleet.csv"), tmp_path / "club.xlsx"
    run("adopt", fleet, "-o", out)
    correct(out, "fleet!D", "Address")

    ran = run("adopt", fleet, "--reading", out)

    assert ran.status == 1
    assert ran.out.count("    fleet!C1: 'Address' ") == 1


def test_a_list_of_other_things_is_said_to_be_one_and_no_column_of_it_is_offered(tmp_path: Path) -> None:
    path = tmp_path / "Wagons.csv"
    path.write_text("Road;Number;Kind of wagon\nNE;40112;box\nNE;40113;flat\nQV;7;box\n", encoding="utf-8")

    ran = run("adopt", path)

    assert ran.status == 2
    assert "the sheet 'Wagons': it is about something other than engines" in ran.err
    assert "--as" not in ran.err
    assert "rows that may be headings" not in ran.err


def test_a_text_of_lines_with_dashes_is_adopted_by_what_its_error_says(tmp_path: Path) -> None:
    path = tmp_path / "mine.txt"
    path.write_text(
        "Mine\n\nNE 5201 - addr 5201 - M01\nNE 11 - addr 11 - M01\nQV 7 - addr 7 - M04\n", encoding="utf-8"
    )

    refused = run("adopt", path)
    done = run("adopt", path, "--as", "mine!A=Loco", "--as", "mine!B=Address", "--format", "json")

    assert refused.status == 2
    assert "--as 'mine!A=Loco'" in refused.err
    rows = json.loads(done.out)["rows"]["Locomotives"]
    assert [row["values"]["loco"] for row in rows] == ["NE 5201", "NE 11", "QV 7"]


def test_rows_of_numbers_are_not_shown_as_headings_and_columns_without_any_can_be_named(
    tmp_path: Path,
) -> None:
    path = tmp_path / "bare.csv"
    path.write_text("5101;12;3\n5102;14;5\n5103;15;7\n", encoding="utf-8")

    refused = run("adopt", path)
    done = run("adopt", path, "--as", "A=Loco", "--as", "B=Address", "--format", "json")

    assert refused.status == 2
    assert "rows that may be headings" not in refused.err
    assert "--as 'bare!A=Loco' if it is that one" in refused.err
    assert [row["values"]["loco"] for row in json.loads(done.out)["rows"]["Locomotives"]] == [
        "5101",
        "5102",
        "5103",
    ]


def test_what_a_sheet_reading_says_as_the_list_is_read_anyway_stays_plain(tmp_path: Path) -> None:
    book, path, out = Workbook(), tmp_path / "two.xlsx", tmp_path / "a.xlsx"
    for row in (("Our club",), HEADINGS, *CLEAN, (), (), ("Turnout", "Addr", "where"), ("W1", "1", "yard")):
        book.worksheets[0].append(row)
    book.save(path)
    plain = json.loads(run("adopt", path, "-o", out, "--format", "json").out)

    again = json.loads(run("adopt", path, "--reading", out, "--format", "json").out)

    assert len(plain["tables"]) == 2
    assert again["tables"] == plain["tables"]


def test_heading_rows_that_were_given_are_in_the_sheet_reading_and_hold_the_next_time(tmp_path: Path) -> None:
    path, out, again = tmp_path / "fleet.csv", tmp_path / "a.xlsx", tmp_path / "b.xlsx"
    path.write_text("No.;Adr\n(old);(new)\nNE 1;12\nNE 2;14\n", encoding="utf-8")
    run("adopt", path, "--headings", "2", "--as", "A=Loco", "--as", "B=Address", "-o", out)
    assert [one.loco for one in roster_at(out).engines] == ["NE 1", "NE 2"]

    assert run("adopt", path, "--reading", out, "-o", again).status == 0
    assert [one.loco for one in roster_at(again).engines] == ["NE 1", "NE 2"]
    assert [one.address for one in roster_at(again).engines] == [12, 14]


def test_a_file_that_is_there_is_replaced_by_force_only_and_kept(tmp_path: Path) -> None:
    fleet, out = csv_list(tmp_path / "fleet.csv", CLEAN), tmp_path / "club.xlsx"
    out.write_bytes(b"something else")

    refused = run("adopt", fleet, "-o", out)
    assert (refused.status, out.read_bytes()) == (2, b"something else")

    done = run("adopt", fleet, "-o", out, "--force")
    assert done.err == f"made {out}; the earlier file is {tmp_path / 'club.earlier.xlsx'}\n"
    assert (tmp_path / "club.earlier.xlsx").read_bytes() == b"something else"


def test_the_list_itself_is_never_the_place_of_the_workbook(tmp_path: Path) -> None:
    book = Workbook()
    for row in (HEADINGS, *CLEAN):
        book.worksheets[0].append(row)
    book.save(tmp_path / "fleet.xlsx")

    ran = run("adopt", tmp_path / "fleet.xlsx", "-o", tmp_path / "fleet.xlsx", "--force")

    assert ran.status == 2
    assert "is the list itself, which is never written" in ran.err


def test_the_workbook_of_a_list_comes_to_the_same_engines_when_it_is_adopted(tmp_path: Path) -> None:
    out, again = tmp_path / "a.xlsx", tmp_path / "b.xlsx"
    run("adopt", csv_list(tmp_path / "fleet.csv", CLEAN), "-o", out)

    assert run("adopt", out, "-o", again).status == 0

    first, second = roster_at(out), roster_at(again)
    assert [(one.loco, one.address, one.notes) for one in second.engines] == [
        (one.loco, one.address, one.notes) for one in first.engines
    ]
    titles = load_workbook(again).sheetnames
    assert {"Locomotives (list)", "Reading (list)", "fleet"} <= set(titles)


def test_rows_of_other_sheets_of_ours_are_adopted_without_engines(tmp_path: Path) -> None:
    path, out = tmp_path / "consists.csv", tmp_path / "a.xlsx"
    path.write_text(
        "Consist,Address,Position,Loco,Facing\nOre,85,1,NE 1,forward\nOre,85,2,NE 2,reverse\n",
        encoding="utf-8",
    )

    ran = run("adopt", path, "-o", out)

    assert ran.status == 0
    assert ran.out.startswith(f"{path}: no engines, 2 rows of Consists")
    rows = [[cell.value for cell in row[:5]] for row in load_workbook(out)["Consists"].iter_rows(max_row=3)]
    assert rows[1:] == [["Ore", 85, 1, "NE 1", "forward"], ["Ore", 85, 2, "NE 2", "reverse"]]


@pytest.mark.parametrize(
    ("name", "content"),
    [
        ("empty.csv", b""),
        ("broken.xlsx", b"PK\x03\x04 and no more"),
        ("broken.ods", b"PK\x03\x04 and no more"),
        ("picture.csv", b"\x89PNG\r\n\x1a\n" + bytes(50)),
        ("old.xls", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(600)),
    ],
)
def test_what_is_no_list_ends_in_one_sentence(tmp_path: Path, name: str, content: bytes) -> None:
    (tmp_path / name).write_bytes(content)

    ran = run("adopt", tmp_path / name, "-o", tmp_path / "out.xlsx")

    assert (ran.status, ran.out, len(ran.err.splitlines())) == (2, "", 1)
    assert not (tmp_path / "out.xlsx").exists()

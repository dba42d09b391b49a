"""The command merge at a terminal: what comes into the workbook, and what the sheet Merge says."""

import json
from collections.abc import Sequence
from datetime import date, datetime
from pathlib import Path

import openpyxl
import pytest
from jsonschema import Draft202012Validator
from openpyxl.comments import Comment
from openpyxl.workbook.workbook import Workbook

from rosterkit.roster.schema import schema_file
from rosterkit.versions.stamp import stamp_of
from rosterkit.xlsx.package.opening import opened
from tests.command_line import Ran, run
from tests.commands.merge.workbooks import (
    Edit,
    added,
    cells,
    chosen,
    club,
    copied,
    deleted,
    merge_lines,
    sorted_by,
    table,
)
from tests.xlsx.packages import parts

DOUBT = "could not be verified"


@pytest.fixture
def base(tmp_path: Path) -> Path:
    return club(tmp_path / "sent.xlsx")


def merged(base: Path, *edits: Sequence[Edit], words: Sequence[object] = ()) -> tuple[Ran, Path]:
    """Merge copies, each with its edits, and return what was said and the merged workbook."""
    out = base.with_name("out.xlsx")
    copies = [copied(base, f"M{number:02}.xlsx", *some) for number, some in enumerate(edits, 1)]
    return run("merge", "--base", base, *copies, "-o", out, *words), out


def lines(out: Path, what: str) -> list[dict[object, object]]:
    return [
        line for line in merge_lines(out) if line["What"] == what and DOUBT not in str(line.get("Remark"))
    ]


def test_copies_that_change_nothing_give_the_bytes_of_the_master(base: Path) -> None:
    ran, out = merged(base, [], [sorted_by(1)])

    assert (ran.status, ran.out) == (
        0,
        "the copies change nothing: the merged workbook is the same, byte for byte\n",
    )
    assert out.read_bytes() == base.read_bytes()


def test_the_changes_of_all_come_together(base: Path) -> None:
    ran, out = merged(base, [cells(E2=99)], [cells(G3="green"), added("E", "M02", "Oak", "11", 1600)])
    engines = table(out)

    assert ran.status == 0
    assert (engines["A"]["Address"], engines["B"]["Notes"], engines["E"]["Address"]) == (99, "green", 1600)
    assert ran.out.splitlines()[:2] == [
        "M01: 1 cell taken, 1 thing not merged",
        "M02: 1 cell taken, 1 row added, 1 thing not merged",
    ]


def test_a_sorted_copy_writes_into_the_rows_of_the_master(base: Path) -> None:
    _, out = merged(base, [sorted_by(1), cells(E2=1999)])  # D stands first there

    assert table(out)["D"]["Address"] == 1999
    assert table(out)["A"]["Address"] == 12


def test_a_conflict_leaves_the_base_and_stands_first_with_all_sides(base: Path) -> None:
    ran, out = merged(base, [cells(E2=99, G2="x")], [cells(E2=98)], [cells(E2=99)])

    assert ran.status == 1
    assert table(out)["A"]["Address"] == 12
    assert (
        merge_lines(out)[0].items()
        >= {
            "What": "conflict",
            "Place": "Locomotives E2",
            "Row": "A",
            "Column": "Address",
            "Before": 12,
            "M01": 99,
            "M02": 98,
            "M03": 99,
        }.items()
    )
    assert "    Locomotives E2 [A, Address] M01 99, M03 99, M02 98, base 12" in ran.out.splitlines()


def test_the_place_of_a_conflict_leads_to_its_cell(base: Path) -> None:
    _, out = merged(base, [cells(E2=99)], [cells(E2=98)])

    link = openpyxl.load_workbook(out)["Merge"]["B2"].hyperlink
    assert link is not None
    assert link.location == "'Locomotives'!E2"


def test_under_keep_the_sides_of_the_row_and_the_base_are_offered(base: Path) -> None:
    _, out = merged(base, [cells(E2=99, E3=77)], [cells(E2=98)], [cells(E3=76)])
    sheet = openpyxl.load_workbook(out)["Merge"]
    (rule,) = sheet.data_validations.dataValidation
    first, last = str(rule.formula1).replace("$", "").split(":")

    assert (rule.type, str(rule.sqref)) == ("list", f"I2:I{sheet.max_row}")
    assert [cell.value for cell in sheet[f"{first}:{last}"][0]] == ["M01", "M02", "base"]
    second = f"{first.replace('2', '3')}:{last.replace('2', '3')}"
    assert [cell.value for cell in sheet[second][0]] == ["M01", "M03", "base"]
    assert {sheet.column_dimensions[letter].hidden for letter in "EFGH"} == {True}
    assert sheet["I1"].value == "Keep"


def test_the_master_that_moved_on_is_a_side(base: Path, tmp_path: Path) -> None:
    master = copied(base, "club.xlsx", cells(E2=55, G4="red"))
    copy = copied(base, "M01.xlsx", cells(E2=66))
    out = tmp_path / "out.xlsx"

    ran = run("merge", "--base", base, "--into", master, copy, "-o", out)

    assert ran.status == 1
    assert (table(out)["A"]["Address"], table(out)["C"]["Notes"]) == (12, "red")
    assert (merge_lines(out)[0]["master"], merge_lines(out)[0]["M01"]) == (55, 66)


def test_a_row_that_one_deleted_is_emptied_where_it_stands(base: Path) -> None:
    ran, out = merged(base, [deleted(5)], [cells(G2="x")])

    assert ran.status == 0
    assert set(table(out)) == {"A", "B", "C"}
    (line,) = lines(out, "row removed")
    assert (line["Row"], line["Place"], line["M01"]) == ("D", "Locomotives A5", "removed")
    assert "stays as a blank one" in str(line["Remark"])


def test_a_row_that_one_deleted_and_another_changed_stays_as_a_conflict(base: Path) -> None:
    ran, out = merged(base, [deleted(5)], [cells(E5=1501)])

    assert ran.status == 1
    assert table(out)["D"]["Address"] == 1501
    (line,) = lines(out, "conflict")
    assert (line["Row"], line["M01"], line["M02"]) == ("D", "removed", "changed")
    assert "a row that was deleted and changed is as it was changed" in ran.out


def test_a_row_that_was_deleted_and_changed_is_not_offered_as_it_was_sent(base: Path) -> None:
    _, out = merged(base, [deleted(5)], [cells(E5=1501)])
    chosen(out, {2: "base"})

    ran = run("merge", "--resolve", out)

    assert ran.status == 1
    assert "'base' was not carried out: it is none of M01, M02" in ran.out


def test_errors_of_an_engine_that_one_copy_renamed_are_not_new(tmp_path: Path) -> None:
    base = club(tmp_path / "sent.xlsx", cells(E2=14))

    ran, out = merged(base, [cells(A2="AA")])

    assert (ran.status, lines(out, "error only together")) == (0, [])


def test_dates_stay_dates(base: Path) -> None:
    _, out = merged(base, [cells(F2=date(2026, 5, 31))])

    assert table(out)["A"]["Checked on"] == datetime(2026, 5, 31)


def test_texts_that_look_like_something_else_stay_texts(base: Path) -> None:
    def texts(book: openpyxl.Workbook) -> None:
        cell = book["Locomotives"]["G2"]
        cell.value = "=1+1"
        cell.data_type = "s"
        book["Locomotives"]["D2"] = "007"

    _, out = merged(base, [texts])
    row = openpyxl.load_workbook(out)["Locomotives"][2]

    assert [(row[3].value, row[3].data_type), (row[6].value, row[6].data_type)] == [
        ("007", "s"),
        ("=1+1", "s"),
    ]


def test_a_renamed_engine_is_followed_in_other_sheets(base: Path) -> None:
    _, out = merged(base, [cells(A2="AA")])

    assert [row["Loco"] for row in map(dict, _consists(out))] == ["AA", "B"]


def _consists(out: Path) -> list[dict[object, object]]:
    heading, *rows = openpyxl.load_workbook(out)["Consists"].iter_rows(values_only=True)
    return [dict(zip(heading, row, strict=True)) for row in rows]


def test_an_error_that_no_copy_had_alone_is_shown_as_such(base: Path) -> None:
    ran, out = merged(base, [cells(E2=4444)], [cells(E4=4444)])
    found = lines(out, "error only together")

    assert ran.status == 1
    assert {line["Row"] for line in found} == {"A", "C"}
    assert all("4444" in str(line["Remark"]) for line in found)
    assert "2 errors only together: which no workbook had alone" in ran.out


def test_an_error_that_a_copy_had_alone_is_not(base: Path) -> None:
    ran, out = merged(base, [cells(E2=14), sorted_by(1)])

    assert ran.status == 0
    assert lines(out, "error only together") == []


def _with_plan(text: str) -> Edit:
    def edit(book: openpyxl.Workbook) -> None:
        sheet = book.create_sheet("Shed plan")
        sheet["B2"], sheet["C4"] = "track 1", text

    return edit


def test_a_sheet_of_their_own_that_two_made_is_one_with_its_conflicts(base: Path) -> None:
    ran, out = merged(base, [_with_plan("full")], [_with_plan("free")])
    sheet = openpyxl.load_workbook(out)["Shed plan"]

    assert ran.status == 1
    assert (sheet["B2"].value, sheet["C4"].value) == ("track 1", None)
    (line,) = lines(out, "conflict")
    assert (line["Place"], line["M01"], line["M02"]) == ("Shed plan C4", "full", "free")
    chosen(out, {2: "M02"})
    assert run("merge", "--resolve", out).status == 0
    assert openpyxl.load_workbook(out)["Shed plan"]["C4"].value == "free"


def test_a_choice_for_a_blank_row_is_refused_where_rows_moved(base: Path) -> None:
    _, out = merged(base, [_with_plan("full")], [_with_plan("free")])
    chosen(out, {2: "M02"}, lambda book: book["Shed plan"].insert_rows(1))

    ran = run("merge", "--resolve", out)

    assert (ran.status, "other rows stand above it" in ran.out) == (1, True)


def test_what_is_not_merged_is_listed_with_its_place(base: Path) -> None:
    ran, out = merged(base, [cells(G2="=1+1")])
    (line,) = lines(out, "not merged")

    assert ran.status == 0
    assert (line["Place"], "formula" in str(line["Remark"])) == ("Locomotives G2", True)


def test_a_note_in_a_sorted_copy_is_listed_with_its_engine(base: Path) -> None:
    def noted(book: Workbook) -> None:
        book["Locomotives"]["A2"].comment = Comment("squeals", "M01")

    ran, out = merged(base, [sorted_by(1), noted])
    (line,) = lines(out, "not merged")

    assert (line["Place"], line["Row"]) == ("Locomotives A2", "D")
    assert "M01, Locomotives A2 [D]" in ran.out


def test_every_part_that_is_not_concerned_stays_byte_for_byte(base: Path) -> None:
    _, out = merged(base, [cells(E2=99)], [cells(E2=98, G3="x")])
    before, after = parts(base), parts(out)
    changed = {name for name in before if before[name] != after.get(name)}

    assert changed <= {
        "xl/worksheets/sheet1.xml",
        "xl/workbook.xml",
        "xl/_rels/workbook.xml.rels",
        "xl/styles.xml",
        "[Content_Types].xml",
    }


def test_the_json_form_says_the_same(base: Path) -> None:
    ran, _ = merged(
        base,
        [cells(E2=99, F3=date(2026, 5, 31)), deleted(5)],
        [cells(E2=98, E5=1501), added("E", "M02", "Oak", "11", 14)],
        words=("--format", "json"),
    )
    document = json.loads(ran.out)
    Draft202012Validator(schema_file("outputs/merge.json")).validate(document)

    assert document["counts"]["conflicts"] == 2
    assert document["conflicts"][0]["sides"] == [
        {"names": ["M01"], "value": 99, "cell": "E2"},
        {"names": ["M02"], "value": 98, "cell": "E2"},
    ]
    assert [one["value"] for one in document["taken"] if one["column"] == "Checked on"] == ["2026-05-31"]
    assert document["added"][0]["cells"]["Address"] == 14
    assert [side["name"] for side in document["sides"]] == ["M01", "M02"]


def test_without_a_base_differences_are_conflicts_and_nothing_is_removed(base: Path, tmp_path: Path) -> None:
    copies = [copied(base, "M01.xlsx", cells(E2=99)), copied(base, "M02.xlsx", deleted(5))]
    out = tmp_path / "out.xlsx"

    ran = run("merge", *copies, "-o", out)

    assert ran.status == 1
    assert ran.out.splitlines()[0].startswith("without --base nobody can tell what was deleted")
    assert "1 conflict: the cell is blank until you choose" in ran.out
    assert "12 of M02" not in ran.out
    assert "99 of M01 gave way to (blank), until you choose" in ran.out
    assert set(table(out)) == {"A", "B", "C", "D"}
    assert table(out)["A"]["Address"] is None
    assert (merge_lines(out)[0]["M01"], merge_lines(out)[0]["M02"]) == (99, 12)


def test_members_of_one_name_get_numbers(base: Path, tmp_path: Path) -> None:
    folder = tmp_path / "second"
    folder.mkdir()
    one = copied(base, "m01.xlsx", cells(E2=99))
    two = copied(base, "other.xlsx", cells(E2=98)).rename(folder / "M01.xlsx")

    run("merge", "--base", base, one, two, "-o", tmp_path / "out.xlsx")

    assert merge_lines(tmp_path / "out.xlsx")[0]["M01 (2)"] == 98


@pytest.mark.slow
def test_many_copies_are_read_in_several_processes(base: Path) -> None:
    ran, out = merged(base, *([cells(E2=99) if number else cells(E2=99, E3=77)] for number in range(13)))

    assert ran.status == 0
    assert (table(out)["A"]["Address"], table(out)["B"]["Address"]) == (99, 77)
    assert "… 5 more sides" in ran.out.splitlines()


@pytest.mark.parametrize("name", ["base", "Master", "KEEP", "remark"])
def test_no_side_bears_a_word_of_the_sheet(base: Path, tmp_path: Path, name: str) -> None:
    one, two = copied(base, f"{name}.xlsx", cells(E2=99)), copied(base, "M02.xlsx", cells(E2=98))

    run("merge", "--base", base, one, two, "-o", tmp_path / "out.xlsx")

    assert merge_lines(tmp_path / "out.xlsx")[0][f"{name} (2)"] == 99


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        pytest.param(["--base", "sent.xlsx", "-o", "out.xlsx"], "nothing to merge", id="no copy"),
        pytest.param(["--base", "sent.xlsx", "a.xlsx"], "not said where", id="no place for the result"),
        pytest.param(["a.xlsx", "-o", "out.xlsx"], "nothing to merge", id="one copy and no base"),
        pytest.param(
            ["--base", "sent.xlsx", "a.xlsx", "./a.xlsx", "-o", "out.xlsx"],
            "is given twice",
            id="twice",
        ),
        pytest.param(
            ["--base", "sent.xlsx", "a.xlsx", "sent.xlsx", "-o", "out.xlsx"],
            "as the base and as a copy",
            id="the base as a copy",
        ),
        pytest.param(
            ["--base", "sent.xlsx", "a.xlsx", "-o", "a.xlsx", "--force"],
            "is a copy of this merge, which is left alone",
            id="the result over a copy",
        ),
        pytest.param(
            ["--base", "sent.xlsx", "a.xlsx", "-o", "sent.xlsx", "--force"],
            "is the base of this merge, which is left alone",
            id="the result over the base",
        ),
        pytest.param(
            ["--base", "sent.xlsx", "a.xlsx", "-o", "there.xlsx"],
            "is there already",
            id="over a file",
        ),
        pytest.param(
            ["--base", "sent.xlsx", "a.xlsx", "-o", "out.xlsm"], "does not end", id="another ending"
        ),
        pytest.param(
            ["--resolve", "sent.xlsx", "a.xlsx"], "--resolve merges nothing", id="copies beside --resolve"
        ),
        pytest.param(["--resolve", "sent.xlsx"], "there is no sheet Merge", id="nothing to resolve"),
        pytest.param(
            ["--base", "sent.xlsx", "absent.xlsx", "-o", "out.xlsx"],
            "absent.xlsx",
            id="a copy that is not there",
        ),
    ],
)
def test_what_cannot_be_merged_is_a_sentence(
    base: Path, monkeypatch: pytest.MonkeyPatch, words: Sequence[str], sentence: str
) -> None:
    copied(base, "a.xlsx", cells(E2=99))
    copied(base, "there.xlsx")
    before = {path: path.read_bytes() for path in base.parent.iterdir()}
    monkeypatch.chdir(base.parent)

    ran = run("merge", *words)

    assert (ran.status, ran.out) == (2, "")
    assert sentence in ran.err
    assert {path: path.read_bytes() for path in base.parent.iterdir()} == before


def test_a_copy_of_another_base_is_refused(base: Path, tmp_path: Path) -> None:
    other = club(tmp_path / "other.xlsx", cells(E2=77))
    run("send", other, "-o", tmp_path / "M01.xlsx")

    ran = run("merge", "--base", base, tmp_path / "M01.xlsx", "-o", tmp_path / "out.xlsx")

    assert ran.status == 2
    assert "a copy of another base" in ran.err
    assert not (tmp_path / "out.xlsx").exists()


def test_the_merged_workbook_is_no_copy_of_the_base_any_more(base: Path, tmp_path: Path) -> None:
    sent = tmp_path / "copies.xlsx"
    run("send", base, "-o", sent)
    one, out = copied(sent, "M01.xlsx", cells(E2=99)), tmp_path / "out.xlsx"

    ran = run("merge", "--base", sent, one, "-o", out)

    assert ran.status == 0
    assert DOUBT not in ran.out
    assert (stamp_of(opened(sent)) is None, stamp_of(opened(out))) == (False, None)
    assert table(out)["A"]["Address"] == 99


def test_a_copy_with_locked_rows_becomes_no_master(base: Path, tmp_path: Path) -> None:
    sent = tmp_path / "for M01.xlsx"
    run("send", base, "--member", "m01", "-o", sent)
    one = copied(sent, "any name.xlsx", cells(E2=99))

    refused = run("merge", "--base", sent, one, "-o", tmp_path / "out.xlsx")
    ran = run("merge", "--base", base, one, "-o", tmp_path / "out.xlsx")

    assert (refused.status, "the rows of others locked" in refused.err) == (2, True)
    assert ran.out.splitlines()[0].casefold() == "m01: 1 cell taken"


def test_a_file_that_is_there_is_kept_where_it_is_replaced(base: Path) -> None:
    earlier = copied(base, "out.xlsx", cells(E2=1)).read_bytes()

    ran, out = merged(base, [cells(E2=99)], words=("--force",))

    assert ran.status == 0
    assert out.with_name("out.earlier.xlsx").read_bytes() == earlier
    assert "the earlier file is" in ran.err


def test_open_conflicts_of_an_earlier_merge_are_carried_on(base: Path, tmp_path: Path) -> None:
    _, out = merged(base, [cells(E2=99)], [cells(E2=98)])
    later = copied(base, "M05.xlsx", cells(G4="late"))
    chosen(out, {2: "M02"})

    ran = run("merge", "--base", base, "--into", out, later, "-o", tmp_path / "last.xlsx")

    assert ran.status == 1
    first = merge_lines(tmp_path / "last.xlsx")[0]
    assert (first["What"], first["Row"], first["M01"], first["M02"]) == ("conflict", "A", 99, 98)
    assert first["Keep"] == "M02"


def test_what_an_earlier_merge_did_not_take_is_carried_on(base: Path, tmp_path: Path) -> None:
    _, out = merged(base, [cells(G2="=1+1", F2=date(2026, 5, 31))])
    later = copied(base, "M05.xlsx", cells(G4="late", F4=date(2026, 6, 30)))

    ran = run("merge", "--base", base, "--into", out, later, "-o", tmp_path / "last.xlsx")
    found = lines(tmp_path / "last.xlsx", "not merged")

    assert ran.status == 0
    assert [(line["Place"], line["M01"]) for line in found] == [("Locomotives G2", "=1+1")]
    assert "since an earlier merge" in str(found[0]["Remark"])


def test_what_somebody_typed_into_an_earlier_sheet_merge_is_not_erased(base: Path, tmp_path: Path) -> None:
    _, out = merged(base, [cells(E2=99)], [cells(E2=98)])
    chosen(out, {}, lambda book: book["Merge"].__setitem__("A40", "asked M02"))
    later = copied(base, "M05.xlsx", cells(G4="late"))

    ran = run("merge", "--base", base, "--into", out, later, "-o", tmp_path / "last.xlsx")

    assert ran.status == 2
    assert "A40" in ran.err
    assert "--replace" not in ran.err

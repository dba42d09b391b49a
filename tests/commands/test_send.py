"""The command ``send``: copies that know their base."""

from pathlib import Path

import pytest
from openpyxl import load_workbook
from openpyxl.comments import Comment

from rosterkit.commands.send.command import send
from rosterkit.template.formulas import with_formulas
from rosterkit.template.new_workbook import new_workbook
from rosterkit.versions.stamp import base_name, content_stamp, member_of, require_base, stamp_of
from rosterkit.xlsx.package.opening import opened
from tests.command_line import run
from tests.xlsx.packages import patch, replaced, stored

ENGINES: list[dict[str, str | int | float | None]] = [
    {"loco": "A", "owner": "M01", "address": 3, "railway": "JV", "number": "1"},
    {"loco": "B", "owner": "M02", "address": 4, "railway": "JV", "number": "2"},
    {"loco": "C", "owner": "M01", "address": 1000},
    {"loco": "D", "address": 1001},
]
EXTRAS: list[dict[str, str | int | float | None]] = [
    {"loco": "A", "cv": 60, "value": 1},
    {"loco": "b", "cv": 60, "value": 1},
    {"loco": "X", "cv": 60, "value": 1},
]


@pytest.fixture(scope="module")
def club(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    path = tmp_path_factory.mktemp("club") / "club.xlsx"
    path.write_bytes(new_workbook({"Locomotives": ENGINES, "Extra values": EXTRAS}))
    return path.read_bytes()


@pytest.fixture
def master(tmp_path: Path, club: bytes) -> Path:
    path = tmp_path / "club.xlsx"
    path.write_bytes(club)
    return path


def test_a_copy_is_the_workbook_but_for_a_hidden_name(tmp_path: Path, master: Path) -> None:
    copy = tmp_path / "copy.xlsx"

    send(master, copy)

    before, after = stored(master), stored(copy)
    assert list(before) == list(after)
    assert [name for name in before if before[name] != after[name]] == ["xl/workbook.xml"]
    name = f'<definedName name="_rosterkit_base" hidden="1">"{content_stamp(opened(master))} club.xlsx"</'
    patch(copy, {"xl/workbook.xml": replaced(f"{name}definedName>", "")})
    assert before["xl/workbook.xml"][1] == stored(copy)["xl/workbook.xml"][1]


def test_a_copy_knows_the_contents_and_the_name_of_its_master(tmp_path: Path, master: Path) -> None:
    copy = tmp_path / "copy.xlsx"

    sent = send(master, copy)

    package = opened(copy)
    assert stamp_of(package) == sent.stamp == content_stamp(opened(master)) == content_stamp(package)
    assert base_name(package) == "club.xlsx"
    require_base(opened(master), package)


def test_the_same_workbook_sent_twice_gives_the_same_bytes(tmp_path: Path, master: Path) -> None:
    send(master, tmp_path / "first.xlsx")
    send(master, tmp_path / "second.xlsx")

    assert (tmp_path / "first.xlsx").read_bytes() == (tmp_path / "second.xlsx").read_bytes()


def test_a_copy_that_is_sent_on_bears_the_stamp_of_its_own_contents(tmp_path: Path, master: Path) -> None:
    first, second = tmp_path / "first.xlsx", tmp_path / "second.xlsx"
    stamp = send(master, first).stamp
    patch(first, {"xl/workbook.xml": replaced(stamp, "0a" * 16)})

    assert stamp_of(opened(first)) == "0a" * 16
    assert send(first, second).stamp == stamp
    assert stamp_of(opened(second)) == stamp
    assert base_name(opened(second)) == "first.xlsx"
    assert opened(second).read("xl/workbook.xml").count(b"_rosterkit_base") == 1


def test_a_file_that_is_there_is_kept_without_force(tmp_path: Path, master: Path) -> None:
    copy = tmp_path / "copy.xlsx"
    copy.write_bytes(b"something")

    ran = run("send", master, "-o", copy)
    assert (ran.status, ran.out) == (2, "")
    assert f"'{copy}' is there already. Give another name, or --force to replace it." in ran.err
    assert copy.read_bytes() == b"something"

    forced = run("send", master, "-o", copy, "--force")
    assert forced.status == 0
    assert stamp_of(opened(copy)) is not None
    assert "the earlier file is" in forced.err
    assert copy.with_name("copy.earlier.xlsx").read_bytes() == b"something"


@pytest.mark.parametrize("force", [pytest.param(["--force"], id="forced"), pytest.param([], id="not forced")])
def test_the_workbook_itself_is_never_written(tmp_path: Path, master: Path, force: list[str]) -> None:
    before = master.read_bytes()
    link = tmp_path / "link.xlsx"
    link.symlink_to(master)

    for out in (master, tmp_path / "." / "club.xlsx", link):
        ran = run("send", master, "-o", out, *force)
        assert ran.status == 2
        assert "is the workbook itself, which send leaves alone" in ran.err
    assert master.read_bytes() == before


def test_what_is_no_roster_is_not_sent(tmp_path: Path, master: Path) -> None:
    patch(master, {"xl/workbook.xml": replaced('name="Locomotives"', 'name="Engines"')})

    ran = run("send", master, "-o", tmp_path / "copy.xlsx")

    assert (ran.status, ran.out) == (2, "")
    assert "there is no sheet 'Locomotives'" in ran.err
    assert not (tmp_path / "copy.xlsx").exists()


def test_what_was_done_is_said_apart_from_the_payload(tmp_path: Path, master: Path) -> None:
    ran = run("send", master, "-o", tmp_path / "copy.xlsx")

    assert (ran.status, ran.out) == (0, "")
    assert ran.err.startswith(f"made {tmp_path / 'copy.xlsx'}\n")


def locked(path: Path, title: str, cell: str) -> bool:
    return bool(load_workbook(path)[title][cell].protection.locked)


@pytest.fixture(scope="module")
def for_m01(tmp_path_factory: pytest.TempPathFactory, club: bytes) -> Path:
    folder = tmp_path_factory.mktemp("sent")
    (folder / "club.xlsx").write_bytes(club)
    send(folder / "club.xlsx", folder / "m01.xlsx", member="m01")
    return folder / "m01.xlsx"


def test_a_member_s_copy_knows_its_base_and_its_member(for_m01: Path) -> None:
    package = opened(for_m01)

    assert (
        stamp_of(package) == content_stamp(package) == content_stamp(opened(for_m01.with_name("club.xlsx")))
    )
    assert member_of(package) == "M01"


@pytest.mark.parametrize(
    ("cell", "is_locked"),
    [
        pytest.param("A1", True, id="a heading"),
        pytest.param("E2", False, id="a cell of the member's"),
        pytest.param("A4", True, id="a label of another's"),
        pytest.param("E4", True, id="a blank cell of another's"),
        pytest.param("C3", False, id="a blank cell of the member's"),
        pytest.param("A5", False, id="a row that is nobody's"),
        pytest.param("A6", False, id="the first free row"),
        pytest.param("AE105", False, id="the last free row"),
        pytest.param("A106", True, id="a row below"),
        pytest.param("AG2", True, id="a computed cell of the member's"),
        pytest.param("AP1", False, id="a heading of a new column"),
        pytest.param("AP2", False, id="a new column, the member's row"),
        pytest.param("AP4", True, id="a new column, another's row"),
    ],
)
def test_the_cells_of_others_are_locked(for_m01: Path, cell: str, is_locked: bool) -> None:
    assert locked(for_m01, "Locomotives", cell) is is_locked


@pytest.mark.parametrize(
    ("cell", "is_locked"),
    [
        pytest.param("B2", False, id="of the member's engine"),
        pytest.param("B3", True, id="of another's engine"),
        pytest.param("B4", False, id="of an engine that nobody knows"),
        pytest.param("B5", False, id="free"),
    ],
)
def test_rows_that_name_an_engine_belong_to_its_owner(for_m01: Path, cell: str, is_locked: bool) -> None:
    assert locked(for_m01, "Extra values", cell) is is_locked


def test_sheets_in_which_nothing_is_another_s_are_not_protected(for_m01: Path) -> None:
    book = load_workbook(for_m01)

    assert {sheet.title for sheet in book if sheet.protection.sheet} == {"Locomotives", "Extra values"}


def test_a_member_s_copy_can_be_filled_and_sent_to_them_again(tmp_path: Path, for_m01: Path) -> None:
    assert run("fill", for_m01, "-o", tmp_path / "filled.xlsx").err.startswith("filled ")
    assert (tmp_path / "filled.xlsx").is_file()

    again = run("send", for_m01, "-o", tmp_path / "again.xlsx", "--member", "M01")
    assert again.status == 0, again.err
    assert "is protected" not in again.err
    other = run("send", for_m01, "-o", tmp_path / "other.xlsx", "--member", "M02")
    assert (other.status, other.out) == (2, "")
    assert "is a copy that was sent to M01, in which the rows of others are locked" in other.err


def test_a_code_that_owns_nothing_is_refused_with_the_nearest_one(tmp_path: Path, master: Path) -> None:
    ran = run("send", master, "-o", tmp_path / "copy.xlsx", "--member", "M1")

    assert (ran.status, ran.out) == (2, "")
    assert f"{master}: no engine belongs to 'M1'; the nearest code is 'M0" in ran.err
    assert not (tmp_path / "copy.xlsx").exists()


def test_a_sheet_that_a_member_protects_stays_as_it_is(tmp_path: Path, master: Path) -> None:
    book = load_workbook(master)
    book["Locomotives"].protection.set_password("secret")
    book["Locomotives"].protection.enable()
    book.save(master)

    ran = run("send", master, "-o", tmp_path / "copy.xlsx", "--member", "M01")

    assert ran.status == 0
    assert "the sheet 'Locomotives' is protected already: it stays as it is\n" in ran.err
    assert load_workbook(tmp_path / "copy.xlsx")["Locomotives"].protection.password
    assert load_workbook(tmp_path / "copy.xlsx")["Extra values"].protection.sheet
    assert locked(tmp_path / "copy.xlsx", "Locomotives", "E2")


def labels(path: Path) -> list[object]:
    return [row[0] for row in load_workbook(path)["Locomotives"].iter_rows(2, 5, 1, 1, values_only=True)]


def test_a_member_s_engines_stand_first_and_all_others_follow_in_their_order(
    tmp_path: Path, master: Path, for_m01: Path
) -> None:
    assert labels(master) == ["A", "B", "C", "D"]
    assert labels(for_m01) == ["A", "C", "B", "D"]
    assert run("send", master, "-o", tmp_path / "m02.xlsx", "--member", "M02").status == 0
    assert labels(tmp_path / "m02.xlsx") == ["B", "A", "C", "D"]


@pytest.mark.parametrize(
    "filled", [pytest.param(False, id="as it was made"), pytest.param(True, id="filled")]
)
def test_what_is_computed_goes_with_the_rows(tmp_path: Path, master: Path, filled: bool) -> None:
    master.write_bytes(with_formulas(master.read_bytes(), "club.xlsx"))
    if filled:
        assert run("fill", master).status == 1  # of an engine that nobody knows
    before, copy = run("check", master), tmp_path / "copy.xlsx"

    assert run("send", master, "-o", copy, "--member", "M02").status == 0

    after = run("check", copy)
    assert after.out.splitlines()[-1] == before.out.splitlines()[-1]
    assert "computed-stale" not in after.out
    assert "formula-" not in after.out
    values = load_workbook(copy, data_only=True)["Locomotives"]
    headings = [cell.value for cell in values[1]]
    answers = [values.cell(row, headings.index("Answers") + 1).value for row in (2, 3, 4, 5)]
    assert answers == [4, 3, -1000, -1001]
    if filled:
        places = {str(row[1].value) for row in load_workbook(copy)["Findings"].iter_rows(2)}
        assert {one.rpartition(" ")[2] for one in places if "Locomotives" in one}


@pytest.mark.parametrize("last", [2, 3, 5])
def test_rows_move_where_a_filter_ends_above_the_last_of_them(
    tmp_path: Path, master: Path, last: int
) -> None:
    book = load_workbook(master)
    book["Locomotives"].auto_filter.ref = f"A1:E{last}"
    book.save(master)

    ran = run("send", master, "-o", tmp_path / "copy.xlsx", "--member", "M02")

    assert "stay where they are" not in ran.err
    assert labels(tmp_path / "copy.xlsx") == ["B", "A", "C", "D"]


def test_rows_stay_where_something_is_bound_to_one_and_a_sentence_says_so(
    tmp_path: Path, master: Path
) -> None:
    book = load_workbook(master)
    book["Locomotives"]["A3"].comment = Comment("runs well", "M02")
    book.save(master)

    ran = run("send", master, "-o", tmp_path / "copy.xlsx", "--member", "M02")

    sentence = "the rows of Locomotives stay where they are: they cannot move with a note at A3\n"
    assert ran.status == 0
    assert sentence in ran.err
    assert labels(tmp_path / "copy.xlsx") == ["A", "B", "C", "D"]
    assert locked(tmp_path / "copy.xlsx", "Locomotives", "A2")
    assert not locked(tmp_path / "copy.xlsx", "Locomotives", "A3")


def test_rows_stay_where_somebody_typed_into_a_sheet_that_would_be_made_anew(
    tmp_path: Path, master: Path
) -> None:
    run("fill", master)
    book = load_workbook(master)
    book["Findings"]["C3"].value = "seen"
    book.save(master)

    ran = run("send", master, "-o", tmp_path / "copy.xlsx", "--member", "M02")

    assert ran.status == 0
    assert "the rows of Locomotives stay where they are: cannot write" in ran.err
    assert labels(tmp_path / "copy.xlsx") == ["A", "B", "C", "D"]
    assert load_workbook(tmp_path / "copy.xlsx")["Findings"]["C3"].value == "seen"


def test_a_member_s_copy_that_nobody_changed_merges_to_the_master(tmp_path: Path, master: Path) -> None:
    copy, out = tmp_path / "copy.xlsx", tmp_path / "out.xlsx"
    send(master, copy, member="M02")

    ran = run("merge", "--base", master, copy, "-o", out)

    assert ran.status == 0, ran.err
    assert out.read_bytes() == master.read_bytes()

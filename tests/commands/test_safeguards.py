"""What keeps people from keying in, planning or overwriting what they did not mean."""

from pathlib import Path

import pytest
from openpyxl import load_workbook

from rosterkit.template.new_workbook import new_workbook
from tests.command_line import run
from tests.samples.clean import clean_club
from tests.samples.faults import CHANGES


@pytest.fixture
def club(tmp_path: Path) -> Path:
    path = tmp_path / "club.xlsx"
    path.write_bytes(new_workbook(clean_club()))
    return path


def faulty(folder: Path, slug: str) -> Path:
    records = clean_club()
    CHANGES[slug](records)
    path = folder / f"{slug}.xlsx"
    path.write_bytes(new_workbook(records))
    return path


def test_a_member_s_own_column_headed_check_is_not_overwritten(club: Path) -> None:
    workbook = load_workbook(club)
    column = next(cell.column for cell in workbook["Locomotives"][1] if cell.value == "Check")
    workbook["Locomotives"].cell(2, column, "looked at by the lamp")
    workbook.save(club)
    before = club.read_bytes()

    ran = run("fill", str(club))

    assert (ran.status, ran.out, club.read_bytes()) == (2, "", before)
    assert "holds text that rosterkit did not write. Rename that heading" in ran.err


def test_a_check_of_ours_is_replaced(tmp_path: Path) -> None:
    path = faulty(tmp_path, "curve-not-rising")

    first = run("fill", str(path))
    second = run("fill", str(path))

    assert (first.status, second.status) == (1, 1)
    assert "filled already" in second.err


def test_a_card_says_what_is_known_to_be_wrong_with_its_engine(tmp_path: Path) -> None:
    path = faulty(tmp_path, "address-shared")

    printed = run("cards", str(path), "--loco", "NE 0814", "--width", "120").out

    assert "Error in Address: long 5201 is also the address of 'NE 5201' (I5)." in printed


def test_a_card_of_a_sound_engine_has_no_error(tmp_path: Path) -> None:
    path = faulty(tmp_path, "address-shared")

    assert "Error in" not in run("cards", str(path), "--loco", "KC 12").out


def test_a_copy_has_the_ending_of_the_workbook(club: Path) -> None:
    letter = club.with_name("letter.txt")
    letter.write_text("Dear M01", encoding="utf-8")

    ran = run("fill", str(club), "-o", str(letter))

    assert (ran.status, letter.read_text(encoding="utf-8")) == (2, "Dear M01")


def test_a_workbook_has_no_difference_from_itself_also_with_labels_twice_and_none(tmp_path: Path) -> None:
    records = clean_club()
    records["Locomotives"][1]["loco"] = records["Locomotives"][0]["loco"]
    records["Locomotives"][2] |= {"loco": None, "railway": None}
    records["Locomotives"][3] |= {"loco": None, "railway": None}
    path = tmp_path / "club.xlsx"
    path.write_bytes(new_workbook(records))

    ran = run("compare", str(path), str(path))

    assert "0 changed, 0 added, 0 gone" in ran.out


def test_a_workbook_given_twice_comes_to_a_meet_once(tmp_path: Path) -> None:
    records = clean_club()
    for engine in records["Locomotives"]:
        engine["at_meet"] = "yes"
    path = tmp_path / "club.xlsx"
    path.write_bytes(new_workbook(records))

    ran = run("meet", str(path), str(path), "-o", str(tmp_path / "meet.xlsx"))

    assert "8 engines from 1 workbook: 0 clashes" in ran.out


def test_a_workbook_that_a_meet_has_to_do_without_is_named(tmp_path: Path) -> None:
    records = clean_club()
    records["Locomotives"][0]["at_meet"] = "yes"
    path = tmp_path / "club.xlsx"
    path.write_bytes(new_workbook(records))

    ran = run("meet", str(path), str(tmp_path / "nobody.xlsx"), "-o", str(tmp_path / "meet.xlsx"))

    assert ran.status == 1
    assert "left out: " in ran.err
    assert "nobody.xlsx" in ran.err


@pytest.mark.parametrize(
    "words",
    [
        pytest.param(["free", "CLUB", "--near", "abc"], id="free near no number"),
        pytest.param(["cards", "CLUB", "--on", "2026-05-31"], id="a day without readings"),
        pytest.param(["new", "NEW", "--member", "M01"], id="a member's block without a scheme"),
    ],
)
def test_words_that_would_have_no_effect_are_refused(club: Path, words: list[str]) -> None:
    places = {"CLUB": str(club), "NEW": str(club.with_name("new.xlsx"))}

    ran = run(*(places.get(word, word) for word in words))

    assert (ran.status, ran.out) == (2, "")


def test_readings_are_not_recorded_for_a_label_that_stands_twice(tmp_path: Path) -> None:
    path = faulty(tmp_path, "loco-repeated")
    before = path.read_bytes()

    ran = run("cards", str(path), "--loco", "JV 2101", "--record", "29=34")

    assert (ran.status, path.read_bytes()) == (2, before)
    assert "appears 2 times" in ran.err

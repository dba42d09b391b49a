"""The command ``send``: copies that know their base."""

from pathlib import Path

import pytest

from rosterkit.commands.new.template import new_workbook
from rosterkit.commands.send import send
from rosterkit.versions.stamp import base_name, content_stamp, require_base, stamp_of
from rosterkit.xlsx.package.opening import opened
from tests.command_line import run
from tests.xlsx.packages import patch, replaced, stored

ENGINES: list[dict[str, str | int | float | None]] = [
    {"loco": "A", "owner": "M01", "address": 3, "railway": "JV", "number": "1"},
    {"loco": "B", "owner": "M02", "address": 4, "railway": "JV", "number": "2"},
    {"loco": "C", "owner": "M01", "address": 1000},
]


@pytest.fixture(scope="module")
def club(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    path = tmp_path_factory.mktemp("club") / "club.xlsx"
    path.write_bytes(new_workbook({"Locomotives": ENGINES}))
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

"""The earlier file: kept by itself, recognised, and never in the place of a member's own."""

import os
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from rosterkit.errors import CannotRunError
from rosterkit.xlsx.changes import CellChange, SheetChange, WorkbookChange
from rosterkit.xlsx.save.atomic_replace import put_in_place
from rosterkit.xlsx.save.save import write_workbook
from tests.command_line import run
from tests.xlsx.clubs import TITLE, club, usual_change


@pytest.fixture
def path(tmp_path: Path) -> Path:
    made = tmp_path / "club.xlsx"
    club(made).close()
    return made


def _save(path: Path, value: int) -> Path:
    """Save something else each time, and tell where the earlier file is."""
    cell = CellChange(row=2, column=7, value=value)
    kept = write_workbook(path, WorkbookChange(sheets=(SheetChange(title=TITLE, cells=(cell,)),))).kept
    assert kept is not None
    return kept


def _earlier(path: Path) -> dict[str, bytes]:
    return {file.name: file.read_bytes() for file in path.parent.glob("club.earlier*")}


def _own_file(earlier: Path) -> None:
    earlier.write_bytes(b"my own")


def _own_copy_of_the_workbook(earlier: Path) -> None:
    earlier.write_bytes(earlier.with_name("club.xlsx").read_bytes())


def _own_link_to_another_file(earlier: Path) -> None:
    _own_file(earlier.with_name("mine"))
    earlier.symlink_to("mine")


def _own_link_to_nowhere(earlier: Path) -> None:
    earlier.symlink_to("nowhere")


def _ours_with_a_change_of_the_members(earlier: Path) -> None:
    _save(earlier.with_name("club.xlsx"), 1)
    time.sleep(0.01)  # the clock of the drive goes in steps
    earlier.write_bytes(b"changed")


def _ours_with_a_change_and_the_time_of_before(earlier: Path) -> None:
    _save(earlier.with_name("club.xlsx"), 1)
    times = earlier.stat()
    earlier.write_bytes(b"changed")
    os.utime(earlier, ns=(times.st_atime_ns, times.st_mtime_ns))


def _ours_of_another_workbook_renamed(earlier: Path) -> None:
    other = earlier.with_name("other.xlsx")
    club(other).close()
    _save(other, 1).rename(earlier)


@pytest.mark.parametrize(
    "make",
    [
        pytest.param(_own_file, id="a file of the member's own"),
        pytest.param(_own_copy_of_the_workbook, id="a copy of the workbook that the member made"),
        pytest.param(_own_link_to_another_file, id="a link to another file"),
        pytest.param(_own_link_to_nowhere, id="a link to nowhere"),
        pytest.param(_ours_with_a_change_of_the_members, id="an earlier file in which the member saved"),
        pytest.param(
            _ours_with_a_change_and_the_time_of_before,
            id="an earlier file that was changed, and its time not",
        ),
        pytest.param(_ours_of_another_workbook_renamed, id="an earlier file of another workbook, renamed"),
    ],
)
def test_what_has_the_name_of_the_earlier_file_and_is_not_ours_is_left_alone(
    path: Path, make: Callable[[Path], None]
) -> None:
    own = path.with_name("club.earlier.xlsx")
    make(own)
    before = (own.lstat(), own.read_bytes() if own.exists() else None)
    for turn in range(3):
        original = path.read_bytes()

        kept = _save(path, 10 + turn)

        assert kept.read_bytes() == original
        # The newest only, also under the other name.
        assert [file for file in path.parent.glob("club.earlier*") if file != own] == [kept]
        after = (own.lstat(), own.read_bytes() if own.exists() else None)
        assert (after[0].st_ino, after[0].st_mtime_ns, after[1]) == (
            before[0].st_ino,
            before[0].st_mtime_ns,
            before[1],
        )


def test_an_earlier_file_under_the_other_name_that_the_member_changed_is_left_alone(path: Path) -> None:
    _own_file(path.with_name("club.earlier.xlsx"))
    changed = _save(path, 1)
    changed.write_bytes(b"changed")

    kept = _save(path, 2)

    assert changed.read_bytes() == b"changed"
    assert set(_earlier(path)) == {"club.earlier.xlsx", changed.name, kept.name}


def test_a_name_that_the_earlier_file_would_have_is_left_to_the_member_who_has_it(path: Path) -> None:
    original = path.read_bytes()
    _own_file(path.with_name("club.earlier.xlsx"))
    first = _save(path, 1)
    path.write_bytes(original)
    first.write_bytes(b"changed")

    second = _save(path, 2)

    assert (first.read_bytes(), second.read_bytes()) == (b"changed", original)


def test_the_earlier_file_takes_its_name_once_it_is_free(path: Path) -> None:
    own = path.with_name("club.earlier.xlsx")
    _own_file(own)
    _save(path, 1)
    own.unlink()
    second = path.read_bytes()

    assert _save(path, 2) == own
    assert _earlier(path) == {"club.earlier.xlsx": second}


def test_signs_that_mean_something_in_patterns_mean_nothing_in_names(tmp_path: Path) -> None:
    path, other = tmp_path / "club [1]+.xlsx", tmp_path / "club 1+.earlier-00000000.xlsx"
    club(path).close()
    _own_file(other)
    _own_file(path.with_name("club [1]+.earlier.xlsx"))

    for turn in range(2):
        kept = _save(path, turn)

    assert len(list(tmp_path.iterdir())) == 4
    assert kept.name.startswith("club [1]+.earlier-")


def test_the_earlier_file_is_recognised_after_it_was_copied_with_its_times(tmp_path: Path) -> None:
    folder, other = tmp_path / "one", tmp_path / "other"
    folder.mkdir()
    club(folder / "club.xlsx").close()
    _save(folder / "club.xlsx", 1)
    folder.rename(other)

    assert _save(other / "club.xlsx", 2).name == "club.earlier.xlsx"
    assert len(list(other.iterdir())) == 2


def test_a_drive_with_a_coarse_clock_has_two_earlier_files_at_most(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As FAT has, which keeps times to two seconds."""
    utime = os.utime

    def coarse(file: Path, times: None = None, *, ns: tuple[int, int] | None = None, **_: object) -> None:
        now = ns or (time.time_ns(), time.time_ns())
        utime(file, ns=(now[0] // 2_000_000_000 * 2_000_000_000, now[1] // 2_000_000_000 * 2_000_000_000))

    monkeypatch.setattr(os, "utime", coarse)
    for turn in range(4):
        original = path.read_bytes()
        kept = _save(path, turn)

    assert kept.read_bytes() == original
    assert len(_earlier(path)) == 2


def test_a_change_of_the_earlier_file_reaches_no_other_name_of_the_old_one(path: Path) -> None:
    original = path.read_bytes()
    backup = path.with_name("backup.xlsx")
    os.link(path, backup)

    kept = _save(path, 1)
    kept.write_bytes(b"changed")

    assert backup.read_bytes() == original
    assert (kept.stat().st_nlink, path.stat().st_nlink, backup.stat().st_nlink) == (1, 1, 1)


def test_an_earlier_file_that_is_a_copy_has_mode_owner_and_time_of_the_old_one(path: Path) -> None:
    owner = (4321, 4321) if os.geteuid() == 0 else (os.geteuid(), os.getgroups()[-1])
    os.chown(path, *owner)
    path.chmod(0o640)
    os.link(path, path.with_name("backup.xlsx"))
    before = path.stat()

    after = _save(path, 1).stat()

    assert (after.st_uid, after.st_gid, after.st_mode) == (*owner, before.st_mode)
    assert after.st_mtime_ns // 10**9 == before.st_mtime_ns // 10**9


def test_a_folder_of_that_name_is_named_in_a_sentence(path: Path) -> None:
    path.with_name("club.earlier.xlsx").mkdir()
    original = path.read_bytes()

    with pytest.raises(CannotRunError) as refused:
        _save(path, 1)

    assert refused.value.message == (
        f"cannot write {path}: the earlier file would be kept as club.earlier.xlsx, "
        "and a folder has that name"
    )
    assert refused.value.fix == "Rename that folder, then try again."
    assert path.read_bytes() == original


def test_a_replacing_that_fails_leaves_the_earlier_file_of_the_last_one(path: Path) -> None:
    _save(path, 1)
    before = _earlier(path)

    def refuse() -> None:
        raise CannotRunError("no", "None.")

    with pytest.raises(CannotRunError):
        put_in_place(path, b"new", refuse)

    assert _earlier(path) == before


@pytest.mark.parametrize(
    ("folder", "word", "said"),
    [
        pytest.param(".", "club.xlsx", "club.earlier.xlsx", id="in the working folder"),
        pytest.param("..", "{folder}/club.xlsx", "{folder}/club.earlier.xlsx", id="below it"),
        pytest.param(".", "{whole}/club.xlsx", "{whole}/club.earlier.xlsx", id="from the root"),
        pytest.param(".", "links/roster.xlsx", "{whole}/club.earlier.xlsx", id="by a link from elsewhere"),
        pytest.param(".", "link.xlsx", "club.earlier.xlsx", id="by a link beside it"),
    ],
)
def test_the_earlier_file_is_named_as_the_workbook_was(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, folder: str, word: str, said: str
) -> None:
    named = {"folder": tmp_path.name, "whole": str(tmp_path)}
    assert run("new", tmp_path / "club.xlsx", "--sample").status == 0
    (tmp_path / "links").mkdir()
    (tmp_path / "links" / "roster.xlsx").symlink_to(tmp_path / "club.xlsx")
    (tmp_path / "link.xlsx").symlink_to("club.xlsx")
    monkeypatch.chdir(tmp_path / folder)

    ran = run("fill", word.format(**named))

    assert ran.err.endswith(f"; the earlier file is {said.format(**named)}\n")


def test_another_file_is_kept_and_replaced_in_the_same_way(path: Path) -> None:
    target = path.with_name("filled.xlsx")
    own = path.with_name("filled.earlier.xlsx")
    _own_file(own)
    target.write_bytes(b"something")

    kept = write_workbook(path, usual_change(), target).kept

    assert kept is not None
    assert (kept.read_bytes(), own.read_bytes()) == (b"something", b"my own")

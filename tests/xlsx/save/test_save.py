"""A workbook is saved whole or not at all, and what stands in the way is said in a sentence."""

import os
import resource
import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import openpyxl
import pytest

from rosterkit.errors import CannotRunError
from rosterkit.xlsx.changes import SheetChange, WorkbookChange
from rosterkit.xlsx.package.opening import opened
from rosterkit.xlsx.save.save import save, save_new, write_workbook
from tests.xlsx.clubs import FINDINGS, TITLE, club, usual_change
from tests.xlsx.features_spelt import macros


@pytest.fixture
def path(tmp_path: Path) -> Path:
    made = tmp_path / "club.xlsx"
    club(made).close()
    return made


def _refused(path: Path, target: Path | None = None) -> str:
    """Save where it must be refused, and look that nothing changed."""
    folder = path.parent
    before = {file: file.read_bytes() for file in folder.rglob("*") if file.is_file()}

    with pytest.raises(CannotRunError) as refused:
        write_workbook(path, usual_change(), target)

    assert {file: file.read_bytes() for file in folder.rglob("*") if file.is_file()} == before
    assert refused.value.fix.endswith(".")
    return refused.value.message


def test_the_earlier_file_is_kept_beside_the_new_one(path: Path) -> None:
    original = path.read_bytes()

    saved = write_workbook(path, usual_change())

    assert saved.kept == path.with_name("club.earlier.xlsx")
    assert saved.kept.read_bytes() == original
    assert openpyxl.load_workbook(path)[TITLE]["G1"].value == "CV17"
    assert {file.name for file in path.parent.iterdir()} == {"club.xlsx", "club.earlier.xlsx"}


def test_a_copy_is_readable_by_nobody_who_may_not_read_the_workbook(path: Path) -> None:
    path.chmod(0o600)
    copy = path.with_name("copy.xlsx")

    write_workbook(path, usual_change(), copy)

    assert copy.stat().st_mode & 0o077 == 0


def test_only_the_newest_earlier_file_is_kept(path: Path) -> None:
    write_workbook(path, usual_change())
    second = path.read_bytes()

    write_workbook(path, usual_change(first=8))

    assert path.with_name("club.earlier.xlsx").read_bytes() == second
    assert {file.name for file in path.parent.iterdir()} == {"club.xlsx", "club.earlier.xlsx"}


def test_nothing_is_written_when_there_is_nothing_to_change(path: Path) -> None:
    write_workbook(path, usual_change())
    status = path.stat()
    earlier = path.with_name("club.earlier.xlsx").read_bytes()

    saved = write_workbook(path, usual_change())

    assert (saved.changed, saved.kept) == (False, None)
    assert (path.stat().st_ino, path.stat().st_mtime_ns) == (status.st_ino, status.st_mtime_ns)
    assert path.with_name("club.earlier.xlsx").read_bytes() == earlier


def test_another_file_can_be_named_and_the_workbook_stays(path: Path) -> None:
    original = path.read_bytes()
    target = path.with_name("filled.xlsx")

    first = write_workbook(path, usual_change(), target)
    again = write_workbook(path, WorkbookChange(own_sheets=(FINDINGS,)), target)

    assert (first.kept, again.kept) == (None, path.with_name("filled.earlier.xlsx"))
    assert path.read_bytes() == original
    assert openpyxl.load_workbook(target).sheetnames == [TITLE, "Findings"]


def test_an_unchanged_workbook_is_copied_to_another_file(path: Path) -> None:
    saved = write_workbook(path, WorkbookChange(), path.with_name("copy.xlsx"))

    assert not saved.changed
    assert saved.path.read_bytes() == path.read_bytes()


@pytest.mark.parametrize("mode", [0o600, 0o640, 0o664], ids=oct)
def test_the_mode_is_kept(path: Path, mode: int) -> None:
    path.chmod(mode)

    write_workbook(path, usual_change())

    assert path.stat().st_mode & 0o7777 == mode


def test_owner_and_group_are_kept(path: Path) -> None:
    # Only an administrator can give a file away; others can give it to another group of theirs.
    owner, group = (4321, 4321) if os.geteuid() == 0 else (os.geteuid(), os.getgroups()[-1])
    os.chown(path, owner, group)

    write_workbook(path, usual_change())

    assert (path.stat().st_uid, path.stat().st_gid) == (owner, group)


def test_extended_attributes_are_kept(path: Path) -> None:
    os.setxattr(path, "user.club", b"C1")

    write_workbook(path, usual_change())

    assert os.getxattr(path, "user.club") == b"C1"


def test_a_symbolic_link_is_followed(path: Path) -> None:
    folder = path.parent / "links"
    folder.mkdir()
    link = folder / "roster.xlsx"
    link.symlink_to(path)

    saved = write_workbook(link, usual_change())

    assert link.is_symlink()
    assert saved.path == path
    assert openpyxl.load_workbook(path)[TITLE]["G1"].value == "CV17"
    assert [file.name for file in folder.iterdir()] == ["roster.xlsx"]


@pytest.mark.parametrize("lock", ["~$club.xlsx", ".~lock.club.xlsx#"])
def test_a_workbook_that_is_open_elsewhere(path: Path, lock: str) -> None:
    path.with_name(lock).write_text("M01")

    assert "it is open in a spreadsheet program" in _refused(path)


@pytest.mark.parametrize("lock", ["~$club.xlsx", ".~lock.club.xlsx#"])
def test_a_workbook_that_is_open_elsewhere_and_reached_by_a_link(path: Path, lock: str) -> None:
    folder = path.parent / "links"
    folder.mkdir()
    link = folder / "other.xlsx"
    link.symlink_to(path)
    path.with_name(lock).write_text("M01")

    assert "it is open in a spreadsheet program" in _refused(link)


def test_a_read_only_file(path: Path) -> None:
    path.chmod(0o444)

    assert "it is read-only" in _refused(path)


@pytest.mark.parametrize(
    ("name", "why"),
    [
        pytest.param("", "it is a folder", id="a folder"),
        pytest.param("nowhere/club.xlsx", "its folder is not there", id="a folder that is not there"),
        pytest.param(
            "club.xlsm", "a workbook without macros needs another ending", id="the ending for macros"
        ),
        pytest.param("loop.xlsx", "it is a link that leads nowhere", id="a link to itself"),
        pytest.param("pipe.xlsx", "it is no ordinary file", id="a pipe"),
    ],
)
def test_places_where_no_workbook_can_be_written(path: Path, name: str, why: str) -> None:
    path.with_name("loop.xlsx").symlink_to(path.with_name("loop.xlsx"))
    os.mkfifo(path.with_name("pipe.xlsx"))

    assert why in _refused(path, path.parent / name)


def test_a_workbook_with_macros_keeps_its_ending(tmp_path: Path) -> None:
    path = tmp_path / "club.xlsm"
    macros(path)

    assert "a workbook with macros needs another ending" in _refused(path, tmp_path / "club2.xlsx")


@pytest.mark.parametrize("same_time", [False, True], ids=["at another time", "at the same time"])
def test_a_file_that_changed_since_it_was_read(path: Path, *, same_time: bool) -> None:
    package = opened(path)
    times = path.stat()
    other = path.read_bytes() + b"\0"
    path.write_bytes(other)
    if same_time:
        os.utime(path, ns=(times.st_atime_ns, times.st_mtime_ns))

    with pytest.raises(CannotRunError, match="another program has changed it since it was read"):
        save(package, usual_change())

    assert path.read_bytes() == other
    assert [file.name for file in path.parent.iterdir()] == ["club.xlsx"]


def test_a_file_that_was_removed_since_it_was_read(path: Path) -> None:
    package = opened(path)
    path.unlink()

    with pytest.raises(CannotRunError, match="another program has changed it since it was read"):
        save(package, usual_change())

    assert list(path.parent.iterdir()) == []


@contextmanager
def little_room() -> Iterator[None]:
    """Let no file grow beyond 4 KB, which writing meets in the same way as a full disk."""
    handler = signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    limits = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (4096, limits[1]))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, limits)
        signal.signal(signal.SIGXFSZ, handler)


def test_a_disk_that_is_full(path: Path) -> None:
    with little_room():
        message = _refused(path)

    assert "the disk is full" in message


def test_a_refused_cell_leaves_the_file_alone(path: Path) -> None:
    broken = WorkbookChange(sheets=(*usual_change().sheets, SheetChange(title="Nowhere")))
    before = path.read_bytes()

    with pytest.raises(CannotRunError, match="has no sheet 'Nowhere'"):
        write_workbook(path, broken)

    assert path.read_bytes() == before


def test_no_module_that_rebuilds_workbooks_is_loaded_for_saving() -> None:
    code = (
        "import sys, rosterkit.xlsx.save.save\nprint([m for m in ('openpyxl', 'pandas') if m in sys.modules])"
    )

    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, timeout=60)

    assert ran.stdout == "[]\n"


def test_a_workbook_that_is_made_anew_takes_the_mode_of_the_one_in_its_place(path: Path) -> None:
    path.chmod(0o600)

    save_new(path, b"new")

    assert (path.read_bytes(), path.stat().st_mode & 0o777) == (b"new", 0o600)
    assert [file.name for file in path.parent.iterdir()] == ["club.xlsx"]


def test_a_workbook_that_is_made_anew_never_takes_the_place_of_one_that_is_open(path: Path) -> None:
    original = path.read_bytes()
    path.with_name("~$club.xlsx").touch()

    with pytest.raises(CannotRunError, match="it is open in a spreadsheet program"):
        save_new(path, b"new")

    assert path.read_bytes() == original


def test_a_workbook_that_is_made_anew_on_a_full_disk(path: Path) -> None:
    new = path.with_name("new.xlsx")

    with little_room(), pytest.raises(CannotRunError, match=r"cannot write .*new\.xlsx: the disk is full"):
        save_new(new, bytes(5000))

    assert [file.name for file in path.parent.iterdir()] == ["club.xlsx"]

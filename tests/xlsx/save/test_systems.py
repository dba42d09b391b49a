"""Systems and drives that lack something, or fail in a way of their own: each as it would behave."""

import ctypes
import errno
import os
import shutil
import sys
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from rosterkit.errors import CannotRunError
from rosterkit.xlsx.save import atomic_replace
from rosterkit.xlsx.save.atomic_replace import put_in_place
from rosterkit.xlsx.save.save import write_workbook
from tests.command_line import run, started
from tests.xlsx.clubs import club, usual_change


@pytest.fixture
def path(tmp_path: Path) -> Path:
    made = tmp_path / "club.xlsx"
    club(made).close()
    return made


def _failing(number: int, *, real: Callable[..., Any], when: Callable[..., bool]) -> Callable[..., Any]:
    def fail(*words: Any, **options: Any) -> Any:
        if when(*words):
            raise OSError(number, os.strerror(number), str(words[0]))
        return real(*words, **options)

    return fail


def _no_links(patch: pytest.MonkeyPatch) -> None:
    patch.delattr(os, "link")


def _links_not_allowed(patch: pytest.MonkeyPatch) -> None:
    patch.setattr(os, "link", _failing(errno.EPERM, real=os.link, when=lambda *_: True))


def _no_exchange(patch: pytest.MonkeyPatch) -> None:
    patch.setattr(sys, "platform", "darwin")


def _old_library(patch: pytest.MonkeyPatch) -> None:
    patch.setattr(ctypes, "CDLL", lambda _: object())


def _no_owners(patch: pytest.MonkeyPatch) -> None:
    patch.delattr(os, "chown")
    patch.delattr(os, "uname")


def _no_attributes(patch: pytest.MonkeyPatch) -> None:
    for name in ("listxattr", "getxattr", "setxattr"):
        patch.delattr(os, name)
    patch.setattr(shutil, "_copyxattr", lambda *_, **__: None)  # as shutil defines it there


def _folders_not_opened(patch: pytest.MonkeyPatch) -> None:
    patch.setattr(os, "open", _failing(errno.EACCES, real=os.open, when=lambda name, *_: Path(name).is_dir()))


def _folders_not_flushed(patch: pytest.MonkeyPatch) -> None:
    flush = _failing(
        errno.EINVAL, real=os.fsync, when=lambda handle: Path(f"/proc/self/fd/{handle}").is_dir()
    )
    patch.setattr(os, "fsync", flush)


def _folders_not_closed(patch: pytest.MonkeyPatch) -> None:
    close = os.close

    def fail(handle: int) -> None:
        folder = Path(f"/proc/self/fd/{handle}").is_dir()
        close(handle)
        if folder:
            raise OSError(errno.EIO, os.strerror(errno.EIO))

    patch.setattr(os, "close", fail)


def _folders_that_seem_read_only(patch: pytest.MonkeyPatch) -> None:
    stat = os.stat

    def seeming(name: Any, **options: Any) -> os.stat_result:
        status = stat(name, **options)
        if status.st_mode & 0o170000 != 0o040000:
            return status
        return os.stat_result((status.st_mode & ~0o222, *status[1:]))

    patch.setattr(os, "stat", seeming)


def _times_of_others_not_set(patch: pytest.MonkeyPatch) -> None:
    utime = os.utime

    def fail(name: Any, times: Any = None, *, ns: Any = None, **options: Any) -> None:
        if ns is not None and ".earlier" in str(name):
            raise PermissionError(errno.EPERM, os.strerror(errno.EPERM), str(name))
        utime(name, times, **({"ns": ns} if ns else {}), **options)

    patch.setattr(os, "utime", fail)


@pytest.mark.parametrize(
    "behave",
    [
        pytest.param(_no_links, id="a system without links"),
        pytest.param(_links_not_allowed, id="a drive without links"),
        pytest.param(_no_exchange, id="a system without exchanges"),
        pytest.param(_old_library, id="a library without exchanges"),
        pytest.param(_no_owners, id="a system without owners of files"),
        pytest.param(_no_attributes, id="a system whose extended attributes Python does not know"),
        pytest.param(_folders_not_opened, id="folders that cannot be opened"),
        pytest.param(_folders_not_flushed, id="folders that cannot be flushed"),
        pytest.param(_folders_not_closed, id="folders that fail when they are closed"),
        pytest.param(
            _folders_that_seem_read_only, id="folders with the attribute read-only, which says nothing"
        ),
        pytest.param(_times_of_others_not_set, id="an old file whose times cannot be set"),
    ],
)
def test_a_system_that_lacks_something_does_without_it(
    path: Path, behave: Callable[[pytest.MonkeyPatch], None]
) -> None:
    original = path.read_bytes()
    with pytest.MonkeyPatch.context() as patch:
        behave(patch)
        saved = write_workbook(path, usual_change())
        copy = write_workbook(path, usual_change(first=8), path.with_name("copy.xlsx"))

    assert saved.changed
    assert saved.kept is not None
    assert saved.kept.read_bytes() == original
    assert copy.path.read_bytes() != original
    assert set(path.parent.iterdir()) == {path, saved.kept, copy.path}


class _WindowsError(PermissionError):
    winerror = 32


def _held(name: str) -> Callable[[Path, Path], Path]:
    """Return a ``Path.replace`` that another program prevents, as Windows does, for files of one name."""
    replace = Path.replace

    def fail(one: Path, other: Path) -> Path:
        if Path(other).name == name:
            raise _WindowsError(errno.EACCES, "Permission denied", str(one))
        return replace(one, other)

    return fail


def test_a_workbook_that_is_held_open_without_a_lock_file_is_said_to_be_so(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    put_in_place(path, b"one", lambda: None)
    before = {file.name: file.read_bytes() for file in path.parent.iterdir()}
    monkeypatch.setattr(atomic_replace, "exchange", lambda *_: False)
    monkeypatch.setattr(Path, "replace", _held("club.xlsx"))

    with pytest.raises(CannotRunError) as refused:
        put_in_place(path, b"two", lambda: None)

    assert refused.value.message.endswith(
        ": another program has it open, or you are not allowed to write there"
    )
    assert {file.name: file.read_bytes() for file in path.parent.iterdir()} == before


def test_an_earlier_file_that_is_held_open_stays_and_the_newer_one_has_the_other_name(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    put_in_place(path, b"one", lambda: None)
    held = path.with_name("club.earlier.xlsx").read_bytes()
    monkeypatch.setattr(Path, "replace", _held("club.earlier.xlsx"))

    kept = put_in_place(path, b"two", lambda: None)

    assert kept is not None
    assert (path.read_bytes(), kept.read_bytes()) == (b"two", b"one")
    assert path.with_name("club.earlier.xlsx").read_bytes() == held


@pytest.fixture
def unprivileged() -> Iterator[Path]:
    """A folder in which nobody is an administrator, who may do everything."""
    folder = Path(tempfile.mkdtemp())
    user = os.geteuid()
    if user == 0:
        os.chown(folder, 65534, 65534)
        os.seteuid(65534)
    try:
        yield folder
    finally:
        folder.chmod(0o755)
        os.seteuid(user)
        shutil.rmtree(folder)


@pytest.mark.parametrize(
    ("mode", "why"),
    [
        pytest.param(0o555, "you are not allowed to write in its folder", id="a folder that is read-only"),
        pytest.param(0o000, "you are not allowed to read it", id="a folder that cannot be entered"),
    ],
)
def test_a_folder_that_cannot_be_written_to(unprivileged: Path, mode: int, why: str) -> None:
    path = unprivileged / "club.xlsx"
    club(path).close()
    made = path.read_bytes()
    unprivileged.chmod(mode)

    said = ""
    try:
        write_workbook(path, usual_change())
    except CannotRunError as refused:
        said = refused.message
    unprivileged.chmod(0o755)

    assert why in said
    assert {file.name: file.read_bytes() for file in unprivileged.iterdir()} == {"club.xlsx": made}


def test_a_file_that_may_not_be_read_is_neither_read_nor_replaced(unprivileged: Path) -> None:
    path, target = unprivileged / "club.xlsx", unprivileged / "target.xlsx"
    club(path).close()
    target.write_bytes(b"secret")
    target.chmod(0o200)

    with pytest.raises(CannotRunError) as unkept:
        write_workbook(path, usual_change(), target)
    with pytest.raises(CannotRunError) as unread:
        write_workbook(target, usual_change())

    assert unkept.value.message == (
        f"cannot write {target}: you are not allowed to read the file that is there, so it could not be kept"
    )
    assert unread.value.message == f"cannot read {target}: you are not allowed to read it"
    assert {file.name for file in unprivileged.iterdir()} == {"club.xlsx", "target.xlsx"}


@pytest.mark.parametrize(
    ("length", "why"),
    [
        pytest.param(200, None, id="that leaves room for all"),
        pytest.param(
            251, "its name is too long for the earlier file, which gets a longer one", id="of 251 bytes"
        ),
        pytest.param(
            255, "its name is too long for the earlier file, which gets a longer one", id="of 255 bytes"
        ),
    ],
)
def test_a_name_beside_which_a_longer_one_finds_no_room(path: Path, length: int, why: str | None) -> None:
    long = path.rename(path.with_name("ä" * ((length - 5) // 2) + "n" * ((length - 5) % 2) + ".xlsx"))
    assert len(os.fsencode(long.name)) == length
    original = long.read_bytes()

    said = None
    try:
        write_workbook(long, usual_change())
    except CannotRunError as refused:
        said = refused.message

    assert said == (why and f"cannot write {long}: {why}")
    assert (long.read_bytes() == original) == (why is not None)
    assert len(list(path.parent.iterdir())) == (1 if why else 2)


def test_a_copy_may_have_the_longest_name(path: Path) -> None:
    saved = write_workbook(path, usual_change(), path.with_name("n" * 250 + ".xlsx"))

    assert saved.path.is_file()


@pytest.mark.parametrize(
    "words",
    [
        pytest.param(("new", "{long}"), id="a new workbook"),
        pytest.param(("fill", "club.xlsx", "-o", "{long}"), id="a copy"),
        pytest.param(("fill", "{long}"), id="a workbook that is filled"),
    ],
)
def test_a_name_that_is_too_long_for_the_drive(
    path: Path, monkeypatch: pytest.MonkeyPatch, words: tuple[str, ...]
) -> None:
    monkeypatch.chdir(path.parent)
    long = "n" * 251 + ".xlsx"

    ran = run(*(word.format(long=long) for word in words))

    assert (ran.status, ran.out) == (2, "")
    assert "too long" in ran.err
    assert len(ran.err.splitlines()) == 1


@pytest.mark.slow
@pytest.mark.parametrize(
    "words",
    [
        pytest.param(("check", "club.xlsx"), id="a workbook is checked there"),
        pytest.param(("fill", "club.xlsx"), id="a workbook is filled there"),
        pytest.param(("new", "club.xlsx"), id="a workbook is made there"),
    ],
)
def test_a_working_folder_that_was_removed(tmp_path: Path, words: tuple[str, ...]) -> None:
    folder, home = tmp_path / "folder", Path.cwd()
    folder.mkdir()
    os.chdir(folder)
    folder.rmdir()
    try:
        ran = started(*words)
    finally:
        os.chdir(home)

    assert (ran.status, ran.out, ran.err) == (
        2,
        "",
        "rosterkit: the folder you work in is not there any more. "
        "Change to another folder, then try again.\n",
    )


def test_a_workbook_is_never_readable_by_more_than_may_read_it_not_even_while_it_is_made(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path.chmod(0o600)
    modes: list[int] = []
    flush = os.fsync

    def watched(handle: int) -> None:
        modes.append(os.fstat(handle).st_mode & 0o077)
        flush(handle)

    monkeypatch.setattr(os, "fsync", watched)
    write_workbook(path, usual_change())

    assert modes[0] == 0


def test_no_file_and_no_folder_stays_open(path: Path) -> None:
    opened = Path("/proc/self/fd")
    write_workbook(path, usual_change())
    before = len(list(opened.iterdir()))

    write_workbook(path, usual_change(first=8))

    assert len(list(opened.iterdir())) == before

"""Another program that saves between the last look and the replacing loses nothing by it."""

import os
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from rosterkit.errors import CannotRunError
from rosterkit.xlsx.save import atomic_replace
from rosterkit.xlsx.save.atomic_replace import put_in_place
from rosterkit.xlsx.save.exchange import exchange

OLDER, OLD, NEW = b"older", b"old", b"new"


@pytest.fixture
def path(tmp_path: Path) -> Path:
    made = tmp_path / "club.xlsx"
    made.write_bytes(OLDER)
    put_in_place(made, OLD, lambda: None)
    return made


def _by_renaming(path: Path, data: bytes) -> None:
    written = path.with_name("written")
    written.write_bytes(data)
    written.replace(path)


def _into_the_same_file(path: Path, data: bytes) -> None:
    path.write_bytes(data)


@pytest.fixture(
    params=[
        pytest.param(_by_renaming, id="by renaming"),
        pytest.param(_into_the_same_file, id="into the same file"),
    ]
)
def other(request: pytest.FixtureRequest) -> Callable[[Path, bytes], None]:
    """How another program saves."""
    save: Callable[[Path, bytes], None] = request.param
    return save


def _disturbed(
    monkeypatch: pytest.MonkeyPatch, path: Path, other: Callable[[Path, bytes], None], saves: Iterator[bytes]
) -> None:
    """Let another program save just before each exchange of names, as long as it has something to save."""

    def disturbed(one: Path, two: Path) -> bool:
        data = next(saves, None)
        if data is not None:
            other(path, data)
        return exchange(one, two)

    monkeypatch.setattr(atomic_replace, "exchange", disturbed)


def _refused(path: Path) -> None:
    with pytest.raises(CannotRunError, match="another program has changed it since it was read"):
        put_in_place(path, NEW, lambda: None)


@pytest.mark.parametrize(
    "saves",
    [
        pytest.param([b"theirs"], id="before the exchange"),
        pytest.param([b"theirs", b"theirs again"], id="and before it is given back"),
        pytest.param([b"1", b"2", b"3", b"4"], id="again and again"),
    ],
)
def test_what_another_program_saved_last_stays_in_place(
    path: Path, monkeypatch: pytest.MonkeyPatch, other: Callable[[Path, bytes], None], saves: list[bytes]
) -> None:
    _disturbed(monkeypatch, path, other, iter(saves))

    _refused(path)

    assert {file.name: file.read_bytes() for file in path.parent.iterdir()} == {
        "club.xlsx": saves[-1],
        "club.earlier.xlsx": OLDER,
    }


def test_without_an_exchange_what_is_saved_into_the_same_file_stays_in_place(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As on systems other than Linux; one that is renamed to the place at that instant is not seen."""

    def disturbed(*_: Path) -> bool:
        path.write_bytes(b"theirs")
        return False

    monkeypatch.setattr(atomic_replace, "exchange", disturbed)

    _refused(path)

    assert {file.name: file.read_bytes() for file in path.parent.iterdir()} == {
        "club.xlsx": b"theirs",
        "club.earlier.xlsx": OLDER,
    }


def test_a_drive_on_which_only_the_first_exchange_succeeds_gives_back_all_the_same(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    turns = iter([True])

    def once(one: Path, two: Path) -> bool:
        if not next(turns, False):
            return False
        _by_renaming(path, b"theirs")
        return exchange(one, two)

    monkeypatch.setattr(atomic_replace, "exchange", once)

    _refused(path)

    assert path.read_bytes() == b"theirs"


def test_a_program_that_goes_on_writing_into_the_old_file_writes_into_the_earlier_one_for_good(
    path: Path,
) -> None:
    with path.open("r+b") as held:
        kept = put_in_place(path, NEW, lambda: None)
        os.truncate(held.fileno(), 0)
        held.write(b"theirs")
    assert kept is not None
    assert (kept.read_bytes(), path.read_bytes()) == (b"theirs", NEW)

    again = put_in_place(path, b"newer", lambda: None)

    assert kept.read_bytes() == b"theirs"
    assert again not in {None, kept}


def test_a_file_that_appears_where_there_was_none_is_not_replaced(tmp_path: Path) -> None:
    path = tmp_path / "club.xlsx"

    def appear() -> None:
        path.write_bytes(b"theirs")

    with pytest.raises(CannotRunError, match="another program has changed it since it was read"):
        put_in_place(path, NEW, appear)

    assert {file.name: file.read_bytes() for file in tmp_path.iterdir()} == {"club.xlsx": b"theirs"}


def test_a_file_that_disappears_at_the_last_instant_is_kept(path: Path) -> None:
    kept = put_in_place(path, NEW, path.unlink)

    assert kept is not None
    assert (path.read_bytes(), kept.read_bytes()) == (NEW, OLD)


def test_a_run_that_is_told_to_end_right_after_the_exchange_loses_nothing(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def ended(one: Path, two: Path) -> bool:
        assert exchange(one, two)
        raise SystemExit(143)

    monkeypatch.setattr(atomic_replace, "exchange", ended)

    with pytest.raises(SystemExit):
        put_in_place(path, NEW, lambda: None)

    assert path.read_bytes() == NEW
    assert OLD in {file.read_bytes() for file in path.parent.glob("club.earlier*.xlsx")}
    assert list(path.parent.glob(".rosterkit-*")) == []


def _other_run(monkeypatch: pytest.MonkeyPatch, path: Path, *, before: bool) -> list[Path | None]:
    """Let another run of ours save just before or just after the exchange of the first one."""
    kept: list[Path | None] = []
    waiting = [True]

    def meanwhile(one: Path, two: Path) -> bool:
        if not waiting:
            return exchange(one, two)
        waiting.clear()
        done = not before and exchange(one, two)
        kept.append(put_in_place(path, b"other", lambda: None))
        return done or exchange(one, two)

    monkeypatch.setattr(atomic_replace, "exchange", meanwhile)
    return kept


def test_of_two_runs_the_faster_one_wins_and_its_earlier_file_stays(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    _other_run(monkeypatch, path, before=True)

    _refused(path)

    assert {file.name: file.read_bytes() for file in path.parent.iterdir()} == {
        "club.xlsx": b"other",
        "club.earlier.xlsx": OLD,
    }


def test_of_two_runs_one_after_the_other_the_later_one_keeps_what_the_first_one_wrote(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    others = _other_run(monkeypatch, path, before=False)

    kept = put_in_place(path, NEW, lambda: None)

    assert others == [kept]
    assert {file.name: file.read_bytes() for file in path.parent.iterdir()} == {
        "club.xlsx": b"other",
        "club.earlier.xlsx": NEW,
    }


def test_two_runs_that_are_at_work_at_once_do_not_touch_what_the_other_one_keeps(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The second begins, and is refused, between the two steps of the first."""

    def refuse() -> None:
        raise CannotRunError("no", "None.")

    def meanwhile(one: Path, two: Path) -> bool:
        with pytest.raises(CannotRunError):
            put_in_place(path, b"other", refuse)
        return exchange(one, two)

    monkeypatch.setattr(atomic_replace, "exchange", meanwhile)

    kept = put_in_place(path, NEW, lambda: None)

    assert kept is not None
    assert kept.read_bytes() == OLD
    assert {file.name for file in path.parent.iterdir()} == {"club.xlsx", "club.earlier.xlsx"}

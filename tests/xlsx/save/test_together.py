"""Several workbooks are saved together: all of them, or all are what they were."""

from collections.abc import Callable
from pathlib import Path

import openpyxl
import pytest

from rosterkit.errors import CannotRunError
from rosterkit.xlsx.changes import CellChange, SheetChange, WorkbookChange
from rosterkit.xlsx.package.opening import opened
from rosterkit.xlsx.save.save import prepared
from rosterkit.xlsx.save.together import folder_for, put_together

_CHANGE = WorkbookChange(sheets=(SheetChange(title="Sheet", cells=(CellChange(row=1, column=1, value=5),)),))


@pytest.fixture
def books(tmp_path: Path) -> list[Path]:
    paths = [tmp_path / name for name in ("a.xlsx", "b.xlsx", "c.xlsx")]
    for path in paths:
        openpyxl.Workbook().save(path)
    return paths


def _first_cells(paths: list[Path]) -> list[object]:
    return [openpyxl.load_workbook(path)["Sheet"]["A1"].value for path in paths]


def test_all_are_put_in_place_and_the_earlier_files_kept(books: list[Path]) -> None:
    before = [path.read_bytes() for path in books]

    saved = put_together([prepared(opened(path), _CHANGE) for path in books])

    assert _first_cells(books) == [5, 5, 5]
    assert [one.kept.read_bytes() for one in saved if one.kept] == before


def _changed_last(books: list[Path]) -> None:
    books[2].write_bytes(books[2].read_bytes() + b" ")


def _read_only(books: list[Path]) -> None:
    books[1].with_name(f"~${books[1].name}").touch()


@pytest.mark.parametrize(
    ("happens", "said"),
    [
        pytest.param(_changed_last, r"c\.xlsx: another program has changed it", id="the last was changed"),
        pytest.param(_read_only, r"b\.xlsx: it is open", id="the second was opened"),
    ],
)
def test_where_one_fails_the_others_are_what_they_were(
    books: list[Path], happens: Callable[[list[Path]], None], said: str
) -> None:
    made = [prepared(opened(path), _CHANGE) for path in books]
    happens(books)
    before = {path: path.read_bytes() for path in books[0].parent.iterdir()}

    with pytest.raises(CannotRunError, match=said):
        put_together(made)

    assert {path: path.read_bytes() for path in books[0].parent.iterdir()} == before


def test_what_somebody_wrote_in_the_meantime_is_not_taken_back(books: list[Path]) -> None:
    made = [prepared(opened(path), _CHANGE) for path in books]

    def fails() -> None:
        books[0].write_bytes(b"somebody's")
        raise CannotRunError("it fails", "Try again.")

    with pytest.raises(CannotRunError, match="it fails"):
        put_together(made, fails)

    assert books[0].read_bytes() == b"somebody's"
    assert _first_cells(books[1:]) == [None, None]


def _fault(made: bool) -> CannotRunError:
    return CannotRunError("it fails" if made else "there is no folder", "Try again.")


def test_a_folder_that_was_made_goes_where_the_work_in_it_fails_and_one_that_was_there_stays(
    tmp_path: Path,
) -> None:
    (tmp_path / "there").mkdir()

    for folder in (tmp_path / "there" / "new" / "one", tmp_path / "there"):
        with pytest.raises(CannotRunError, match="it fails"), folder_for(folder):
            raise _fault(folder.is_dir())

    assert [path.name for path in tmp_path.rglob("*")] == ["there"]

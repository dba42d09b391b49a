"""The proof of rows in another order sees each cell that did not go along, and whatever else changed."""

import re
from pathlib import Path

import pytest

from rosterkit.errors import CannotRunError
from rosterkit.xlsx.changes import RowOrder, WorkbookChange
from rosterkit.xlsx.package.opening import Package, opened
from tests.xlsx.clubs import TITLE, club
from tests.xlsx.packages import Patch, replaced
from tests.xlsx.verify.tampering import SHEET, verify_tampered

ORDER = WorkbookChange(orders=(RowOrder(title=TITLE, rows={2: 3, 3: 2, 4: 4}),))


@pytest.fixture(scope="module")
def simple(tmp_path_factory: pytest.TempPathFactory) -> Package:
    path = tmp_path_factory.mktemp("order") / "club.xlsx"
    club(path).close()
    return opened(path)


def swapped(first: str, second: str) -> Patch:
    def patch(data: bytes) -> bytes:
        return re.sub(f"({first})(.*?)({second})".encode(), rb"\3\2\1", data, count=1, flags=re.DOTALL)

    return patch


def test_what_was_meant_is_proven(simple: Package, tmp_path: Path) -> None:
    verify_tampered(simple, tmp_path, ORDER, SHEET, lambda data: data)


@pytest.mark.parametrize(
    ("change", "sentence"),
    [
        pytest.param(swapped('(?<=<c r="C2"><v>)[0-9]+', '(?<=<c r="C3"><v>)[0-9]+'), "row 2 is", id="back"),
        pytest.param(
            lambda data: re.sub(rb'(<c r="C4"><v>)[0-9]+', rb"\g<1>1", data),
            "row 4 is not",
            id="a row that stays",
        ),
        pytest.param(
            lambda data: re.sub(rb'(<c r="D2") s="[0-9]+"', rb"\1", data), "row 2 is not", id="a lost format"
        ),
        pytest.param(lambda data: re.sub(rb'<c r="E3".*?</c>', b"", data), "row 3 is not", id="a lost cell"),
        pytest.param(replaced('<row r="3"', '<row r="3" hidden="1"'), "row 3 is not", id="a hidden row"),
        pytest.param(lambda data: re.sub(rb'<row r="5".*?</row>', b"", data), "not the same", id="a row"),
        pytest.param(replaced("</worksheet>", "<!-- x --></worksheet>"), "beside the rows", id="a comment"),
    ],
)
def test_any_other_change_is_seen(simple: Package, tmp_path: Path, change: Patch, sentence: str) -> None:
    with pytest.raises(CannotRunError, match=sentence):
        verify_tampered(simple, tmp_path, ORDER, SHEET, change)


def test_an_order_that_loses_a_row_is_refused(simple: Package, tmp_path: Path) -> None:
    twice = WorkbookChange(orders=(RowOrder(title=TITLE, rows={2: 3, 3: 3}),))

    with pytest.raises(CannotRunError, match="twice, or nowhere"):
        verify_tampered(simple, tmp_path, twice, SHEET, lambda data: data)

"""The programs that the tests of this room rely on: what is typed arrives, what is read is there."""

import os
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import openpyxl
import pytest
from python_calamine import CalamineWorkbook

from tests.live.gnumeric import saved_by_gnumeric
from tests.live.uno_document import Document
from tests.live.uno_session import Office, OfficeError

pytestmark = pytest.mark.external

_ROWS = (("Name", "Number", "Twice", "Said"), ("oak", 7), ("elm", 3), ("ash", 5))
_TWICE = '=IF(B{row}="","",B{row}*2)'
_SAID = '=IF(COUNTIF($B$1:$B$9,B{row})>1,"twice there","")'


@pytest.fixture
def book(tmp_path: Path) -> Path:
    """A small workbook with formulas in rows 2 to 4, without stored results."""
    made = openpyxl.Workbook()
    sheet = made.worksheets[0]
    sheet.title = "Trees"
    for row in _ROWS:
        sheet.append(row)
    for n in (2, 3, 4):
        sheet.cell(n, 3, _TWICE.format(row=n)).number_format = '"n "0'
        sheet.cell(n, 4, _SAID.format(row=n))
    made.create_sheet("Sum")["A1"] = "=SUM(Trees!$C$1:$C$9)"
    path = tmp_path / "trees.xlsx"
    made.save(path)
    return path


def test_a_cell_has_its_value_its_text_on_the_screen_and_its_formula(office: Office, book: Path) -> None:
    open_book = office.open(book)

    name, number, twice, said = open_book.cells("Trees", "A2:D2")[0]
    blank = open_book.cell("Trees", "E2")

    assert (name.value, name.formula) == ("oak", "")
    assert (number.value, number.text) == (7, "7")
    assert (twice.value, twice.text, twice.formula) == (14, "n 14", '=IF(B2="";"";B2*2)')
    assert (said.value, said.text, said.error) == ("", "", 0)
    assert (blank.value, blank.text, blank.formula) == (None, "", "")
    assert open_book.values("Sum") == [[30]]


@pytest.mark.parametrize(
    ("text", "value"),
    [
        pytest.param("25", 25, id="digits are a number"),
        pytest.param("007", 7, id="zeros before it do not count"),
        pytest.param("'25", "25", id="after an apostrophe they are a text"),
        pytest.param("25x", "25x", id="whatever else is a text"),
        pytest.param("=B2+1", 8, id="a formula is calculated"),
    ],
)
def test_what_is_typed_is_understood_as_on_the_keyboard(
    office: Office, book: Path, text: str, value: object
) -> None:
    open_book = office.open(book)

    open_book.enter("Trees", "B4", text)

    assert open_book.cell("Trees", "B4").value == value


def test_an_error_has_its_number(office: Office, book: Path) -> None:
    open_book = office.open(book)

    open_book.enter("Trees", "B4", "=1/0")

    # 532 is LibreOffice's number for a division by zero.
    assert open_book.cell("Trees", "B4").error == 532


def _names(book: Document) -> list[tuple[object, ...]]:
    return [tuple(row) for row in book.values("Trees", "A1:D6") if any(cell != "" for cell in row)]


_HEADINGS = ("Name", "Number", "Twice", "Said")
_OAK, _ELM, _ASH = ("oak", 7, 14, ""), ("elm", 3, 6, ""), ("ash", 5, 10, "")


@pytest.mark.parametrize(
    ("edit", "rows"),
    [
        pytest.param(
            lambda book: book.enter("Trees", "B3", "7"),
            [_HEADINGS, ("oak", 7, 14, "twice there"), ("elm", 7, 14, "twice there"), _ASH],
            id="typing changes what hangs on it",
        ),
        pytest.param(
            lambda book: book.clear("Trees", "B3"),
            [_HEADINGS, _OAK, ("elm", "", "", ""), _ASH],
            id="a deleted cell is blank",
        ),
        pytest.param(
            lambda book: book.sort("Trees", "A1:D4", "B"), [_HEADINGS, _ELM, _ASH, _OAK], id="sorted upwards"
        ),
        pytest.param(
            lambda book: book.sort("Trees", "A1:D4", "A", descending=True),
            [_HEADINGS, _OAK, _ELM, _ASH],
            id="sorted downwards",
        ),
        pytest.param(
            lambda book: book.delete_rows("Trees", 2),
            [_HEADINGS, _ELM, _ASH],
            id="a row less moves others up",
        ),
        pytest.param(
            lambda book: book.copy_row("Trees", 2, 5),
            [_HEADINGS, (*_OAK[:3], "twice there"), _ELM, _ASH, (*_OAK[:3], "twice there")],
            id="a copied row has its formulas",
        ),
        pytest.param(
            lambda book: book.move_column("Trees", "A", "D"),
            [
                ("Number", "Twice", "Name", "Said"),
                *((n, t, name, said) for name, n, t, said in (_OAK, _ELM, _ASH)),
            ],
            id="a column moved to the right",
        ),
        pytest.param(
            lambda book: book.move_column("Trees", "B", "A"),
            [
                ("Number", "Name", "Twice", "Said"),
                *((n, name, t, said) for name, n, t, said in (_OAK, _ELM, _ASH)),
            ],
            id="a column moved to the left",
        ),
        pytest.param(
            lambda book: book.delete_columns("Trees", "A"),
            [(*row[1:], "") for row in (_HEADINGS, _OAK, _ELM, _ASH)],
            id="a column less",
        ),
    ],
)
def test_an_edit_does_what_its_name_says(
    office: Office, book: Path, edit: Callable[[Document], None], rows: list[tuple[object, ...]]
) -> None:
    open_book = office.open(book)

    edit(open_book)

    assert _names(open_book) == rows


def test_inserted_rows_are_blank_and_filled_down_they_have_the_formulas_of_the_first(
    office: Office, book: Path
) -> None:
    open_book = office.open(book)

    open_book.insert_rows("Trees", 3, 2)
    inserted = open_book.formulas("Trees", "A3:D4")
    open_book.fill_down("Trees", "C2:D4")

    assert inserted == [["", "", "", ""]] * 2
    assert [row[2] for row in open_book.formulas("Trees", "A2:D4")] == [
        f'=IF(B{row}="";"";B{row}*2)' for row in (2, 3, 4)
    ]


def test_inserted_columns_leave_formulas_on_their_cells(office: Office, book: Path) -> None:
    open_book = office.open(book)

    open_book.insert_columns("Trees", "B", 2)

    assert open_book.cell("Trees", "E2").formula == '=IF(D2="";"";D2*2)'
    assert open_book.values("Sum") == [[30]]


def test_values_stand_where_formulas_were_empty_ones_too(office: Office, book: Path) -> None:
    open_book = office.open(book)

    open_book.values_over_formulas("Trees", "C2:D4")

    assert open_book.formulas("Trees", "C2:D4") == [["14", ""], ["6", ""], ["10", ""]]


def test_sheets_are_renamed_and_deleted_and_formulas_follow(office: Office, book: Path) -> None:
    open_book = office.open(book)

    open_book.rename_sheet("Trees", "Woods '26")
    renamed = open_book.cell("Sum", "A1")
    open_book.delete_sheet("Woods '26")
    open_book.calculate(everything=True)

    assert renamed.formula == "=SUM($'Woods ''26'.$C$1:$C$9)"
    assert renamed.value == 30
    assert open_book.titles() == ["Sum"]
    # 524: a reference to what is gone.
    assert open_book.cell("Sum", "A1").error == 524


def test_what_is_saved_has_formulas_and_their_results(office: Office, book: Path, tmp_path: Path) -> None:
    open_book = office.open(book)
    open_book.enter("Trees", "B3", "4")

    saved = open_book.save(tmp_path / "saved.xlsx")
    other = open_book.save(tmp_path / "saved.ods")
    open_book.close()

    assert openpyxl.load_workbook(saved, data_only=True)["Trees"]["C3"].value == 8
    assert openpyxl.load_workbook(saved)["Trees"]["C3"].value == '=IF(B3="","",B3*2)'
    assert office.open(other).values("Trees", "C3") == [[8]]


def test_what_is_printed_is_one_sheet_or_all(office: Office, book: Path, tmp_path: Path) -> None:
    open_book = office.open(book)

    every, one = open_book.pdf(tmp_path / "all.pdf"), open_book.pdf(tmp_path / "one.pdf", "Trees")

    words = [
        subprocess.run(["pdftotext", path, "-"], check=True, capture_output=True, timeout=60).stdout.split()
        for path in (every, one)
    ]
    assert [b"oak" in found for found in words] == [True, True]
    assert [b"30" in found for found in words] == [True, False]


def test_a_request_that_cannot_be_met_is_an_error_and_the_next_one_is_met(office: Office, book: Path) -> None:
    open_book = office.open(book)

    with pytest.raises(OfficeError, match=r"^values: LookupError: no sheet Shrubs$"):
        open_book.values("Shrubs")

    assert open_book.titles() == ["Trees", "Sum"]


def test_libreoffice_ends_with_the_statement(tmp_path: Path, book: Path) -> None:
    with Office(tmp_path / "profile") as started:
        started.open(book)
        group = started.process
        os.killpg(group, 0)

    assert _gone(group)
    assert [path.name for path in book.parent.glob(".~lock*")] == []


def test_libreoffice_ends_when_it_takes_too_long(tmp_path: Path, book: Path) -> None:
    with Office(tmp_path / "profile") as started:
        open_book = started.open(book)
        started.limit = 0.01
        with pytest.raises(OfficeError, match=r"^no answer within 0\.01 seconds$"):
            open_book.save(tmp_path / "never.xlsx")
        ended = _gone(started.process)
        with pytest.raises(OfficeError, match="has ended"):
            open_book.titles()

    assert ended


def test_libreoffice_ends_with_a_process_that_is_killed(tmp_path: Path) -> None:
    script = (
        "import sys, time; from pathlib import Path; from tests.live.uno_session import Office\n"
        "with Office(Path(sys.argv[1])) as office: print(office.process, flush=True); time.sleep(600)"
    )
    command = [sys.executable, "-c", script, str(tmp_path / "profile")]
    with subprocess.Popen(
        command, stdout=subprocess.PIPE, text=True, cwd=Path(__file__).parents[2]
    ) as asking:
        assert asking.stdout is not None
        group = int(asking.stdout.readline())
        asking.kill()

    assert _gone(group)


def _gone(group: int, seconds: float = 30) -> bool:
    """Say whether no process of a group is left, after some time at most."""
    until = time.monotonic() + seconds
    while time.monotonic() < until:
        try:
            os.killpg(group, 0)
        except ProcessLookupError:
            return True
        time.sleep(0.1)
    return False


def test_gnumeric_calculates_what_is_typed(book: Path, tmp_path: Path) -> None:
    typed = {"Trees!B3": "7", "Trees!A3": "yew"}

    saved = saved_by_gnumeric(book, tmp_path / "gnumeric.xlsx", typed)

    rows = CalamineWorkbook.from_path(saved).get_sheet_by_name("Trees").to_python()
    assert rows[1:3] == [["oak", 7, 14, "twice there"], ["yew", 7, 14, "twice there"]]

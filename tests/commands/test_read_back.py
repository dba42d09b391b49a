"""What is written into Read back and Done of the sheet Cards goes into Readings, once, or stays there."""

from collections import Counter
from collections.abc import Iterator, Sequence
from datetime import datetime
from pathlib import Path
from random import Random
from typing import Any, NamedTuple

import pytest
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from openpyxl import load_workbook
from openpyxl.worksheet.worksheet import Worksheet

from rosterkit.commands.fill import fill
from rosterkit.cv.readings import Moment
from rosterkit.errors import CannotRunError
from rosterkit.template.new_workbook import new_workbook
from tests.command_line import run
from tests.samples.__main__ import saved_by_gnumeric, saved_by_libreoffice

MOMENT = Moment(day="2026-05-31", time="20:15:30")
ROWS: dict[str, list[dict[str, str | int | float | None]]] = {
    "Locomotives": [
        {"loco": "A", "address": 12, "vstart": 8, "notes": "x"},
        {"loco": "007", "address": 2102, "direction": "normal"},
    ],
    "Extra values": [
        {"loco": "A", "cv": 300, "value": 5, "index_high": 16, "index_low": 0},
        {"loco": "A", "cv": 300, "value": 6, "index_high": 16, "index_low": 1},
        {"loco": "A", "cv": 49, "value": 3},
    ],
    "Accessories": [{"accessory": "Yard throat", "kind": "turnout", "address": 1}],
}
DONE, LOCO, CV, INDEX, ENTRY, VALUE, WORDS, LAST, READ_BACK = 1, 2, 3, 4, 5, 6, 8, 9, 10


@pytest.fixture(scope="module")
def filled(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    path = tmp_path_factory.mktemp("club") / "club.xlsx"
    path.write_bytes(new_workbook(ROWS))
    fill(path)
    return path.read_bytes()


@pytest.fixture
def path(tmp_path: Path, filled: bytes) -> Path:
    path = tmp_path / "club.xlsx"
    path.write_bytes(filled)
    return path


class Line(NamedTuple):
    """A line of the sheet Cards, as another reader of .xlsx sees it."""

    row: int
    loco: str
    cv: int | None
    under: str | None
    value: int | None
    reads: bool
    done: Any
    read_back: Any


def _lines(path: Path) -> list[Line]:
    return list(_lines_of(load_workbook(path)["Cards"]))


def _lines_of(sheet: Worksheet) -> Iterator[Line]:
    for row in range(2, sheet.max_row + 1):
        cells: list[Any] = [sheet.cell(row, column).value for column in range(1, 11)]
        if cells[LOCO - 1]:
            cv, value = (None if one is None else int(one) for one in (cells[CV - 1], cells[VALUE - 1]))
            reads = str(cells[WORDS - 1]).startswith("read first")
            done, read = cells[DONE - 1], cells[READ_BACK - 1]
            yield Line(row, str(cells[LOCO - 1]), cv, cells[INDEX - 1], value, reads, done, read)


def _readings(path: Path) -> list[tuple[Any, ...]]:
    rows = load_workbook(path)["Readings"].iter_rows(min_row=2, max_col=10, values_only=True)
    return [row for row in rows if any(cell is not None for cell in row)]


def _typed(path: Path, loco: str, cv: int, *, done: Any = None, read: Any = None, reads: bool = False) -> str:
    """Type into the line of a CV, and return the cell of what was read back."""
    book = load_workbook(path)
    sheet = book["Cards"]
    line = next(one for one in _lines_of(sheet) if one[1:3] == (loco, cv) and one.reads is reads)
    for column, content in ((DONE, done), (READ_BACK, read)):
        if content is not None:
            sheet.cell(line.row, column).value = content
    book.save(path)
    return f"J{line.row}"


def _line(path: Path, loco: str, cv: int) -> Line:
    return next(one for one in _lines(path) if one[1:3] == (loco, cv) and not one.reads)


DAY, TIME = "2026-05-31", "20:15:30"


@pytest.mark.parametrize(
    ("done", "read", "reading", "left"),
    [
        pytest.param(None, 8, (DAY, TIME, 8, None), ("already so", None), id="as wanted"),
        pytest.param(None, 7, (DAY, TIME, 7, None), (None, None), id="another value, to be keyed in again"),
        pytest.param("x", 8, (DAY, TIME, 8, None), ("already so", None), id="with a tick, which goes"),
        pytest.param(None, " 8 ", (DAY, TIME, 8, None), ("already so", None), id="as a text with blanks"),
        pytest.param(None, "-", (DAY, TIME, None, None), (None, None), id="no acknowledgment"),
        pytest.param(
            datetime(2026, 5, 3), 8, ("2026-05-03", None, 8, None), ("already so", None), id="with a date"
        ),
        pytest.param(
            "2026-05-03", 8, ("2026-05-03", None, 8, None), ("already so", None), id="with a day as a text"
        ),
        pytest.param(
            "2026-02-30", 8, (DAY, TIME, 8, "2026-02-30"), ("already so", None), id="with a day that is none"
        ),
        pytest.param(
            datetime(2026, 5, 3, 19, 5),
            8,
            ("2026-05-03", "19:05:00", 8, None),
            ("already so", None),
            id="with a date and a time",
        ),
        pytest.param(
            "M02, after cleaning",
            8,
            (DAY, TIME, 8, "M02, after cleaning"),
            ("already so", None),
            id="with words, which become the note of the reading",
        ),
        pytest.param("x", None, None, ("x", None), id="a tick alone: keyed in is not read back"),
        pytest.param(
            datetime(2026, 5, 3), None, None, ("2026-05-03", None), id="a day alone is a tick of that day"
        ),
        pytest.param(None, 256, None, (None, 256), id="more than a CV holds stays"),
        pytest.param("x", -1, None, ("x", -1), id="less than nothing stays, and so does its tick"),
        pytest.param(None, 8.5, None, (None, 8.5), id="half a number stays"),
        pytest.param(None, "8?", None, (None, "8?"), id="a doubt stays"),
        pytest.param(None, True, None, (None, "TRUE"), id="a truth value stays, as a text"),
        pytest.param(
            None, datetime(2026, 8, 1), None, (None, "2026-08-01"), id="what a program made a date stays"
        ),
    ],
)
def test_what_is_written_beside_a_cv_is(
    path: Path, done: Any, read: Any, reading: tuple[Any, ...] | None, left: tuple[Any, Any]
) -> None:
    cell = _typed(path, "A", 2, done=done, read=read)

    ran = fill(path, moment=MOMENT)

    found = [(row[0], row[1], row[4], row[7]) for row in _readings(path)]
    line = _line(path, "A", 2)
    assert found == ([reading] if reading else [])
    assert (line.done, line.read_back) == left
    named = [remark for remark in ran.remarks if cell in remark]
    assert len(named) == (left[1] is not None)


def test_readings_have_engine_cv_index_and_verdict_and_the_second_fill_takes_none(path: Path) -> None:
    book = load_workbook(path)
    sheet = book["Cards"]
    for line in _lines_of(sheet):
        if line.cv in (1, 300, 49) or (line.cv == 29 and line.loco == "A"):
            sheet.cell(line.row, READ_BACK).value = 2 if line.reads else line.value or 3
    book.save(path)

    first = run("fill", path)
    stood = path.read_bytes()
    again = run("fill", path)

    assert [row[2:7] + row[8:] for row in _readings(path)] == [
        ("A", 29, 2, None, None, 2, "agrees"),
        ("A", 1, 12, None, None, 12, "agrees"),
        ("A", 29, 2, None, None, 2, "agrees"),
        ("A", 49, 3, None, None, 3, "agrees"),
        ("A", 300, 5, 16, 0, 5, "agrees"),
        ("A", 300, 6, 16, 1, 6, "agrees"),
        ("Yard throat", 1, 1, None, None, 1, "agrees"),
    ]
    assert "took 7 readings over from the sheet 'Cards' into the sheet 'Readings'" in first.err
    assert (again.err, path.read_bytes()) == (f"{path} is filled already; nothing was written\n", stood)


def test_of_one_cv_on_two_lines_the_one_that_is_read_first_is_older(path: Path) -> None:
    """Readings of one time contradict each other; CV29 is read before it is keyed in."""
    _typed(path, "A", 29, read=6, reads=True)
    _typed(path, "A", 29, read=2)

    ran = fill(path, moment=MOMENT)

    assert [(row[1], row[3], row[4]) for row in _readings(path)] == [("20:15:29", 29, 6), (TIME, 29, 2)]
    assert not [one for one in ran.report.findings if one.rule == "readings-contradict"]


def test_a_tick_goes_with_what_was_read_and_is_named_where_another_value_was(path: Path) -> None:
    _typed(path, "A", 2, done="x", read=7)

    ran = run("fill", path)

    assert "CV2 of 'A' was ticked, and read 7, not 8: the line is not ticked any more\n" in ran.err
    assert _line(path, "A", 2).done is None


def test_a_tick_stays_while_its_line_is_the_same_and_is_named_when_that_goes(path: Path) -> None:
    _typed(path, "A", 2, done="x")
    book = load_workbook(path)
    book["Locomotives"].cell(3, 9).value = 2103
    book.save(path)
    fill(path)
    kept = _line(path, "A", 2)
    vstart = next(cell.column for cell in load_workbook(path)["Locomotives"][1] if cell.value == "Vstart")
    book = load_workbook(path)
    book["Locomotives"].cell(2, vstart).value = 9
    book.save(path)
    stood = path.read_bytes()

    with pytest.raises(CannotRunError, match=rf"no line on the new one any more: A{kept.row} \(CV2 of 'A'\)"):
        fill(path)

    assert (kept.done, path.read_bytes()) == ("x", stood)
    assert fill(path, replace=True).written
    assert _line(path, "A", 2).done is None


def test_a_tick_of_a_line_that_is_gone_is_not_missed_where_a_reading_shows_its_value(path: Path) -> None:
    _typed(path, "A", 29, done="x", reads=True)
    run("cards", path, "--loco", "A", "--record", "29=2")

    assert fill(path).written
    assert not [line for line in _lines(path) if line.cv == 29 and line.loco == "A" and line.reads]


def test_what_is_no_value_stands_on_the_card_in_words_until_it_is_corrected(path: Path) -> None:
    _typed(path, "A", 2, read="lots")
    words = "Read back of CV2 of 'A': 'lots' is not a value from 0 to 255, nor - where there was no"

    first, again = run("fill", path), run("fill", path)
    texts = [str(cell.value) for cell in load_workbook(path)["Cards"]["A"]]
    _typed(path, "A", 2, read=8)
    last = run("fill", path)

    assert words in first.err
    assert words in again.err
    assert [text for text in texts if words in text]
    assert "took 1 reading over" in last.err
    assert not [text for text in _lines(path) if text.read_back]


def test_what_may_be_of_either_of_two_engines_of_a_label_is_named_and_nothing_written(path: Path) -> None:
    cell = _typed(path, "A", 29, read=2)
    book = load_workbook(path)
    book["Locomotives"]["A3"] = "A"
    book.save(path)
    stood = path.read_bytes()

    ran = run("fill", path)

    assert (ran.status, path.read_bytes()) == (2, stood)
    assert f"no line on the new one any more: {cell} (CV29 of 'A')" in ran.err


def test_the_copy_has_the_readings_and_the_workbook_stays_as_it_is(path: Path) -> None:
    _typed(path, "A", 2, read=8)
    stood, copy = path.read_bytes(), path.with_name("copy.xlsx")

    fill(path, copy)

    assert (path.read_bytes(), len(_readings(copy))) == (stood, 1)


def test_a_workbook_without_readings_gets_the_sheet(path: Path) -> None:
    book = load_workbook(path)
    del book["Readings"]
    book.save(path)
    _typed(path, "A", 2, read=8)

    fill(path, moment=MOMENT)

    assert _readings(path) == [(DAY, TIME, "A", 2, 8, None, None, None, 8, "agrees")]
    assert _line(path, "A", 2).done == "already so"


_CONTENT = (None, None, 0, 7, 8, 255, "34", "-", 256, -3, 2.5, "12 or 13")
_TICK = (None, None, None, "x", "ok", "✓")


@settings(
    max_examples=5,
    deadline=None,
    phases=[Phase.explicit, Phase.generate],
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(seed=st.integers(0, 2**32))
def test_nothing_is_lost_and_each_reading_arrives_once_from_whatever_row(
    path: Path, filled: bytes, seed: int
) -> None:
    path.write_bytes(filled)
    typed = _typed_anywhere(path, Random(seed))  # noqa: S311 - no secret

    fill(path)
    fill(path)

    _all_is_accounted_for(path, typed)


def _typed_anywhere(path: Path, chance: Random) -> list[Line]:
    """Write into any lines, sort them in any order, and return those with something written."""
    book = load_workbook(path)
    sheet: Any = book["Cards"]
    lines = list(_lines_of(sheet))
    for line in lines:
        for column, content in ((READ_BACK, chance.choice(_CONTENT)), (DONE, chance.choice(_TICK))):
            if content is not None and sheet.cell(line.row, column).value is None and line.cv:
                sheet.cell(line.row, column).value = content
    rows = [[sheet.cell(line.row, column).value for column in range(1, 12)] for line in lines]
    for line, cells in zip(lines, chance.sample(rows, len(rows)), strict=True):
        for column, content in enumerate(cells, 1):
            sheet.cell(line.row, column).value = content
    book.save(path)
    return [line for line in _lines_of(sheet) if line.done or line.read_back is not None]


def _all_is_accounted_for(path: Path, typed: Sequence[Line]) -> None:
    def is_value(content: Any) -> bool:
        whole = isinstance(content, int) and 0 <= content <= 255
        return whole or content == "-" or (isinstance(content, str) and content.isdigit())

    def what(line: Line) -> tuple[Any, ...]:
        return line.loco, line.cv, line.under

    read = Counter((*what(one), str(one.read_back)) for one in typed if is_value(one.read_back))
    found = Counter(
        (loco, cv, None if high is None else f"{high}/{low}", "-" if value is None else str(value))
        for _, _, loco, cv, value, high, low, *_ in _readings(path)
    )
    now = _lines(path)
    kept = [(*what(one), one.read_back) for one in now if one.read_back is not None]
    unclear = [
        (*what(one), one.read_back)
        for one in typed
        if one.read_back is not None and not is_value(one.read_back)
    ]
    ticks = Counter(what(one) for one in now if one.done)
    answered = {key[:3] for key in read}
    assert found == read
    assert Counter(kept) == Counter(unclear)
    for key, count in Counter(what(one) for one in typed if one.done in ("x", "ok", "✓")).items():
        assert key in answered or ticks[key] >= count


@pytest.mark.external
@pytest.mark.filterwarnings("ignore:Workbook contains no default style:UserWarning")
@pytest.mark.parametrize("saved_by", [saved_by_libreoffice, saved_by_gnumeric])
def test_what_is_written_arrives_once_also_after_another_program_saved_it(
    path: Path, tmp_path: Path, saved_by: Any
) -> None:
    typed = _typed_anywhere(path, Random(29))  # noqa: S311 - no secret
    folder = tmp_path / "saved"
    folder.mkdir()
    saved = saved_by(path, folder)

    fill(saved)
    fill(saved)

    assert len(typed) > 15
    _all_is_accounted_for(saved, typed)

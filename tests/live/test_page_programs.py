"""The sheet Live as LibreOffice and Gnumeric calculate it, compared with the project's own evaluator.

The evaluator's results are those that ``test_asked_address``, ``test_read_cvs`` and ``test_free_addresses``
hold against the tool's own code. A workbook has several sheets Live, each with something else typed into it.
"""

import random
import subprocess
from collections.abc import Callable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from python_calamine import CalamineWorkbook

from rosterkit.live.blocks import machinery_for
from rosterkit.live.facts import facts_of
from rosterkit.live.inputs import INPUTS
from rosterkit.live.machinery import FIRST_COLUMN
from rosterkit.live.page import live_sheet
from rosterkit.live.writing import filled
from rosterkit.xlsx.changes import OwnCell, OwnSheet
from rosterkit.xlsx.grid import Workbook
from tests.live.clubs import random_club, random_question
from tests.live.gnumeric import saved_by_gnumeric
from tests.live.pages import Page, page_of
from tests.rosters import workbook

pytestmark = [pytest.mark.external, pytest.mark.xdist_group("the sheet Live")]

Typed = Mapping[str, object]
Program = Callable[[Path], Path]


def _by_libreoffice(path: Path) -> Path:
    out = path.parent / "libreoffice"
    command = ["soffice", f"-env:UserInstallation={(path.parent / 'profile').as_uri()}", "--headless"]
    command += ["--convert-to", "xlsx", "--outdir", str(out), str(path)]
    subprocess.run(command, check=True, capture_output=True, timeout=600)
    return out / path.name


def _by_gnumeric(path: Path) -> Path:
    return saved_by_gnumeric(path, path.with_stem("gnumeric"))


PROGRAMS = pytest.mark.parametrize(
    "program", [pytest.param(_by_libreoffice, id="LibreOffice"), pytest.param(_by_gnumeric, id="Gnumeric")]
)
"""Runs a test with each program."""


def _sheets(page: Page, questions: Sequence[Typed]) -> Iterator[tuple[str, OwnSheet]]:
    """Return a sheet Live for each question, under a title of its own."""
    for n in range(1, len(questions) + 1):
        title = "Live" if n == 1 else f"Live {n}"
        machinery = machinery_for(page.made.places, facts_of(page.made.roster, page.made.found), title=title)
        yield title, live_sheet(page.made.places, machinery)


def _saved(page: Page, questions: Sequence[Typed], path: Path) -> Path:
    """Write the workbook with what is typed; no formula has a result yet."""
    book = openpyxl.Workbook()
    book.remove(book.worksheets[0])
    place = page.made.places["Locomotives"]
    for title, grid in page.made.grids.items():
        _put(book.create_sheet(title), grid.rows)
    for name, template in page.made.formulas.items():
        for row in range(place.heading_row + 1, place.last_row + 1):
            book[place.title].cell(row, place.columns[name], f"={filled(template, row)}")
    for (title, own_sheet), typed in zip(_sheets(page, questions), questions, strict=True):
        sheet = book.create_sheet(title)
        _put(sheet, [[_content(own) for own in cells] for cells in own_sheet.rows])
        for name, content in typed.items():
            sheet.cell(INPUTS[name].row, INPUTS[name].column, content)
    book.save(path)
    return path


def _content(cell: OwnCell) -> object:
    return cell.value if cell.formula is None else f"={cell.formula}"


def _put(sheet: Any, rows: Sequence[Sequence[object]]) -> None:
    for row, cells in enumerate(rows, 1):
        for column, content in enumerate(cells, 1):
            if content not in ("", None):
                sheet.cell(row, column, content)


def _differing(program: Program, source: Workbook, questions: Sequence[Typed], folder: Path) -> list[object]:
    """Return the cells for people that a program gives another content than the evaluator."""
    page = page_of(source)
    made = CalamineWorkbook.from_path(program(_saved(page, questions, folder / "club.xlsx")))
    places = [at for at in page.single if at[1] < FIRST_COLUMN]
    found: list[object] = []
    for n, typed in enumerate(questions, 1):
        rows = made.get_sheet_by_name("Live" if n == 1 else f"Live {n}").to_python(skip_empty_area=False)
        answer = page.asked(**typed)
        for row, column in places:
            cells = rows[row - 1] if row <= len(rows) else []
            shown, wanted = cells[column - 1] if column <= len(cells) else "", answer.cell(row, column)
            if shown != wanted:
                found.append((typed, row, column, shown, wanted))
    return found


def _questions(seed: int, count: int) -> list[Typed]:
    """Type into every part: an address, a wish for a free one, CVs."""
    rnd = random.Random(seed)  # noqa: S311 - the same at every run
    questions = []
    for _ in range(count):
        typed = {
            "number": rnd.choice((3, 25, 105, 2107, rnd.randrange(1, 10240), 10240, "25a", 0, " 77 ")),
            "kind": rnd.choice((None, "short", "Long", "middle")),
            "cv1": rnd.choice((None, 0, 3, 105, 201, 255)),
            "cv17": rnd.choice((None, 8, 192, 195, 231, 255)),
            "cv18": rnd.choice((None, 0, 105, 232, 255)),
            "cv29": rnd.choice((None, *range(256), "x")),
        }
        one = {name: content for name, content in typed.items() if content is not None}
        questions.append({**one, **random_question(rnd)})
    odd = {"near": "47022A", "free_kind": "accessory", "number": "1e3", "cv1": "$12", "cv29": "2,5"}
    return [{}, *questions, odd]


@PROGRAMS
@pytest.mark.parametrize("seed", [1, 4])
def test_programs_say_what_the_tool_says(program: Program, seed: int, tmp_path: Path) -> None:
    assert _differing(program, random_club(seed), _questions(seed, 8), tmp_path) == []


@pytest.mark.domain
@PROGRAMS
@pytest.mark.parametrize("seed", range(20, 28))
def test_programs_say_what_the_tool_says_of_many(program: Program, seed: int, tmp_path: Path) -> None:
    assert _differing(program, random_club(seed), _questions(seed, 20), tmp_path) == []


@pytest.mark.domain
@PROGRAMS
def test_programs_say_every_cv29_in_words(program: Program, tmp_path: Path) -> None:
    source = workbook([{"Loco": "A", "Address": 5}])

    for first in range(0, 256, 64):
        questions = [{"cv1": 5, "cv29": value} for value in range(first, first + 64)]

        assert _differing(program, source, questions, tmp_path) == []

"""Rows of a list in another order: each goes whole, and none goes where something is bound to its place."""

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook

from rosterkit.xlsx.changes import RowOrder, WorkbookChange
from rosterkit.xlsx.package.opening import opened
from rosterkit.xlsx.patch.row_order import RowsBoundError
from rosterkit.xlsx.save.edit import edited
from tests.xlsx.clubs import HEADINGS, TITLE, club, locomotives
from tests.xlsx.edits import made
from tests.xlsx.features_drawn import png
from tests.xlsx.packages import parts, stored

TURNED = {2: 4, 3: 2, 4: 3, 5: 5, 6: 6}
"""By the row: which row is to stand there."""


def ordered(staying: frozenset[int] = frozenset()) -> WorkbookChange:
    return WorkbookChange(orders=(RowOrder(title=TITLE, rows=TURNED, staying=staying),))


def workbook(path: Path, change: Callable[[Any], object] = lambda book: None) -> Path:
    book = club(path)
    change(book)
    book.close()
    return path


def rows_of(path: Path) -> list[tuple[object, ...]]:
    return [
        tuple((cell.value, cell.number_format, cell.fill.fgColor.rgb) for cell in row)
        for row in load_workbook(path)[TITLE].iter_rows(min_row=1, max_row=6)
    ]


def test_rows_go_with_their_values_formats_and_heights(tmp_path: Path) -> None:
    def coloured(book: Any) -> None:
        yellow = book.add_format({"bg_color": "#FFFF00"})
        locomotives(book).write("C4", 77, yellow)
        locomotives(book).write_rich_string("B4", book.add_format({"bold": True}), "much", " said")
        locomotives(book).set_row(3, 30)

    path = workbook(tmp_path / "club.xlsx", coloured)
    before, packed = rows_of(path), stored(path)

    assert made(path, ordered()).changed

    assert rows_of(path) == [before[0], before[3], before[1], before[2], before[4], before[5]]
    assert load_workbook(path)[TITLE].row_dimensions[2].height == 30
    assert {name for name, one in stored(path).items() if one != packed[name]} == {"xl/worksheets/sheet1.xml"}


def test_columns_whose_formulas_count_by_place_stay(tmp_path: Path) -> None:
    def computed(book: Any) -> None:
        for row in range(2, 7):
            locomotives(book).write_formula(f"F{row}", f"=C{row}+1", None, row)

    path = workbook(tmp_path / "club.xlsx", computed)
    before = rows_of(path)

    made(path, ordered(frozenset({6})))

    after = rows_of(path)
    assert [cells(row)[5] for row in after[1:]] == [f"=C{row}+1" for row in range(2, 7)]
    assert [row[:5] for row in after] == [before[at][:5] for at in (0, 3, 1, 2, 4, 5)]


def test_there_and_back_gives_the_same_rows(tmp_path: Path) -> None:
    path = workbook(tmp_path / "club.xlsx")
    before = rows_of(path)
    back = {old: new for new, old in TURNED.items()}

    made(path, ordered())
    made(path, WorkbookChange(orders=(RowOrder(title=TITLE, rows=back),)))

    assert rows_of(path) == before


def cells(row: Sequence[Any]) -> list[object]:
    return [value for value, *_ in row]


def _table(book: Any, area: str = "A1:E6") -> None:
    columns = [{"header": heading} for heading in HEADINGS]
    locomotives(book).add_table(area, {"columns": columns[: ord(area[3]) - ord("A") + 1]})


def _elsewhere(formula: str) -> Callable[[Any], object]:
    return lambda book: book.add_worksheet("Sums").write_formula("A1", formula)


def _listed(area: str) -> Callable[[Any], object]:
    rule = {"validate": "integer", "criteria": ">", "value": 0}
    return lambda book: locomotives(book).data_validation(area, rule)


def _highlighted(area: str) -> Callable[[Any], object]:
    return lambda book: locomotives(book).conditional_format(area, {"type": "duplicate"})


@pytest.mark.parametrize(
    "change",
    [
        pytest.param(_table, id="a table over all"),
        pytest.param(_elsewhere("=SUM(Locomotives!C2:C6)"), id="a sum over all"),
        pytest.param(_elsewhere("=Locomotives!C1&Locomotives!C5"), id="references to rows that stay"),
        pytest.param(_elsewhere("=Sums!C3"), id="a reference to another sheet"),
        pytest.param(lambda book: locomotives(book).write_formula("C9", "=SUM(C2:C6)"), id="a total"),
        pytest.param(_listed("C2:C9"), id="a limit for all"),
        pytest.param(_highlighted("A2:E6"), id="a conditional format over all"),
        pytest.param(lambda book: locomotives(book).write_comment("A1", "x"), id="a note on a heading"),
        pytest.param(lambda book: locomotives(book).autofilter("A1:E6"), id="a filter"),
        pytest.param(lambda book: book.define_name("All", "=Locomotives!$C$2:$C$6"), id="a name of all"),
    ],
)
def test_what_lies_over_all_the_rows_does_not_keep_them(
    tmp_path: Path, change: Callable[[Any], object]
) -> None:
    path = workbook(tmp_path / "club.xlsx", change)
    before = rows_of(path)

    made(path, ordered())

    assert [row[:5] for row in rows_of(path)] == [before[at][:5] for at in (0, 3, 1, 2, 4, 5)]


@pytest.mark.parametrize(
    ("change", "what"),
    [
        pytest.param(lambda book: locomotives(book).write_comment("B3", "x"), "a note at B3", id="a note"),
        pytest.param(
            lambda book: locomotives(book).insert_image("F3", "a.png", {"image_data": png()}),
            "a photo at F3",
            id="a photo",
        ),
        pytest.param(
            lambda book: locomotives(book).insert_image("F1", "a.png", {"image_data": png(), "y_scale": 2}),
            "a table or a drawing over F1:",
            id="a photo that reaches into the rows",
        ),
        pytest.param(
            lambda book: locomotives(book).merge_range("F3:G3", "x"),
            "merged cells (F3:G3)",
            id="merged cells",
        ),
        pytest.param(
            lambda book: locomotives(book).write_url("F4", "internal:Locomotives!A1"),
            "a link (F4)",
            id="a link",
        ),
        pytest.param(
            lambda book: locomotives(book).write_formula("F3", "=C3*2"), "a formula in F3", id="a formula"
        ),
        pytest.param(lambda book: _table(book, "A1:E3"), "a table or a drawing", id="a table over some"),
        pytest.param(_listed("C3"), "a drop-down list or a limit for some of the rows (C3)", id="a limit"),
        pytest.param(_highlighted("C2:C3"), "a conditional format for some of the rows", id="a format"),
        pytest.param(
            _elsewhere("=Locomotives!C3"),
            "that refers to some of the rows (Locomotives!C3)",
            id="a reference",
        ),
        pytest.param(
            _elsewhere("=SUM('locomotives'!$C$3:$C$9)"), "refers to some of the rows", id="a sum over some"
        ),
        pytest.param(
            _elsewhere('=INDIRECT("Locomotives!C3")'),
            "refers to some of the rows",
            id="a text",
        ),
        pytest.param(
            lambda book: locomotives(book).write_formula("C9", "=SUM(C2:C3)"),
            "refers to some of the rows",
            id="a part of a total",
        ),
        pytest.param(
            lambda book: book.define_name("One", "=Locomotives!$C$2"),
            "refers to some of the rows",
            id="a name",
        ),
        pytest.param(
            lambda book: locomotives(book).set_h_pagebreaks([3]),
            "the end of a printed page",
            id="a page's end",
        ),
    ],
)
def test_what_is_bound_to_a_row_keeps_them_all(
    tmp_path: Path, change: Callable[[Any], object], what: str
) -> None:
    path = workbook(tmp_path / "club.xlsx", change)
    before = path.read_bytes()

    with pytest.raises(RowsBoundError) as bound:
        edited(opened(path), ordered())

    assert what in str(bound.value)
    assert path.read_bytes() == before


def test_a_row_that_is_not_there_keeps_them_all(tmp_path: Path) -> None:
    path = workbook(tmp_path / "club.xlsx")
    order = RowOrder(title=TITLE, rows={2: 40, 40: 2})

    with pytest.raises(RowsBoundError, match="a row in which nothing stands"):
        edited(opened(path), WorkbookChange(orders=(order,)))
    assert b'<row r="40"' not in parts(path)["xl/worksheets/sheet1.xml"]

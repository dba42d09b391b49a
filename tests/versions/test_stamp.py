"""The stamp of a copy: what it is made of, where it stands, and which copies it refuses."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook
from openpyxl.styles import Font
from openpyxl.workbook.defined_name import DefinedName

from rosterkit.errors import CannotRunError
from rosterkit.versions.stamp import (
    STAMP_NAME,
    base_name,
    content_stamp,
    member_of,
    require_base,
    stamp_of,
    unverified,
)
from rosterkit.xlsx.package.opening import Package, opened
from rosterkit.xlsx.read.names import named_text
from tests.xlsx.packages import before, patch

SAMPLES = Path(__file__).parents[2] / "sample_workbooks"
DEMO = SAMPLES / "demo_club.xlsx"


def edited(folder: Path, change: Callable[[Any], object], name: str = "edited.xlsx") -> Package:
    book = load_workbook(DEMO)
    change(book)
    book.save(folder / name)
    return opened(folder / name)


def stamped(path: Path, text: str) -> Package:
    markup = f'<definedName name="{STAMP_NAME}" hidden="1">"{text}"</definedName>'
    path.write_bytes(DEMO.read_bytes())
    patch(path, {"xl/workbook.xml": before("</definedNames>", markup)})
    return opened(path)


def swapped(book: Any) -> None:
    """Let two engines change places, all that was typed of them and in the columns of the member's own."""
    sheet = book["Locomotives"]
    for first, second in zip(sheet[2], sheet[9], strict=True):
        first.value, second.value = second.value, first.value


def moved_column(book: Any) -> None:
    sheet = book["Address ranges"]
    column = [(cell.value) for cell in sheet["B"]]
    sheet.delete_cols(2)
    for row, value in enumerate(column, 1):
        sheet.cell(row, 9).value = value


@pytest.mark.parametrize(
    "name",
    [
        pytest.param("demo_club_libreoffice.xlsx", id="by LibreOffice"),
        pytest.param("demo_club_gnumeric.xlsx", id="by Gnumeric"),
    ],
)
def test_the_contents_are_the_same_after_another_program_saved_them(name: str) -> None:
    assert content_stamp(opened(SAMPLES / name)) == content_stamp(opened(DEMO))


@pytest.mark.parametrize(
    "change",
    [
        pytest.param(swapped, id="rows in another order"),
        pytest.param(moved_column, id="a column in another place"),
        pytest.param(lambda book: book.move_sheet("Address ranges", 2), id="a sheet in another place"),
        pytest.param(lambda book: setattr(book["Live"]["A3"], "value", "x"), id="a sheet of ours"),
        pytest.param(lambda book: setattr(book["Locomotives"]["C3"], "font", Font(bold=True)), id="a format"),
        pytest.param(lambda book: book.create_sheet("Blank"), id="a blank sheet"),
    ],
)
def test_what_is_no_content_of_the_members_does_not_count(
    tmp_path: Path, change: Callable[[Any], object]
) -> None:
    assert content_stamp(edited(tmp_path, change)) == content_stamp(opened(DEMO))


def test_a_computed_column_does_not_count(tmp_path: Path) -> None:
    def cleared(book: Any) -> None:
        sheet = book["Locomotives"]
        column = next(cell.column for cell in sheet[1] if cell.value == "CV29")
        for row in range(1, sheet.max_row + 1):
            sheet.cell(row, column).value = None

    assert content_stamp(edited(tmp_path, cleared)) == content_stamp(opened(DEMO))


@pytest.mark.parametrize(
    ("sheet", "cell", "value"),
    [
        pytest.param("Locomotives", "A2", "JV 2109", id="the label of an engine"),
        pytest.param("Locomotives", "A60", "JV 2109", id="an engine below the others"),
        pytest.param("Layout", "B2", "Elsewhere", id="a setting"),
        pytest.param("Address ranges", "H1", "Phone", id="a heading of a member's own"),
        pytest.param("Address ranges", "H2", "x", id="a cell without a heading"),
    ],
)
def test_what_members_fill_in_counts(tmp_path: Path, sheet: str, cell: str, value: str) -> None:
    def typed(book: Any) -> None:
        book[sheet][cell].value = value

    assert content_stamp(edited(tmp_path, typed)) != content_stamp(opened(DEMO))


def test_a_sheet_of_the_members_own_counts_in_any_order_of_its_rows(tmp_path: Path) -> None:
    def sheet_of(*rows: tuple[object, ...]) -> Callable[[Any], object]:
        def change(book: Any) -> None:
            sheet = book.create_sheet("Tools")
            for row in rows:
                sheet.append(row)

        return change

    file, rod = ("file", 3), ("rod", "x")
    first = content_stamp(edited(tmp_path, sheet_of(file, rod)))
    turned = content_stamp(edited(tmp_path, sheet_of(rod, file)))
    other = content_stamp(edited(tmp_path, sheet_of(file, (3, "x"))))

    assert first == turned
    assert len({first, other, content_stamp(opened(DEMO))}) == 3


def test_a_stamp_is_32_hexadecimal_digits() -> None:
    stamp = content_stamp(opened(DEMO))

    assert len(stamp) == 32
    assert set(stamp) <= set("0123456789abcdef")


def test_the_stamp_is_read_from_a_hidden_name_with_the_name_of_the_master(tmp_path: Path) -> None:
    package = stamped(tmp_path / "copy.xlsx", f'{"0a" * 16} club ""A"" &amp; B.xlsx')

    assert stamp_of(package) == "0a" * 16
    assert base_name(package) == 'club "A" & B.xlsx'
    assert member_of(package) is None


@pytest.mark.parametrize(
    "text",
    [
        pytest.param("", id="nothing"),
        pytest.param("0A" * 16, id="other digits"),
        pytest.param("0a" * 15, id="too few digits"),
        pytest.param(f'{"0a" * 16}" &amp; "b', id="a formula"),
    ],
)
def test_anything_else_under_that_name_is_no_stamp(tmp_path: Path, text: str) -> None:
    assert stamp_of(stamped(tmp_path / "copy.xlsx", text)) is None


def test_a_name_of_one_sheet_is_no_stamp(tmp_path: Path) -> None:
    def named(book: Any) -> None:
        text = f'"{"0a" * 16}"'
        book["Consists"].defined_names[STAMP_NAME] = DefinedName(STAMP_NAME, attr_text=text)

    package = edited(tmp_path, named)

    assert stamp_of(package) is None
    assert named_text(package, STAMP_NAME) is None


def test_a_copy_goes_with_its_base_and_with_the_master_as_it_was(tmp_path: Path) -> None:
    copy = stamped(tmp_path / "copy.xlsx", f"{content_stamp(opened(DEMO))} demo_club.xlsx")

    require_base(opened(DEMO), copy)
    require_base(opened(SAMPLES / "demo_club_libreoffice.xlsx"), copy)
    require_base(copy, copy)
    assert unverified(copy, "copy") is None


def test_a_copy_of_another_base_is_refused_with_the_name_of_its_master(tmp_path: Path) -> None:
    copy = stamped(tmp_path / "copy.xlsx", f"{'0a' * 16} spring.xlsx")

    with pytest.raises(CannotRunError, match="is a copy of another base than") as refused:
        require_base(opened(DEMO), copy)

    assert "'spring.xlsx' as it was when it was sent (stamp 0a0a0a0a)" in refused.value.message
    assert refused.value.fix == "Give --base that workbook, or merge this copy apart from the others."


def test_a_copy_that_somebody_edited_is_no_base_for_the_others(tmp_path: Path) -> None:
    text = f"{content_stamp(opened(DEMO))} demo_club.xlsx"
    copy = stamped(tmp_path / "copy.xlsx", text)
    other = load_workbook(stamped(tmp_path / "other.xlsx", text).path)
    other["Locomotives"]["A2"].value = "JV 2109"
    other.save(tmp_path / "other.xlsx")

    with pytest.raises(CannotRunError, match="was edited after it was sent"):
        require_base(opened(tmp_path / "other.xlsx"), copy)


def test_a_copy_without_a_stamp_passes_and_is_named_as_unverified() -> None:
    copy = opened(SAMPLES / "clean.xlsx")

    require_base(opened(DEMO), copy)
    note = unverified(copy, "M01")

    assert note is not None
    assert (note.source, note.sheet, note.cell) == ("M01", "", "")
    assert "was not sent with 'rosterkit send', or lost its stamp" in note.reason

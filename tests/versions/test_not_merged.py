"""What of a copy is named as not merged, and that nothing is of a copy that a program only saved."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

import pytest
import xlsxwriter

from rosterkit.versions.changes import rows_in
from rosterkit.versions.not_merged import things_not_merged
from rosterkit.versions.version import version_of
from rosterkit.xlsx.package.opening import opened
from tests.live.gnumeric import saved_by_gnumeric
from tests.live.uno_session import Office
from tests.xlsx.features_drawn import png
from tests.xlsx.features_patched import threaded_comments
from tests.xlsx.packages import patch, replaced

Found = list[tuple[str, str, object, str]]
"""Sheet, cell, value and reason."""
SAMPLES = Path(__file__).parents[2] / "sample_workbooks"
HEADINGS = ("Loco", "Owner", "Railway", "Number", "Address", "Length")
A, B, C = (
    ("A", "M01", "Elm", "7", 12, 0.5),
    ("B", "M01", "Elm", "8", 13, 1.5),
    ("C", "M02", "Oak", "9", 14, 2.5),
)


@dataclass(frozen=True, kw_only=True)
class Club:
    """A workbook as a member has it; places by row and column from 0."""

    rows: Sequence[Sequence[object]] = (A, B, C)
    headings: Sequence[str] = HEADINGS
    above: Sequence[str] = ("The club's engines",)
    """Lines above the headings."""
    cells: Mapping[str, object] = field(default_factory=dict)
    formats: Mapping[str, Mapping[str, object]] = field(default_factory=lambda: {"B2": {"bold": True}})
    notes: Mapping[str, str] = field(default_factory=lambda: {"A4": "runs well", "B2": "whose it is"})
    photos: Mapping[str, int] = field(default_factory=lambda: {"H3": 24, "H9": 30})
    """Widths by cells: each width is another photo."""
    chart: str | None = "H20"
    box: Mapping[str, str] = field(default_factory=lambda: {"H40": "ask M01"})

    def write(self, path: Path) -> Path:
        book = xlsxwriter.Workbook(str(path))
        sheet = book.add_worksheet("Locomotives")
        table = [*([line] for line in self.above), self.headings, *self.rows]
        values = {
            (row, column): value for row, cells in enumerate(table) for column, value in enumerate(cells)
        }
        places = {f"{'ABCDEFGHIJ'[column]}{row + 1}": value for (row, column), value in values.items()}
        for cell in dict.fromkeys([*places, *self.cells, *self.formats]):
            value = {**places, **self.cells}.get(cell)
            style = book.add_format(dict(self.formats[cell])) if cell in self.formats else None
            if value is None:
                sheet.write_blank(cell, None, style)
            else:
                sheet.write(cell, value, style)
        for cell, text in self.notes.items():
            sheet.write_comment(cell, text, {"author": "M01"})
        for cell, width in self.photos.items():
            sheet.insert_image(cell, f"{width}.png", {"image_data": png(width)})
        if self.chart:
            chart = book.add_chart({"type": "column"})
            chart.add_series({"values": "=Locomotives!$F$3:$F$5"})
            sheet.insert_chart(self.chart, chart)
        for cell, text in self.box.items():
            sheet.insert_textbox(cell, text)
        book.close()
        return path


CLUB = Club()


def found(base: Path, copy: Path) -> Found:
    was, now = version_of(opened(base), "base"), version_of(opened(copy), "M01")
    lines = things_not_merged(was, now, rows_in(was, now), "M01")
    assert {one.source for one in lines} <= {"M01"}
    return [(one.sheet, one.cell, one.value, one.reason) for one in lines]


Save = Callable[[Path], Path]


@pytest.fixture(scope="module")
def programs(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Mapping[str, Save]]:
    """Return how each program saves a workbook; LibreOffice starts with the first."""
    with Office(tmp_path_factory.mktemp("libreoffice")) as office:
        yield {
            "LibreOffice": lambda path: office.open(path).save(path.with_name("saved.xlsx")),
            "Gnumeric": lambda path: saved_by_gnumeric(path, path.with_name("saved.xlsx")),
        }


@pytest.fixture(
    params=[
        "as it is",
        pytest.param("LibreOffice", marks=[pytest.mark.external, pytest.mark.slow]),
        pytest.param("Gnumeric", marks=[pytest.mark.external, pytest.mark.slow]),
    ]
)
def save(request: pytest.FixtureRequest) -> Save:
    if request.param == "as it is":
        return lambda path: path
    programs: Mapping[str, Save] = request.getfixturevalue("programs")
    return programs[request.param]


NOTES, PHOTOS, FORMATS = "notes are not merged", "photos are not merged", "formats are not merged"
LISTS = "only the rows of a list are merged"


@pytest.mark.parametrize(
    ("copy", "expected"),
    [
        pytest.param(CLUB, [], id="nothing"),
        pytest.param(
            replace(CLUB, rows=(C, A, B), notes={"A5": "runs well", "B2": "whose it is"}),
            [],
            id="rows in another order, their notes with them",
        ),
        pytest.param(
            replace(
                CLUB, above=(), notes={"A3": "runs well", "B1": "whose it is"}, formats={"B1": {"bold": True}}
            ),
            [],
            id="a line less above the headings",
        ),
        pytest.param(
            replace(CLUB, notes={**CLUB.notes, "C3": "a new wheel set"}),
            [("Locomotives", "C3", "a new wheel set", f"a note; {NOTES}")],
            id="a note",
        ),
        pytest.param(
            replace(CLUB, notes={**CLUB.notes, "A4": "runs badly"}),
            [("Locomotives", "A4", "runs badly", f"a note that was changed; {NOTES}")],
            id="a note that was changed",
        ),
        pytest.param(
            replace(CLUB, rows=(B, A, C), notes={"A4": "to be sold", "A3": "runs well", "B2": "whose it is"}),
            [("Locomotives", "A4", "to be sold", f"a note; {NOTES}")],
            id="a note in a sorted copy, at its own place",
        ),
        pytest.param(replace(CLUB, notes={}), [], id="notes that were taken out"),
        pytest.param(
            replace(CLUB, photos={**CLUB.photos, "I4": 40}),
            [("Locomotives", "I4", "", f"a photo; {PHOTOS}")],
            id="a photo",
        ),
        pytest.param(
            replace(CLUB, photos={**CLUB.photos, "H3": 40}),
            [("Locomotives", "H3", "", f"a photo; {PHOTOS}")],
            id="a photo in place of another",
        ),
        pytest.param(replace(CLUB, photos={"H5": 24, "J9": 30}), [], id="photos that were moved"),
        pytest.param(replace(CLUB, photos={"H3": 24}), [], id="a photo that was taken out"),
        pytest.param(
            replace(CLUB, photos={**CLUB.photos, "I4": 24}),
            [("Locomotives", "I4", "", f"a photo; {PHOTOS}")],
            id="a photo a second time",
        ),
        pytest.param(
            replace(CLUB, box={**CLUB.box, "H60": "and M02"}),
            [("Locomotives", "H60", "and M02", "a text box; drawings are not merged")],
            id="a text box",
        ),
        pytest.param(
            replace(CLUB, formats={**CLUB.formats, "C4": {"bg_color": "#FFFF00"}}),
            [("Locomotives", "C4", "", f"a fill (#FFFF00) in C4; {FORMATS}")],
            id="a yellow fill",
        ),
        pytest.param(
            replace(CLUB, formats={**CLUB.formats, **{f"{at}4": {"bg_color": "#FFFF00"} for at in "ABCDEF"}}),
            [("Locomotives", "A4", "", f"a fill (#FFFF00) in A4 to F4; {FORMATS}")],
            id="a yellow row",
        ),
        pytest.param(
            replace(
                CLUB, rows=(C, B, A), notes={}, formats={**CLUB.formats, "C3": {"font_color": "#FF0000"}}
            ),
            [("Locomotives", "C3", "", f"a colour of the text (#FF0000) in C3; {FORMATS}")],
            id="a colour in a sorted copy, at its own place",
        ),
        pytest.param(
            replace(CLUB, formats={**CLUB.formats, "A3": {"bold": True, "italic": True}}),
            [("Locomotives", "A3", "", f"bold and italic in A3; {FORMATS}")],
            id="bold and italic",
        ),
        pytest.param(
            replace(CLUB, formats={}),
            [("Locomotives", "B2", "", f"no longer bold in B2; {FORMATS}")],
            id="a format that was taken off",
        ),
        pytest.param(
            replace(CLUB, formats={**CLUB.formats, "F3": {"num_format": "0 %"}}),
            [("Locomotives", "F3", "", f"a number format (percent in place of number) in F3; {FORMATS}")],
            id="a number format",
        ),
        pytest.param(
            replace(CLUB, rows=(A, B, (*C[:5], 9.5)), formats={**CLUB.formats, "F5": {"num_format": "0 %"}}),
            [],
            id="a number format that came with another value",
        ),
        pytest.param(
            replace(
                CLUB,
                rows=(A, B, C, ("D", "M01", "Elm", "10", 15, 1)),
                formats={**CLUB.formats, "A6": {"bg_color": "#FFFF00"}},
            ),
            [("Locomotives", "A6", "", f"a fill (#FFFF00) in A6; {FORMATS}")],
            id="a fill in a row that was added",
        ),
        pytest.param(
            replace(CLUB, above=("The club's engines 2026",)),
            [("Locomotives", "A1", "The club's engines 2026", f"it stands above the headings; {LISTS}")],
            id="a line above the headings",
        ),
        pytest.param(
            replace(CLUB, cells={"G4": "see me"}),
            [("Locomotives", "G4", "see me", f"it stands in a column without a heading; {LISTS}")],
            id="a cell without a heading",
        ),
        pytest.param(
            replace(CLUB, cells={"J9": 31}),
            [("Locomotives", "J9", 31, f"it stands in a column without a heading; {LISTS}")],
            id="a cell below, without a heading",
        ),
    ],
)
def test_of_a_copy_is_named(tmp_path: Path, save: Save, copy: Club, expected: Found) -> None:
    base = CLUB.write(tmp_path / "base.xlsx")

    assert found(base, save(copy.write(tmp_path / "copy.xlsx"))) == expected


def test_a_second_chart_is_named_and_the_first_one_is_not(tmp_path: Path, save: Save) -> None:
    base = replace(CLUB, chart=None).write(tmp_path / "base.xlsx")

    named = found(base, save(CLUB.write(tmp_path / "copy.xlsx")))

    assert named == [("Locomotives", "H20", "", "a chart; charts are not merged")]


@pytest.mark.parametrize("name", ["demo_club_libreoffice.xlsx", "demo_club_gnumeric.xlsx"])
def test_nothing_is_named_of_the_demo_club_saved_by_a_program(name: str) -> None:
    assert found(SAMPLES / "demo_club.xlsx", SAMPLES / name) == []


def test_a_row_of_a_member_s_own_column_alone_is_below_the_list(tmp_path: Path) -> None:
    headings = (*HEADINGS, "Shelf")
    base = replace(CLUB, headings=headings).write(tmp_path / "base.xlsx")
    copy = replace(CLUB, headings=headings, cells={"G12": "free"}).write(tmp_path / "copy.xlsx")

    assert found(base, copy) == [("Locomotives", "G12", "free", f"it stands in a row of no list; {LISTS}")]


def test_a_conversation_counts_as_a_note(tmp_path: Path) -> None:
    threaded_comments(tmp_path / "base.xlsx")
    threaded_comments(tmp_path / "copy.xlsx")

    assert found(tmp_path / "base.xlsx", tmp_path / "copy.xlsx") == []
    part = next(name for name in opened(tmp_path / "copy.xlsx").names if "threadedComment" in name)
    text = opened(tmp_path / "copy.xlsx").read(part).decode().partition("<text>")[2].partition("</text>")[0]
    patch(tmp_path / "copy.xlsx", {part: replaced(f"<text>{text}", "<text>another")})
    named = found(tmp_path / "base.xlsx", tmp_path / "copy.xlsx")
    assert [reason for *_, reason in named] == ["a note that was changed; notes are not merged"]


def test_very_many_formats_are_counted(tmp_path: Path) -> None:
    rows = [(f"E{number}", "M01", "Elm", str(number), number, 1) for number in range(1, 61)]
    base = replace(CLUB, rows=rows)
    fills = {f"A{row}": {"bg_color": "#FFFF00"} for row in range(3, 63)}
    copy = replace(base, formats={**CLUB.formats, **fills})

    named = found(base.write(tmp_path / "base.xlsx"), copy.write(tmp_path / "copy.xlsx"))

    assert len(named) == 41
    assert named[-1] == ("Locomotives", "", "", f"formats in 20 more places; {FORMATS}")

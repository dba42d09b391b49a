"""Text files: what parts their cells, and that every text comes back as typed."""

from pathlib import Path

import pytest

from tests.lists.files.reading import read, rows

HEADINGS = ["Road", "No", "Address"]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        pytest.param("a,b\r\n1,2\r\n", [["a", "b"], ["1", "2"]], id="commas part cells"),
        pytest.param("a;b;c\r\n1;2,5;x\r\n", [["a", "b", "c"], ["1", "2,5", "x"]], id="semicolons do"),
        pytest.param("a\tb\n1\t2, 3\n", [["a", "b"], ["1", "2, 3"]], id="tabs do"),
        pytest.param("a|b\n1|2\n", [["a", "b"], ["1", "2"]], id="vertical bars do"),
        pytest.param(
            "Nr;LüP\n1;182,5\n2;96,0\n3;221,5\n",
            [["Nr", "LüP"], ["1", "182,5"], ["2", "96,0"], ["3", "221,5"]],
            id="decimal commas part nothing, be they in every line",
        ),
        pytest.param(
            "182,5\n96,0\n221,5\n", [["182,5"], ["96,0"], ["221,5"]], id="a column of decimal numbers is one"
        ),
        pytest.param(
            "Address,Number\n3,5201\n4,5202\n",
            [["Address", "Number"], ["3", "5201"], ["4", "5202"]],
            id="commas between digits part cells where they do in the headings",
        ),
        pytest.param(
            "engine 5201, blue\nengine 11\nhas no lamp\nengine 7\n",
            [["engine 5201, blue"], ["engine 11"], ["has no lamp"], ["engine 7"]],
            id="commas of sentences part nothing",
        ),
        pytest.param(
            "Engine, Address, Notes\n5201, 3, blue\n11, 4, red\n",
            [["Engine", "Address", "Notes"], ["5201", "3", "blue"], ["11", "4", "red"]],
            id="commas with a blank behind them part cells if they do so in every line",
        ),
        pytest.param("5201\n007\n11\n", [["5201"], ["007"], ["11"]], id="a list of one column"),
        pytest.param(
            "sep=;\r\na,b;c\r\n1;2\r\n", [["a,b", "c"], ["1", "2"]], id="the first line says the sign"
        ),
        pytest.param("sep=\t\na,b\tc\n", [["a,b", "c"]], id="the first line says that it is a tab"),
        pytest.param(
            '"a;x";"b\r\nc";"say ""hi"""\r\n1;2;3\r\n',
            [["a;x", "b\nc", 'say "hi"'], ["1", "2", "3"]],
            id="quoted cells hold signs, line breaks and doubled quotes",
        ),
        pytest.param(
            '"a", "b, c", "d"\n"1", "2, 3", "4"\n',
            [["a", "b, c", "d"], ["1", "2, 3", "4"]],
            id="blanks stand before the quotes of cells",
        ),
        pytest.param(
            'No,Length,Note\n1,7 1/4",a\n2,"12 long,b\n3,"N" scale,c\n4,"d, e","f"\n',
            [
                ["No", "Length", "Note"],
                ["1", '7 1/4"', "a"],
                ["2", '"12 long', "b"],
                ["3", '"N" scale', "c"],
                ["4", "d, e", "f"],
            ],
            id="quotes that open or close no cell stay",
        ),
        pytest.param(
            "a;b;c\n1\n\n2;3;4;5\n",
            [["a", "b", "c"], ["1"], [], ["2", "3", "4", "5"]],
            id="ragged rows keep their places, blank lines too",
        ),
        pytest.param("a;b\r1;2\r", [["a", "b"], ["1", "2"]], id="lines end with a carriage return alone"),
        pytest.param('a;b\n="007";=1+1\n', [["a", "b"], ["007", "=1+1"]], id="a formula that is a text only"),
        pytest.param(
            "Road       No    Address\nNE        5201   5201\nHarbor     11\n          007      7\n",
            [["Road", "No", "Address"], ["NE", "5201", "5201"], ["Harbor", "11"], ["", "007", "7"]],
            id="columns that stand below each other, parted by blanks",
        ),
        pytest.param(
            "HARBOUR LINES         STOCK\n\nRoad  Type      No    Address\n-----------------------------\n"
            "NE    tank      5201     5201\nQV    railcar   11         11\n\npage 1         of 2\n\n"
            "NE    shunter   007         7\n\nthree engines in all\n",
            [
                ["HARBOUR LINES         STOCK"],
                [],
                ["Road", "Type", "No", "Address"],
                ["-----------------------------"],
                ["NE", "tank", "5201", "5201"],
                ["QV", "railcar", "11", "11"],
                [],
                ["page 1         of 2"],
                [],
                ["NE", "shunter", "007", "7"],
                [],
                ["three engines in all"],
            ],
            id="titles, rules and ends of pages do not say where columns begin",
        ),
        pytest.param(
            "Number   Type     Address\n5201     tank     5201\n11       shunter  11\n"
            "1402     long named tank 1402\n7        railcar  7\n",
            [
                ["Number", "Type", "Address"],
                ["5201", "tank", "5201"],
                ["11", "shunter", "11"],
                ["1402", "long named tank 1402"],
                ["7", "railcar", "7"],
            ],
            id="a text that is too long for its column is cut nowhere",
        ),
        pytest.param(
            "My engines\n\nNE 5201 - addr 5201 - M01\nNE 11 \u2013 addr 11 \u2013 M01\n"
            "QV 007 - addr 7 - M04 - half-sound\nQV 9 - no decoder - M02\n",
            [
                ["My engines"],
                [],
                ["NE 5201", "addr 5201", "M01"],
                ["NE 11", "addr 11", "M01"],
                ["QV 007", "addr 7", "M04", "half-sound"],
                ["QV 9", "no decoder", "M02"],
            ],
            id="dashes between blanks part cells where most lines have as many",
        ),
        pytest.param(
            "5201 - blue\n11\n007\n9\n14\n12 - red\n",
            [["5201 - blue"], ["11"], ["007"], ["9"], ["14"], ["12 - red"]],
            id="dashes in few lines part nothing",
        ),
        pytest.param(
            "My engines\n\nRoad;No\nNE;5201\nHB;11\n",
            [["My engines"], [], ["Road", "No"], ["NE", "5201"], ["HB", "11"]],
            id="a title above the table",
        ),
        pytest.param(
            "a;b\n1;2\n\x1a", [["a", "b"], ["1", "2"]], id="the sign by which old programs end texts"
        ),
        pytest.param(
            "a\x0bb;c\x85d\u2028e\n1;2\n", [["a\nb", "c\nd\ne"], ["1", "2"]], id="breaks within a cell"
        ),
    ],
)
def test_cells_of_a_text(text: str, expected: list[list[str]], tmp_path: Path) -> None:
    assert rows(tmp_path, text.encode()) == expected


@pytest.mark.parametrize(
    "typed", ["007", "NA", "4E2", "1-2", "TRUE", "null", "1:87", "5201 L", "+5", "0x1F", "=A1"]
)
def test_a_text_stays_as_typed(typed: str, tmp_path: Path) -> None:
    (sheet,) = read(tmp_path, f"Road;Address\nNE;{typed}\n".encode()).sheets

    assert (sheet.cells[2, 2].text, sheet.cells[2, 2].value, sheet.cells[2, 2].loss) == (typed, typed, "")


def test_the_sheet_is_titled_like_the_file(tmp_path: Path) -> None:
    found = read(tmp_path, b"a;b\n1;2\n", "my engines.2024.txt")

    assert (found.name, [sheet.title for sheet in found.sheets]) == (
        "my engines.2024.txt",
        ["my engines.2024"],
    )


@pytest.mark.parametrize(
    ("raw", "remarks"),
    [
        pytest.param(b"a;b\n1;2\n", (), id="nothing where nothing was a choice"),
        pytest.param(
            b"sep=|\na|b\n",
            ("Its cells are parted by the sign that its first line states: vertical bar.",),
            id="the sign that was stated",
        ),
        pytest.param(
            b"a|b\n1|2\n", ("Its cells are parted by a guess: vertical bar.",), id="an unusual sign"
        ),
        pytest.param(
            b"a - b\n1 - 2\n3 - 4\n",
            ("Its cells are parted by a guess: a dash between blanks.",),
            id="dashes between blanks",
        ),
        pytest.param(
            b'a;b\n1;"N" x\n"O" y;2\n',
            ("Quotes that open or close no cell stay as typed in its rows 2, 3.",),
            id="quotes that stay",
        ),
        pytest.param(
            "Nr;Bügel\n1;für\n".encode("cp1252"),
            (
                "Its encoding is a guess: code page windows-1252, in which it says 'Bügel', 'für'; if that "
                "is wrong, save it as .csv in UTF-8.",
            ),
            id="a guessed code page, with words to see it by",
        ),
    ],
)
def test_what_was_a_choice_is_said(raw: bytes, remarks: tuple[str, ...], tmp_path: Path) -> None:
    assert read(tmp_path, raw).remarks == remarks

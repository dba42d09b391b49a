"""Workbooks made to hurt: a process of 500 MB at most answers each with a sentence or with its values."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from tests.xlsx.hand_made import MAIN, WORKBOOK, parts, rows, saved, styles, texts, worksheet, zipped

READ = """
import json, resource, sys
resource.setrlimit(resource.RLIMIT_AS, (500 << 20, 500 << 20))
from pathlib import Path
from rosterkit.errors import CannotRunError
from rosterkit.xlsx.read.workbook import read_workbook
path = Path(sys.argv[1])
try:
    read = read_workbook(path, lambda _: True)
except CannotRunError as error:
    print(json.dumps(error.message.removeprefix(f"cannot read {path}: ")))
else:
    grid = read.grids["Locomotives"]
    rows = enumerate(grid.rows, 1)
    filled = [(i, j, str(v)[:9]) for i, row in rows for j, v in enumerate(row, 1) if v != ""]
    print(json.dumps([len(grid.rows), len(filled), filled[:1], filled[-1:], len(grid.merged)]))
"""


def answer(path: Path) -> object:
    """What a process with 500 MB of memory says of a workbook."""
    done = subprocess.run(
        [sys.executable, "-c", READ, str(path)], capture_output=True, text=True, timeout=120, check=False
    )
    assert (done.returncode, done.stderr) == (0, "")
    return json.loads(done.stdout)


def numbered(pattern: str, count: int) -> str:
    return worksheet("".join(pattern.format(n=number) for number in range(1, count + 1)))


A1 = '<row r="1"><c r="A1"><v>1</v></c></row>'
ONE = [1, 1, [[1, 1, "1.0"]], [[1, 1, "1.0"]], 0]

VALUES = {
    "cells in opposite corners": (
        worksheet(A1 + '<row r="1048576"><c r="XFD1048576"><v>2</v></c></row>'),
        [1048576, 2, [[1, 1, "1.0"]], [[1048576, 16384, "2.0"]], 0],
    ),
    "cells in opposite corners of two-letter columns": (
        worksheet(A1 + '<row r="1048576"><c r="ZZ1048576"><v>2</v></c></row>'),
        [1048576, 2, [[1, 1, "1.0"]], [[1048576, 702, "2.0"]], 0],
    ),
    "the largest rectangle that is left to the fast reader": (
        worksheet(A1 + '<row r="11000"><c r="ZZ11000"><v>2</v></c></row>'),
        [11000, 2, [[1, 1, "1.0"]], [[11000, 702, "2.0"]], 0],
    ),
    "a million formatted empty rows": (
        numbered('<row r="{n}" s="1" customFormat="1"/>', 1_048_576).replace(
            '<row r="1" s="1" customFormat="1"/>', A1
        ),
        ONE,
    ),
    "a million rows with a formatted blank cell": (
        numbered('<row r="{n}"><c r="B{n}" s="1"/></row>', 1_048_576).replace(
            '<row r="1"><c r="B1" s="1"/></row>', A1
        ),
        ONE,
    ),
    "a formatted blank cell in the last row": (
        worksheet(A1 + '<row r="1048576"><c r="A1048576" s="1"/></row>'),
        ONE,
    ),
    "a formatted blank cell in the last column of many rows": (
        numbered('<row r="{n}"><c r="A{n}"><v>1</v></c><c r="XFD{n}" s="1"/></row>', 2000),
        [2000, 2000, [[1, 1, "1.0"]], [[2000, 1, "1.0"]], 0],
    ),
    "a claim of the whole sheet": (
        worksheet(A1).replace("<sheetData>", '<dimension ref="A1:XFD1048576"/><sheetData>'),
        ONE,
    ),
    "a merge of the whole sheet": (
        worksheet(A1, '<mergeCells><mergeCell ref="A1:XFD1048576"/></mergeCells>'),
        [1, 1, [[1, 1, "1.0"]], [[1, 1, "1.0"]], 1],
    ),
    "a link and rules over the whole sheet": (
        worksheet(A1, '<hyperlinks><hyperlink ref="A1:XFD1048576" location="A1"/></hyperlinks>'),
        ONE,
    ),
    "a formula over the whole sheet": (
        worksheet('<row r="1"><c r="A1"><f t="array" ref="A1:XFD1048576">1</f><v>1</v></c></row>'),
        ONE,
    ),
    "a text of a million letters": (
        worksheet(f'<row r="1"><c r="A1" t="str"><v>{"x" * 1_000_000}</v></c></row>'),
        [1, 1, [[1, 1, "xxxxxxxxx"]], [[1, 1, "xxxxxxxxx"]], 0],
    ),
    "an attribute of ten megabytes": (
        worksheet(A1).replace("<sheetData>", f'<sheetPr codeName="{"x" * 10_000_000}"/><sheetData>'),
        ONE,
    ),
    "a row with an attribute of ten megabytes": (
        worksheet(A1.replace("<row", f'<row x="{"y" * 10_000_000}"')),
        ONE,
    ),
    "very many cells without references": (
        worksheet("<row>" + "</row><row>".join(["<c><v>1</v></c>"] * 250_000) + "</row>"),
        [250_000, 250_000, [[1, 1, "1.0"]], [[250_000, 1, "1.0"]], 0],
    ),
    "formulas without value in every cell": (
        numbered('<row r="{n}"><c r="A{n}"><f>{n}</f></c></row>', 100_000),
        [100_000, 100_000, [[1, 1, "=1"]], [[100_000, 1, "=100000"]], 0],
    ),
    "no dates in every cell": (
        numbered('<row r="{n}"><c r="A{n}" s="1"><v>-{n}</v></c></row>', 100_000),
        [100_000, 100_000, [[1, 1, "-1"]], [[100_000, 1, "-100000"]], 0],
    ),
    "errors in every cell": (
        numbered('<row r="{n}"><c r="A{n}" t="e"><v>#REF!</v></c></row>', 100_000),
        [100_000, 100_000, [[1, 1, "#REF!"]], [[100_000, 1, "#REF!"]], 0],
    ),
    "brackets without end in a text": (
        worksheet(f'<row r="1"><c r="A1" t="str"><v>{"&amp;" * 200_000}</v></c></row>'),
        [1, 1, [[1, 1, "&&&&&&&&&"]], [[1, 1, "&&&&&&&&&"]], 0],
    ),
}


@pytest.mark.parametrize(("sheet", "expected"), VALUES.values(), ids=VALUES.keys())
@pytest.mark.slow
def test_values_are_right_and_memory_is_bounded(tmp_path: Path, sheet: str, expected: list[object]) -> None:
    assert answer(saved(tmp_path, zipped(parts(sheet)))) == expected


MB = 1_000_000

SENTENCES = {
    "spaces without end": (
        parts(worksheet(" " * 40 * MB)),
        "its part 'xl/worksheets/sheet1.xml' unpacks to 38 MB",
    ),
    "zeros without end": (
        parts(b"\0" * 40 * MB),
        "its part 'xl/worksheets/sheet1.xml' unpacks to 38 MB",
    ),
    "one text without end": (
        parts("", texts(f"<t>{'x' * 40 * MB}</t>")),
        "its part 'xl/sharedStrings.xml' unpacks to 38 MB",
    ),
    "a photo of zeros without end": (
        parts() | {"xl/media/image1.png": b"\0" * 40 * MB},
        "its part 'xl/media/image1.png' unpacks to 38 MB",
    ),
    "values far apart in very many rows": (
        parts(numbered('<row r="{n}"><c r="XFD{n}"><v>1</v></c></row>', 5000)),
        "its sheet 'Locomotives' holds cells with a value too far apart",
    ),
    "very many merges": (
        parts(worksheet(A1, "<mergeCells>" + '<mergeCell ref="A1:B2"/>' * 100_001 + "</mergeCells>")),
        "its sheet 'Locomotives' merges more than 100,000 ranges",
    ),
    "very many cells without references": (
        parts(worksheet("<row>" + "<c/>" * 20_000 + "</row>")),
        "its sheet 'Locomotives' holds more than 16384 cells in its row 1",
    ),
    "one row more than there are": (
        parts(worksheet('<row r="1048576"/><row/>')),
        "its sheet 'Locomotives' numbers a row '1048577', which no sheet has",
    ),
    "very many elements in an odd spelling": (
        parts(worksheet(("<row>" + "<c/>" * 1000 + "</row>") * 1_600)),
        "its sheet 'Locomotives' is too large for its unusual spelling",
    ),
    "very many odd texts": (
        parts("", texts().replace("</sst>", "<si/>" * 1_500_001 + "</sst>")),
        "its part 'xl/sharedStrings.xml' is too large for its unusual spelling",
    ),
    "elements without end": (
        parts(worksheet("<row>" + "<c>" * 3 * MB)),
        "its sheet 'Locomotives' nests rows, cells and values in a way that no sheet does",
    ),
    "unknown elements without end": (
        parts(worksheet("<row><c>" + "<a>" * 3 * MB)),
        "its sheet 'Locomotives' is nested more than 200 levels deep",
    ),
    "five thousand sheets": (
        parts(
            workbook=WORKBOOK.replace(
                "</sheets>", '<sheet name="S" sheetId="2" r:id="r"/>' * 5000 + "</sheets>"
            )
        ),
        "its part 'xl/workbook.xml' lists more than 1,000 sheets",
    ),
    "two hundred thousand names": (
        parts(workbook=WORKBOOK.replace("</workbook>", "<definedName/>" * 200_000 + "</workbook>")),
        "its part 'xl/workbook.xml' defines more than 50,000 names",
    ),
    "entities that multiply in a billion ways": (
        parts(
            '<!DOCTYPE x [<!ENTITY a0 "lol">'
            + "".join(f'<!ENTITY a{n} "&a{n - 1};&a{n - 1};">' for n in range(1, 31))
            + f']><worksheet xmlns="{MAIN}"><sheetData>&a30;</sheetData></worksheet>'
        ),
        "its sheet 'Locomotives' declares a document type, which no workbook does",
    ),
    "more beside the cells than in them": (
        parts(worksheet(A1, "<extLst>" + '<ext a="1" b="2345678"/>' * 1_600_000 + "</extLst>")),
        "its part 'xl/worksheets/sheet1.xml' unpacks to 36 MB",
    ),
}


@pytest.mark.parametrize(("entries", "sentence"), SENTENCES.values(), ids=SENTENCES.keys())
@pytest.mark.slow
def test_one_sentence_says_what_is_too_much(tmp_path: Path, entries: dict[str, bytes], sentence: str) -> None:
    assert answer(saved(tmp_path, zipped(entries))) == sentence


def test_size_that_was_declared_too_small_is_not_unpacked_further(tmp_path: Path) -> None:
    content = bytearray(zipped(parts(worksheet(" " * 60 * MB))))
    entry = content.index(
        b"PK\x01\x02", content.index(b"xl/_rels/workbook.xml.rels", content.index(b"PK\x01\x02"))
    )
    content[entry + 24 : entry + 28] = (1000).to_bytes(4, "little")

    sentence = answer(saved(tmp_path, bytes(content)))

    assert sentence == "its part 'xl/worksheets/sheet1.xml' is damaged (wrong checksum)"


def test_as_many_cell_formats_as_a_workbook_can_have_are_read(tmp_path: Path) -> None:
    sheet = worksheet(rows('<c r="A1" s="63999"><v>45351</v></c><c r="B1" s="64000"><v>45351</v></c>'))
    entries = parts(sheet, styles=styles(*[0] * 64_000, 14))

    assert answer(saved(tmp_path, zipped(entries))) == [
        1,
        2,
        [[1, 1, "45351.0"]],
        [[1, 2, "2024-02-2"]],
        0,
    ]

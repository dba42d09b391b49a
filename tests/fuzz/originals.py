"""The whole workbooks that are damaged: of several programs' spelling, with a roster, filled and not."""

import shutil
import tempfile
import zipfile
from collections.abc import Callable, Mapping
from datetime import datetime
from functools import cache
from pathlib import Path

import openpyxl
import xlsxwriter

from rosterkit.commands.fill import fill
from rosterkit.roster.schema import all_sheets
from tests.samples.__main__ import FOLDER
from tests.xlsx.features import FEATURES
from tests.xlsx.hand_made import links, parts, rows, texts, worksheet, zipped

FEATURES_OF_MEMBERS = tuple(name for name in FEATURES if not name.startswith("saved by") and name != "macros")


def _roster_by_xlsxwriter(path: Path) -> None:
    book = xlsxwriter.Workbook(path)
    day = book.add_format({"num_format": "yyyy-mm-dd"})
    bold = book.add_format({"bold": True})
    sheet = book.add_worksheet("Locomotives")
    headings = ("Loco", "Owner", "Address", "Colour", "CV29", "CV1", "Checked on", "CV17", "Check", "Sum")
    sheet.write_row(0, 0, headings, bold)
    for row in range(1, 7):
        sheet.write_row(row, 0, [f"Engine {row}", f"M0{row % 3 + 1}", (3, 45, 128, 1000, 45, 9999)[row - 1]])
        sheet.write(row, 3, "red" if row % 2 else "")
        sheet.write_datetime(row, 6, datetime(2025, 3, row), day)
        sheet.write_formula(row, 9, f"=C{row + 1}*2", None, row * 6)
    sheet.write_formula("J9", "=SUM(J2:J7)", None, 126)
    sheet.write("E9", "a remark under CV29")
    sheet.merge_range("A11:C12", "merged remark")
    readings = book.add_worksheet("Readings")
    readings.write_row(0, 0, ["Date", "Loco", "CV", "Value", "Verdict"])
    readings.write_row(1, 1, ["Engine 2", 29, 6])
    book.add_worksheet("My notes").write("A1", "note")
    book.close()


def _by_openpyxl(path: Path) -> None:
    _roster_by_xlsxwriter(path)
    book = openpyxl.load_workbook(path)
    book.save(path)


def _by_hand(path: Path) -> None:
    heads = "".join(f'<c r="{c}1" t="s"><v>{n}</v></c>' for n, c in enumerate("ABCD"))
    cells = rows(
        heads,
        '<c r="A2" t="s"><v>4</v></c><c r="B2" s="3"><v>3</v></c><c r="C2" s="4"><v>400</v></c>',
        '<c r="A3" t="inlineStr"><is><t>a &amp; b</t></is></c><c r="B3"><f>B2+1</f><v>4</v></c>',
        '<c r="A4" t="str"><f t="shared" ref="A4:A5" si="0">A3&amp;1</f><v>x</v></c>'
        '<c r="C4" t="e"><v>#REF!</v></c>',
        '<c r="A5" t="str"><f t="shared" si="0"/><v>y</v></c><c r="B5"><v>0.5</v></c>'
        '<c r="C5" t="b"><v>1</v></c>',
    )
    strings = texts(
        "<t>Loco</t>", "<r><t>Add</t></r><r><t>ress</t></r>", "<t>Own</t>", "<t>CV29</t>", "<t>a_x000D_b</t>"
    )
    after = '<mergeCells><mergeCell ref="A8:B9"/></mergeCells>'
    path.write_bytes(zipped(parts(worksheet(cells, after), strings)))


def _indented(path: Path) -> None:
    cell = '<c t="inlineStr">\n <is><t>{}</t></is>\n</c>'
    heads = f"\n<row>{cell.format('Loco')}{cell.format('Address')}</row>"
    text = f"{heads}\n<row>{cell.format('x')}<c>\n<v>7</v></c></row>"
    path.write_bytes(zipped(parts(worksheet(text).encode("utf-16"), links=links()), zipfile.ZIP_STORED))


def _filled(path: Path) -> None:
    _roster_by_xlsxwriter(path)
    fill(path)


def _sample(path: Path) -> None:
    """A whole template with every sheet, drop-downs and notes, with few engines so that it is fast."""
    shutil.copy(FOLDER / "clean.xlsx", path)
    book = openpyxl.load_workbook(path)
    for sheet in all_sheets():
        if sheet.title in book.sheetnames:
            book[sheet.title].delete_rows(8, 400)
    book.save(path)


ORIGINALS: Mapping[str, Callable[[Path], None]] = {
    "a roster by xlsxwriter": _roster_by_xlsxwriter,
    "a roster by openpyxl": _by_openpyxl,
    "a roster by hand": _by_hand,
    "an indented roster in UTF-16": _indented,
    "a filled roster": _filled,
    "a roster with every sheet": _sample,
    **{f"a club with {name}": FEATURES[name] for name in FEATURES_OF_MEMBERS},
}
"""What makes each whole workbook, by its name."""


@cache
def original(name: str) -> bytes:
    """Return a whole workbook, made once."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "club.xlsx"
        ORIGINALS[name](path)
        for kept in Path(folder).glob("*.earlier.xlsx"):
            kept.unlink()
        return path.read_bytes()

"""A small .xlsb workbook ([MS-XLSB]), since no program here writes any."""

import io
import struct
import zipfile
from collections.abc import Mapping

_OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
_RELATIONS = "http://schemas.openxmlformats.org/package/2006/relationships"
_ROW, _NUMBER, _TEXT = 0, 5, 6
_BEGIN_SHEET, _END_SHEET, _BEGIN_BOOK, _END_BOOK = 129, 130, 131, 132
_BEGIN_SHEETS, _END_SHEETS, _BEGIN_DATA, _END_DATA, _EXTENT, _SHEET = 143, 144, 145, 146, 148, 156


def _varying(number: int) -> bytes:
    pieces = []
    while number > 0x7F:
        pieces.append(number & 0x7F | 0x80)
        number >>= 7
    return bytes([*pieces, number])


def _record(kind: int, body: bytes = b"") -> bytes:
    name = bytes([kind]) if kind < 0x80 else bytes([kind & 0x7F | 0x80, kind >> 7])
    return name + _varying(len(body)) + body


def _wide(text: str) -> bytes:
    return struct.pack("<I", len(text)) + text.encode("utf-16-le")


def _cells(cells: Mapping[tuple[int, int], str | float]) -> bytes:
    pieces = []
    for row in sorted({row for row, _ in cells}):
        pieces.append(_record(_ROW, struct.pack("<I", row - 1) + bytes(13)))
        for at, value in sorted(cells.items()):
            if at[0] == row:
                begin = struct.pack("<II", at[1] - 1, 0)
                text = isinstance(value, str)
                body = _wide(str(value)) if text else struct.pack("<d", value)
                pieces.append(_record(_TEXT if text else _NUMBER, begin + body))
    return b"".join(pieces)


def binary_workbook(cells: Mapping[tuple[int, int], str | float], title: str = "Engines") -> bytes:
    """Return a workbook of one sheet with texts and numbers, by row and column from 1."""
    rows, columns = [row for row, _ in cells], [column for _, column in cells]
    corners = (min(rows) - 1, max(rows) - 1, min(columns) - 1, max(columns) - 1)
    sheet = [
        *(_record(_BEGIN_SHEET), _record(_EXTENT, struct.pack("<4I", *corners))),
        *(_record(_BEGIN_DATA), _cells(cells), _record(_END_DATA), _record(_END_SHEET)),
    ]
    listed = struct.pack("<II", 0, 1) + _wide("s1") + _wide(title)
    book = [
        *(_record(_BEGIN_BOOK), _record(_BEGIN_SHEETS), _record(_SHEET, listed)),
        *(_record(_END_SHEETS), _record(_END_BOOK)),
    ]
    relation = '<Relationships xmlns="{}"><Relationship Id="s1" Type="{}/{}" Target="{}"/></Relationships>'
    parts = {
        "[Content_Types].xml": b'<Types><Override PartName="/xl/workbook.bin" ContentType="application/vnd.'
        b'ms-excel.sheet.binary.macroEnabled.main"/></Types>',
        "_rels/.rels": relation.format(_RELATIONS, _OFFICE, "officeDocument", "xl/workbook.bin").encode(),
        "xl/_rels/workbook.bin.rels": relation.format(
            _RELATIONS, _OFFICE, "worksheet", "worksheets/sheet1.bin"
        ).encode(),
        "xl/workbook.bin": b"".join(book),
        "xl/worksheets/sheet1.bin": b"".join(sheet),
    }
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as opened:
        for name, content in parts.items():
            opened.writestr(name, content)
    return target.getvalue()

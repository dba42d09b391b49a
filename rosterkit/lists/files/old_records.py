"""The records of an .xls workbook ([MS-XLS]) that say how cells look, and which numbers and errors they hold.

Calamine leaves these out or takes them wrongly, such as a number for a date where the format of a program is
numbered as one of East Asia; texts, merged areas and titles are left to it.
"""

import struct
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from enum import IntEnum

from rosterkit.lists.files.number_formats import BUILT_IN
from rosterkit.lists.files.old_notes import Notes
from rosterkit.xlsx.grid import CellError
from rosterkit.xlsx.read.colours import INDEXED
from rosterkit.xlsx.read.formats import Kind, kind_of_format


class _Record(IntEnum):
    BEGIN, END, SHEET, DATES, PALETTE, FORMAT, LOOK = 0x809, 0x0A, 0x85, 0x22, 0x92, 0x41E, 0xE0
    NUMBER, SHORT_NUMBER, SHORT_NUMBERS, FORMULA, BOOL_OR_ERROR = 0x203, 0x27E, 0xBD, 0x06, 0x205
    BLANK, BLANKS, SHARED_TEXT, TEXT, RICH_TEXT = 0x201, 0xBE, 0xFD, 0x204, 0xD6


_ONE_CELL = {
    *(_Record.NUMBER, _Record.SHORT_NUMBER, _Record.FORMULA, _Record.BOOL_OR_ERROR),
    *(_Record.BLANK, _Record.SHARED_TEXT, _Record.TEXT, _Record.RICH_TEXT),
}
_NEWEST = 0x600
_ERRORS = {
    0x00: "#NULL!",
    0x07: "#DIV/0!",
    0x0F: "#VALUE!",
    0x17: "#REF!",
    0x1D: "#NAME?",
    0x24: "#NUM!",
    0x2A: "#N/A",
}
_WHITE = "FFFFFF"


@dataclass(frozen=True, slots=True)
class OldFormat:
    """How a cell looks."""

    code: str = ""
    """Of its number format, blank for one that has none in the file."""
    kind: Kind = Kind.NUMBER
    fill: str = ""
    """The colour behind it as RRGGBB, blank for none and for white."""


@dataclass(frozen=True, slots=True)
class OldSheet:
    """What the records of a sheet say; rows and columns from 1."""

    values: Mapping[tuple[int, int], float | CellError]
    formats: Mapping[tuple[int, int], int]
    notes: Mapping[tuple[int, int], str]


@dataclass(slots=True)
class OldBook:
    """What the records of a workbook say."""

    formats: list[OldFormat] = field(default_factory=list)
    sheets: list[OldSheet] = field(default_factory=list)
    date1904: bool = False

    def format(self, number: int) -> OldFormat:
        """Return a format by its number; the usual one for a number that there is not."""
        return self.formats[number] if number < len(self.formats) else OldFormat()


def old_book(data: bytes) -> OldBook:
    """Return what the stream of a workbook says.

    Raises:
        struct.error: a record is cut short.
    """
    book = OldBook()
    newest = struct.unpack_from("<H", data, 4)[0] == _NEWEST
    codes: dict[int, str] = {}
    looks: list[bytes] = []
    palette = list(INDEXED)
    begins: list[int] = []
    for kind, body in _records(data, 0):
        match kind:
            case _Record.SHEET:
                begins += struct.unpack_from("<I", body)
            case _Record.DATES:
                book.date1904 = body[:1] == b"\x01"
            case _Record.PALETTE:
                (count,) = struct.unpack_from("<H", body)
                colours = [body[at : at + 3].hex().upper() for at in range(2, 2 + 4 * count, 4)]
                palette[8 : 8 + count] = [one for one in colours if len(one) == len(_WHITE)]
            case _Record.FORMAT:
                codes[struct.unpack_from("<H", body)[0]] = _code(body, newest=newest)
            case _Record.LOOK:
                looks.append(body)
    book.formats = [_format(body, codes, palette, newest=newest) for body in looks]
    book.sheets = [_sheet(data, begin, newest=newest) for begin in begins]
    return book


def _records(data: bytes, at: int) -> Iterator[tuple[int, bytes]]:
    """Return kind and content of the records of what begins at a place, without those of charts in it."""
    depth = 0
    while at + 4 <= len(data):
        kind, length = struct.unpack_from("<HH", data, at)
        if kind == _Record.BEGIN:
            depth += 1
        elif kind == _Record.END:
            depth -= 1
            if depth <= 0:
                return
        elif depth == 1:
            yield kind, data[at + 4 : at + 4 + length]
        at += 4 + length


def _code(body: bytes, *, newest: bool) -> str:
    if not newest:
        return body[3 : 3 + body[2]].decode("cp1252", "replace")
    (length,) = struct.unpack_from("<H", body, 2)
    if body[4] & 1:
        return body[5 : 5 + 2 * length].decode("utf-16-le", "replace")
    return body[5 : 5 + length].decode("latin-1")


def _format(body: bytes, codes: Mapping[int, str], palette: list[str], *, newest: bool) -> OldFormat:
    (number,) = struct.unpack_from("<H", body, 2)
    if newest:
        lines, colours = struct.unpack_from("<IH", body, 14)
        pattern = lines >> 26
    else:
        (colours,) = struct.unpack_from("<I", body, 8)
        pattern = colours >> 16 & 0x3F
    colour = colours & 0x7F
    fill = palette[colour] if pattern and colour < len(palette) else ""
    code = codes.get(number)
    shown = BUILT_IN.get(str(number), "") if code is None else code
    return OldFormat(shown, kind_of_format(number, code), "" if fill == _WHITE else fill)


def _sheet(data: bytes, begin: int, *, newest: bool) -> OldSheet:
    values: dict[tuple[int, int], float | CellError] = {}
    formats: dict[tuple[int, int], int] = {}
    notes = Notes(newest=newest)
    for kind, body in _records(data, begin):
        notes.add(kind, body)
        if kind in {_Record.SHORT_NUMBERS, _Record.BLANKS}:
            row, column = struct.unpack_from("<HH", body)
            step = 6 if kind == _Record.SHORT_NUMBERS else 2
            for at in range(4, len(body) - step - 1, step):
                column += 1
                (formats[row + 1, column],) = struct.unpack_from("<H", body, at)
                if kind == _Record.SHORT_NUMBERS:
                    values[row + 1, column] = _rk(struct.unpack_from("<I", body, at + 2)[0])
        elif kind in _ONE_CELL:
            row, column, number = struct.unpack_from("<HHH", body)
            formats[row + 1, column + 1] = number
            value = _value(kind, body)
            if value is not None:
                values[row + 1, column + 1] = value
    return OldSheet(values, formats, notes.found())


def _value(kind: int, body: bytes) -> float | CellError | None:
    """Return the number or the error value that a record holds; None for anything else."""
    if kind == _Record.SHORT_NUMBER:
        return _rk(struct.unpack_from("<I", body, 6)[0])
    if kind == _Record.BOOL_OR_ERROR:
        return CellError(_ERRORS.get(body[6], "#N/A")) if body[7:8] == b"\x01" else None
    if kind == _Record.FORMULA and body[12:14] == b"\xff\xff":
        return CellError(_ERRORS.get(body[8], "#N/A")) if body[6] == 2 else None
    if kind in {_Record.NUMBER, _Record.FORMULA}:
        number: float = struct.unpack_from("<d", body, 6)[0]
        return number
    return None


def _rk(stored: int) -> float:
    """Return a number that is kept in four bytes: a whole one or half of another, perhaps in hundredths."""
    if stored & 2:
        whole = stored >> 2
        number = float(whole - (1 << 30) if whole >= 1 << 29 else whole)
    else:
        number = struct.unpack("<d", struct.pack("<II", 0, stored & 0xFFFFFFFC))[0]
    return number / 100 if stored & 1 else number

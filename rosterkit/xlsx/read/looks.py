"""Reads how cells look, as far as programs agree on it: fill, font, and the kind of their numbers."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import NamedTuple

from lxml import etree

from rosterkit.xlsx.package import limits
from rosterkit.xlsx.package.errors import shown
from rosterkit.xlsx.package.markup import utf8, whole
from rosterkit.xlsx.package.opening import Package, explained
from rosterkit.xlsx.read.colours import colour, theme_colours
from rosterkit.xlsx.read.formats import Kind, formats
from rosterkit.xlsx.xml.areas import Area, area_or_none
from rosterkit.xlsx.xml.nodes import parsed
from rosterkit.xlsx.xml.references import column_number

_FALSE = {"0", "false"}
_TAG = re.compile(rb"<(?:[^\s<>/:!?]+:)?(row|c)((?:\s[^<>]*?)?)/?>")
_STATED = re.compile(rb"""\s(r|s|customFormat)\s*=\s*["']([^"']*)["']""")
_CELL = re.compile(rb'<c r="([A-Z]{1,3})([0-9]{1,7})"(?: s="([0-9]{1,9})")?(?=[ />])')
_FORMATTED_ROW = re.compile(rb'<row (?=[^<>]*customFormat)[^<>]*\br="[^<>]*>')
_TRUE = {b"1", b"true"}
_BUILT_IN: Mapping[int | None, str] = {49: "text", 9: "percent", 10: "percent"}
"""By numbers of formats that have no code in the file (ISO/IEC 29500-1, 18.8.30)."""
_MOMENTS = {Kind.DATE: "date", Kind.TIME: "time", Kind.DURATION: "duration", Kind.SCIENTIFIC: "scientific"}


class Look(NamedTuple):
    """How a cell looks."""

    fill: str | None = None
    """In six hexadecimal digits; None for none, and for white."""
    bold: bool = False
    italic: bool = False
    colour: str | None = None
    """Of its text; None for the usual one, and for black."""
    number: str = "number"
    """The kind of its number format: number, text, percent, date, time, duration, scientific."""


PLAIN = Look()


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetLooks:
    """How the cells of one sheet look."""

    looks: tuple[Look, ...]
    """By the number that cells use."""
    cells: Mapping[int, Mapping[int, int]] = field(default_factory=dict)
    """The format of each cell by row and column."""
    rows: Mapping[int, int] = field(default_factory=dict)
    columns: Mapping[int, int] = field(default_factory=dict)
    pivots: tuple[Area, ...] = ()
    """The cells of pivot tables, which programs format when they make them anew."""

    def formats(self, row: int, width: int) -> list[int]:
        """Return the formats of the first cells of a row, be they there or not."""
        cells, own = self.cells.get(row, {}), self.rows.get(row)
        if own is not None:
            return [cells.get(column, own) for column in range(1, width + 1)]
        usual = self.columns
        return [cells[column] if column in cells else usual.get(column, 0) for column in range(1, width + 1)]

    def look(self, number: int) -> Look:
        """Return the look of a format; the usual one for a format that there is not."""
        return self.looks[number] if number < len(self.looks) else PLAIN

    def at(self, row: int, column: int) -> Look:
        """Return how a cell looks, be it there or not."""
        return self.look(self.formats(row, column)[-1])


def looks_of(package: Package) -> tuple[Look, ...]:
    """Return the look of each cell format of a workbook.

    Raises:
        CannotRunError: the part of the styles is damaged.
    """
    part = package.styles_part
    if part is None:
        return (PLAIN,)
    with explained(package.name, f"part {shown(part)}"):
        data = package.xml(part)
        root, kinds = parsed(data), formats(data).kinds
        theme = theme_colours(package)
    palette = [
        (one.get("rgb") or "")[-6:].upper() for one in root.iterfind("{*}colors/{*}indexedColors/{*}rgbColor")
    ]
    codes = {one.get("numFmtId"): one.get("formatCode", "") for one in root.iterfind("{*}numFmts/{*}numFmt")}
    fills = [_fill(one, theme, palette) for one in root.iterfind("{*}fills/{*}fill")]
    fonts = [
        (_on(one, "b"), _on(one, "i"), _unless(colour(one.find("{*}color"), theme, palette), "000000"))
        for one in root.iterfind("{*}fonts/{*}font")
    ]
    found: list[Look] = []
    for one, kind in zip(root.iterfind("{*}cellXfs/{*}xf"), kinds, strict=False):
        font, fill = (whole(one.get(name)) or 0 for name in ("fontId", "fillId"))
        bold, italic, text = fonts[font] if font < len(fonts) else (False, False, None)
        found.append(
            Look(
                fill=fills[fill] if fill < len(fills) else None,
                bold=bold,
                italic=italic,
                colour=text,
                number=_number(one.get("numFmtId", "0"), codes, kind),
            )
        )
    return tuple(found) or (PLAIN,)


def _on(font: etree._Element, name: str) -> bool:
    stated = font.find(f"{{*}}{name}")
    return stated is not None and stated.get("val") not in _FALSE


def _unless(found: str | None, usual: str) -> str | None:
    return None if found == usual else found


def _fill(fill: etree._Element, theme: tuple[str, ...], palette: list[str]) -> str | None:
    pattern = fill.find("{*}patternFill")
    if pattern is None:
        return _unless(colour(fill.find("{*}gradientFill/{*}stop/{*}color"), theme, palette), "FFFFFF")
    if pattern.get("patternType", "none") == "none":
        return None
    return _unless(colour(pattern.find("{*}fgColor"), theme, palette), "FFFFFF")


def _number(number: str, codes: Mapping[str | None, str], kind: Kind) -> str:
    code = codes.get(number)
    if kind in _MOMENTS:
        return _MOMENTS[kind]
    if code is None:
        return _BUILT_IN.get(whole(number), "number")
    first = code.partition(";")[0]
    return "text" if first.strip() == "@" else "percent" if "%" in first else "number"


def sheet_looks(package: Package, part: str, looks: tuple[Look, ...]) -> SheetLooks:
    """Return how the cells of a sheet's part look.

    Args:
        package: The workbook.
        part: The sheet's part.
        looks: The looks of its cell formats.

    Raises:
        CannotRunError: the part is damaged.
    """
    with explained(package.name, f"part {shown(part)}"):
        data = utf8(package.read(part))
    begin = data.find(b"sheetData")
    columns: dict[int, int] = {}
    for tag in re.finditer(rb"<(?:[^\s<>/:!?]+:)?col\s([^<>]*?)/?>", data[:begin]):
        stated = dict(re.findall(rb"""(min|max|style)\s*=\s*["']([0-9]+)["']""", tag[1]))
        if b"style" in stated:
            last = min(_whole(stated.get(b"max", b"0")), limits.LAST_COLUMN)
            run = range(_whole(stated.get(b"min", b"1")), last + 1)
            columns |= dict.fromkeys(run, _whole(stated[b"style"]))
    cells, rows = _plainly(data) or _tag_by_tag(data, begin)
    return SheetLooks(
        looks=looks, cells=cells, rows=rows, columns=columns, pivots=tuple(_pivots(package, part))
    )


Numbers = tuple[Mapping[int, Mapping[int, int]], Mapping[int, int]]
"""The formats of cells by row and column, and those of rows."""


def _plainly(data: bytes) -> Numbers | None:
    """Read the formats of cells in the spelling that nearly all programs write; None in any other."""
    found = _CELL.findall(data)
    if len(found) != data.count(b"<c ") or b":c " in data or b"<c>" in data or b"<!" in data:
        return None
    cells: dict[int, dict[int, int]] = {}
    for letters, row, style in found:
        cells.setdefault(int(row), {})[_COLUMNS[letters]] = int(style or 0)
    tags = (dict(_STATED.findall(tag)) for tag in _FORMATTED_ROW.findall(data))
    rows = {
        _whole(said[b"r"]): _whole(said.get(b"s", b"0"))
        for said in tags
        if said.get(b"customFormat") in _TRUE
    }
    return cells, rows


def _tag_by_tag(data: bytes, begin: int) -> Numbers:
    cells: dict[int, dict[int, int]] = {}
    rows: dict[int, int] = {}
    row = column = 0
    for tag in _TAG.finditer(data, begin):
        said = dict(_STATED.findall(tag[2]))
        place = said.get(b"r", b"")
        if tag[1] == b"row":
            row, column = _whole(place) if place.isdigit() else row + 1, 0
            if said.get(b"customFormat") in _TRUE:
                rows[row] = _whole(said.get(b"s", b"0"))
        else:
            letters = place.rstrip(b"0123456789")
            column = _COLUMNS[letters] if letters else column + 1
            cells.setdefault(row, {})[column] = _whole(said.get(b"s", b"0"))
    return cells, rows


def _whole(stated: bytes) -> int:
    """Return a number that a file states; 0 for one that is none, such as no workbook holds."""
    return int(stated) if stated.isdigit() and len(stated) < 12 else 0


class _Columns(dict[bytes, int]):
    def __missing__(self, letters: bytes) -> int:
        self[letters] = column_number(letters.decode())
        return self[letters]


_COLUMNS = _Columns()


def _pivots(package: Package, part: str) -> Iterator[Area]:
    for link in package.relationships(part):
        if link.kind == "pivotTable" and link.target is not None:
            with explained(package.name, f"part {shown(link.target)}"):
                location = parsed(package.xml(link.target)).find("{*}location")
            where = None if location is None else area_or_none(location.get("ref"))
            if where is not None:
                yield where

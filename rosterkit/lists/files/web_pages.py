"""Reads the tables of web pages, as which some programs save what they call .xls."""

import re
from collections.abc import Iterator
from itertools import product

from lxml import etree

from rosterkit.lists.files import limits
from rosterkit.lists.files.encodings import decoded
from rosterkit.lists.plain import PlainArea, PlainCell, PlainSheet
from rosterkit.xlsx.package.errors import unreadable
from rosterkit.xlsx.package.markup import whole

_CHARSET = re.compile(rb"""<meta[^>]{0,200}charset\s*=\s*["']?([A-Za-z0-9_-]{1,40})""", re.IGNORECASE)
_KNOWN = re.compile(r"utf-?8|(iso-8859|windows)-\d{1,4}|us-ascii", re.IGNORECASE)
_COLOUR = re.compile(r"(?:background(?:-color)?\s*:[^;]{0,80}?)?#([0-9a-f]{6})\b", re.IGNORECASE)
_BACKGROUND = re.compile(r"background(?:-color)?\s*:\s*#([0-9a-f]{6})\b", re.IGNORECASE)
_BLANKS = re.compile(r"[ \t\r\n]+")
_NOTE = "comment"
"""In which some programs write the note at a cell."""
_SILENT = {"script", "style", "title", _NOTE}
_BREAKS = {"br", "p", "div", "li"}
_WIDEST = 1_000
"""Columns or rows that one cell may go over."""


def web_page(raw: bytes, name: str, title: str) -> tuple[PlainSheet, ...]:
    """Return the tables of a web page, each as a sheet; of tables within tables the inner ones.

    Args:
        raw: Its bytes.
        name: The file, as messages call it.
        title: What the sheets are called; they are numbered if there are several.

    Raises:
        CannotRunError: it has no table, or is larger than ``limits`` allow.
    """
    if len(raw) > limits.MAX_TEXT_BYTES:
        raise limits.too_large(name, limits.MAX_TEXT_BYTES)
    parser = etree.HTMLParser(encoding="utf-8", no_network=True, huge_tree=False, remove_comments=True)
    try:
        root = etree.fromstring(_text(raw, name).encode("utf-8", "replace"), parser)
    except etree.LxmlError:
        root = None
    tables = [] if root is None else [one for one in root.iter("table") if one.find(".//table") is None]
    read = [_Table(name).read(table) for table in tables]
    filled = [one for one in read if one[0]]
    if not filled:
        fix = "Open it in a program that shows it, and save the list as .xlsx or .csv."
        raise unreadable(name, "it is a web page (HTML) without a table", fix)
    titles = [title] if len(filled) == 1 else [f"{title} {number}" for number in range(1, len(filled) + 1)]
    return tuple(
        PlainSheet(sheet, cells, merged) for sheet, (cells, merged) in zip(titles, filled, strict=True)
    )


def _text(raw: bytes, name: str) -> str:
    stated = _CHARSET.search(raw, 0, 4096)
    charset = "" if stated is None else stated[1].decode("ascii")
    if _KNOWN.fullmatch(charset) and b"\x00" not in raw[:64]:
        try:
            return raw.decode(charset, "replace")
        except LookupError:
            pass
    return decoded(raw, name).text


class _Table:
    def __init__(self, name: str) -> None:
        self._name = name
        self._cells: dict[tuple[int, int], PlainCell] = {}
        self._merged: list[PlainArea] = []
        self._taken: set[tuple[int, int]] = set()

    def read(self, table: etree._Element) -> tuple[dict[tuple[int, int], PlainCell], tuple[PlainArea, ...]]:
        for row, line in enumerate(table.iter("tr"), 1):
            usual = _fill(line)
            column = 1
            for cell in line.iterchildren("td", "th"):
                while (row, column) in self._taken:
                    column += 1
                column += self._add(cell, row, column, usual)
        return self._cells, tuple(self._merged)

    def _add(self, cell: etree._Element, row: int, column: int, usual: str) -> int:
        wide, high = (min(_WIDEST, whole(cell.get(name)) or 1) for name in ("colspan", "rowspan"))
        if column + wide > limits.MAX_COLUMNS:
            raise limits.too_many_columns(self._name)
        if wide > 1 or high > 1:
            area = PlainArea(row, column, row + high - 1, column + wide - 1)
            self._merged.append(area)
            downwards, across = range(row, area.bottom + 1), range(column, area.right + 1)
            self._taken |= set(product(downwards, across))
        if len(self._cells) > limits.MAX_FILLED or len(self._taken) > limits.MAX_FILLED:
            raise limits.too_many_cells(self._name)
        text = _BLANKS.sub(" ", "".join(_pieces(cell))).replace("\x01", "\n")
        text = "\n".join(line.strip() for line in text.split("\n")).strip()
        fill = _fill(cell) or usual
        note = " ".join(" ".join("".join(_pieces(one)) for one in cell.iter(_NOTE)).split())
        if text or fill or note:
            self._cells[row, column] = PlainCell(text, text, note=note, fill=fill)
        return wide


def _pieces(element: etree._Element) -> Iterator[str]:
    yield element.text or ""
    for child in element.iterchildren(etree.Element):
        if child.tag in _BREAKS:
            yield "\x01"
        if child.tag not in _SILENT:
            yield from _pieces(child)
        yield child.tail or ""


def _fill(element: etree._Element) -> str:
    stated = _COLOUR.fullmatch((element.get("bgcolor") or "").strip())
    stated = stated or _BACKGROUND.search(element.get("style") or "")
    colour = stated[1].upper() if stated else ""
    return "" if colour == "FFFFFF" else colour

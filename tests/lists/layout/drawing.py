"""Sheets drawn as text: a row a line, columns between bars, as in the tests of layouts."""

import re

from rosterkit.lists.layout.tables_of import laid_out
from rosterkit.lists.plain import PlainArea, PlainCell, PlainList, PlainSheet
from rosterkit.lists.reading import Corrections
from rosterkit.lists.tables import Layout, Origin, Table

_FILL = re.compile(r"\[([0-9A-F]{6})\]\s*(.*)")


def sheet(drawn: str, title: str = "List", own: str = "") -> PlainSheet:
    """Return a drawn sheet.

    A blank line is a blank row; ``<`` is merged with the cell to its left, ``^`` with the one above;
    ``[FF0000]`` before a text is the colour behind it. Whole numbers are numbers, all else is text.
    """
    cells: dict[tuple[int, int], PlainCell] = {}
    ends: dict[tuple[int, int], tuple[int, int]] = {}
    owner: dict[tuple[int, int], tuple[int, int]] = {}
    for row, line in enumerate(drawn.strip("\n").split("\n"), 1):
        for column, raw in enumerate(line.split("|"), 1):
            text = raw.strip()
            owner[row, column] = (row, column)
            if text in ("<", "^"):
                start = owner[(row, column - 1) if text == "<" else (row - 1, column)]
                owner[row, column] = start
                bottom, right = ends.get(start, start)
                ends[start] = (max(bottom, row), max(right, column))
                continue
            found = _FILL.fullmatch(text)
            fill, text = (found[1], found[2]) if found else ("", text)
            if text or fill:
                value = int(text) if text.isdecimal() and not text.startswith("0") else text
                cells[row, column] = PlainCell(text, value, fill=fill)
    merged = tuple(PlainArea(top, left, *end) for (top, left), end in ends.items())
    return PlainSheet(title, cells, merged, own=own)


def layout(*sheets: PlainSheet, heading_rows: dict[str, int] | None = None) -> Layout:
    """Return the layout of a list of some sheets."""
    return laid_out(PlainList("list.xlsx", sheets), Corrections({}, heading_rows or {}))


def drawn(text: str) -> Layout:
    """Return the layout of one drawn sheet."""
    return layout(sheet(text))


def texts(table: Table) -> list[str]:
    """Return the headings of a table, without titles and groups."""
    plain = (Origin.COLUMN, Origin.ROW, Origin.LABEL)
    return [one.text for one in table.headings if one.origin in plain]


def rows(table: Table) -> dict[str, list[str]]:
    """Return by record key what stands under the headings of a table, titles of sheets left out."""
    numbers = [n for n, one in enumerate(table.headings) if one.origin is not Origin.SHEET_TITLE]
    return {
        record.key.removeprefix(f"{table.sheet}!"): [
            record.cells[n].cell.text if n in record.cells else "" for n in numbers
        ]
        for record in table.records
    }


def pairs(table: Table) -> dict[str, list[tuple[str, str]]]:
    """Return by record key the pairs of CV and value."""
    return {
        record.key: [(cv.cell.text, value.cell.text) for cv, value in record.pairs]
        for record in table.records
    }


def whys(found: Layout) -> dict[str, str]:
    """Return by the first cell of what is skipped why it is."""
    return {one.place.cell: one.why for one in found.skipped}

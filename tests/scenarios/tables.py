"""A sheet as rows of texts, with rows and columns found as a person finds them: by heading and by content."""

import datetime as dt
import re
import zipfile
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import openpyxl
from lxml import etree
from openpyxl.utils.cell import get_column_letter

from tests.scenarios.edits import Edit, Key, Kind

REFERENCES = ("Loco", "Match")
"""The headings under which an engine is named."""


_DRAWING = re.compile(r"xl/drawings/drawing[0-9]+\.xml")
_AT = "{http://schemas.openxmlformats.org/drawingml/2006/spreadsheetDrawing}"
_LOOKS_LIKE_A_DAY = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")


def text(value: object) -> str:
    """Return a cell's content as one text, the same of whichever program it is from.

    A day is written like 2026-05-31, a text that merely looks like one like '2026-05-31.
    """
    if isinstance(value, dt.datetime):
        return str(value.date() if value.time() == dt.time() else value)
    if isinstance(value, bool):
        return str(value).upper()
    if isinstance(value, float):
        return str(int(value)) if value.is_integer() else repr(round(value, 9))
    written = "" if value is None else str(value).strip()
    return f"'{written}" if isinstance(value, str) and _LOOKS_LIKE_A_DAY.fullmatch(written) else written


@dataclass(slots=True)
class Table:
    """The rows of a sheet from its first one on; rows count from 1."""

    rows: list[list[str]]

    def top(self, headings: Sequence[str]) -> int:
        """Return the row with the headings, 0 where there is none."""
        wanted = {heading.casefold() for heading in headings}
        found = (n for n, row in enumerate(self.rows, 1) if wanted <= {cell.casefold() for cell in row})
        return next(found, 0)

    def column(self, top: int, heading: str) -> int | None:
        """Return the index of a column, counted from 0."""
        names = [cell.casefold() for cell in self.rows[top - 1]] if top else []
        return names.index(heading.casefold()) if heading.casefold() in names else None

    def row(self, key: Key, renamed: Mapping[str, str]) -> int | None:
        """Return the first row that is known by a key, whatever its engine is called by now."""
        top = self.top(list(key))
        columns = [self.column(top, heading) for heading in key]
        for number, row in enumerate(self.rows[top:], top + 1):
            wanted = zip(columns, key.items(), strict=True)
            if top and all(_is(row, at, name, value, renamed) for at, (name, value) in wanted):
                return number
        return None

    def cell(self, number: int, top: int, heading: str) -> str:
        """Return a cell of a row; "" where there is no such column."""
        at = self.column(top, heading)
        row = self.rows[number - 1]
        return row[at] if at is not None and at < len(row) else ""

    def records(self, headings: Sequence[str]) -> Iterator[tuple[int, dict[str, str]]]:
        """Yield the rows below the headings with their numbers, by heading; blank rows are left out."""
        top = self.top(headings)
        names = self.rows[top - 1] if top else []
        for number, row in enumerate(self.rows[top:], top + 1):
            record = {name: cell for name, cell in zip(names, row, strict=False) if name and cell}
            if top and any(not cell.startswith("=") for cell in record.values()):
                yield number, record

    def place(self, edit: Edit) -> list[tuple[str, str]]:
        """Return what is typed where, and have it here too."""
        if edit.kind in {Kind.LOOSE, Kind.OWN_SHEET}:
            return [(edit.key["cell"], edit.text)]
        top = self.top(list(edit.key))
        if edit.kind is Kind.NEW_ROW:
            label = self.column(top, next(iter(edit.key)))
            number = max(n for n, row in enumerate(self.rows, 1) if n >= top and _at(row, label)) + 1
            return [self._put(number, self._heading(top, name), value) for name, value in edit.key.items()]
        found = self.row(edit.key, {})
        assert found is not None, f"no row for {edit}"
        typed = []
        if self.column(top, edit.heading) is None:
            last = max(n for n, cell in enumerate(self.rows[top - 1]) if cell)
            typed.append(self._put(top, last + 1, edit.heading))
        typed.append(self._put(found, self._heading(top, edit.heading), edit.text.format(row=found)))
        return typed

    def where(self, edit: Edit) -> str:
        """Return the cell that a note, a photo or a colour is put at."""
        found = self.row(edit.key, {})
        assert found is not None, f"no row for {edit}"
        return f"{get_column_letter(self._heading(self.top(list(edit.key)), edit.heading) + 1)}{found}"

    def _heading(self, top: int, heading: str) -> int:
        at = self.column(top, heading)
        assert at is not None, f"no column {heading}"
        return at

    def _put(self, number: int, column: int, content: str) -> tuple[str, str]:
        self.rows += [[] for _ in range(number - len(self.rows))]
        row = self.rows[number - 1]
        row += [""] * (column + 1 - len(row))
        row[column] = content
        return f"{get_column_letter(column + 1)}{number}", content


def _at(row: Sequence[str], column: int | None) -> str:
    return row[column] if column is not None and column < len(row) else ""


def _is(row: Sequence[str], at: int | None, name: str, value: str, renamed: Mapping[str, str]) -> bool:
    names = {value, renamed.get(value, value)} if name in REFERENCES else {value}
    return _at(row, at) in names


def tables(path: Path) -> dict[str, Table]:
    """Return the sheets of a file by title, read by a library that is not the project's reader: formulas
    as they are written."""
    book = openpyxl.load_workbook(path)
    return {
        sheet.title: Table([[text(cell) for cell in row] for row in sheet.iter_rows(values_only=True)])
        for sheet in book.worksheets
    }


def lies_there(path: Path, edit: Edit, cell: str) -> bool:
    """Return whether a note, a photo or a colour is at a cell."""
    if edit.kind is Kind.PHOTO:
        return cell in _pictures(path)
    there: Any = openpyxl.load_workbook(path)[edit.sheet][cell]
    if edit.kind is Kind.NOTE:
        return there.comment is not None and edit.text in there.comment.text
    return bool(there.fill.fgColor.rgb == "FFFFFF00")


def _pictures(path: Path) -> set[str]:
    """Return the cells at which the pictures of a file are, of all sheets."""
    with zipfile.ZipFile(path) as archive:
        parts = [archive.read(name) for name in archive.namelist() if _DRAWING.fullmatch(name)]
    found = set()
    for part in parts:
        for picture in etree.fromstring(part).iterfind(f".//{_AT}pic"):
            anchor: Any = picture.getparent()
            column, row = (anchor.findtext(f"{_AT}from/{_AT}{name}") for name in ("col", "row"))
            found.add(f"{get_column_letter(int(column) + 1)}{int(row) + 1}")
    return found

"""Reads .csv, .tsv and .txt: every text as typed, whichever the encoding and what parts the cells."""

import csv
import re
from collections.abc import Iterator
from pathlib import PurePath

from rosterkit.lists.files import limits
from rosterkit.lists.files.aligned import between_dashes, cells_at, fixed_columns, parted_by_dashes
from rosterkit.lists.files.delimiters import NAMES, Delimiter, delimiter
from rosterkit.lists.files.encodings import decoded
from rosterkit.lists.files.quoted import LONGEST_CELL, lines_of, records
from rosterkit.lists.files.values import lines
from rosterkit.lists.plain import PlainCell, PlainList, PlainSheet
from rosterkit.xlsx.package.errors import unreadable

# A way to have a spreadsheet program keep the zeros of 007.
_TEXT_FORMULA = re.compile(r'="([^"]*)"')
_NAMED = 5
"""Lines that a remark names."""

_Rows = Iterator[tuple[int, list[str]]]


def text_list(raw: bytes, name: str, path: PurePath) -> PlainList:
    """Return a text file as a list of one sheet, titled like the file without its ending.

    Args:
        raw: Its bytes.
        name: The file, as messages call it.
        path: Where it is.

    Raises:
        CannotRunError: it is no text, it is blank, or it is larger than ``limits`` allow.
    """
    if len(raw) > limits.MAX_TEXT_BYTES:
        raise limits.too_large(name, limits.MAX_TEXT_BYTES)
    text, remark = decoded(raw, name)
    found = delimiter(text)
    remarks = [remark] if remark else []
    try:
        cells = _cells(found, name, remarks)
    except csv.Error:
        why = f"a cell of it is longer than {LONGEST_CELL:,} signs"
        raise unreadable(name, why, "See that its quotes are closed, or save the list as .xlsx.") from None
    if not cells:
        raise unreadable(name, "it holds no text", "Give the file that holds the list.")
    return PlainList(path.name, (PlainSheet(path.stem, cells),), tuple(remarks))


def _cells(found: Delimiter, name: str, remarks: list[str]) -> dict[tuple[int, int], PlainCell]:
    cells: dict[tuple[int, int], PlainCell] = {}
    known: dict[str, PlainCell | None] = {}
    for row, values in _rows(found, remarks):
        if row > limits.MAX_ROWS:
            raise limits.too_many_rows(name)
        for column, value in enumerate(values, 1):
            if value not in known:
                known[value] = _cell(value)
            cell = known[value]
            if cell is not None:
                if column > limits.MAX_COLUMNS:
                    raise limits.too_many_columns(name)
                cells[row, column] = cell
        if len(cells) > limits.MAX_FILLED:
            raise limits.too_many_cells(name)
    return cells


def _cell(value: str) -> PlainCell | None:
    """Return the cell of a text, None if it shows nothing."""
    text = lines(value).strip()
    formula = _TEXT_FORMULA.fullmatch(text)
    text = formula[1].strip() if formula else text
    return PlainCell(text, value) if text else None


def _rows(found: Delimiter, remarks: list[str]) -> _Rows:
    """Return the number and the cells of each record."""
    listed = lines_of(found.text)
    if not found.sign:
        shown = [line.rstrip("\r\n").expandtabs() for line in listed]
        if begins := fixed_columns(shown):
            remarks.append("Its columns are parted by blanks only, and begin where all lines have them.")
            yield from enumerate(cells_at(shown, begins), 1)
            return
        if '"' not in found.text and parted_by_dashes(shown):
            remarks.append("Its cells are parted by a guess: a dash between blanks.")
            yield from enumerate(map(between_dashes, shown), 1)
            return
    elif found.stated:
        remarks.append(f"Its cells are parted by the sign that its first line states: {_called(found.sign)}.")
    elif found.sign not in ",;\t":
        remarks.append(f"Its cells are parted by a guess: {_called(found.sign)}.")
    odd: list[int] = []
    for row, (cells, as_typed) in enumerate(records(listed, found.sign), 1):
        if as_typed:
            odd.append(row)
        yield row, cells
    if odd:
        more = f" and {len(odd) - _NAMED} more" if len(odd) > _NAMED else ""
        rows = ", ".join(map(str, odd[:_NAMED]))
        remarks.append(f"Quotes that open or close no cell stay as typed in its rows {rows}{more}.")


def _called(sign: str) -> str:
    return NAMES.get(sign, f"'{sign}'")

"""What somebody typed into the sheet Cards: its lines as they come back, wherever they stand by then."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from rosterkit.cards.report import READ_FIRST
from rosterkit.cards.sheet import ALREADY_SO, DONE, HELD, OTHER_MODE, READ_BACK, VALUE, WORDS
from rosterkit.cards.sheet_lines import KEYS, LineKey
from rosterkit.cards.steps import READ
from rosterkit.cell_names import column_letters
from rosterkit.roster.schema import folded
from rosterkit.xlsx.grid import Grid, NoStoredValue, Raw

_NEEDED = (DONE, *KEYS, VALUE, WORDS, READ_BACK)
_LONGEST = 5
"""Digits of a number of ours that a program keeps as text."""


@dataclass(frozen=True, slots=True, kw_only=True)
class TypedLine:
    """A line of an earlier sheet Cards in which something is typed."""

    row: int
    label: str
    key: LineKey
    done: Raw
    read_back: Raw
    done_column: int
    read_back_column: int

    @property
    def only_reads(self) -> bool:
        """Whether the line stood there to read the CV before anything is keyed in."""
        return self.key.words == READ

    @property
    def places(self) -> frozenset[tuple[int, int]]:
        """Sheet row and column of what is typed."""
        typed = ((self.done, self.done_column), (self.read_back, self.read_back_column))
        return frozenset((self.row, column) for raw, column in typed if raw != "")

    @property
    def cells(self) -> str:
        """The names of these cells."""
        return " and ".join(f"{column_letters(column)}{row}" for row, column in sorted(self.places))

    @property
    def read_back_cell(self) -> str:
        """The name of the cell for what was read back."""
        return f"{column_letters(self.read_back_column)}{self.row}"

    @property
    def about(self) -> str:
        """The engine and the CV in words."""
        return f"'{self.label}'" if self.key.cv is None else f"CV{self.key.cv} of '{self.label}'"


def typed_lines(grid: Grid) -> list[TypedLine]:
    """Return the lines of an earlier sheet Cards with something typed under Done or Read back.

    Its columns are known by their headings, a line by its hidden cells, wherever they are now. Formulas are
    left out, and so is a line that does not say what it is about.
    """
    found = _headings(grid)
    return list(_lines(grid, *found)) if found else []


def _headings(grid: Grid) -> tuple[int, Mapping[str, int]] | None:
    for row, cells in enumerate(grid.rows, 1):
        columns = {cell: at for at, cell in enumerate(cells, 1) if isinstance(cell, str) and cell in _NEEDED}
        if len(columns) == len(_NEEDED):
            return row, columns
    return None


def _lines(grid: Grid, heading: int, columns: Mapping[str, int]) -> Iterator[TypedLine]:
    for row, cells in enumerate(grid.rows, 1):
        label = _cell(cells, columns["Loco"])
        if row == heading or label == "":
            continue
        done, read = (_typed(grid, row, columns[name]) for name in (DONE, READ_BACK))
        if done in (ALREADY_SO, HELD, OTHER_MODE):
            done = ""
        key = _key(cells, columns)
        if key and (done != "" or read != ""):
            yield TypedLine(
                row=row,
                label=_text(label),
                key=key,
                done=done,
                read_back=read,
                done_column=columns[DONE],
                read_back_column=columns[READ_BACK],
            )


def _cell(cells: Sequence[Raw], column: int) -> Raw:
    return cells[column - 1] if column <= len(cells) else ""


def _typed(grid: Grid, row: int, column: int) -> Raw:
    """Return what is typed into a cell; nothing where that is a formula or blanks."""
    raw = _cell(grid.rows[row - 1], column)
    if (row, column) in grid.formulas or isinstance(raw, NoStoredValue):
        return ""
    return "" if isinstance(raw, str) and not raw.strip() else raw


def _key(cells: Sequence[Raw], columns: Mapping[str, int]) -> LineKey | None:
    label, cv, index, value, words = (_cell(cells, columns[name]) for name in (*KEYS, VALUE, WORDS))
    loco, text = folded(_text(label)), _text(words)
    if cv == "":
        return LineKey(loco=loco, cv=None, index=None, value=None, words=text)
    high, _, low = _text(index).partition("/")
    number = _whole(cv)
    if number is None:
        return None
    return LineKey(
        loco=loco,
        cv=number,
        index=(int(high), int(low)) if high.isdecimal() and low.isdecimal() else None,
        value=_whole(value),
        words=READ if text.startswith(READ_FIRST) else "",
    )


def _text(raw: Raw) -> str:
    whole = None if isinstance(raw, str) else _whole(raw)
    return str(raw if whole is None else whole)


def _whole(raw: Raw) -> int | None:
    """Return a whole number of ours, which a program may have kept as 34.0 or as a text."""
    if isinstance(raw, bool) or not isinstance(raw, str | int | float):
        return None
    if isinstance(raw, str):
        return int(raw) if raw.isdecimal() and len(raw) <= _LONGEST else None
    return int(raw) if float(raw).is_integer() else None

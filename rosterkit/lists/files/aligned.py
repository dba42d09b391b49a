"""Texts whose cells no sign parts: columns that stand below each other, and lines parted by dashes."""

import re
from collections.abc import Iterator, Sequence
from statistics import median_low

_GAP = re.compile(r"(?<=\S) {2,}(?=\S)")
_DASH = re.compile(r"[ \t]+[-\u2013\u2014][ \t]+")
_FEWEST = 3
"""Lines that a text has to have for columns to be seen in it."""
_MOST = 0.6
"""The part of the lines that have to be parted."""


def fixed_columns(lines: Sequence[str]) -> tuple[int, ...]:
    """Return where the columns of a text begin whose cells stand below each other, parted by blanks only.

    Empty if they do not: at least two blanks part two columns, in all lines that hold more than one cell.
    A line with fewer cells than most, above the first full one, below the last, or between blank lines,
    such as a title, parts nothing, if the others have more columns without it.
    """
    parted = [number for number, line in enumerate(lines) if _GAP.search(line)]
    filled = [line for line in lines if any(map(str.isalnum, line))]
    if len(parted) < _FEWEST or len(parted) < _MOST * len(filled):
        return ()
    loose = _loose(lines, parted)
    of_all = _begins([lines[number] for number in parted])
    of_rows = _begins([lines[number] for number in parted if number not in loose])
    return of_rows if len(of_rows) > len(of_all) else of_all


def cells_at(line: str, begins: Sequence[int]) -> list[str]:
    """Return the cells of a line by where the columns begin.

    It is one cell, in the column where it begins, if a word goes over two columns or nothing parts its words.
    """
    ends = (*begins[1:], max(len(line), begins[-1]))
    cells = [line[begin:end] for begin, end in zip(begins, ends, strict=True)]
    filled = [number for number, cell in enumerate(cells) if cell.strip()]
    over = any(line[at - 1 : at].strip() and line[at : at + 1].strip() for at in begins[1:])
    if over or (len(filled) > 1 and not _GAP.search(line)):
        return [*([""] * filled[0]), line]
    return cells


def _begins(lines: Sequence[str]) -> tuple[int, ...]:
    width = max(map(len, lines), default=0)
    blank = [all(line[at : at + 1] in {" ", ""} for line in lines) for at in range(width)]
    begins = [at for at in range(2, width) if not blank[at] and blank[at - 1] and blank[at - 2]]
    return (0, *begins) if begins else ()


def _loose(lines: Sequence[str], parted: Sequence[int]) -> set[int]:
    """Return the parted lines that may be titles or ends of pages, by their numbers."""
    cells = {number: len(_GAP.split(lines[number])) for number in parted}
    most = median_low(list(cells.values()))
    full = {number for number in parted if cells[number] >= most}
    first, last = min(full), max(full)
    between = {number for block in _blocks(lines) if not full.intersection(block) for number in block}
    return {one for one in parted if one not in full and (one < first or one > last or one in between)}


def _blocks(lines: Sequence[str]) -> Iterator[list[int]]:
    """Return the numbers of the lines between blank ones."""
    block: list[int] = []
    for number, line in enumerate(lines):
        if line.strip():
            block.append(number)
        elif block:
            yield block
            block = []
    if block:
        yield block


def parted_by_dashes(lines: Sequence[str]) -> bool:
    """Tell whether a dash between blanks stands in most of the lines, and in most of these equally often."""
    filled = [line for line in lines if any(map(str.isalnum, line))]
    numbers = [number for line in filled if (number := len(_DASH.findall(line)))]
    often = max(map(numbers.count, set(numbers)), default=0)
    return _are_most(len(numbers), len(filled)) and _are_most(often, len(numbers))


def between_dashes(line: str) -> list[str]:
    """Return the cells of a line that dashes between blanks part."""
    return _DASH.split(line)


def _are_most(some: int, of: int) -> bool:
    return some >= _FEWEST and some >= _MOST * of

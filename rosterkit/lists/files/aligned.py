"""Texts whose cells no sign parts: columns that stand below each other, and lines parted by dashes."""

import re
from bisect import bisect_right
from collections.abc import Iterable, Iterator, Sequence
from statistics import median_low

_GAP = re.compile(r"(?<=\S) {2,}(?=\S)")
_PART = re.compile(r"\S+(?: \S+)*")
_DASH = re.compile(r"[ \t]+[-\u2013\u2014][ \t]+")
_FEWEST = 3
"""Lines that a text has to have for columns to be seen in it."""
_MOST = 0.6
"""The part of the lines that have to be parted."""


def fixed_columns(lines: Sequence[str]) -> tuple[int, ...]:
    """Return where the columns of a text begin whose cells stand below each other, parted by blanks only.

    Empty if they do not: at least two blanks part two columns, in all lines that hold more than one cell.
    Lines with fewer cells than most, such as titles, part nothing if the others have more columns without
    them.
    """
    parted = [line for line in lines if _GAP.search(line)]
    filled = [line for line in lines if any(map(str.isalnum, line))]
    if len(parted) < _FEWEST or len(parted) < _MOST * len(filled):
        return ()
    of_all, of_full = _begins(parted), _begins(_full(parted))
    return of_full if len(of_full) > len(of_all) else of_all


def cells_at(lines: Iterable[str], begins: Sequence[int]) -> Iterator[list[str]]:
    """Return the cells of each line by where the columns begin.

    Where a word goes over two columns, or one blank alone parts its words, a line is one cell; below a row
    that stands in the columns, what blanks part is a cell in the column where it begins.
    """
    below = False
    for line in lines:
        ends = (*begins[1:], max(len(line), begins[-1]))
        cells = [line[begin:end] for begin, end in zip(begins, ends, strict=True)]
        several = sum(map(bool, map(str.strip, cells))) > 1
        over = any(line[at - 1 : at].strip() and line[at : at + 1].strip() for at in begins[1:])
        if over or (several and not _GAP.search(line)):
            yield _by_gaps(line if below else "", begins) or _whole(line, begins)
        else:
            yield cells
            below = several or (below and bool(line.strip()))


def _whole(line: str, begins: Sequence[int]) -> list[str]:
    first = len(line) - len(line.lstrip())
    return [*([""] * (bisect_right(begins, first) - 1)), line]


def _by_gaps(line: str, begins: Sequence[int]) -> list[str]:
    cells = [""] * len(begins) if line else []
    for part in _PART.finditer(line):
        column = bisect_right(begins, part.start()) - 1
        cells[column] = f"{cells[column]}  {part[0]}" if cells[column] else part[0]
    return cells


def _begins(lines: Sequence[str]) -> tuple[int, ...]:
    width = max(map(len, lines), default=0)
    blank = [all(line[at : at + 1] in {" ", ""} for line in lines) for at in range(width)]
    begins = [at for at in range(2, width) if not blank[at] and blank[at - 1] and blank[at - 2]]
    return (0, *begins) if begins else ()


def _full(lines: Sequence[str]) -> list[str]:
    """Return the lines that have as many cells as most."""
    cells = [len(_GAP.split(line)) for line in lines]
    most = median_low(cells)
    return [line for line, number in zip(lines, cells, strict=True) if number >= most]


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

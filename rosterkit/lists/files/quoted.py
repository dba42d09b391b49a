"""Parts a text into records of cells, quoted ones and those with line breaks in them too, by the csv module.

The module alone takes the quotes off a cell such as ``"Big" engine``, and takes all that follows a lone
quote, as of inches, into one cell. So it is asked to be strict, and a cell that it refuses keeps its quotes.
"""

import csv
import re
from collections.abc import Iterator, Sequence
from functools import lru_cache
from itertools import islice

LONGEST_CELL = 131_072
"""Signs of a cell; the module's own limit."""

_LINE = re.compile(r"[^\r\n]*(?:\r\n|\r|\n)|[^\r\n]+\Z")
_END = "\r\n"
_NO_SIGN = "\ufdd0"
"""Stands for no sign in Unicode, so that each line is one cell."""


def lines_of(text: str) -> list[str]:
    """Return the lines of a text with their ends, which are CR LF, LF or CR and nothing else."""
    return _LINE.findall(text)


def records(lines: Sequence[str], sign: str) -> Iterator[tuple[list[str], bool]]:
    """Return the cells of each record, and whether some of its quotes stand there as typed.

    Args:
        lines: The lines with their ends.
        sign: What parts the cells of a line; blank for one cell a line.

    Raises:
        csv.Error: a cell is longer than ``LONGEST_CELL``.
    """
    at, loose = 0, _is_loose(lines, sign)
    while at < len(lines):
        begin = at
        reader = csv.reader(
            islice(lines, at, None), delimiter=sign or _NO_SIGN, strict=True, skipinitialspace=loose
        )
        try:
            for cells in reader:
                yield cells, False
                at = begin + reader.line_num
        except csv.Error:
            yield _by_hand(lines[at].rstrip(_END), sign), True
            at += 1


def _is_loose(lines: Sequence[str], sign: str) -> bool:
    """Tell whether blanks stand between what parts the cells and the quotes around them."""
    spaced = re.compile(rf'(?<={re.escape(sign or _NO_SIGN)}) +"[^"]*" *(?:{re.escape(sign)}|[\r\n])')
    return bool(sign) and any(spaced.search(line) for line in islice(lines, 400))


@lru_cache(maxsize=8)
def _cell(sign: str) -> re.Pattern[str]:
    parting = re.escape(sign or _NO_SIGN)
    return re.compile(rf' *"((?:[^"]|"")*+)" *(?={parting}|\Z)|([^{parting}]*+)')


def _by_hand(line: str, sign: str) -> list[str]:
    """Return the cells of a line, of which some have quotes that are no quotes of cells."""
    if len(line) > LONGEST_CELL:
        raise csv.Error("field larger than field limit")
    cells: list[str] = []
    at = 0
    while at <= len(line):
        found = _cell(sign).match(line, at)
        assert found is not None  # noqa: S101 - it matches no signs too
        quoted = found[1]
        cells.append(found[2] if quoted is None else quoted.replace('""', '"'))
        at = found.end() + 1
    return cells

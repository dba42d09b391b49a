"""Texts that are longer than a cell of a workbook can hold: parted, the rest at the end of their row."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from rosterkit.lists.adopted import Doubt
from rosterkit.lists.plain import Place, PlainCell, PlainList, PlainSheet
from rosterkit.xlsx.xml.values import LONGEST_TEXT

_LONGEST_SIGN = 0xFFFF
"""Signs above it count twice: programs count units of UTF-16."""


@dataclass(frozen=True, slots=True)
class Fitted:
    """A list whose texts all fit into cells of a workbook."""

    read: PlainList
    """With the beginnings only: the list as it is laid out and read."""
    copied: PlainList
    """With the rests behind the last cells of their rows: the list as it is copied."""
    doubts: tuple[Doubt, ...] = ()
    """One for each text that was parted."""


def fitted(plain: PlainList) -> Fitted:
    """Part the texts of a list that are longer than a cell of a workbook can hold."""
    long = {one.title: dict(_long(one)) for one in plain.sheets}
    if not any(long.values()):
        return Fitted(plain, plain)
    doubts: list[Doubt] = []
    read, copied = [], []
    for one in plain.sheets:
        begun = {at: _cell(one.cells[at], parts[0]) for at, parts in long[one.title].items()}
        rests = dict(_rests(one, long[one.title], doubts))
        read.append(replace(one, cells={**one.cells, **begun}))
        copied.append(replace(one, cells={**one.cells, **begun, **rests}))
    return Fitted(
        replace(plain, sheets=tuple(read)), replace(plain, sheets=tuple(copied)), doubts=tuple(doubts)
    )


_At = tuple[int, int]


def _long(one: PlainSheet) -> Iterator[tuple[_At, list[str]]]:
    for at, cell in one.cells.items():
        if isinstance(cell.value, str) and len(cell.value) > LONGEST_TEXT // 2:
            parts = _parts(cell.value)
            if len(parts) > 1:
                yield at, parts


def _parts(text: str) -> list[str]:
    """Return a text in parts that each fit into a cell."""
    longest = LONGEST_TEXT if max(map(ord, text)) <= _LONGEST_SIGN else LONGEST_TEXT // 2
    return [text[begin : begin + longest] for begin in range(0, len(text), longest)]


def _rests(
    one: PlainSheet, long: dict[_At, list[str]], doubts: list[Doubt]
) -> Iterator[tuple[_At, PlainCell]]:
    last: dict[int, int] = {}
    for row, column in one.cells:
        last[row] = max(last.get(row, 0), column)
    for (row, column), parts in sorted(long.items()):
        first = Place(one.title, row, last[row] + 1)
        for part in parts[1:]:
            last[row] += 1
            yield (row, last[row]), PlainCell(part.strip(), part)
        doubts.append(
            Doubt(
                Place(one.title, row, column),
                f"a text of {sum(map(len, parts)):,} signs, of which a cell of a workbook holds "
                f"{LONGEST_TEXT:,}; the rest stands from {first.cell} in the copy of its sheet",
                "Keep what is needed of it.",
            )
        )


def _cell(cell: PlainCell, part: str) -> PlainCell:
    return replace(cell, text=part.strip(), value=part)

"""Rows that several sides added: which of them are the same one."""

from collections.abc import Hashable, Iterator, Mapping, Sequence

from rosterkit.roster.schema import Sheet, folded
from rosterkit.versions.meanings import Meaning
from rosterkit.versions.row_matching import paired
from rosterkit.versions.sheet_changes import NewRow
from rosterkit.versions.sheet_rows import Key

Added = tuple[str, NewRow]
"""The name of a side, and a row that it added."""


def same_rows(
    known: Sheet, master: Sequence[NewRow], sides: Sequence[tuple[str, Sequence[NewRow]]], name: str
) -> list[list[Added]]:
    """Return the rows that sides added, those that are the same one together, one a side at most.

    Rows are the same if all that stands in them is, or by what the schema recognises rows by, unless they
    differ in one of its columns that only tells rows apart, such as the owner of engines of one label or
    the time of readings on one day. The order and the names of the sides decide nothing but the order of
    the result.

    Args:
        known: the sheet.
        master: the rows that the master added.
        sides: the rows that each copy added, by its name.
        name: the name of the master.
    """
    groups: list[list[Added]] = [[(name, row)] for row in master]
    for side, rows in sorted(sides, key=lambda one: _content(one[1])):
        found = _joined(known, groups, rows)
        for index, row in enumerate(rows):
            if index in found:
                groups[found[index]].append((side, row))
            else:
                groups.append([(side, row)])
    order = {side: place for place, side in enumerate([name, *(side for side, _ in sides)])}
    for group in groups:
        group.sort(key=lambda one: order[one[0]])
    return sorted(groups, key=lambda group: (order[group[0][0]], group[0][1].row))


def _content(rows: Sequence[NewRow]) -> list[str]:
    """Return what tells sides apart by what they added: two that are alike may take turns."""
    return sorted(repr(_cells(row)) for row in rows)


def _cells(row: NewRow) -> list[tuple[Key, str]]:
    return sorted((key, repr(cell.meaning)) for key, cell in row.cells.items())


def _joined(known: Sheet, groups: Sequence[Sequence[Added]], rows: Sequence[NewRow]) -> dict[int, int]:
    """Return the index of the group that each row joins, by the index of the row."""
    found: dict[int, int] = {}
    # First those that agree in what only tells rows apart, then those of which one leaves it blank.
    for surely in (True, False):
        while more := _further(known, groups, rows, found, surely=surely):
            found |= more
    return found


def _further(
    known: Sheet,
    groups: Sequence[Sequence[Added]],
    rows: Sequence[NewRow],
    found: Mapping[int, int],
    *,
    surely: bool,
) -> dict[int, int]:
    """Return the group of each further row that joins one, tried with each of the group's rows in turn."""
    taken = set(found.values())
    left = [at for at in range(len(rows)) if at not in found]
    new = [tuple(_marks(known, rows[at], surely=surely)) for at in left]
    for turn in range(max(map(len, groups), default=0)):
        free = [at for at, group in enumerate(groups) if turn < len(group) and at not in taken]
        old = [tuple(_marks(known, groups[at][turn][1], surely=surely)) for at in free]
        more = {
            left[a]: free[b]
            for a, b in paired(old, new).items()
            if surely or _may_be_the_same(known, groups[free[b]][turn][1], rows[left[a]])
        }
        if more:
            return more
    return {}


def _marks(known: Sheet, row: NewRow, *, surely: bool) -> Iterator[Hashable]:
    """Return all that stands in a row, then its keys, each with what only tells rows apart."""
    yield tuple(_cells(row))
    apart = tuple(_value(known, row, name) for name in _telling_apart(known)) if surely else ()
    for key in known.identity:
        values = [_value(known, row, name) for name in key]
        blank = [value is None for value in values]
        yield None if all(blank) or (any(blank) and key != known.identity[-1]) else (*values, *apart)


def _may_be_the_same(known: Sheet, one: NewRow, other: NewRow) -> bool:
    pairs = ((_value(known, one, name), _value(known, other, name)) for name in _telling_apart(known))
    return all(a == b or None in (a, b) for a, b in pairs)


def _telling_apart(known: Sheet) -> list[str]:
    """Return the columns of the first key that are in no other one."""
    further = {name for key in known.identity[1:] for name in key}
    return [name for name in known.identity[0] if name not in further] if further else []


def _value(known: Sheet, row: NewRow, name: str) -> Hashable:
    cell = row.cells.get((name, 0))
    content: Meaning = known[name].default if cell is None else cell.meaning
    return folded(content) if isinstance(content, str) else content

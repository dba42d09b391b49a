"""What stands in the way of each other: grouped by what has to be apart, and each with the others' places."""

from collections.abc import Callable, Hashable, Iterable, Iterator, Sequence
from typing import TypeVar

from rosterkit.checks.framework import ScopedEngine
from rosterkit.findings import Place
from rosterkit.roster.rows import Row
from rosterkit.roster.schema import folded

_Item = TypeVar("_Item")
_Row = TypeVar("_Row", bound=Row)
_Key = TypeVar("_Key", bound=Hashable)

MOST_RELATED = 20
"""A finding names this many other places of the same clash at most; its message has the full count."""


def grouped(items: Iterable[_Item], key: Callable[[_Item], _Key | None]) -> dict[_Key, list[_Item]]:
    """Return what has the same key, in the order of the first; what has None is left out."""
    groups: dict[_Key, list[_Item]] = {}
    for item in items:
        of_item = key(item)
        if of_item is not None:
            groups.setdefault(of_item, []).append(item)
    return groups


def same_label(rows: Iterable[_Row], column: str) -> dict[str, list[_Row]]:
    """Return the rows of each label in a column, whatever its letter case; blank ones are left out."""
    return grouped(
        (row for row in rows if getattr(row, column) is not None), lambda row: folded(getattr(row, column))
    )


def clashes(
    groups: Iterable[Sequence[_Item]], place_of: Callable[[_Item], Place]
) -> Iterator[tuple[_Item, _Item, tuple[Place, ...]]]:
    """Return each member of the groups of several, with one other of its group, and the others' places.

    The other is the one before it, for the first the second; of the places those that follow come first,
    20 at most.
    """
    for group in groups:
        places = [place_of(one) for one in group] if len(group) > 1 else []
        for n in range(len(places)):
            following = places[n + 1 : n + 1 + MOST_RELATED]
            preceding = places[: min(n, MOST_RELATED - len(following))]
            yield group[n], group[n - 1] if n else group[1], (*following, *preceding)


def are_locked_apart(entries: Sequence[ScopedEngine]) -> bool:
    """Tell whether decoders are in one workbook, each with a lock of its own."""
    locks = {entry.engine.lock for entry in entries}
    workbooks = {entry.engine.table.workbook for entry in entries}
    return len(workbooks) == 1 and None not in locks and len(locks) == len(entries)


def cell_seen_from(workbook: str, place: Place) -> str:
    """Name a cell, with its workbook where that is another: by its file name, if that tells them apart."""
    if place.workbook == workbook:
        return str(place.cell)
    name = file_name(place.workbook)
    return f"{place.workbook if name == file_name(workbook) else name} {place.cell}"


def file_name(path: str) -> str:
    """Return the name of a file without its folders, of whichever system the path is."""
    return path.replace("\\", "/").rsplit("/", 1)[-1]

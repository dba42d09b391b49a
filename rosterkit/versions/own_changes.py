"""What one side did to a sheet that is the members' own, cell by cell."""

from collections.abc import Iterator

from rosterkit.versions.recognition import own_pairs
from rosterkit.versions.sheet_changes import Comparison, SheetChanges, SideCell
from rosterkit.versions.sheet_rows import Key, SheetRows
from rosterkit.xlsx.grid import Raw

BETWEEN = "it stands in a row that was put in between; rows of members' own sheets stay where they are"
GONE = "this row of the base is gone; rows of members' own sheets are not removed"


def own_changes(base: SheetRows, copy: SheetRows) -> SheetChanges:
    """Return what a copy did to a sheet of the members' own; the index of a row is its place less 1.

    Rows that were moved as they are, such as by sorting, are no change. Rows below all of the base are
    changes of the cells there. What has no cell of the base's to go to is named.
    """
    pairs = own_pairs(base, copy)
    comparison = Comparison(base=base, copy=copy, pairs=pairs)
    changed: dict[int, dict[Key, SideCell]] = {}
    rows: dict[int, int | None] = dict(pairs)
    unplaced: list[tuple[str, Raw, str]] = []
    taken = set(pairs.values())
    for now in range(len(copy.rows)):
        was = pairs.get(now)
        if was is None and now not in taken:
            # A row that was blank, or below all that there was.
            was = rows[now] = now
        if was is None:
            unplaced += _between(copy, now)
        elif cells := comparison.changed(now, was):
            changed[was] = changed.get(was, {}) | cells
    for was in sorted(set(_filled(base)) - taken):
        if was < len(copy.rows) and was not in pairs:
            continue  # emptied where it stands, which was seen above
        if was >= len(copy.rows):
            changed[was] = _emptied(base, was)
        else:
            unplaced.append((base.place(was, _first(base, was)), base.content(was, _first(base, was)), GONE))
    return SheetChanges(
        title=copy.title,
        headings={key: text for key, text in copy.headings.items() if key not in base.headings},
        changed=changed,
        formulas=tuple(comparison.formulas(rows)),
        unplaced=tuple(unplaced),
    )


def _between(copy: SheetRows, now: int) -> Iterator[tuple[str, Raw, str]]:
    for key in copy.columns:
        if copy.meaning(now, key) is not None:
            yield copy.place(now, key), copy.content(now, key), BETWEEN


def _filled(base: SheetRows) -> list[int]:
    return [
        index
        for index in range(len(base.rows))
        if any(base.meaning(index, key) is not None for key in base.columns)
    ]


def _first(base: SheetRows, index: int) -> Key:
    return next(key for key in base.columns if base.meaning(index, key) is not None)


def _emptied(base: SheetRows, was: int) -> dict[Key, SideCell]:
    return {
        key: SideCell("", None, base.place(was, key))
        for key in base.columns
        if base.meaning(was, key) is not None and base.formula(was, key) is None
    }

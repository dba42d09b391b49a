"""Labels that rows of other sheets refer to, and what became of those that somebody changed."""

from collections import Counter
from collections.abc import Iterator, Mapping
from functools import cache
from graphlib import TopologicalSorter

from rosterkit.roster.schema import Sheet, all_sheets, folded, sheet
from rosterkit.versions.sheet_rows import Key, SheetRows

Renamed = Mapping[str, str]
"""By a label, folded, the label that it stands for."""


@cache
def label_key(known: Sheet) -> Key | None:
    """Return the column whose text names a row where others refer to it; None where no sheet does."""
    last = known.identity[-1] if known.identity else ()
    return (last[0], 0) if len(last) == 1 else None


@cache
def referring(known: Sheet) -> dict[Key, str]:
    """Return the columns whose cells name rows of another sheet, with its title.

    In the schema they have ``refers``, or ``names`` where no drop-down goes with it.
    """
    return {
        (column.name, 0): sheet(title).title
        for column in known.filled_by_members
        if (title := column.schema.get("refers") or column.schema.get("names"))
    }


@cache
def in_order() -> tuple[Sheet, ...]:
    """Return our sheets such that each comes after those that it refers to."""
    sheets = {known.title: known for known in all_sheets()}
    after = {title: set(referring(known).values()) - {title} for title, known in sheets.items()}
    return tuple(sheets[title] for title in TopologicalSorter(after).static_order())


def renamed(base: SheetRows, copy: SheetRows, pairs: Mapping[int, int]) -> dict[str, str]:
    """Return the new labels of rows by the old ones, folded, where the copy has no other row of either.

    Args:
        base: the sheet as it was sent.
        copy: the sheet of a copy.
        pairs: the index of the base's row for that of the copy's.
    """
    key = label_key(base.known) if base.known else None
    if key is None or key not in copy.columns:
        return {}
    labels = Counter(folded(label) for label in map(text_of, copy.meanings[key]) if label)
    before = Counter(folded(label) for label in map(text_of, base.meanings.get(key, ())) if label)
    found: dict[str, str] = {}
    for old, new in _labels(base, copy, pairs, key):
        was, is_now = folded(old), folded(new)
        if was != is_now and not labels[was] and labels[is_now] == before[was] == 1:
            found[was] = new
    return found


def _labels(
    base: SheetRows, copy: SheetRows, pairs: Mapping[int, int], key: Key
) -> Iterator[tuple[str, str]]:
    for now, was in pairs.items():
        old, new = text_of(base.meaning(was, key)), text_of(copy.meaning(now, key))
        if old and new and old != new:
            yield old, new


def text_of(meaning: object) -> str | None:
    """Return a label as text; None where the cell is blank."""
    return None if meaning is None else str(meaning)

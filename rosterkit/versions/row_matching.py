"""Rows of two workbooks, recognised as the same ones by their marks."""

from collections.abc import Hashable, Iterable, Sequence

Marks = Sequence[Hashable]
"""What a row may be recognised by, the surest first; None where it lacks that mark."""


def paired(old: Sequence[Marks], new: Sequence[Marks]) -> dict[int, int]:
    """Return the index of the old row for the index of each new one that was there before.

    All rows have as many marks. By the first and the last, rows are recognised in their order where several
    share it; by those between them only where it is on one row of either side.
    """
    pairs: dict[int, int] = {}
    left: Iterable[int] = range(len(old))
    right: Iterable[int] = range(len(new))
    last = len((*old, *new)[0]) - 1 if old or new else -1
    for turn in range(last + 1):
        before, after = _by_mark(old, left, turn), _by_mark(new, right, turn)
        for mark, rows in after.items():
            same = before.get(mark, ())
            if turn in (0, last) or len(rows) == len(same) == 1:
                pairs |= zip(rows, same, strict=False)
        done = set(pairs.values())
        left = [index for index in left if index not in done]
        right = [index for index in right if index not in pairs]
    return pairs


def _by_mark(rows: Sequence[Marks], indices: Iterable[int], turn: int) -> dict[Hashable, list[int]]:
    found: dict[Hashable, list[int]] = {}
    for index in indices:
        mark = rows[index][turn]
        if mark is not None:
            found.setdefault(mark, []).append(index)
    return found

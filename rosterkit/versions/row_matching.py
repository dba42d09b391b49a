"""Rows of two workbooks, recognised as the same ones by their marks."""

from collections.abc import Hashable, Iterable, Iterator, Sequence

Marks = Sequence[Hashable]
"""What a row may be recognised by, the surest first; None where it lacks that mark."""
_MOST_COMPARED = 40_000
"""Pairs of rows under one name that are compared cell by cell; beyond that their order has to do."""


def paired(old: Sequence[Marks], new: Sequence[Marks]) -> dict[int, int]:
    """Return the index of the old row for the index of each new one that was there before.

    All rows have as many marks. By the first, which is all that stands in a row, rows are recognised in their
    order where several share it; by those between only where it is on one row of either side. Where several
    share the last, those go together that have most cells in common, in whatever order the rows are.
    """
    pairs: dict[int, int] = {}
    left: Iterable[int] = range(len(old))
    right: Iterable[int] = range(len(new))
    last = len((*old, *new)[0]) - 1 if old or new else -1
    for turn in range(last + 1):
        before, after = _by_mark(old, left, turn), _by_mark(new, right, turn)
        for mark, rows in after.items():
            same = before.get(mark, ())
            if turn == 0 or len(rows) == len(same) == 1:
                pairs |= zip(rows, same, strict=False)
            elif turn == last and same:
                pairs |= ((rows[b], same[a]) for a, b in nearest(_of(old, same), _of(new, rows)))
        done = set(pairs.values())
        left = [index for index in left if index not in done]
        right = [index for index in right if index not in pairs]
    return pairs


def nearest(old: Sequence[Hashable], new: Sequence[Hashable]) -> Iterator[tuple[int, int]]:
    """Return the indices of an old and a new row, those with most cells in common first, each row once.

    Rows are given as their cells. Their order decides nothing, as long as no two say the same.
    """
    first, second = _ranked(old), _ranked(new)
    if len(old) * len(new) > _MOST_COMPARED:
        yield from zip(first, second, strict=False)
        return
    likeness = sorted(
        (-shared(old[a], new[b]), at, to, a, b) for at, a in enumerate(first) for to, b in enumerate(second)
    )
    done: tuple[set[int], set[int]] = (set(), set())
    for *_, a, b in likeness:
        if a not in done[0] and b not in done[1]:
            done[0].add(a)
            done[1].add(b)
            yield a, b


def _ranked(rows: Sequence[Hashable]) -> list[int]:
    """Return the indices of rows in an order that comes of what stands in them."""
    return sorted(range(len(rows)), key=lambda index: repr(rows[index]))


def shared(old: Hashable, new: Hashable) -> int:
    """Count the filled cells that two rows have in common."""
    if not (isinstance(old, tuple) and isinstance(new, tuple)):
        return 0
    return sum(a == b for a, b in zip(old, new, strict=False) if a is not None)


def _of(rows: Sequence[Marks], indices: Sequence[int]) -> list[Hashable]:
    return [rows[index][0] for index in indices]


def _by_mark(rows: Sequence[Marks], indices: Iterable[int], turn: int) -> dict[Hashable, list[int]]:
    found: dict[Hashable, list[int]] = {}
    for index in indices:
        mark = rows[index][turn]
        if mark is not None:
            found.setdefault(mark, []).append(index)
    return found

"""Which row of a copy is which row of its base, whatever was sorted, moved, put in between or renamed."""

from collections.abc import Callable, Hashable, Iterator, Mapping, Sequence

from rosterkit.roster.schema import Sheet, all_sheets, folded
from rosterkit.versions.meanings import Meaning
from rosterkit.versions.references import label_key, referring, renamed, text_of
from rosterkit.versions.row_matching import nearest, paired, shared
from rosterkit.versions.sheet_rows import Key, SheetRows

Pairs = Mapping[int, int]
"""The index of the base's row for that of the copy's."""
_ENOUGH = 2
"""Cells that a row has beside its label, if it is to be recognised by them under another."""


def labels_before(base: SheetRows, copy: SheetRows, pairs: Pairs) -> dict[str, str]:
    """Return the base's label by the copy's, folded, of each row that the copy renamed."""
    changed = renamed(base, copy, pairs)
    key = label_key(base.known) if base.known else None
    if key is None or not changed:
        return {}
    olds = {folded(label): label for label in map(text_of, base.meanings[key]) if label}
    return {folded(new): olds[old] for old, new in changed.items()}


def recognised(base: SheetRows, copy: SheetRows, labels: Mapping[str, Mapping[str, str]]) -> dict[int, int]:
    """Return the index of the base's row for that of each row of the copy that was there before.

    A column that one of the two lacks says nothing.

    Args:
        base: a sheet of ours as it was sent.
        copy: that sheet of a copy.
        labels: by the title of a sheet, what its rows were called before, by the copy's labels, folded.
    """
    if base.settings:
        return {0: 0}
    known = base.known or copy.known
    if known is None:
        raise ValueError("a sheet of the members' own has pairs of its own")
    keys = [key for key in base.columns if key in copy.columns]
    before = _as_in_base(known, labels)
    old, new = base.cells(keys), [before(cells, keys) for cells in copy.cells(keys)]
    pairs = paired(list(_marks(known, keys, old)), list(_marks(known, keys, new)))
    return pairs | _relabelled(known, keys, (old, new), pairs)


def _as_in_base(
    known: Sheet, labels: Mapping[str, Mapping[str, str]]
) -> Callable[[tuple[Meaning, ...], Sequence[Key]], tuple[Meaning, ...]]:
    names = {key: labels[title] for key, title in referring(known).items() if labels.get(title)}
    if not names:
        return lambda cells, _keys: cells

    def as_in_base(cells: tuple[Meaning, ...], keys: Sequence[Key]) -> tuple[Meaning, ...]:
        return tuple(
            names[key].get(folded(str(cell)), cell) if key in names and cell is not None else cell
            for key, cell in zip(keys, cells, strict=True)
        )

    return as_in_base


def _marks(
    known: Sheet, keys: Sequence[Key], rows: Sequence[tuple[Meaning, ...]]
) -> Iterator[tuple[Hashable, ...]]:
    """Return all that stands in each row, then its keys of which nothing is blank, then the last key anyway.

    A default counts in a key whether or not it is written out.
    """
    place = {key: at for at, key in enumerate(keys)}
    wanted = [[(place.get((name, 0)), known[name].default) for name in one] for one in known.identity]
    for cells in rows:
        values = [[_folded(_or(cells, at, default)) for at, default in one] for one in wanted]
        earlier = (None if None in one else tuple(one) for one in values[:-1])
        last = tuple(values[-1]) if values else cells
        yield cells, *earlier, last


def _or(cells: tuple[Meaning, ...], at: int | None, default: Meaning) -> Meaning:
    content = None if at is None else cells[at]
    return default if content is None else content


def _folded(value: Meaning) -> Hashable:
    return folded(value) if isinstance(value, str) else value


def _relabelled(
    known: Sheet,
    keys: Sequence[Key],
    rows: tuple[Sequence[tuple[Meaning, ...]], Sequence[tuple[Meaning, ...]]],
    pairs: Pairs,
) -> dict[int, int]:
    """Recognise rows by all but their label, where that is all they are known by and others refer to it."""
    label = label_key(known)
    if label not in keys or len(known.identity) != 1 or not _is_referred_to(known):
        return {}
    at = keys.index(label)
    done = set(pairs.values())
    left = [index for index in range(len(rows[0])) if index not in done]
    right = [index for index in range(len(rows[1])) if index not in pairs]
    old, new = (_alone(some, indices, at) for some, indices in zip(rows, (left, right), strict=True))
    return {new[rest]: old[rest] for rest in new.keys() & old.keys()}


def _alone(
    rows: Sequence[tuple[Meaning, ...]], indices: Sequence[int], label: int
) -> dict[tuple[Meaning, ...], int]:
    found: dict[tuple[Meaning, ...], list[int]] = {}
    for index in indices:
        rest = (*rows[index][:label], *rows[index][label + 1 :])
        if rows[index][label] is not None and len(rest) - rest.count(None) >= _ENOUGH:
            found.setdefault(rest, []).append(index)
    return {rest: some[0] for rest, some in found.items() if len(some) == 1}


def _is_referred_to(known: Sheet) -> bool:
    return any(known.title in referring(other).values() for other in all_sheets())


def own_pairs(base: SheetRows, copy: SheetRows) -> dict[int, int]:
    """Return the index of the base's row for that of each row of a copy, on a sheet of the members' own.

    Rows are recognised by all that stands in them; of the others, a row that has a cell in common with the
    one after that which came before it, or with the one at its place, else with any; and then also by what
    comes before and by place alone.
    """
    keys = list({**base.columns, **copy.columns})
    old, new = base.cells(keys), copy.cells(keys)
    blank = (None,) * len(keys)
    filled = [index for index, cells in enumerate(old) if cells != blank]
    typed = [index for index, cells in enumerate(new) if cells != blank]
    same = paired([(old[index],) for index in filled], [(new[index],) for index in typed])
    pairs = {typed[now]: filled[was] for now, was in same.items()}
    left = set(filled) - set(pairs.values())

    def beside(*, in_common: bool) -> None:
        for now in typed:
            for was in (pairs[now - 1] + 1 if now - 1 in pairs else -1, now):
                if now not in pairs and was in left and (shared(old[was], new[now]) or not in_common):
                    pairs[now] = was
                    left.remove(was)

    beside(in_common=True)
    free, rest = sorted(left), [now for now in typed if now not in pairs]
    for a, b in nearest([old[was] for was in free], [new[now] for now in rest]):
        if shared(old[free[a]], new[rest[b]]):
            pairs[rest[b]] = free[a]
            left.remove(free[a])
    beside(in_common=False)
    return pairs

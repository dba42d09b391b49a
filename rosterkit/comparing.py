"""What a member did to a workbook: two rosters compared engine by engine and register by register."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, fields
from enum import StrEnum

from rosterkit.registers import registers_of
from rosterkit.roster import Layout, Locomotive, Roster
from rosterkit.sheets import folded, sheet

Value = str | int | float | None


class Fate(StrEnum):
    """What became of an engine."""

    CHANGED = "changed"
    ADDED = "added"
    GONE = "gone"


@dataclass(frozen=True, slots=True, kw_only=True)
class Difference:
    """One value that is not what it was."""

    name: str
    """The heading of a column or setting, or a register such as CV29, with its page if it has one."""
    old: Value
    new: Value


@dataclass(frozen=True, slots=True, kw_only=True)
class EngineChange:
    """What became of one engine."""

    fate: Fate
    loco: str
    """Its label; the new one if that was changed."""
    owner: str | None
    columns: tuple[Difference, ...]
    registers: tuple[Difference, ...]
    """Of an engine that was added or is gone, all of them."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Comparison:
    """All differences between two workbooks."""

    old: str
    new: str
    settings: tuple[Difference, ...]
    """Of the sheet Layout."""
    engines: tuple[EngineChange, ...]
    """In the order of the new workbook; those that are gone come last."""
    same: int
    """Engines of which nothing changed."""


def comparison(old: Roster, new: Roster) -> Comparison:
    """Compare two rosters."""
    pairs, added, gone = _paired(old.engines, new.engines)
    changed = {id(after): _change(before, after, old, new) for before, after in pairs}
    fresh = {id(engine): _whole(engine, new, Fate.ADDED) for engine in added}
    in_order = [(changed | fresh)[id(engine)] for engine in new.engines]
    found = [one for one in in_order if one.fate is Fate.ADDED or one.columns or one.registers]
    return Comparison(
        old=old.book.name,
        new=new.book.name,
        settings=tuple(_settings(old.layout, new.layout)),
        engines=(*found, *(_whole(engine, old, Fate.GONE) for engine in gone)),
        same=len(new.engines) - len(found),
    )


Key = tuple[str, str] | None
Pairs = list[tuple[Locomotive, Locomotive]]


def _by_label(engine: Locomotive) -> Key:
    return (folded(engine.owner or ""), folded(engine.loco)) if engine.loco else None


def _by_number(engine: Locomotive) -> Key:
    if not engine.railway or not engine.number:
        return None
    return folded(engine.railway), folded(engine.number)


def _only_label(engine: Locomotive) -> Key:
    return ("", folded(engine.loco)) if engine.loco else None


def _paired(
    old: Sequence[Locomotive], new: Sequence[Locomotive]
) -> tuple[Pairs, list[Locomotive], list[Locomotive]]:
    """Recognise engines by owner and label, then by railway and number, then by the label alone.

    What stands several times on either side is recognised by the next means, and at last by its order.
    """
    pairs: Pairs = []
    left, right = list(old), list(new)
    for key_of in (_by_label, _by_number, _only_label):
        found = list(_matches(left, right, key_of))
        pairs += found
        before, after = {id(one) for one, _ in found}, {id(one) for _, one in found}
        left = [engine for engine in left if id(engine) not in before]
        right = [engine for engine in right if id(engine) not in after]
    return _in_order(pairs, left, right)


def _in_order(
    pairs: Pairs, old: Sequence[Locomotive], new: Sequence[Locomotive]
) -> tuple[Pairs, list[Locomotive], list[Locomotive]]:
    """Pair what is left by its label, or by having none, in the order of the sheets."""
    waiting: dict[str, list[Locomotive]] = {}
    for engine in old:
        waiting.setdefault(folded(engine.loco or ""), []).append(engine)
    added = []
    for engine in new:
        same = waiting.get(folded(engine.loco or ""))
        if same:
            pairs.append((same.pop(0), engine))
        else:
            added.append(engine)
    left = {id(engine) for same in waiting.values() for engine in same}
    return pairs, added, [engine for engine in old if id(engine) in left]


def _matches(
    old: Iterable[Locomotive], new: Iterable[Locomotive], key_of: Callable[[Locomotive], Key]
) -> Iterator[tuple[Locomotive, Locomotive]]:
    before, after = _unique(old, key_of), _unique(new, key_of)
    for key, engine in before.items():
        if key in after:
            yield engine, after[key]


def _unique(engines: Iterable[Locomotive], key_of: Callable[[Locomotive], Key]) -> dict[Key, Locomotive]:
    found: dict[Key, list[Locomotive]] = {}
    for engine in engines:
        key = key_of(engine)
        if key is not None:
            found.setdefault(key, []).append(engine)
    return {key: same[0] for key, same in found.items() if len(same) == 1}


def _change(before: Locomotive, after: Locomotive, old: Roster, new: Roster) -> EngineChange:
    columns = (
        Difference(name=column.heading, old=getattr(before, column.name), new=getattr(after, column.name))
        for column in sheet("Locomotives").filled_by_members
        if getattr(before, column.name) != getattr(after, column.name)
    )
    was, is_now = _registers(before, old), _registers(after, new)
    names = dict.fromkeys([*is_now, *was])
    registers = (
        Difference(name=name, old=was.get(name), new=is_now.get(name))
        for name in names
        if was.get(name) != is_now.get(name)
    )
    return EngineChange(
        fate=Fate.CHANGED,
        loco=_label(after),
        owner=after.owner,
        columns=tuple(columns),
        registers=tuple(registers),
    )


def _whole(engine: Locomotive, roster: Roster, fate: Fate) -> EngineChange:
    def difference(name: str, value: Value) -> Difference:
        gone = fate is Fate.GONE
        return Difference(name=name, old=value if gone else None, new=None if gone else value)

    columns = sheet("Locomotives").filled_by_members
    filled = [(one, getattr(engine, one.name)) for one in columns]
    return EngineChange(
        fate=fate,
        loco=_label(engine),
        owner=engine.owner,
        columns=tuple(
            difference(one.heading, value) for one, value in filled if value not in (None, one.default)
        ),
        registers=tuple(difference(name, value) for name, value in _registers(engine, roster).items()),
    )


def _label(engine: Locomotive) -> str:
    return engine.loco or f"row {engine.table.rows[engine.index]}"


def _registers(engine: Locomotive, roster: Roster) -> dict[str, int]:
    return {
        f"CV{one.cv}" if one.page is None else f"CV{one.cv} (page {one.page[0]}/{one.page[1]})": one.value
        for one in registers_of(engine, roster).values
    }


def _settings(old: Layout, new: Layout) -> Iterator[Difference]:
    headings = {column.name: column.heading for column in sheet("Layout").columns}
    for one in fields(Layout):
        before, after = getattr(old, one.name), getattr(new, one.name)
        if one.name in headings and before != after:
            yield Difference(name=headings[one.name], old=before, new=after)

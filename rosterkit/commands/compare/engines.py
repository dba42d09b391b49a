"""What a member did to a workbook: engines, their CVs, and the rows of all other sheets compared."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields

from rosterkit.cv.engine import cvs_of
from rosterkit.roster.model import Layout, Locomotive, Roster
from rosterkit.roster.schema import all_sheets, folded, sheet
from rosterkit.versions.rows import ChangeKind, Difference, RowChange, Sides
from rosterkit.versions.side_by_side import grids_side_by_side, tables_side_by_side
from rosterkit.xlsx.grid import Grid

_ENGINES = "Locomotives"


@dataclass(frozen=True, slots=True, kw_only=True)
class EngineChange:
    """What became of one engine."""

    fate: ChangeKind
    loco: str
    """Its label; the new one if that was changed."""
    owner: str | None
    columns: tuple[Difference, ...]
    cvs: tuple[Difference, ...]
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
    rows: tuple[RowChange, ...]
    """Of all other sheets, ours and then the members' own, in the order of each in the new workbook; those
    that are gone come last."""
    same: int
    """Engines of which nothing changed."""


def comparison(
    old: Roster, new: Roster, own: tuple[Mapping[str, Grid], Mapping[str, Grid]] = ({}, {})
) -> Comparison:
    """Compare two rosters, and the sheets that are the members' own, by title."""
    sides = _sides(_ENGINES, old, new, {})
    engines = tuple(_engines(sides, old, new))
    return Comparison(
        old=old.book.name,
        new=new.book.name,
        settings=tuple(_settings(old.layout, new.layout)),
        engines=engines,
        rows=(*_rows(old, new, _renamed(sides, old, new)), *_own_rows(*own)),
        same=len(new.engines) - sum(one.fate is not ChangeKind.GONE for one in engines),
    )


def _sides(title: str, old: Roster, new: Roster, renamed: Mapping[str, str]) -> Sides:
    return tables_side_by_side(sheet(title), old.book.tables.get(title), new.book.tables.get(title), renamed)


def _engines(sides: Sides, old: Roster, new: Roster) -> Iterator[EngineChange]:
    for index, engine in enumerate(new.engines):
        is_now = _cvs(engine, new)
        if index not in sides.before:
            yield _engine(ChangeKind.ADDED, engine, sides.added(index), _changed({}, is_now))
            continue
        columns = sides.changed(index)
        cvs = _changed(_cvs(old.engines[sides.before[index]], old), is_now)
        if columns or cvs:
            yield _engine(ChangeKind.CHANGED, engine, columns, cvs)
    for index in sides.gone:
        engine = old.engines[index]
        yield _engine(ChangeKind.GONE, engine, sides.removed(index), _changed(_cvs(engine, old), {}))


def _engine(
    fate: ChangeKind, engine: Locomotive, columns: tuple[Difference, ...], cvs: list[Difference]
) -> EngineChange:
    label = engine.loco or f"row {engine.table.rows[engine.index]}"
    return EngineChange(fate=fate, loco=label, owner=engine.owner, columns=columns, cvs=tuple(cvs))


def _changed(was: Mapping[str, int], is_now: Mapping[str, int]) -> list[Difference]:
    return [
        Difference(name=name, old=was.get(name), new=is_now.get(name))
        for name in dict.fromkeys([*is_now, *was])
        if was.get(name) != is_now.get(name)
    ]


def _cvs(engine: Locomotive, roster: Roster) -> dict[str, int]:
    return {
        f"CV{one.cv}" if one.index is None else f"CV{one.cv} (index {one.index[0]}/{one.index[1]})": one.value
        for one in cvs_of(engine, roster).values
    }


def _renamed(sides: Sides, old: Roster, new: Roster) -> dict[str, str]:
    """Return the new labels of engines by the old ones, folded.

    None that an engine of the new workbook has.
    """
    kept = {folded(engine.loco) for engine in new.engines if engine.loco}
    pairs = ((old.engines[was].loco, new.engines[now].loco) for now, was in sides.before.items())
    return {folded(was): now for was, now in pairs if was and now and folded(was) not in kept}


def _rows(old: Roster, new: Roster, renamed: Mapping[str, str]) -> Iterator[RowChange]:
    for known in all_sheets():
        if known.identity and known.title != _ENGINES:
            yield from _sides(known.title, old, new, renamed).changes()


def _own_rows(old: Mapping[str, Grid], new: Mapping[str, Grid]) -> Iterator[RowChange]:
    before, after = ({folded(title): grid for title, grid in grids.items()} for grids in (old, new))
    for title in dict.fromkeys([*after, *before]):
        was, is_now = before.get(title), after.get(title)
        name = next(grid.title for grid in (is_now, was) if grid)
        yield from grids_side_by_side(name, was, is_now).changes()


def _settings(old: Layout, new: Layout) -> Iterator[Difference]:
    headings = {column.name: column.heading for column in sheet("Layout").columns}
    for one in fields(Layout):
        before, after = getattr(old, one.name), getattr(new, one.name)
        if one.name in headings and before != after:
            yield Difference(name=headings[one.name], old=before, new=after)

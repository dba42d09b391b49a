"""Where a cell of a copy stood in the base, whatever was sorted, moved or put in between since."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property

from rosterkit.roster.schema import folded
from rosterkit.roster.tables import Table
from rosterkit.versions.version import Version
from rosterkit.xlsx.grid import Grid
from rosterkit.xlsx.package.opening import SheetPart


@dataclass(frozen=True, kw_only=True)
class SheetPlaces:
    """One sheet in a copy and in its base."""

    copy: Grid
    base: Grid
    copy_part: str
    base_part: str
    copy_table: Table | None
    """None of a sheet of the members' own."""
    base_table: Table | None
    rows: Mapping[int, int]
    """The base's sheet row for that of the copy, of the rows of the table or of an own sheet."""
    columns: Mapping[int, int]
    """The base's sheet column for that of the copy, where headings tell it."""

    def row(self, row: int) -> int | None:
        """Return the base's row for one of the copy; None for a row that was added.

        Rows of no engine, such as those above the headings and free ones, stay at their distance from them.
        """
        if row in self.rows or self.copy_table is None or self.base_table is None:
            return self.rows.get(row, None if self.copy_table is None and self.rows else row)
        if not self.copy_table.sheet.transposed and row in self._listed:
            return None
        moved = row - self.copy_table.headings.row + self.base_table.headings.row
        return None if moved in self._known else moved

    def column(self, column: int) -> int | None:
        """Return the base's column for one of the copy; None for a column that was added."""
        if column in self.columns or self.copy_table is None:
            return self.columns.get(column, column)
        return None if column in self.copy_table.headings.own else column

    def at(self, row: int, column: int) -> tuple[int, int] | None:
        """Return the base's row and column for those of the copy; None for a place that was added."""
        was, across = self.row(row), self.column(column)
        return None if was is None or across is None else (was, across)

    @cached_property
    def _listed(self) -> frozenset[int]:
        return frozenset(self.copy_table.rows if self.copy_table else ())

    @cached_property
    def _known(self) -> frozenset[int]:
        return frozenset(self.rows.values())


def places_of(base: Version, copy: Version, rows: Mapping[str, Mapping[int, int]]) -> Iterator[SheetPlaces]:
    """Return each sheet that both have, but for those that rosterkit made, in the order of the copy.

    Args:
        base: The workbook as it was sent.
        copy: The workbook that came back.
        rows: By sheet title of the copy, the base's sheet row for each of the copy's.
    """
    parts = {folded(sheet.title): sheet for sheet in base.package.sheets}
    grids = {folded(title): grid for title, grid in base.grids.items()}
    for sheet in copy.package.sheets:
        known, was = parts.get(folded(sheet.title)), grids.get(folded(sheet.title))
        if sheet.title in copy.grids and known is not None and was is not None:
            yield _places(base, copy, (known, sheet), was, rows.get(sheet.title, {}))


def _places(
    base: Version, copy: Version, parts: tuple[SheetPart, SheetPart], was: Grid, rows: Mapping[int, int]
) -> SheetPlaces:
    before, after = _table(base, parts[0].title), _table(copy, parts[1].title)
    return SheetPlaces(
        copy=copy.grids[parts[1].title],
        base=was,
        copy_part=parts[1].part,
        base_part=parts[0].part,
        copy_table=after,
        base_table=before,
        rows=rows if after is None or not after.sheet.transposed else _settings(before, after),
        columns=_columns(before, after),
    )


def _table(version: Version, title: str) -> Table | None:
    return next((one for one in version.book.tables.values() if one.title == title), None)


def _settings(before: Table | None, after: Table) -> Mapping[int, int]:
    """Return the rows of settings, which are known by their names."""
    places = before.headings.columns if before else {}
    return {row: places[name] for name, row in after.headings.columns.items() if name in places}


def _columns(before: Table | None, after: Table | None) -> Mapping[int, int]:
    if before is None or after is None or after.sheet.transposed:
        return {}
    ours, theirs = before.headings, after.headings
    found = {place: ours.columns[name] for name, place in theirs.columns.items() if name in ours.columns}
    names = {folded(text): place for place, text in sorted(ours.own.items(), reverse=True)}
    return found | {place: names[folded(text)] for place, text in theirs.own.items() if folded(text) in names}

"""The rows of one sheet in one version, by column: what members filled in, and where it stands."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import cast

from rosterkit.cell_names import column_letters
from rosterkit.roster.schema import Sheet, folded
from rosterkit.roster.tables import Table
from rosterkit.versions.meanings import Meaning, column_meanings, meanings_of
from rosterkit.versions.version import Version
from rosterkit.xlsx.grid import Grid, Raw

Key = tuple[str, int]
"""What a column is known by in every version: ours by its name in the schema and 0; a member's own by its
heading, folded, and which of that heading it is, from 1; that of a sheet of the members' own by its letters
and its number."""


@dataclass(frozen=True, kw_only=True)
class SheetRows:
    """What members filled in on a sheet; blank of a sheet that is missing."""

    known: Sheet | None
    """None of a sheet of the members' own."""
    title: str
    """As it is spelt there; as the schema spells it where it is missing."""
    headings: Mapping[Key, str]
    """What people know a column by: our own spelling, the member's, or the letters."""
    columns: Mapping[Key, int]
    """The sheet column of each; of settings, the sheet row."""
    rows: Sequence[int]
    """The sheet row of each."""
    meanings: Mapping[Key, Sequence[Meaning]]
    raw: Mapping[Key, Sequence[Raw]]
    value_column: int = 0
    """The sheet column of the values, where the sheet is one of settings."""
    formulas: Mapping[int, Mapping[Key, str]] = field(default_factory=dict)
    """The text of formulas by the index of the row; a bare TRUE() or FALSE() is none, as programs store these
    values so."""
    missing: bool = False

    @property
    def settings(self) -> bool:
        """Whether the sheet is one of settings, which is one row here."""
        return self.known is not None and self.known.transposed

    def meaning(self, index: int, key: Key) -> Meaning:
        """Return what a cell means; None where there is no such row or column."""
        values = self.meanings.get(key, ())
        return values[index] if index < len(values) else None

    def content(self, index: int, key: Key) -> Raw:
        """Return what stands in a cell; blank where there is no such row or column."""
        values = self.raw.get(key, ())
        return values[index] if index < len(values) else ""

    def formula(self, index: int, key: Key) -> str | None:
        """Return the text of a formula, without the equals sign."""
        return self.formulas.get(index, {}).get(key)

    def at_row(self, index: int) -> int:
        """Return the sheet row of a row; on a sheet of the members' own also of one below all others."""
        return self.rows[index] if index < len(self.rows) else index + 1

    def at(self, index: int, key: Key) -> tuple[int, int]:
        """Return the sheet row and column of a cell; KeyError if the column is missing."""
        if self.settings:
            return self.columns[key], self.value_column
        return self.at_row(index), self.columns[key]

    def place(self, index: int, key: Key) -> str:
        """Return the name of a cell, such as D7; "" where the column is missing."""
        if key not in self.columns:
            return ""
        row, column = self.at(index, key)
        return f"{column_letters(column)}{row}"

    def cells(self, keys: Sequence[Key]) -> list[tuple[Meaning, ...]]:
        """Return what the cells of each row mean, in the order of some columns."""
        if not keys:
            return [()] * len(self.rows)
        blank = (None,) * len(self.rows)
        return list(zip(*(self.meanings.get(key, blank) for key in keys), strict=True))


def missing_sheet(known: Sheet | None, title: str) -> SheetRows:
    """Return a sheet in which nothing stands; of settings, their one row."""
    rows = [1] if known is not None and known.transposed else []
    return SheetRows(
        known=known, title=title, headings={}, columns={}, rows=rows, meanings={}, raw={}, missing=True
    )


def known_rows(version: Version | None, known: Sheet) -> SheetRows:
    """Return the rows of a sheet of ours: the columns that members fill, and their own beside them."""
    if version is None or known.title not in version.book.tables:
        return missing_sheet(known, known.title)
    if known not in version.kept:
        version.kept[known] = _known_rows(version, version.book.tables[known.title])
    return cast("SheetRows", version.kept[known])


def _known_rows(version: Version, table: Table) -> SheetRows:
    known = table.sheet
    ours = [column for column in known.filled_by_members if column.name in table.raw]
    own = dict(_own_columns(table))
    columns: dict[Key, int] = {(column.name, 0): table.headings.columns[column.name] for column in ours}
    columns |= own
    return SheetRows(
        known=known,
        title=table.title,
        headings={(column.name, 0): column.heading for column in ours}
        | {key: own_heading(table, place) for key, place in own.items()},
        columns=columns,
        rows=table.rows,
        meanings={(column.name, 0): column_meanings(table, column) for column in ours}
        | {key: meanings_of(table.own[place]) for key, place in own.items()},
        raw={(column.name, 0): table.raw[column.name] for column in ours}
        | {key: table.own[place] for key, place in own.items()},
        value_column=table.value_column,
        formulas=_formulas(version.grids[table.title], columns, table),
    )


def _own_columns(table: Table) -> Iterator[tuple[Key, int]]:
    seen: Counter[str] = Counter()
    for place in sorted(table.own):
        text = folded(table.headings.own[place])
        seen[text] += 1
        yield (text, seen[text]), place


def own_heading(table: Table, place: int) -> str:
    """Return the heading of a member's own column; one that stands there before has its letters with it."""
    text = table.headings.own[place]
    before = (other for at, other in table.headings.own.items() if at < place)
    return f"{text} ({column_letters(place)})" if folded(text) in map(folded, before) else text


def _formulas(grid: Grid, columns: Mapping[Key, int], table: Table) -> dict[int, dict[Key, str]]:
    if not grid.formulas:
        return {}
    found: dict[int, dict[Key, str]] = {}
    if table.sheet.transposed:
        texts = {key: grid.formulas.get((row, table.value_column)) for key, row in columns.items()}
        return {0: {key: text for key, text in texts.items() if text is not None and not _is_value(text)}}
    index_of = {row: index for index, row in enumerate(table.rows)}
    key_of = {place: key for key, place in columns.items()}
    for (row, column), text in grid.formulas.items():
        if row in index_of and column in key_of and not _is_value(text):
            found.setdefault(index_of[row], {})[key_of[column]] = text
    return found


def _is_value(text: str) -> bool:
    return text.upper() in {"TRUE()", "FALSE()"}


def own_rows(version: Version | None, title: str) -> SheetRows:
    """Return the rows of a sheet of the members' own, each by its place; the title is folded."""
    grids = version.grids.values() if version else ()
    grid = next((one for one in grids if folded(one.title) == title), None)
    if grid is None:
        return missing_sheet(None, title)
    width = max((*map(len, grid.rows), *(column for _, column in grid.formulas)), default=0)
    height = max((len(grid.rows), *(row for row, _ in grid.formulas)))
    keys: list[Key] = [(column_letters(at), at) for at in range(1, width + 1)]
    below: list[list[Raw]] = [[] for _ in range(height - len(grid.rows))]
    cells = [[*row, *[""] * (width - len(row))] for row in (*grid.rows, *below)]
    raw: dict[Key, Sequence[Raw]] = dict(zip(keys, map(list, zip(*cells, strict=True)), strict=True))
    formulas: dict[int, dict[Key, str]] = {}
    for (row, column), text in grid.formulas.items():
        if not _is_value(text):
            formulas.setdefault(row - 1, {})[column_letters(column), column] = text
    return SheetRows(
        known=None,
        title=grid.title,
        headings={key: key[0] for key in keys},
        columns={key: key[1] for key in keys},
        rows=range(1, len(cells) + 1),
        meanings={key: meanings_of(raw[key]) for key in keys},
        raw=raw,
        formulas=formulas,
    )


def own_titles(version: Version | None) -> list[str]:
    """Return the titles of the members' own sheets, folded, in the order of the workbook."""
    if version is None:
        return []
    ours = {folded(table.title) for table in version.book.tables.values()}
    return [title for title in map(folded, version.grids) if title not in ours]

"""One sheet of the master with what every side did to it."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property

from rosterkit.roster.schema import folded
from rosterkit.versions.changes import Compared
from rosterkit.versions.meanings import Meaning, meaning_of
from rosterkit.versions.merged import MergedRow, SideValue
from rosterkit.versions.references import label_key, referring
from rosterkit.versions.sheet_changes import SheetChanges, SideCell
from rosterkit.versions.sheet_rows import Key, SheetRows
from rosterkit.versions.votes import Vote
from rosterkit.xlsx.grid import Raw


@dataclass(kw_only=True)
class Labels:
    """What became of the labels of one sheet, by the base's label, folded."""

    now: dict[str, str] = field(default_factory=dict)
    """The label in the merged workbook, where it is another."""
    by_copies: dict[str, SideValue] = field(default_factory=dict)
    """What references are to say, where a copy renamed a row, and by whom."""


@dataclass(frozen=True, kw_only=True)
class SheetMerge:
    """All that is known of one sheet before anything of it is decided."""

    key: str
    master_name: str
    master: Compared
    """The master's sheet beside the base's."""
    sides: Sequence[tuple[str, SheetChanges]]
    """Of the copies that changed the sheet, in the order in which they were given."""
    labels: Mapping[str, Labels]
    """By the title of the sheet whose rows they name."""
    before: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    """By the title of a sheet, the base's label by the master's, folded, of rows that the master renamed."""

    @property
    def base(self) -> SheetRows:
        """The sheet as it was sent."""
        return self.master.base

    @property
    def now(self) -> SheetRows:
        """The sheet as the master has it."""
        return self.master.side

    @property
    def title(self) -> str:
        """The title as the master spells it; where it has no such sheet, as the base or a copy does."""
        if not self.now.missing or self.now.known:
            return self.now.title
        spelt = (changes.title for _, changes in self.sides)
        return min(spelt, default=self.base.title) if self.base.missing else self.base.title

    @cached_property
    def index_of(self) -> dict[int, int]:
        """The index of the master's row for that of the base's."""
        return {was: now for now, was in self.master.pairs.items()}

    @property
    def _by_place(self) -> bool:
        return self.now.known is None and (self.base.missing or not self.now.missing)

    def index_in_master(self, was: int) -> int | None:
        """Return the index of the master's row for that of the base's; None if the master has none.

        On a sheet of the members' own a row that was blank is the one at its place, unless another went
        there.
        """
        found = self.index_of.get(was)
        if found is None and self._by_place and was not in self.master.pairs:
            blank = all(self.base.meaning(was, key) is None for key in self.base.columns)
            return was if blank or was in self.master.changes.changed else None
        return found

    def label_now(self, key: Key, meaning: Meaning) -> str | None:
        """Return the label that a cell is to name in the merged workbook, if that is another one."""
        known = self.now.known
        title = referring(known).get(key) if known else None
        if title is None or meaning is None or title not in self.labels:
            return None
        return self.labels[title].now.get(folded(str(meaning)))

    def votes(self, was: int) -> dict[Key, list[Vote]]:
        """Return what sides want the changed cells of a row of the base to hold, the master first."""
        found: dict[Key, list[Vote]] = {}
        for name, changes in ((self.master_name, self.master.changes), *self.sides):
            for key, cell in changes.changed.get(was, {}).items():
                found.setdefault(key, []).append((name, cell))
        return found

    def heading(self, key: Key) -> str:
        """Return what people know a column by."""
        for rows in (self.now, self.base):
            if key in rows.headings:
                return rows.headings[key]
        known = self.now.known
        if known and not key[1]:
            return known[key[0]].heading
        return min(
            (changes.headings[key] for _, changes in self.sides if key in changes.headings), default=key[0]
        )

    def row(self, was: int, values: Mapping[Key, Raw]) -> MergedRow:
        """Return the name of a row of the base; with the values that some of its cells get."""
        now = self.index_in_master(was)
        if now is not None:
            return self.masters_row(now, values)
        held = self._named(self.base, was) | dict(values)
        return MergedRow(sheet=self.title, row=None, label=self.label(held, None))

    def masters_row(self, now: int, values: Mapping[Key, Raw]) -> MergedRow:
        """Return the name of a row of the master; with the values that some of its cells get."""
        held, row = self._named(self.now, now) | dict(values), self.now.at_row(now)
        return MergedRow(sheet=self.title, row=row, label=self.label(held, row))

    def setting(self, key: Key) -> MergedRow:
        """Return the name of the row of a setting; of one that the master lacks, without a place."""
        return MergedRow(sheet=self.title, row=self.now.columns.get(key), label=self.heading(key))

    def _named(self, rows: SheetRows, index: int) -> dict[Key, Raw]:
        """Return the cells that name a row."""
        return {key: rows.content(index, key) for key in self._naming if key in rows.columns}

    @cached_property
    def _naming(self) -> tuple[Key, ...]:
        known = self.now.known
        if known is None or not known.identity:
            return ()
        label = label_key(known)
        return (*((name, 0) for name in known.identity[0]), *((label,) if label else ()))

    def label(self, values: Mapping[Key, Raw], row: int | None) -> str:
        """Return what people know a row by: its label, else what it is recognised by, else its place."""
        known = self.now.known
        key = label_key(known) if known else None
        meanings = {one: meaning_of(values[one]) for one in self._naming if one in values}
        if key and meanings.get(key) is not None:
            return str(meanings[key])
        found = (
            [(name, meanings.get((name, 0))) for name in (known.identity[:1] or ((),))[0]] if known else []
        )
        words = [_word(known[name].heading, value) for name, value in found if known and value is not None]
        return ", ".join(words) or ("" if row is None else f"row {row}")

    def base_cells(self, was: int, base_name: str) -> Iterator[tuple[Key, Vote]]:
        """Return what the base held in a row, as what it wants."""
        for key in self.base.columns:
            if (meaning := self.base.meaning(was, key)) is not None and self.base.formula(was, key) is None:
                yield (
                    key,
                    (base_name, SideCell(self.base.content(was, key), meaning, self.base.place(was, key))),
                )


def _word(heading: str, value: Meaning) -> str:
    return value if isinstance(value, str) else f"{heading} {value}"

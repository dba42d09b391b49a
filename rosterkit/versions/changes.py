"""What one side did to its base: cells changed, rows added and removed, labels renamed, formulas typed.

It is small beside the workbooks, so that copies can be read in other processes.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import cast

from rosterkit.roster.schema import Sheet
from rosterkit.versions.own_changes import own_changes
from rosterkit.versions.recognition import labels_before, own_pairs, recognised
from rosterkit.versions.references import in_order, referring, renamed
from rosterkit.versions.sheet_changes import Comparison, NewRow, SheetChanges
from rosterkit.versions.sheet_rows import SheetRows, known_rows, missing_sheet, own_rows, own_titles
from rosterkit.versions.version import Version

Labels = Mapping[str, Mapping[str, str]]
"""By the title of a sheet, the base's labels by those that a side gave in place of them, folded."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Changes:
    """What one side did."""

    name: str
    sheets: Mapping[str, SheetChanges]
    """Those that it changed, by the schema's title, or folded of the members' own."""
    absent: tuple[str, ...] = ()
    """Titles of sheets of the base that are missing there; what they held is not taken for removed."""
    new_sheets: Mapping[str, int]
    """How many cells are filled in on each sheet of the members' own that the base lacks, by folded title."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Compared:
    """A sheet of a side beside that of the base."""

    key: str
    """The schema's title, or the folded one of a sheet of the members' own."""
    base: SheetRows
    side: SheetRows
    pairs: Mapping[int, int]
    """The index of the base's row for that of the side's."""
    changes: SheetChanges
    labels: Mapping[str, str]
    """The base's label by the side's, folded, of rows that the side renamed."""


def changes(base: Version | None, side: Version) -> Changes:
    """Compare a side with its base; without one, with an empty workbook.

    A cell is changed if it means something else: other spellings of a choice, digits that a program spells
    otherwise and formulas filled along are none. Computed columns and sheets that rosterkit made are not
    looked at.
    """
    found = compared(base, side)
    present = [one for one in found if not one.side.missing]
    return Changes(
        name=side.name,
        sheets={one.key: one.changes for one in present if not one.changes.is_empty},
        absent=tuple(one.base.title for one in found if one.side.missing and not one.base.missing),
        new_sheets={
            one.key: sum(map(len, one.changes.changed.values())) + len(one.changes.formulas)
            for one in present
            if one.base.missing and one.side.known is None
        },
    )


def rows_in(base: Version, copy: Version) -> Mapping[str, Mapping[int, int]]:
    """Return, by the title of each sheet as the copy spells it, the base's sheet row for each of the copy's.

    Rows that the base did not have are missing; so are sheets that one of the two lacks, and settings,
    which are known by their names.
    """
    return {
        one.side.title: {one.side.at_row(now): one.base.at_row(was) for now, was in one.pairs.items()}
        for one in compared(base, copy)
        if not (one.side.settings or one.base.missing or one.side.missing)
    }


def compared(base: Version | None, side: Version) -> Sequence[Compared]:
    """Return each sheet of ours beside the base's, then the members' own, also those that one of them lacks.

    Sheets that others refer to come first, so that what was renamed is known under both names.
    """
    kept = side.kept.get(compared)
    if kept is None or kept[0] is not base:
        kept = side.kept[compared] = (base, list(_compared(base, side)))
    return cast("Sequence[Compared]", kept[1])


def _compared(base: Version | None, side: Version) -> Iterator[Compared]:
    labels: dict[str, Mapping[str, str]] = {}
    for known in in_order():
        before, after = known_rows(base, known), known_rows(side, known)
        pairs = recognised(before, after, labels)
        labels[known.title] = labels_before(before, after, pairs)
        found = sheet_changes(known, before, after, pairs, labels)
        yield Compared(
            key=known.title, base=before, side=after, pairs=pairs, changes=found, labels=labels[known.title]
        )
    for title in dict.fromkeys([*own_titles(side), *own_titles(base)]):
        before, after = own_rows(base, title), own_rows(side, title)
        # A sheet that somebody took out says nothing.
        found = SheetChanges(title=before.title, headings={}) if after.missing else own_changes(before, after)
        own = own_pairs(before, after)
        yield Compared(key=title, base=before, side=after, pairs=own, changes=found, labels={})


def nowhere(title: str) -> Compared:
    """Return a sheet of the members' own that neither of two has; the title is folded."""
    blank = missing_sheet(None, title)
    unchanged = SheetChanges(title=title, headings={})
    return Compared(key=title, base=blank, side=blank, pairs={}, changes=unchanged, labels={})


def sheet_changes(
    known: Sheet, base: SheetRows, copy: SheetRows, pairs: Mapping[int, int], labels: Labels
) -> SheetChanges:
    """Return what a side did to a sheet of ours whose rows are paired."""
    names = {key: labels[title] for key, title in referring(known).items() if labels.get(title)}
    comparison = Comparison(base=base, copy=copy, pairs=pairs, names=names)
    kept = set(pairs.values())
    changed = {was: comparison.changed(now, was) for now, was in sorted(pairs.items())}
    added = [index for index in range(len(copy.rows)) if index not in pairs]
    return SheetChanges(
        title=copy.title,
        headings={key: text for key, text in copy.headings.items() if key not in base.headings},
        changed={was: cells for was, cells in changed.items() if cells},
        removed=tuple(index for index in range(len(base.rows)) if index not in kept),
        added=tuple(NewRow(row=copy.rows[index], cells=comparison.added(index)) for index in added),
        formulas=tuple(comparison.formulas({index: pairs.get(index) for index in range(len(copy.rows))})),
        renamed=renamed(base, copy, pairs),
    )

"""Several copies of one workbook merged: every side against the base, on top of the master."""

from collections.abc import Iterator, Mapping, Sequence

from rosterkit.versions.added_decisions import AddedDecisions
from rosterkit.versions.changes import Changes, Compared, changes, compared, nowhere, rows_in
from rosterkit.versions.deciding import Deciding, SheetResult
from rosterkit.versions.decisions import Decisions
from rosterkit.versions.following import followed_references
from rosterkit.versions.merged import Merged, NotMerged
from rosterkit.versions.same_formula import Moves, same_formula
from rosterkit.versions.sheet_changes import FormulaCell, SheetChanges
from rosterkit.versions.sheet_merge import Labels, SheetMerge
from rosterkit.versions.version import Version

__all__ = ["BASE", "NEW_SHEET", "merge", "merged", "rows_in"]

NEW_SHEET = "a new sheet; what stands in its cells is taken, how it looks is not"

BASE = "base"
"""What an empty base is called where a value is the base's."""


def merge(base: Version | None, master: Version, copies: Sequence[Version]) -> Merged:
    """Merge copies of a base into a master.

    The cell of a column in which one distinct new value stands gets it, whoever typed it; where there are
    several, the merged workbook holds the base's value, also where the master has moved on from it. A row
    that one side removed and nobody else changed is removed. Rows that several added are one if they are
    recognised as one. What names a row that was renamed follows it. Neither the order of the copies nor
    their names decide a value.

    Args:
        base: what was sent; None for an empty workbook, in which nothing stood that could be removed.
        master: what the copies are merged into, the base itself or what has become of it.
        copies: what came back. All have names of their own, also other than the master's.
    """
    return merged(base, master, [changes(base, copy) for copy in copies])


def merged(base: Version | None, master: Version, sides: Sequence[Changes]) -> Merged:
    """Merge what the sides of a base did into a master, as ``merge`` does."""
    labels: dict[str, Labels] = {}
    before: dict[str, Mapping[str, str]] = {}
    found = Merged()
    name = base.name if base else BASE
    for one in _sheets(base, master, sides):
        of_copies = [(side.name, side.sheets[one.key]) for side in sides if one.key in side.sheets]
        before[one.key] = one.labels
        labels[one.key] = Labels(now=dict(one.changes.renamed))
        if of_copies or any(each.by_copies for each in labels.values()):
            sheet = SheetMerge(
                key=one.key,
                master_name=master.name,
                master=one,
                sides=of_copies,
                labels=labels,
                before=before,
            )
            on = Deciding(sheet=sheet, labels=labels[one.key], base_name=name)
            Decisions(on).decide()
            AddedDecisions(on).decide()
            result = on.result
            result.taken += followed_references(sheet, result.decided, result.gone)
            result.not_merged += _typed_formulas(sheet)
            result.not_merged += _unplaced(sheet)
            result.not_merged += _looks_of_new_sheets(sheet, sides)
            found = _sum(found, result, sheet)
    return _sum(found, SheetResult(not_merged=list(_absent(sides))), None)


def _sheets(base: Version | None, master: Version, sides: Sequence[Changes]) -> Iterator[Compared]:
    """Return every sheet that one of all has, the master's beside that of the base."""
    seen: set[str] = set()
    for one in compared(base, master):
        seen.add(one.key)
        yield one
    for title in dict.fromkeys(title for side in sides for title in side.new_sheets):
        if title not in seen:
            yield nowhere(title)


def _sum(found: Merged, result: SheetResult, sheet: SheetMerge | None) -> Merged:
    new = () if sheet is None else _new_columns(result, sheet)
    return Merged(
        taken=(*found.taken, *result.taken),
        added=(*found.added, *result.added),
        removed=(*found.removed, *result.removed),
        conflicts=(*found.conflicts, *result.conflicts),
        not_merged=(*found.not_merged, *result.not_merged),
        new_columns=(*found.new_columns, *new),
    )


def _new_columns(result: SheetResult, sheet: SheetMerge) -> Iterator[tuple[str, str]]:
    """Return the columns that are to be added to the master; those of ours come with a sheet that is."""
    if sheet.now.known is None or sheet.now.settings:
        return
    for key, heading in result.columns.items():
        if key not in sheet.now.columns and (key[1] or not sheet.now.missing):
            yield sheet.title, heading


def _looks_of_new_sheets(sheet: SheetMerge, sides: Sequence[Changes]) -> Iterator[NotMerged]:
    if not (sheet.base.missing and sheet.now.missing):
        return
    for side in sides:
        if sheet.key in side.new_sheets:
            title = side.sheets[sheet.key].title if sheet.key in side.sheets else sheet.title
            yield NotMerged(source=side.name, sheet=title, cell="", value="", reason=NEW_SHEET)


def _absent(sides: Sequence[Changes]) -> Iterator[NotMerged]:
    for side in sides:
        for title in side.absent:
            reason = "this sheet is missing in the copy; nothing of it was removed"
            yield NotMerged(source=side.name, sheet=title, cell="", value="", reason=reason)


def _unplaced(sheet: SheetMerge) -> Iterator[NotMerged]:
    for name, one in sheet.sides:
        for place, value, reason in one.unplaced:
            yield NotMerged(source=name, sheet=one.title, cell=place, value=value, reason=reason)


def _typed_formulas(sheet: SheetMerge) -> Iterator[NotMerged]:
    for name, one in sheet.sides:
        yield from _formulas(sheet, name, one)


def _formulas(sheet: SheetMerge, name: str, side: SheetChanges) -> Iterator[NotMerged]:
    for cell in side.formulas:
        if not _masters_too(sheet, cell):
            reason = (
                "a value in place of a formula; formulas are kept"
                if cell.text is None
                else f"the formula ={cell.text}; formulas are not merged"
            )
            yield NotMerged(source=name, sheet=side.title, cell=cell.place, value=cell.result, reason=reason)


def _masters_too(sheet: SheetMerge, cell: FormulaCell) -> bool:
    """Tell whether the master holds the same in that cell."""
    now = None if cell.index is None else sheet.index_in_master(cell.index)
    if now is None or cell.key not in sheet.now.columns:
        return False
    text = sheet.now.formula(now, cell.key)
    if text is None or cell.text is None:
        return text is cell.text and sheet.now.content(now, cell.key) == cell.result
    return same_formula(text, sheet.now.at(now, cell.key), cell.text, cell.at, Moves({}, {}))

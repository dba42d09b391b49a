"""Cells of the master that name a row which somebody renamed, and follow it."""

from collections.abc import Iterator, Set

from rosterkit.roster.schema import folded
from rosterkit.versions.merged import TakenCell
from rosterkit.versions.references import referring
from rosterkit.versions.sheet_merge import SheetMerge
from rosterkit.versions.sheet_rows import Key


def followed_references(
    sheet: SheetMerge, decided: Set[tuple[int, Key]], gone: Set[int]
) -> Iterator[TakenCell]:
    """Return the cells of the master that name a row which a copy renamed, and say something else as yet.

    Args:
        sheet: the sheet with what sides did to it.
        decided: cells on which something is decided, by the index of the master's row.
        gone: the indices of the master's rows that are removed.
    """
    known = sheet.now.known
    for key, title in (referring(known) if known else {}).items():
        labels = sheet.labels.get(title)
        if labels is None or not labels.by_copies:
            continue
        for now, meaning in enumerate(sheet.now.meanings.get(key, ())):
            free = now not in gone and (now, key) not in decided
            if meaning is None or not free or sheet.now.formula(now, key) is not None:
                continue
            in_base = sheet.before.get(title, {}).get(folded(str(meaning)), str(meaning))
            label = labels.by_copies.get(folded(in_base))
            if label is not None and folded(str(label.value)) != folded(str(meaning)):
                content = sheet.now.content(now, key)
                row = sheet.masters_row(now, {key: label.value})
                yield TakenCell(row=row, column=sheet.heading(key), old=content, new=label)

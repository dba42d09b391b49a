"""What a copy has beside the values of its tables, and a merge leaves where it is: named with its place."""

from collections.abc import Iterator, Mapping
from dataclasses import replace
from functools import partial
from string import ascii_uppercase
from typing import cast

from rosterkit.cell_names import column_letters
from rosterkit.versions.changed_looks import changed_looks
from rosterkit.versions.drawn_and_noted import new_drawings, new_notes
from rosterkit.versions.merged import NotMerged
from rosterkit.versions.outside_cells import outside_cells
from rosterkit.versions.places import SheetPlaces, places_of
from rosterkit.versions.references import label_key
from rosterkit.versions.version import Version, version_of
from rosterkit.xlsx.package.opening import Package
from rosterkit.xlsx.read.anchors import DrawnKind
from rosterkit.xlsx.read.looks import Look, SheetLooks, looks_of, sheet_looks

_PLURALS = {
    DrawnKind.PHOTO: "a photo; photos are not merged",
    DrawnKind.CHART: "a chart; charts are not merged",
    DrawnKind.BOX: "a text box; drawings are not merged",
    DrawnKind.OTHER: "a drawing; drawings are not merged",
}
_MOST_LOOKS = 40
"""Runs of formatted cells of one sheet that are named; beyond them one line says how many more there are."""


def things_not_merged(
    base: Version | Package, copy: Version | Package, rows: Mapping[str, Mapping[int, int]], name: str
) -> list[NotMerged]:
    """Return the notes, drawings, formats and cells outside any table that a copy has and its base has not.

    What another program only writes in its own way when it saves is not among them, nor what was only sorted
    or moved, nor what is gone in the copy: the merged workbook keeps it.

    Args:
        base: The workbook as it was sent.
        copy: The workbook that came back.
        rows: By sheet title of the copy, the base's sheet row for each of the copy's.
        name: What the copy's side is called.

    Raises:
        CannotRunError: one of the two cannot be read.
    """
    was = base if isinstance(base, Version) else version_of(base, "base")
    now = copy if isinstance(copy, Version) else version_of(copy, name)
    found: list[NotMerged] = []
    for places in places_of(was, now, rows):
        line = partial(NotMerged, source=name, sheet=places.copy.title)
        for cell in outside_cells(places):
            reason = f"{cell.where}; only the rows of a list are merged"
            found.append(line(cell=_named(cell.row, cell.column), value=cell.value, reason=reason))
        for note in new_notes(was.package, now.package, places):
            what = "a note that was changed" if note.changed else "a note"
            place = _named(note.row, note.column)
            found.append(line(cell=place, value=note.text, reason=f"{what}; notes are not merged"))
        for one in new_drawings(was.package, now.package, places):
            text = one.mark if one.kind is DrawnKind.BOX else ""
            found.append(line(cell=_named(one.row, one.column), value=text, reason=_PLURALS[one.kind]))
        found += _formats(was, now, places, name)
    return [_labelled(one, now) for one in found]


def _labelled(one: NotMerged, copy: Version) -> NotMerged:
    """Return a line with what its row is known by: rows of the merged workbook stand in another order."""
    table = next((each for each in copy.book.tables.values() if each.title == one.sheet), None)
    key = label_key(table.sheet) if table is not None else None
    row = int(one.cell.lstrip(ascii_uppercase) or 0)
    if table is None or key is None or row not in table.rows:
        return one
    label = table.values[key[0]][table.rows.index(row)]
    return replace(one, label="" if label is None else str(label))


def _named(row: int, column: int) -> str:
    return f"{column_letters(column)}{row}"


def _formats(base: Version, copy: Version, places: SheetPlaces, name: str) -> Iterator[NotMerged]:
    runs = list(changed_looks(_looks(base, places.base_part), _looks(copy, places.copy_part), places))
    for run in runs[:_MOST_LOOKS]:
        yield NotMerged(
            source=name,
            sheet=places.copy.title,
            cell=_named(run.row, run.first),
            value="",
            reason=f"{run.words} in {run.area}; formats are not merged",
        )
    if len(runs) > _MOST_LOOKS:
        more = f"formats in {len(runs) - _MOST_LOOKS} more places; formats are not merged"
        yield NotMerged(source=name, sheet=places.copy.title, cell="", value="", reason=more)


def _looks(version: Version, part: str) -> SheetLooks:
    """Return how a sheet looks, read once for each version."""
    if _looks not in version.kept:
        version.kept[_looks] = looks_of(version.package)
    if (_looks, part) not in version.kept:
        looks = cast("tuple[Look, ...]", version.kept[_looks])
        version.kept[_looks, part] = sheet_looks(version.package, part, looks)
    return cast("SheetLooks", version.kept[_looks, part])

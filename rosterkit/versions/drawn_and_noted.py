"""Notes, photos, charts and other drawings that a copy has and its base has not, by their places."""

from collections import Counter
from collections.abc import Iterator
from typing import NamedTuple

from rosterkit.versions.places import SheetPlaces
from rosterkit.xlsx.package.opening import Package
from rosterkit.xlsx.read.anchors import Drawn, DrawnKind, drawn_on, photos_in_cells
from rosterkit.xlsx.read.notes import notes_of

_NEAR = 1
"""Rows and columns by which a program may place a drawing anew when it saves."""


class Noted(NamedTuple):
    """A note, and whether there was another in its place."""

    row: int
    column: int
    text: str
    changed: bool


def new_notes(base: Package, copy: Package, places: SheetPlaces) -> Iterator[Noted]:
    """Return the notes of a copy's sheet that are not those of the base, be it in another place.

    Raises:
        CannotRunError: a part of notes is damaged.
    """
    after = notes_of(copy, places.copy_part)
    if not after:
        return
    before = dict(notes_of(base, places.base_part))
    waiting: list[Noted] = []
    for (row, column), note in after.items():
        at = places.at(row, column)
        was = before.get(at) if at else None
        if at and was and was.says_the_same(note):
            del before[at]
        else:
            waiting.append(Noted(row, column, note.text, was is not None))
    left = Counter(note.text for note in before.values())
    for one in waiting:
        if left[one.text] > 0:
            left[one.text] -= 1
        else:
            yield one


def new_drawings(base: Package, copy: Package, places: SheetPlaces) -> Iterator[Drawn]:
    """Return the drawings of a copy's sheet that the base has not.

    A photo is known by its file, a box by its text; where a program saved that anew, and for all others, by
    its kind and its place. What only moved on its sheet is not new.

    Raises:
        CannotRunError: a drawing is damaged.
    """
    after = [*drawn_on(copy, places.copy_part), *photos_in_cells(copy, places.copy_part)]
    if not after:
        return
    left = [*drawn_on(base, places.base_part, controls=True), *photos_in_cells(base, places.base_part)]
    waiting: list[Drawn] = []
    for one in after:
        same = [each for each in left if one.mark and (each.kind, each.mark) == (one.kind, one.mark)]
        if same:
            left.remove(min(same, key=lambda each: _distance(places, each, one)))
        else:
            waiting.append(one)
    for one in waiting:
        alike = [each for each in left if each.kind is one.kind and _distance(places, each, one) <= _NEAR]
        replaced = one.kind in (DrawnKind.PHOTO, DrawnKind.BOX) and one.mark
        if alike and not replaced:
            left.remove(alike[0])
        else:
            yield one


def _distance(places: SheetPlaces, old: Drawn, new: Drawn) -> int:
    at = places.at(new.row, new.column) or (new.row, new.column)
    return max(abs(at[0] - old.row), abs(at[1] - old.column))

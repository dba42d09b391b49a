"""Labels of a form that no vocabulary knows: they stand where its labels stand, with a value beside each."""

import re
from collections.abc import Sequence
from dataclasses import replace

from rosterkit.lists.layout.label_columns import value_beside
from rosterkit.lists.layout.texts import is_day_or_time, is_number, is_sentence
from rosterkit.lists.layout.view import View
from rosterkit.lists.tables import Located

_CVS_TOLD = re.compile(r"\bcv\s*\d{1,4}\s*=\s*\d{1,3}\b", re.IGNORECASE)
NOTES = "Notes"


def labels_in(view: View, line: int, known: list[int], positions: Sequence[int]) -> list[int]:
    """Return the positions of all labels in a line of a form: the known ones, and a member's own.

    ``positions`` are those of the columns of labels. A line that is not made up of labels and their values
    alone has none but the known ones: it is a line of a table, or continues the one above.
    """
    own = [one for one in positions if one not in known and _may_be_label(view, line, one)]
    if not own:
        return known
    labels = sorted([*known, *own])
    values = {value_beside(view, line, one) for one in labels}
    told = {*labels, *values} - {None}
    return labels if told == set(view.lines[line]) and not values & set(labels) else known


def _may_be_label(view: View, line: int, position: int) -> bool:
    """Whether a text begins with a letter, is no sentence, and has a value beside it."""
    found = view.cells.get((line, position))
    if found is None or is_number(found.cell) or is_day_or_time(found.cell):
        return False
    text = found.cell.text
    return text[0].isalpha() and not is_sentence(text) and value_beside(view, line, position) is not None


def headed_as_notes(cell: Located) -> tuple[Located, Located] | None:
    """Return a line such as 'CV3=5, CV4=7' as a note with its label, None if it tells of no CV."""
    if not _CVS_TOLD.search(cell.cell.text):
        return None
    return Located(cell.place, replace(cell.cell, text=NOTES, value=NOTES)), cell

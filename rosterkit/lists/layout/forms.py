"""A form for each engine: labels with their values to the right, one form after the other or a sheet each."""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise

from rosterkit.lists.layout.cv_lists import cv_lists, skip_beside, spots_of
from rosterkit.lists.layout.form_starts import FormStarts
from rosterkit.lists.layout.label_columns import (
    SHARE_IN_A_FORM,
    LabelColumn,
    is_inline,
    label_columns,
    said,
    value_beside,
)
from rosterkit.lists.layout.own_labels import NOTES, headed_as_notes, labels_in
from rosterkit.lists.layout.skipping import BESIDE, CONTINUES, NO_TABLE, SECTION, Skips
from rosterkit.lists.layout.texts import cv_number, inline_label, label_text, normal
from rosterkit.lists.layout.view import View
from rosterkit.lists.tables import Located

_SAME_FORM = 0.6


@dataclass
class Form:
    """One engine's form."""

    sheet: str
    line: int
    column: int
    fields: dict[str, tuple[Located, Located | None]] = field(default_factory=dict)
    """By label as compared: the label, and its value."""
    title: Located | None = None
    pairs: list[tuple[Located, Located]] = field(default_factory=list)
    cv_heading: Located | None = None
    value_heading: Located | None = None
    notebook: bool = False
    """Whether it is a title with an indented list below it."""
    label_position: int = 0


def forms_of(view: View, skips: Skips) -> list[Form]:
    """Return the forms of a sheet from the top; what is in none of their fields is skipped."""
    columns = label_columns(view)
    forms: list[Form] = []
    for group in _side_by_side(view, columns):
        forms += _FormReader(group, skips).forms()
    return forms


def _side_by_side(view: View, columns: Sequence[LabelColumn]) -> list[View]:
    """Return the view cut where the labels of a column are those of the first column once more."""
    labels = [{said(view, line, one.position) for line in one.labels} for one in columns]
    starts = [
        one.position
        for one, texts in zip(columns[1:], labels[1:], strict=True)
        if len(texts & labels[0]) >= _SAME_FORM * min(len(texts), len(labels[0]))
    ]
    edges = [0, *starts, max(view.columns) + 1]
    return [view.part((left, right - 1)) for left, right in pairwise(edges)]


class _FormReader:
    """Reads the forms below each other of one strip."""

    def __init__(self, view: View, skips: Skips) -> None:
        self._lists = cv_lists(view)
        spots = {spot for one in self._lists for spot in spots_of(one, view)}
        self._whole, self._view, self._skips = view, view.without(spots), skips
        columns = label_columns(self._view, SHARE_IN_A_FORM) or label_columns(view)
        self._starts = FormStarts(self._view, columns)
        self._positions, self._labels = self._starts.positions, self._starts.labels
        self._known = {normal(label_text(self._view.text(*spot))) for spot in self._labels}

    def forms(self) -> list[Form]:
        """Return the forms from the top; a strip without labels has none."""
        if not self._positions:
            self._skips.cells(self._whole.cells.values(), NO_TABLE)
            return []
        starts = self._starts.starts()
        forms = []
        for number, start in enumerate(starts):
            end = starts[number + 1] - 1 if number + 1 < len(starts) else self._last_line()
            forms.append(self._form(start, end, from_line=start if number else 0))
        return forms

    def _last_line(self) -> int:
        return max([*self._view.order, *(one.last for one in self._lists)])

    def _form(self, start: int, end: int, *, from_line: int) -> Form:
        """Return the form between two lines; a list of CVs from ``from_line`` on is its own."""
        view = self._view
        lines = view.lines_between(start, end)
        form = Form(view.sheet, start, min(view.columns), label_position=self._positions[0])
        for line in lines:
            self._read_line(form, line)
        form.notebook = form.title is not None and form.title.place.column < self._positions[0]
        for found in self._lists:
            if from_line <= found.line <= end:
                form.pairs += found.pairs
                form.cv_heading = form.cv_heading or (None if found.unsure else found.heading)
                form.value_heading = form.value_heading or found.value_heading
                skip_beside(found, self._skips)
        return form

    def _read_line(self, form: Form, line: int) -> None:
        view = self._view
        labels = [one for one in view.lines[line] if (line, one) in self._labels]
        if form.fields:
            labels = labels_in(view, line, labels, self._positions)
        if len(view.lines[line]) == 1 and self._is_answer(form, view.located(line)[0]):
            return
        told = headed_as_notes(view.located(line)[0]) if len(view.lines[line]) == 1 else None
        inline = any(is_inline(view, line, one) for one in labels)
        if told and form.fields and not inline and normal(NOTES) not in self._known:
            self._enter(form, *told)
            return
        taken: set[int] = set(labels)
        for number, position in enumerate(labels):
            beyond = labels[number + 1] if number + 1 < len(labels) else None
            beside = value_beside(view, line, position)
            value = None if beside is None or beside == beyond else view.cells[line, beside]
            if beside is not None and value is not None:
                taken.add(beside)
            if value is None and is_inline(view, line, position):
                self._enter(form, *_taken_apart(view.cells[line, position]))
            else:
                self._enter(form, view.cells[line, position], value)
        rest = [view.cells[line, one] for one in view.lines[line] if one not in taken]
        if not labels and form.title is None and not form.fields:
            form.title, rest = rest[0], rest[1:]
        if not rest:
            return
        lone = not labels and len(rest) == 1 and rest[0].place.column <= self._positions[0]
        self._skips.cells(rest, BESIDE if labels else SECTION if lone else CONTINUES)

    def _is_answer(self, form: Form, cell: Located) -> bool:
        """Take a text right below a label that has no value beside it as its value; return whether it is."""
        if cell.cell.text.endswith(":") or inline_label(cell.cell.text):
            return False
        for key, (label, value) in reversed(form.fields.items()):
            if (
                value is None
                and label.cell.text.endswith(":")
                and (label.place.row, label.place.column)
                == (
                    cell.place.row - 1,
                    cell.place.column,
                )
            ):
                form.fields[key] = (label, cell)
                return True
        return False

    def _enter(self, form: Form, label: Located, value: Located | None) -> None:
        key = normal(label_text(label.cell.text))
        known = form.fields.get(key)
        if known is None or known[1] is None:
            if known is not None:
                self._skips.cells([known[0]], BESIDE)
            form.fields[key] = (label, value)
            return
        self._skips.cells([label] if value is None else [label, value], BESIDE)


def _taken_apart(cell: Located) -> tuple[Located, Located]:
    """Return 'Owner: M01' as a label and its value, both in the same place."""
    label, value = inline_label(cell.cell.text) or (cell.cell.text, "")
    return (
        Located(cell.place, replace(cell.cell, text=label, value=label)),
        Located(cell.place, replace(cell.cell, text=value, value=value)),
    )


def cvs_of(form: Form) -> list[tuple[Located, Located]]:
    """Return the labels of a form that are CVs, with their values."""
    return [
        (label, value)
        for label, value in form.fields.values()
        if value is not None and cv_number(label.cell.text) is not None
    ]

"""Forms with the same labels as one table: a heading for each label, a record for each form."""

from collections.abc import Sequence
from dataclasses import replace

from rosterkit.cell_names import column_letters
from rosterkit.lists.layout.column_table import sheet_title
from rosterkit.lists.layout.forms import Form, cvs_of
from rosterkit.lists.layout.texts import cv_number, label_text
from rosterkit.lists.tables import Heading, Located, Origin, Record, Table

_SAME_FORM = 0.5
"""Forms that share this many of the fewer labels are filled in from one blank."""


def tables_of_forms(by_sheet: dict[str, list[Form]]) -> list[Table]:
    """Return the tables of all forms: those with a sheet each together, those that are stacked by sheet."""
    tables = []
    groups: list[list[Form]] = []
    for sheet, forms in by_sheet.items():
        if len(forms) > 1:
            tables.append(_FormTable(forms, sheet).table())
            continue
        for group in groups:
            if forms and _alike(group[0], forms[0]):
                group.append(forms[0])
                break
        else:
            groups.append(forms[:1])
    return tables + [_FormTable(group, "*").table() for group in groups if group]


def _alike(form: Form, other: Form) -> bool:
    if not form.fields and not other.fields:
        return True  # nothing but lists of CVs
    shared = len(form.fields.keys() & other.fields.keys())
    return shared >= _SAME_FORM * max(1, min(len(form.fields), len(other.fields)))


class _FormTable:
    """Builds the table of some forms; ``name`` is their sheet, or * for a sheet each."""

    def __init__(self, forms: Sequence[Form], name: str) -> None:
        self._forms, self._name = forms, name
        self._headings: list[Heading] = []
        self._at: dict[int, list[Located]] = {}
        """The cells of each heading, one for each form that has it."""
        self._numbers: dict[str, int] = {}
        self._notebook = sum(form.notebook for form in forms) > len(forms) / 2
        columns = {form.column for form in forms}
        self._beside = name != "*" and len(columns) > 1

    def table(self) -> Table:
        """Return the table."""
        records = [self._record(form) for form in self._forms]
        headings = [
            replace(heading, at=tuple(self._at[number])) if number in self._at else heading
            for number, heading in enumerate(self._headings)
        ]
        return Table(self._forms[0].sheet, tuple(headings), tuple(records))

    def _record(self, form: Form) -> Record:
        cells: dict[int, Located] = {}
        if form.title is not None:
            cells[self._number(self._title_heading(form.title))] = form.title
        pairs = list(form.pairs)
        listed = cvs_of(form) if self._notebook else []
        pairs = [*listed, *pairs]
        for label, value in form.fields.values():
            if self._notebook and cv_number(label.cell.text) is not None:
                self._list_headings(label)
                if value is None:
                    self._field(label)
                continue
            number = self._field(label)
            if value is not None:
                cells[number] = value
        if form.cv_heading is not None:
            self._labelled("CV", form.cv_heading)
            if form.value_heading is not None:
                self._labelled("value", form.value_heading)
        heading, title = sheet_title(form.sheet, f"{self._name}!title")
        cells[self._number(heading)] = title
        return Record(self._key(form), cells, tuple(pairs))

    def _key(self, form: Form) -> str:
        if self._name == "*":
            return form.sheet
        key = f"{form.sheet}!{form.line}"
        return f"{key}/{column_letters(form.column)}" if self._beside else key

    def _title_heading(self, title: Located) -> Heading:
        letters = column_letters(title.place.column)
        key = f"{self._name}!{letters}" if self._notebook else f"{self._name}!heading"
        return Heading(key, "", Origin.BLOCK_TITLE)

    def _list_headings(self, label: Located) -> None:
        """Head the labels and the values of a notebook as CV numbers and values."""
        for position, text in ((label.place.column, "CV"), (label.place.column + 1, "value")):
            key = f"{self._name}!{column_letters(position)}"
            self._number(Heading(key, text, Origin.LABEL))

    def _field(self, label: Located) -> int:
        text = label_text(label.cell.text)
        return self._number(Heading(f"{self._name}!{text}", text, Origin.LABEL), label)

    def _labelled(self, default: str, cell: Located) -> None:
        text = cell.cell.text.rstrip(": ") or default
        self._number(Heading(f"{self._name}!{text}", text, Origin.LABEL), cell)

    def _number(self, heading: Heading, at: Located | None = None) -> int:
        """Return the number of a heading, a new one if its key is not known yet; each form's cell is kept."""
        key = heading.key.casefold()
        if key not in self._numbers:
            self._numbers[key] = len(self._headings)
            self._headings.append(heading)
        number = self._numbers[key]
        if at is not None:
            self._at.setdefault(number, []).append(at)
        return number

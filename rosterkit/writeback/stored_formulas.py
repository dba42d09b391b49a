"""The formulas under the computed headings of a workbook, each compared with ours for its cell."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from rosterkit.formulas.shared import SharedFormula, pieces_of
from rosterkit.live.blocks import machinery_for
from rosterkit.live.facts import Facts
from rosterkit.live.machinery import TITLE as LIVE
from rosterkit.live.stored import State, Surroundings, state_of
from rosterkit.live.writing import filled
from rosterkit.roster.model import Roster
from rosterkit.roster.tables import Book, Table
from rosterkit.writeback.formula_places import WITH_FORMULAS, formula_places
from rosterkit.writeback.formula_templates import formula_templates
from rosterkit.writeback.rows_by_value import rows_by_value
from rosterkit.xlsx.read.formulas import Place, as_found

States = Mapping[str, Sequence[State | None]]
"""By the names of columns, what the formula in each row is by its index; None for no formula."""

_ALERT = "alert"
_MOST_SHAPES = 20
"""Formulas of a column that are remembered as filled down from another one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StoredFormulas:
    """What stands in one sheet where formulas of ours may."""

    carried: bool = False
    """Whether the sheet carries formulas of ours: in at least one cell, a spare row's too."""
    states: States = field(default_factory=dict)
    """Of the columns that may have a formula of ours."""
    values_alone: frozenset[tuple[str, int]] = frozenset()
    """Columns and indexes of cells for which a value alone is right: the formula would come to another."""
    spare: Mapping[int, State] = field(default_factory=dict)
    """Sheet rows without an entry in which formulas stand under computed headings, with the worst of each."""

    def state(self, column: str, index: int) -> State | None:
        """Return what the formula of a cell is; None where there is none, or the column has none of ours."""
        return self.states[column][index] if column in self.states else None

    def is_spare(self, row: int) -> bool:
        """Tell whether nothing stands under computed headings in a sheet row but formulas of ours."""
        return self.spare.get(row, State.FOREIGN) is not State.FOREIGN


NONE = StoredFormulas()
"""Of a sheet without formulas under computed headings."""


def stored_formulas(roster: Roster, title: str) -> StoredFormulas:
    """Return what the formulas of one of our sheets are beside ours, worked out once."""
    key = "stored_formulas", title
    if key not in roster.kept:
        table = roster.book.tables.get(title)
        roster.kept[key] = _stored(table, roster) if table and title in WITH_FORMULAS else NONE
    found: StoredFormulas = roster.kept[key]
    return found


def _stored(table: Table, roster: Roster) -> StoredFormulas:
    if not table.formulas:
        return NONE
    title, book = table.sheet.title, roster.book
    columns = table.headings.columns
    around = _surroundings(table, book)
    ours = {name: texts for name, texts in _templates(roster)[title].items() if name in columns}
    comparisons = {name: _Comparison(table.formulas, texts, around) for name, texts in ours.items()}
    states = {
        name: [one.state((row, columns[name])) for row in table.rows] for name, one in comparisons.items()
    }
    spare = _spare(table, {columns[name]: one for name, one in comparisons.items()})
    known = [*(state for column in states.values() for state in column), *spare.values()]
    carried = any(state is not None and state is not State.FOREIGN for state in known)
    return StoredFormulas(
        carried=carried,
        states=states,
        values_alone=_values_alone(roster, title, states) if carried else frozenset(),
        spare=spare,
    )


class _Comparison:
    """The comparison of one column's formulas, each spelling of them with ours once."""

    def __init__(self, formulas: Mapping[Place, str], templates: Sequence[str], around: Surroundings) -> None:
        self._found = as_found(formulas)
        self._templates = templates
        self._around = around
        self._known: list[tuple[tuple[str, ...], State]] = []
        self._of_groups: dict[SharedFormula, State] = {}

    def state(self, place: Place) -> State | None:
        """Return what the formula of a cell is; None if it holds none."""
        found = self._found(place)
        if found is None or isinstance(found, str):
            return None if found is None else self._state(found, place[0])
        state = self._of_groups.get(found)
        if state is None:
            state = self._state(found.at(*place), place[0])
            if found.is_filled_down(place[1]):
                self._of_groups[found] = state
        return state

    def _state(self, text: str, row: int) -> State:
        number = str(row)
        for known, state in self._known:
            if number.join(known) == text:
                return state
        found = min(state_of(text, filled(one, row), self._around) for one in self._templates)
        pieces = pieces_of(text, row) if len(self._known) < _MOST_SHAPES else None
        if pieces is not None:
            self._known.append((pieces, found))
        return found


def _spare(table: Table, comparisons: Mapping[int, _Comparison]) -> dict[int, State]:
    """Return the rows that have formulas and no entry, each with the worst of its states."""
    entries = set(table.rows)
    spare: dict[int, State] = {}
    for row, column in table.formulas:
        if row not in entries and column in comparisons:
            state = comparisons[column].state((row, column))
            if state is not None:
                spare[row] = max(state, spare.get(row, state))
    return spare


def _surroundings(table: Table, book: Book) -> Surroundings:
    last_rows: dict[str | None, int] = {
        one.title.lower(): one.rows[-1] for one in book.tables.values() if one.rows
    }
    return Surroundings(
        live=LIVE.lower(),
        own_titles=frozenset(title.lower() for title in book.own_titles),
        last_rows={**last_rows, None: table.rows[-1] if table.rows else 0},
    )


def _templates(roster: Roster) -> Mapping[str, Mapping[str, Sequence[str]]]:
    """Return our formulas by sheet and column, in each form that they can have beside these columns."""
    key = "formula templates"
    if key not in roster.kept:
        # How many rows there are is no matter here, and fewer are sooner made.
        all_places = formula_places(roster.book).items()
        places = {title: replace(one, last_row=one.heading_row + 1) for title, one in all_places}
        found: dict[str, dict[str, list[str]]] = {title: {} for title in WITH_FORMULAS}
        for facts, counted in _FORMS:
            forms = formula_templates(places, machinery_for(places, facts), counted=counted)
            for title in WITH_FORMULAS:
                for name, template in forms.get(title, {}).items():
                    found[title].setdefault(name, []).append(template)
        roster.kept[key] = {
            title: {name: list(dict.fromkeys(forms)) for name, forms in columns.items()}
            for title, columns in found.items()
        }
    templates: Mapping[str, Mapping[str, Sequence[str]]] = roster.kept[key]
    return templates


def _values_alone(roster: Roster, title: str, states: States) -> frozenset[tuple[str, int]]:
    """Return the cells without a formula into which fill would not write one either."""
    cvs = {name: column for name, column in states.items() if name != _ALERT}
    rows = enumerate(zip(*cvs.values(), strict=True))
    without = [index for index, row in rows if all(state is None for state in row)]
    silent = [index for index, state in enumerate(states.get(_ALERT, ())) if state is None]
    if not without and not silent:
        return frozenset()
    by_value, without_alert = rows_by_value(roster, title, sorted({*without, *silent}))
    alone = [(name, index) for index in without if index in by_value for name in cvs]
    return frozenset([*alone, *((_ALERT, index) for index in silent if index in without_alert)])


_FORMS = ((Facts(), True), (Facts(taken=((1, "", 1),)), False))
"""Of few engines and of many: how many of what there is changes no more than places in the sheet Live."""

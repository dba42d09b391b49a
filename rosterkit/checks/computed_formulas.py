"""The checks of the formulas under computed headings: whether each is there, and still ours."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from rosterkit.checks.framework import RUN_FILL, Scope, check
from rosterkit.findings import Hit, Severity
from rosterkit.live.stored import State
from rosterkit.roster.cell_values import shown
from rosterkit.roster.model import Roster
from rosterkit.roster.tables import Table
from rosterkit.writeback.computed_columns import Computed, computed_rows, may_be_ours
from rosterkit.writeback.formula_places import WITH_FORMULAS
from rosterkit.writeback.stored_formulas import StoredFormulas, stored_formulas


@dataclass(frozen=True, slots=True)
class _Fault:
    """What is wrong with a cell: in words that may go for the cells below too, and of this cell alone."""

    words: str
    alone: str


def _alike(words: str) -> _Fault:
    return _Fault(words, words)


_NO_FORMULA_IN_ROW = _alike("no formula stands in this row, so nothing in it computes while one types")
_BLANK = _alike("the formula is gone from this cell")
_DAMAGED: Mapping[State, _Fault] = {
    State.SHORT: _alike("the formula does not read all rows of the list"),
    State.ELSEWHERE: _alike("the formula reads cells of another workbook"),
    State.LOST: _alike("the formula has lost cells that it read (#REF!)"),
    State.CHANGED: _alike("the formula is not, or no longer, the one that rosterkit writes here"),
}


@check(Severity.WARNING)
def formula_missing(scope: Scope) -> Iterator[Hit]:
    """A computed cell holds no formula, in a sheet that carries the formulas of rosterkit.

    Why: the cell was emptied or typed over, a value was pasted over the formula, or the row was inserted.
    What stands there does not follow when the row changes, and a clash with it is not seen while one types.
    Fix: Run 'rosterkit fill'.
    """
    for roster, table, stored in _carried(scope):
        unlike = _unlike_ours(stored)
        rows = computed_rows(roster, table.sheet.title) if unlike else ()
        faults = {n: _missing(table, stored, n, names, rows[n]) for n, names in unlike.items()}
        yield from _hits(table, faults)


@check(Severity.WARNING)
def formula_damaged(scope: Scope) -> Iterator[Hit]:
    """A formula of rosterkit's lost what it read, reads another workbook or too few rows, or was changed.

    Why: it shows an error, or what another row, list or workbook comes to, and whoever keys that in gives the
    engine another address or setting than the roster says.
    Fix: Run 'rosterkit fill'.
    """
    for _, table, stored in _carried(scope):
        faults = {
            index: {
                name: _DAMAGED[state]
                for name in names
                for state in (stored.states[name][index],)
                if state is not None and state in _DAMAGED
            }
            for index, names in _unlike_ours(stored).items()
        }
        yield from _hits(table, faults)


def _carried(scope: Scope) -> Iterator[tuple[Roster, Table, StoredFormulas]]:
    """Return the sheets that carry our formulas; at a meet the values alone count."""
    for roster in scope.rosters if not scope.meet else ():
        for title in WITH_FORMULAS:
            stored = stored_formulas(roster, title)
            if stored.carried:
                yield roster, roster.book.tables[title], stored


def _unlike_ours(stored: StoredFormulas) -> Mapping[int, Sequence[str]]:
    """Return the columns in which no formula of ours stands as it should, by the index of the row."""
    found: dict[int, list[str]] = {}
    for name, states in stored.states.items():
        for index, state in enumerate(states):
            if state is not State.OURS and (name, index) not in stored.values_alone:
                found.setdefault(index, []).append(name)
    return found


def _missing(
    table: Table,
    stored: StoredFormulas,
    index: int,
    unlike: Sequence[str],
    computed: Mapping[str, Computed],
) -> Mapping[str, _Fault]:
    """Return the columns of a row that lack their formula; the first stands for a row without any.

    Of another value than the row comes to, and of what is nothing of ours, other checks speak.
    """
    faults: dict[str, _Fault] = {}
    for name in unlike:
        found, value = table.raw[name][index], table.values[name][index]
        if stored.states[name][index] is None:
            if found == "":
                faults[name] = _BLANK
            elif may_be_ours(table.sheet[name], found) and computed.get(name, value) == value:
                alone = f"{shown(found)} stands in place of the formula"
                faults[name] = _Fault(_BLANK.words, alone)
    if len(faults) == len(stored.states):
        return {min(faults, key=table.headings.columns.__getitem__): _NO_FORMULA_IN_ROW}
    return faults


def _hits(table: Table, faults: Mapping[int, Mapping[str, _Fault]]) -> Iterator[Hit]:
    """Name each faulty cell: of one fault that goes on down a column the first and the last."""
    columns = dict.fromkeys(name for row in faults.values() for name in row)
    for name in columns:
        run: list[int] = []
        for index in sorted(index for index, row in faults.items() if name in row):
            if run and (index != run[-1] + 1 or faults[index][name].words != faults[run[0]][name].words):
                yield _hit(table, name, run, faults[run[0]][name])
                run = []
            run.append(index)
        yield _hit(table, name, run, faults[run[0]][name])


def _hit(table: Table, name: str, run: Sequence[int], fault: _Fault) -> Hit:
    first, last = table.place(name, run[0]), table.place(name, run[-1])
    loco = table.values["loco"][run[0]] if "loco" in table.raw and len(run) == 1 else None
    return Hit(
        place=first,
        column=table.heading(name),
        loco=None if loco is None else str(loco),
        message=fault.alone if len(run) == 1 else f"{fault.words}, and likewise down to {last.cell}",
        fix=RUN_FILL,
        down_to=None if len(run) == 1 else last.row,
    )

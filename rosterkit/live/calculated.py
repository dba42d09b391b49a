"""The results of all formulas as they are stored, and the rows in which one would not give our own value."""

from collections.abc import Mapping, Sequence, Set
from dataclasses import dataclass, field, replace
from types import MappingProxyType

from rosterkit.formulas.calculation import Calculation, SheetCells
from rosterkit.formulas.formula import Formula, compiled
from rosterkit.formulas.syntax import UnknownFormula
from rosterkit.formulas.values import Content, FormulaError
from rosterkit.live.machinery import FIRST_ROW, LiveCell, Machinery
from rosterkit.live.places import SheetPlace
from rosterkit.live.settings import SETTINGS
from rosterkit.live.writing import filled

Place = tuple[int, int]
"""A sheet row and column."""
_TRIED = 20
"""Plain rows that are calculated all the same: were one of them wrong, all would be."""
_JUDGED_APART = "alert"
"""The column that says something of the row, and is not keyed in: it has no value of our own."""


@dataclass(frozen=True, slots=True, kw_only=True)
class ListCells:
    """One sheet of a member's as formulas see it, and what is to be filled into its computed columns."""

    place: SheetPlace
    typed: Mapping[int, Sequence[Content]]
    """What stands in the sheet columns, from row 1."""
    templates: Mapping[str, str] = field(default_factory=dict)
    """Formulas by the names of their columns."""
    rows: Sequence[int] = ()
    """The sheet rows that get formulas, in rising order."""
    own: Mapping[str, Sequence[Content]] = field(default_factory=dict)
    """What rosterkit computes itself by column name, in the order of the rows; None for a blank."""
    plain: Set[int] = frozenset()
    """Rows that are so plainly typed that formulas are known to give our own values."""
    quiet: Set[int] = frozenset()
    """Those of them of which Alert has nothing to say."""

    @property
    def unheard(self) -> frozenset[int]:
        """The quiet rows whose Alert is not calculated: all but some that are tried."""
        return frozenset(self.quiet) - frozenset(sorted(self.quiet)[:_TRIED])


@dataclass(frozen=True, slots=True, kw_only=True)
class Results:
    """What the formulas come to."""

    lists: Mapping[str, Mapping[str, Sequence[Content]]]
    """By our own title and column name, in the order of the rows; "" where a cell shows nothing."""
    by_value: Mapping[str, frozenset[int]]
    """By our own title: the sheet rows in which our own values stand and no formula that is keyed in."""
    without_alert: frozenset[int]
    """The sheet rows of Locomotives of which nothing can be told what Alert comes to."""
    live: Mapping[Place, Content]
    """Of the sheet Live, by sheet row and column."""


def calculated(
    lists: Mapping[str, ListCells],
    machinery: Machinery,
    page: Mapping[Place, LiveCell],
    expected: Mapping[str, Content] = MappingProxyType({}),
) -> Results:
    """Work out all formulas from the cells of a workbook as they will stand.

    Our own values are in the cells of computed columns, so that each formula is compared with ours on its
    own: where every one of a row gives our value, they do so together.

    Args:
        lists: The sheets of the member's by our own titles.
        machinery: The blocks of the sheet Live.
        page: Further cells of the sheet Live.
        expected: What settings of the layout must come to; if one does not, no row counts as plain.
    """
    formulas = {title: _compiled(one) for title, one in lists.items()}
    calculation = _calculation(lists, formulas, machinery, page)
    if not _as_expected(machinery, calculation, expected) or not _quiet_as_said(lists, calculation):
        lists = {title: replace(one, plain=frozenset(), quiet=frozenset()) for title, one in lists.items()}
        calculation = _calculation(lists, formulas, machinery, page)
    results: dict[str, Mapping[str, Sequence[Content]]] = {}
    by_value: dict[str, frozenset[int]] = {}
    without_alert: set[int] = set()
    for title, one in lists.items():
        by_value[title] = _differing(one, formulas[title], calculation)
        results[title] = {name: _shown(values) for name, values in one.own.items() if name in one.templates}
        if _JUDGED_APART in one.templates:
            column = one.place.columns[_JUDGED_APART]
            alerts = [calculation.value(one.place.title, row, column) for row in one.rows]
            without_alert = {
                row for row, said in zip(one.rows, alerts, strict=True) if not isinstance(said, str)
            }
            results[title] = {
                **results[title],
                _JUDGED_APART: [s if isinstance(s, str) else "" for s in alerts],
            }
    cells = {**machinery.cells, **page}
    live = {
        at: calculation.value(machinery.title, *at) for at, cell in cells.items() if cell.formula is not None
    }
    return Results(lists=results, by_value=by_value, without_alert=frozenset(without_alert), live=live)


def _calculation(
    lists: Mapping[str, ListCells],
    formulas: Mapping[str, Mapping[str, Formula | None]],
    machinery: Machinery,
    page: Mapping[Place, LiveCell],
) -> Calculation:
    sheets = {one.place.title: _sheet(one, formulas[title]) for title, one in lists.items()}
    return Calculation({**sheets, machinery.title: _live(machinery, page)})


def _quiet_as_said(lists: Mapping[str, ListCells], cells: Calculation) -> bool:
    """Tell whether Alert says nothing in those quiet rows that are calculated all the same."""
    return all(
        cells.value(one.place.title, row, one.place.columns[_JUDGED_APART]) == ""
        for one in lists.values()
        if _JUDGED_APART in one.templates
        for row in one.quiet - one.unheard
    )


def _compiled(one: ListCells) -> Mapping[str, Formula | None]:
    """Make the formulas of a sheet ready; None for one that cannot be worked out here."""
    found: dict[str, Formula | None] = {}
    for name, template in one.templates.items():
        row = one.place.heading_row + 1
        try:
            found[name] = compiled(filled(template, row), one.place.title, row)
        except UnknownFormula:
            found[name] = None
    return found


def _sheet(one: ListCells, formulas: Mapping[str, Formula | None]) -> SheetCells:
    values = dict(one.typed)
    for name, own in one.own.items():
        column = one.place.columns.get(name)
        if column is not None and name in one.templates:
            cells = list(values.get(column, ()))
            cells += [None] * (one.place.last_row - len(cells))
            for row, value in zip(one.rows, own, strict=True):
                cells[row - 1] = "" if value is None else value
            values[column] = cells
    alert = formulas.get(_JUDGED_APART)
    if alert is None:
        return SheetCells(values=values)
    column, unheard = one.place.columns[_JUDGED_APART], one.unheard
    said = list(values.get(column, ()))
    said += [None] * (one.place.last_row - len(said))
    for row in unheard:
        said[row - 1] = ""
    values[column] = said
    return SheetCells(values=values, fills={column: (alert, frozenset(one.rows) - unheard)})


def _live(machinery: Machinery, page: Mapping[Place, LiveCell]) -> SheetCells:
    values: dict[int, list[Content]] = {}
    single: dict[Place, Formula] = {}
    read_once: dict[tuple[int, str | None], Formula] = {}
    for (row, column), cell in {**machinery.cells, **page}.items():
        if cell.formula is None:
            cells = values.setdefault(column, [])
            cells += [None] * (row - len(cells))
            cells[row - 1] = cell.value
        elif column not in machinery.filled:
            like = column, cell.template
            formula = read_once.get(like) or compiled(cell.formula, machinery.title, row)
            if cell.template is not None:
                read_once[like] = formula
            single[row, column] = formula
    fills = {
        column: (
            compiled(filled(template, FIRST_ROW), machinery.title, FIRST_ROW),
            range(FIRST_ROW, last + 1),
        )
        for column, (template, last) in machinery.filled.items()
    }
    return SheetCells(values=values, fills=fills, single=single)


def _as_expected(machinery: Machinery, cells: Calculation, expected: Mapping[str, Content]) -> bool:
    """Tell whether formulas take the settings of the layout for what they are."""
    column = machinery.column("settings", "value")
    return all(
        cells.value(machinery.title, FIRST_ROW + SETTINGS.index(name), column) == value
        for name, value in expected.items()
    )


def _differing(one: ListCells, formulas: Mapping[str, Formula | None], cells: Calculation) -> frozenset[int]:
    """Return the rows in which a formula gives another value than ours, or nobody can tell.

    Plain rows are known not to: only some are tried.
    """
    plain = sorted(one.plain)
    found = _differing_among(one, formulas, cells, left_out=frozenset(plain[_TRIED:]))
    if not found & one.plain:
        return found
    return _differing_among(one, formulas, cells, left_out=frozenset())


def _differing_among(
    one: ListCells, formulas: Mapping[str, Formula | None], cells: Calculation, *, left_out: Set[int]
) -> frozenset[int]:
    found: set[int] = set()
    at = [n for n, row in enumerate(one.rows) if row not in left_out]
    for name, formula in formulas.items():
        if name == _JUDGED_APART:
            continue
        own = one.own[name]
        for n in at:
            row = one.rows[n]
            if row not in found and not _same(formula.value(cells, row) if formula else None, own[n]):
                found.add(row)
    return frozenset(found)


def _same(result: Content, own: Content) -> bool:
    if own is None or own == "":
        return result == ""
    return isinstance(result, str) is isinstance(own, str) and not isinstance(result, bool) and result == own


def _shown(values: Sequence[Content]) -> Sequence[Content]:
    return ["" if value is None or isinstance(value, FormulaError) else value for value in values]

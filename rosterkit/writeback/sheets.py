"""What fill writes into a member's sheets: computed columns, Check, and the marks of faulty cells."""

from collections.abc import Iterable, Iterator, Mapping, Sequence

from rosterkit.errors import CannotRunError
from rosterkit.findings import Finding, Severity
from rosterkit.roster.model import Roster
from rosterkit.roster.tables import Table
from rosterkit.writeback.computed_columns import OUR_FINDINGS, Computed, computed_rows, may_be_ours
from rosterkit.writeback.formula_cells import ONLY_LIVE, SheetFormulas, formula_changes, look_of
from rosterkit.writeback.highlights import MARKED, highlights
from rosterkit.writeback.places import computed_places, heading_cell, places_of
from rosterkit.xlsx.changes import CellChange, CellStyle, Highlight, SheetChange
from rosterkit.xlsx.grid import Raw

ComputedValues = Mapping[str, Computed]
"""Values by the names of their columns."""

_LONGEST_CHECK = 4000
"""Characters in a cell of Check; the sheet Findings has everything."""


def sheet_changes(
    roster: Roster, findings: Iterable[Finding], formulas: Mapping[str, SheetFormulas] | None = None
) -> tuple[SheetChange, ...]:
    """Return what changes in one workbook's sheets; cells that are as they should be are left out.

    So is what rosterkit cannot have written, and all that stands in a row without an engine: a total, a note
    or a list below the engines is the member's own, whatever heading it stands under.

    Args:
        roster: The workbook's roster.
        findings: What was found in it.
        formulas: By our own title, what computed columns get in place of values.
    """
    by_sheet: dict[str, list[Finding]] = {}
    for finding in findings:
        if finding.place.sheet is not None and finding.place.cell is not None:
            by_sheet.setdefault(finding.place.sheet, []).append(finding)
    tables = sorted(roster.book.tables.values(), key=lambda table: not table.sheet.required)
    given = formulas or {}
    return tuple(
        sheet_change(table, roster, by_sheet.get(table.title, []), formulas=given.get(table.sheet.title))
        for table in tables
    )


def sheet_change(
    table: Table,
    roster: Roster,
    findings: Sequence[Finding],
    more: Mapping[int, ComputedValues] | None = None,
    formulas: SheetFormulas | None = None,
) -> SheetChange:
    """Return what changes in one sheet of a roster, with all that was found in it.

    Only some commands compute ``more``: further values by the index of the row.
    """
    if not table.sheet.computed or not (table.rows or formulas):
        return SheetChange(title=table.title, highlights=tuple(_fixed_highlights(findings)))
    columns, added = _columns(table, formulas)
    cells = list(_headings(table, columns, added))
    cells += _values(table, roster, findings, columns, more or {}, formulas)
    cells += formula_changes(table, formulas) if formulas else ()
    marks = highlights(table, columns, formulas) if "check" in columns else _fixed_highlights(findings)
    return SheetChange(
        title=table.title,
        cells=tuple(cells),
        highlights=tuple(marks),
        widths={columns[name]: table.sheet[name].width for name in added},
        heading=heading_cell(table),
    )


def formulas_change(table: Table, formulas: SheetFormulas) -> SheetChange:
    """Return what changes in one sheet of a new workbook: its formulas, and marks for what they will say."""
    columns, _ = computed_places(table)
    return SheetChange(
        title=table.title,
        cells=tuple(formula_changes(table, formulas)),
        highlights=tuple(highlights(table, columns, formulas)),
    )


def _columns(table: Table, formulas: SheetFormulas | None) -> tuple[dict[str, int], list[str]]:
    """Return the places of computed columns, and which are added; some are with formulas only."""
    if formulas and not formulas.plain:
        return computed_places(table)
    there = table.headings.columns
    names = [column.name for column in table.sheet.computed]
    return places_of(table, [name for name in names if name in there or name not in ONLY_LIVE])


def refuse_foreign_checks(roster: Roster) -> None:
    """Leave a member's own column that is headed Check alone: what we wrote is known by its form.

    Raises:
        CannotRunError: if a cell of such a column holds something else.
    """
    for table in roster.book.tables.values():
        for index, stored in enumerate(table.raw.get("check", ())):
            if stored != "" and not str(stored).startswith(OUR_FINDINGS):
                cell = table.place("check", index).cell
                raise CannotRunError(
                    f"{table.workbook}: {cell} in the column '{table.heading('check')}' of the sheet "
                    f"'{table.title}' holds text that rosterkit did not write",
                    "Rename that heading if the column is your own, or empty the cell.",
                )


def has_our_checks(table: Table) -> bool:
    """Tell whether a text that rosterkit wrote stands in the column Check of a sheet."""
    return any(str(stored).startswith(OUR_FINDINGS) for stored in table.raw.get("check", ()))


def _headings(table: Table, columns: Mapping[str, int], added: Iterable[str]) -> Iterator[CellChange]:
    for name in added:
        heading = table.sheet[name].heading
        yield CellChange(row=table.headings.row, column=columns[name], value=heading, look=CellStyle.HEADING)


def _values(
    table: Table,
    roster: Roster,
    findings: Iterable[Finding],
    columns: Mapping[str, int],
    more: Mapping[int, ComputedValues],
    formulas: SheetFormulas | None,
) -> Iterator[CellChange]:
    """Return the cells of computed columns without formulas that are not as they should be."""
    said: dict[int, list[Finding]] = {}
    for finding in findings:
        said.setdefault(finding.place.row or 0, []).append(finding)
    computed = computed_rows(roster, table.sheet.title)
    left_out = formulas.cells.templates.keys() if formulas else set(ONLY_LIVE) - columns.keys()
    for index, row in enumerate(table.rows):
        wanted: dict[str, Computed] = {**(computed[index] if computed else {}), **more.get(index, {})}
        if "check" in columns:
            wanted["check"] = check_text(said.get(row, []))
        for name, value in wanted.items():
            if name in left_out:
                continue
            stored = table.raw[name][index] if name in table.raw else ""
            if not _same(stored, value) and may_be_ours(table.sheet[name], stored):
                look = look_of(table.sheet[name], by_value=True)
                yield CellChange(row=row, column=columns[name], value=value, look=look)


def _same(stored: Raw, value: Computed) -> bool:
    if value is None:
        return stored == ""
    # A number written by rosterkit may come back as 195.0; a text of it, or TRUE for 1, is another value.
    return (
        isinstance(stored, str) is isinstance(value, str) and not isinstance(stored, bool) and stored == value
    )


def check_text(findings: Iterable[Finding]) -> str | None:
    """Return what the column Check says of a row; None where there is nothing to say.

    The more severe come first; each names its severity and, in brackets, the heading it is about, by which
    the cell under that heading is marked.
    """
    ranked = [f for severity in Severity for f in findings if f.severity is severity]
    parts = [f"{f.severity.value} [{_heading(f.column)}] {f.message}" for f in ranked]
    return "; ".join(parts)[:_LONGEST_CHECK] or None


def _heading(heading: str | None) -> str:
    return " ".join((heading or "").split())


def _fixed_highlights(findings: Iterable[Finding]) -> Iterator[Highlight]:
    """Mark cells of a sheet without a column Check, each by its place."""
    marked: set[str] = set()
    for severity, look in MARKED:
        cells = {f.place.cell for f in findings if f.severity is severity and f.place.cell} - marked
        marked |= cells
        if cells:
            yield Highlight(ranges=tuple(sorted(cells)), formula='N("rosterkit")=0', look=look)

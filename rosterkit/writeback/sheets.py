"""What fill writes into a member's sheets: computed columns, Check, and the marks of faulty cells."""

from collections.abc import Iterable, Iterator, Mapping, Sequence

from rosterkit.cell_names import column_letters
from rosterkit.errors import CannotRunError
from rosterkit.findings import Finding, Severity
from rosterkit.roster.model import Roster
from rosterkit.roster.tables import Table
from rosterkit.writeback.computed_columns import OUR_FINDINGS, Computed, computed_rows, may_be_ours
from rosterkit.writeback.places import computed_places, heading_cell
from rosterkit.xlsx.changes import CellChange, CellStyle, Highlight, SheetChange
from rosterkit.xlsx.grid import Raw

ComputedValues = Mapping[str, Computed]
"""Values by the names of their columns."""

_MARKED = ((Severity.ERROR, CellStyle.ERROR), (Severity.WARNING, CellStyle.WARNING))
"""Findings of these severities make their cell stand out."""
_LONGEST_CHECK = 4000
"""Characters in a cell of Check; the sheet Findings has everything."""


def sheet_changes(roster: Roster, findings: Iterable[Finding]) -> tuple[SheetChange, ...]:
    """Return what changes in one workbook's sheets; cells that are as they should be are left out.

    So is what rosterkit cannot have written, and all that stands in a row without an engine: a total, a note
    or a list below the engines is the member's own, whatever heading it stands under.
    """
    by_sheet: dict[str, list[Finding]] = {}
    for finding in findings:
        if finding.place.sheet is not None and finding.place.cell is not None:
            by_sheet.setdefault(finding.place.sheet, []).append(finding)
    tables = sorted(roster.book.tables.values(), key=lambda table: not table.sheet.required)
    return tuple(sheet_change(table, roster, by_sheet.get(table.title, [])) for table in tables)


def sheet_change(
    table: Table,
    roster: Roster,
    findings: Sequence[Finding],
    more: Mapping[int, ComputedValues] | None = None,
) -> SheetChange:
    """Return what changes in one sheet of a roster, with all that was found in it.

    Only some commands compute ``more``: further values by the index of the row.
    """
    if not table.sheet.computed or not table.rows:
        return SheetChange(title=table.title, highlights=tuple(_fixed_highlights(findings)))
    columns, added = computed_places(table)
    cells = [*_headings(table, columns, added), *_values(table, roster, findings, columns, more or {})]
    marks = _check_highlights(table, columns["check"]) if "check" in columns else _fixed_highlights(findings)
    return SheetChange(
        title=table.title,
        cells=tuple(cells),
        highlights=tuple(marks),
        widths={columns[name]: table.sheet[name].width for name in added},
        heading=heading_cell(table),
    )


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
) -> Iterator[CellChange]:
    said: dict[int, list[Finding]] = {}
    for finding in findings:
        said.setdefault(finding.place.row or 0, []).append(finding)
    computed = computed_rows(roster, table.sheet.title)
    for index, row in enumerate(table.rows):
        wanted: dict[str, Computed] = {**(computed[index] if computed else {}), **more.get(index, {})}
        if "check" in columns:
            wanted["check"] = check_text(said.get(row, []))
        for name, value in wanted.items():
            stored = table.raw[name][index] if name in table.raw else ""
            if not _same(stored, value) and may_be_ours(table.sheet[name], stored):
                yield CellChange(row=row, column=columns[name], value=value, look=CellStyle.COMPUTED)


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


def _check_highlights(table: Table, check: int) -> Iterator[Highlight]:
    """Mark the cells that Check names: by a formula on the row, so that marks move with a sorted row."""
    names = [column.name for column in table.sheet.filled_by_members]
    places = [table.headings.columns[name] for name in names if name in table.headings.columns]
    first, last = column_letters(min(places)), column_letters(max(places))
    top, bottom = table.headings.row + 1, max(table.rows)
    heading = f'TRIM(SUBSTITUTE({first}${table.headings.row},CHAR(10)," "))'
    for severity, look in _MARKED:
        found = f'FIND("{severity.value} ["&{heading}&"]",${column_letters(check)}{top})'
        yield Highlight(
            ranges=(f"{first}{top}:{last}{bottom}",),
            formula=f'AND(N("rosterkit")=0,{heading}<>"",ISNUMBER({found}))',
            look=look,
        )


def _fixed_highlights(findings: Iterable[Finding]) -> Iterator[Highlight]:
    """Mark cells of a sheet without a column Check, each by its place."""
    marked: set[str] = set()
    for severity, look in _MARKED:
        cells = {f.place.cell for f in findings if f.severity is severity and f.place.cell} - marked
        marked |= cells
        if cells:
            yield Highlight(ranges=tuple(sorted(cells)), formula='N("rosterkit")=0', look=look)

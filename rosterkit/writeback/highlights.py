"""The conditional formats by which the cells that Check and Alert name stand out."""

from collections.abc import Iterator, Mapping

from rosterkit.cell_names import column_letters
from rosterkit.findings import Severity
from rosterkit.roster.tables import Table
from rosterkit.writeback.formula_cells import SheetFormulas
from rosterkit.writeback.formula_places import last_column
from rosterkit.writeback.spare_rows import first_obstacle
from rosterkit.xlsx.changes import CellStyle, Highlight

MARKED = ((Severity.ERROR, CellStyle.ERROR), (Severity.WARNING, CellStyle.WARNING))
"""Findings of these severities make their cell stand out."""
_SIGN = 'N("rosterkit")=0'
"""True, and the text by which our highlights are known again."""
_BEYOND = 1000
"""Rows below the last formula in which an engine without formulas is marked."""


def highlights(
    table: Table, columns: Mapping[str, int], formulas: SheetFormulas | None = None
) -> Iterator[Highlight]:
    """Mark the cells that Check or Alert name: by formulas on the row, so that marks move with a sorted row.

    Args:
        table: The sheet.
        columns: The sheet columns of Check and of Alert, where they stand or will stand.
        formulas: What is filled into it; without, there is no Alert.
    """
    typed = [column.name for column in table.sheet.filled_by_members]
    places = [table.headings.columns[name] for name in typed if name in table.headings.columns]
    first, last = column_letters(min(places)), column_letters(max(places))
    top = table.headings.row + 1
    live = formulas is not None and not formulas.plain and "alert" in formulas.cells.templates
    bottom = formulas.cells.place.last_row if formulas else max(table.rows)
    names = ["check", "alert"] if live else ["check"]
    said = [f"${column_letters(columns[name])}{top}" for name in names]
    heading = f'TRIM(SUBSTITUTE({first}${table.headings.row},CHAR(10)," "))'
    for severity, look in MARKED:
        found = [f'ISNUMBER(FIND("{severity.value} ["&{heading}&"]",{cell}))' for cell in said]
        any_found = found[0] if len(found) == 1 else f"OR({','.join(found)})"
        yield Highlight(
            ranges=(f"{first}{top}:{last}{bottom}",),
            formula=f'AND({_SIGN},{heading}<>"",{any_found})',
            look=look,
        )
    if formulas and live:
        yield _without_formulas(table, columns["alert"], formulas)


def _without_formulas(table: Table, alert: int, formulas: SheetFormulas) -> Highlight:
    """Mark Alert beside an engine without formulas: its row was inserted, or lies beyond the last of them."""
    top, letters = table.headings.row + 1, column_letters(alert)
    columns = formulas.cells.place.columns
    typed = "&".join(f"TRIM(${column_letters(columns[name])}{top})" for name in ("loco", "address"))
    last = formulas.cells.place.last_row
    obstacle = first_obstacle(table, last_column(table, columns), set(formulas.cells.rows))
    bottom = max(last, min(last + _BEYOND, obstacle - 1))
    return Highlight(
        ranges=(f"{letters}{top}:{letters}{bottom}",),
        formula=f'AND({_SIGN},ISBLANK(${letters}{top}),{typed}<>"")',
        look=CellStyle.WARNING,
    )

"""What members filled in, so that two files of the same contents come to the same, whoever saved them.

Of a sheet of ours the rows count by their headings, in any order; of a sheet of the members' own by the
letters of their columns. Computed columns, sheets that rosterkit made, formats and drawings do not count, nor
how a program spells a number or a formula.
"""

from collections.abc import Iterator, Mapping
from datetime import date, datetime, time, timedelta

from rosterkit.cell_names import column_letters
from rosterkit.roster.headings import Headings, find_headings
from rosterkit.roster.schema import Sheet, folded, is_known
from rosterkit.roster.schema import sheet as known_sheet
from rosterkit.xlsx.grid import Calculated, CellError, Grid, NoStoredValue, Raw, ScientificNumber

_FIRST_DAY = datetime(1899, 12, 30)
"""The day that spreadsheet programs count days from."""
_DAY = timedelta(days=1)
_FORMULA = "="
"""Stands for every formula: programs spell them in their own ways, and some results change by the day."""

_TRUTH = {"TRUE()", "FALSE()"}

Row = tuple[tuple[str, str], ...]
"""What stands in a row: the names of columns with their contents, in order of the names."""


def contents_of(grids: Mapping[str, Grid], workbook: str) -> list[tuple[str, list[Row]]]:
    """Return what is filled in, sheet by sheet in the order of their titles, each with its rows in order.

    Args:
        grids: The sheets by title; those that rosterkit made are passed over.
        workbook: What messages call the workbook.

    Raises:
        CannotRunError: a heading of ours stands twice in a sheet.
    """
    sheets = ((title, sorted(_rows(grid, workbook))) for title, grid in grids.items() if not grid.is_own)
    return sorted((folded(title), rows) for title, rows in sheets if rows)


def _rows(grid: Grid, workbook: str) -> Iterator[Row]:
    known = known_sheet(grid.title) if is_known(grid.title) else None
    headings = find_headings(known, grid, workbook) if known and not known.transposed else None
    names = _names(known, headings) if known and headings else {}
    heading_row = headings.row if headings else 0
    with_formula = set(grid.formulas)
    for number, cells in enumerate(grid.rows, 1):
        row: list[tuple[str, str]] = []
        for column, cell in enumerate(cells, 1):
            if cell == "":
                continue
            name = names.get(column) if number >= heading_row else None
            formula = grid.formulas[number, column] if (number, column) in with_formula else None
            text = content(cell, formula)
            # A heading of ours tells nothing, and a computed one may come with the next fill.
            ours = number == heading_row and headings is not None and column not in headings.own
            if text and name != "" and not ours:
                row.append((name or column_letters(column), text))
        if row:
            yield tuple(sorted(row))


def _names(known: Sheet, headings: Headings) -> Mapping[int, str]:
    """Return the name of each column that has a heading; "" of a computed one."""
    computed = {column.name for column in known.computed}
    ours = {place: "" if name in computed else f"#{name}" for name, place in headings.columns.items()}
    return {place: f"={folded(text)}" for place, text in headings.own.items()} | ours


def content(cell: Raw, formula: str | None = None) -> str:
    """Return the content of a cell as a text that no saving in another program changes; "" for blank.

    Args:
        cell: What stands there, or the result of a formula.
        formula: The text of a formula; some programs write truth values and errors as formulas.
    """
    if formula is not None and formula.upper() not in _TRUTH and not formula.startswith("#"):
        return _FORMULA
    match cell:
        case CellError():
            return ""  # as programs leave in place of a photo in a cell
        case str():
            return " ".join(cell.split())
        case bool():
            return str(cell).upper()
        case Calculated() | NoStoredValue():
            return _FORMULA
        case _:
            number = _number(cell)
            return str(cell) if number is None else f"{number:.12g}"


def _number(cell: Raw) -> float | None:
    """Return the number that a program stores for a cell, days of a date, a time or a duration."""
    match cell:
        case int() | float():
            return float(cell)
        case ScientificNumber():
            return cell.value
        case datetime():
            return (cell.replace(tzinfo=None) - _FIRST_DAY) / _DAY
        case date():
            return float((cell - _FIRST_DAY.date()).days)
        case time():
            return (datetime.combine(_FIRST_DAY, cell) - _FIRST_DAY) / _DAY
        case timedelta():
            return cell / _DAY
        case _:
            return None

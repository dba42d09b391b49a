"""What is said of a file that is no workbook with engines: what it lacks, and what to do."""

from rosterkit.cell_names import column_letters
from rosterkit.errors import CannotRunError
from rosterkit.roster.headings import likenesses, misspelt_needed
from rosterkit.roster.schema import Sheet, folded
from rosterkit.xlsx.grid import Grid, Workbook


def adopting(name: str) -> str:
    """Return the command that makes a workbook of a list, in quotes."""
    file = f'"{name}"' if " " in name else name
    return f"'rosterkit adopt {file}'"


def other_table(error: CannotRunError, name: str) -> CannotRunError:
    """Make the error for a list that is no .xlsx workbook of that which says so."""
    return CannotRunError(error.message, f"Make a workbook of it with {adopting(name)}.")


def no_sheet(sheet: Sheet, workbook: Workbook) -> CannotRunError:
    """Make the error for a workbook without a sheet that is needed."""
    others = dict(enumerate(workbook.titles))
    near = [others[n] for n, _ in likenesses(others, {folded(sheet.title): sheet.title})]
    message = f"{workbook.name}: there is no sheet '{sheet.title}'"
    if near:
        return CannotRunError(
            f"{message}, only '{near[0]}'", f"Rename the sheet '{near[0]}' to '{sheet.title}'."
        )
    fix = (
        f"Make a workbook of it with {adopting(workbook.name)}, "
        f"or name the sheet with the engines '{sheet.title}'."
    )
    return CannotRunError(message, fix)


def no_headings(sheet: Sheet, grid: Grid, workbook: str) -> CannotRunError:
    """Make the error for such a sheet without a row of headings."""
    needed = " and ".join(f"'{column.heading}'" for column in sheet.columns if column.required)
    normalised = ", and ".join(
        f"'{one.text}' in {column_letters(one.column or 1)}{one.row} as '{one.meant}'"
        for one in misspelt_needed(sheet, grid)
    )
    fix = (
        f"Make a workbook of it with {adopting(workbook)}, "
        f"or give it a row of headings, {needed} at least, above the engines."
    )
    message = f"{workbook}: the sheet '{grid.title}' has no heading row"
    return CannotRunError(message, f"Spell {normalised}." if normalised else fix)

"""The rows of a grid, as they grow and as they are cut."""

from rosterkit.xlsx.grid import Raw


def filled(rows: list[list[Raw]]) -> int:
    """Count the cells that are not blank."""
    return sum(len(row) - row.count("") for row in rows)


def put(rows: list[list[Raw]], row: int, column: int, value: Raw) -> Raw:
    """Put a value into a cell, the rows growing as far as needed, and give what was there.

    Args:
        rows: The rows of a grid.
        row: A sheet row, from 1.
        column: A sheet column, from 1.
        value: The new value.
    """
    while len(rows) < row:
        rows.append([])
    cells = rows[row - 1]
    if len(cells) < column:
        cells.extend([""] * (column - len(cells)))
    before = cells[column - 1]
    cells[column - 1] = value
    return before


def trimmed(rows: list[list[Raw]]) -> list[list[Raw]]:
    """Cut blank cells off the ends of the rows, and rows without a value off the end; in place."""
    for row in rows:
        while row and row[-1] == "":
            row.pop()
    while rows and not rows[-1]:
        rows.pop()
    return rows

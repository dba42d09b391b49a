"""The rows of a grid, as they grow and as they are cut."""

from rosterkit.grid import Raw


def filled(rows: list[list[Raw]]) -> int:
    """Count the cells that are not blank."""
    return sum(len(row) - row.count("") for row in rows)


def put(rows: list[list[Raw]], row: int, column: int, value: Raw) -> None:
    """Put a value into the cell of a sheet row and column, from 1; the rows grow as far as needed."""
    while len(rows) < row:
        rows.append([])
    cells = rows[row - 1]
    if len(cells) < column:
        cells.extend([""] * (column - len(cells)))
    cells[column - 1] = value


def trimmed(rows: list[list[Raw]]) -> list[list[Raw]]:
    """Cut blank cells off the ends of the rows, and rows without a value off the end; in place."""
    for row in rows:
        while row and row[-1] == "":
            row.pop()
    while rows and not rows[-1]:
        rows.pop()
    return rows

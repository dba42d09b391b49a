"""Tells what somebody typed into a sheet of our own from what we wrote there, however it was saved since.

A hidden last column holds a code of what we wrote into each row. It goes along where rows are sorted, moved
or deleted, and all spreadsheet programs keep it.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import lru_cache

from rosterkit.cell_names import column_letters
from rosterkit.xlsx.changes import BLANK, CellStyle, OwnCell, OwnSheet, leaves_blank
from rosterkit.xlsx.grid import Grid, Raw
from rosterkit.xlsx.own_sheets.codes import code_of_formula, four_signs
from rosterkit.xlsx.package.errors import shown
from rosterkit.xlsx.package.opening import Package, explained
from rosterkit.xlsx.patch.refusal import unwritable
from rosterkit.xlsx.read.workbook import read_workbook
from rosterkit.xlsx.xml.nodes import parsed
from rosterkit.xlsx.xml.values import cell_text

_SIGN = "rosterkit:"
"""How each code begins."""
_BLANK = "----"
_FREE = "****"
"""The code of a cell that is there to type into."""
_NAMED = 5
"""Cells that a refusal names; it says how many more there are."""
_HUNG = {"table": "a table", "pivotTable": "a pivot table", "oleObject": "an object"}
"""What hangs on a sheet, by the kind of its relationship."""
_DRAWN = ("pic", "sp", "cxnSp", "grpSp")
"""Photos, boxes, lines and groups in a drawing; ours hold charts only."""


def coded(own_sheet: OwnSheet) -> OwnSheet:
    """Return a page with the hidden column of codes at its right side; one that has it stays."""
    if own_sheet.hidden_column is not None:
        return own_sheet
    width = max(map(len, own_sheet.rows), default=0)
    rows = [_coded_row(cells, width) for cells in own_sheet.rows]
    return replace(own_sheet, rows=rows, hidden_column=width + 1)


def _coded_row(cells: list[OwnCell], width: int) -> list[OwnCell]:
    code = "".join([_BLANK if cell is BLANK else _code_of(cell) for cell in cells])
    if not code.strip("-"):
        return cells
    return [*cells, *[BLANK] * (width - len(cells)), OwnCell(_SIGN + code)]


def _code_of(cell: OwnCell) -> str:
    """Return four signs for what we write into a cell, whatever its formula gives."""
    if cell.typed:
        return _FREE
    return _code(cell.value) if cell.formula is None else code_of_formula(cell.formula)


@lru_cache(maxsize=1 << 14, typed=True)
def _code(value: Raw | None) -> str:
    """Return four signs for what a cell holds; the same whether a program keeps 34 as 34 or as 34.0."""
    if value is None or value == "":
        return _BLANK
    number = isinstance(value, int | float) and not isinstance(value, bool)
    return four_signs(f"{value:.12g}" if number else f'"{cell_text(str(value))}')


def refuse_typed(package: Package, replaced: Sequence[tuple[str, str, OwnSheet]]) -> None:
    """Refuse to replace sheets of ours into which somebody typed something, or on which they hung it.

    Args:
        package: The workbook.
        replaced: Title and part of each sheet of ours that is replaced, and the page that is to stand there.

    Raises:
        CannotRunError: one of them holds what we did not write; cells are named.
    """
    grids = read_workbook(package, {title for title, _, _ in replaced}.__contains__).grids
    for title, part, own_sheet in replaced:
        typed = [at for at in _typed(grids[title], own_sheet) if at not in own_sheet.taken_over]
        cells = list(dict.fromkeys(f"{column_letters(column)}{row}" for row, column in typed))
        found = [*cells[:_NAMED], *([f"{len(cells) - _NAMED} more"] if len(cells) > _NAMED else [])]
        found += dict.fromkeys(_hung(package, title, part))
        if found:
            listed = " and ".join(filter(None, [", ".join(found[:-1]), found[-1]]))
            raise unwritable(
                package.name,
                f"its sheet {shown(title)} would be replaced, and these there are not rosterkit's: {listed}",
                "Move them to another sheet, such as Readings, and try again; --replace lets them go.",
            )


def _typed(grid: Grid, own_sheet: OwnSheet) -> Iterator[tuple[int, int]]:
    """Return rows and columns of the cells that we did not write."""
    rows = list(_coded_rows(grid))
    written = {code for _, code in rows if code}
    if not written:
        yield from _typed_without_codes(grid, own_sheet)
        return
    length = len(_BLANK)
    for row, (now, code) in enumerate(rows, 1):
        if now.rstrip("-") in written:
            continue  # also where rows were sorted without the hidden column
        then = code.ljust(len(now), "-")
        for n in range(0, len(now), length):
            if now[n : n + length] != _BLANK and then[n : n + length] not in (_FREE, now[n : n + length]):
                yield row, n // length + 1


def _coded_rows(grid: Grid) -> Iterator[tuple[str, str]]:
    """Return a code of what each row holds, and that of what we wrote there, without blanks at its end."""
    formulas: dict[int, dict[int, str]] = {}
    for row, column in grid.formulas:
        formulas.setdefault(row, {})[column] = code_of_formula(grid.formulas[row, column])
    for row in range(1, max(len(grid.rows), *formulas, 0) + 1):
        cells, code = _parted(grid.rows[row - 1] if row <= len(grid.rows) else [])
        now = [*map(_code, cells)]
        for column, signs in formulas.get(row, {}).items():
            now += [_BLANK] * (column - len(now))
            now[column - 1] = signs
        yield "".join(now), code


def _parted(cells: list[Raw]) -> tuple[list[Raw], str]:
    """Return a row's cells, the code among them taken for blank, and the code without blanks at its end."""
    for place in range(len(cells) - 1, -1, -1):
        cell = cells[place]
        if isinstance(cell, str) and cell.startswith(_SIGN):
            code = cell.removeprefix(_SIGN).rstrip("-")
            return [*cells[:place], "", *cells[place + 1 :]], code
    return cells, ""


def _typed_without_codes(grid: Grid, own_sheet: OwnSheet) -> Iterator[tuple[int, int]]:
    """Return what stands where we never write, where the codes are gone: in boxes, and beside our columns.

    A formula is ours if it is like one in that column of the page.
    """
    frozen = own_sheet.frozen_rows
    width = max(map(len, own_sheet.rows), default=0)
    numbered = [(n, cell) for cells in own_sheet.rows[frozen:] for n, cell in enumerate(cells, 1)]
    boxes = {n for n, cell in numbered if cell.look is CellStyle.BOX}
    boxes -= {n for n, cell in numbered if not leaves_blank(cell) and not cell.typed}
    placed = list(enumerate(own_sheet.rows, 1))
    free = {(row, n) for row, cells in placed for n, cell in enumerate(cells, 1) if cell.typed}
    ours = {
        (n, _code_of(cell))
        for _, cells in placed
        for n, cell in enumerate(cells, 1)
        if cell.formula is not None
    }
    for row, cells in enumerate(grid.rows[frozen:], frozen + 1):
        for n, cell in enumerate(cells, 1):
            value = cell != "" and (row, n) not in grid.formulas
            if value and (row, n) not in free and (n > width or n in boxes):
                yield row, n
    for place, formula in grid.formulas.items():
        if place not in free and (place[1], code_of_formula(formula)) not in ours:
            yield place


def _hung(package: Package, title: str, part: str) -> Iterator[str]:
    """Return in words what hangs on a sheet, and is not ours; notes and links by name."""
    for link in package.relationships(part):
        if link.kind == "hyperlink" and link.external and not link.raw_target.startswith("#"):
            yield f"the link to {shown(link.raw_target)}"
        if link.target is None:
            continue
        if link.kind in _HUNG:
            yield _HUNG[link.kind]
        elif link.kind in {"comments", "drawing"}:
            with explained(package.name, f"part {shown(link.target)}"):
                root = parsed(package.xml(link.target))
            yield from (f"the note at {shown(one.get('ref', ''))}" for one in root.iter("{*}comment"))
            yield from ("a chart" for _ in _charts_of_others(package, title, link.target))
            yield from ("a photo or drawing" for _ in root.iter(*(f"{{*}}{name}" for name in _DRAWN)))


def _charts_of_others(package: Package, title: str, drawing: str) -> Iterator[str]:
    """Return the charts in a drawing that are not ours: ours show cells of the sheet on which they stand."""
    for link in package.relationships(drawing):
        if link.kind == "chartEx":
            yield link.raw_target
        elif link.kind == "chart" and link.target is not None:
            with explained(package.name, f"part {shown(link.target)}"):
                areas = [area.text or "" for area in parsed(package.xml(link.target)).iter("{*}f")]
            # Other programs keep the name of a series there too, as a text in quotes.
            areas = [area for area in areas if not area.startswith('"')]
            shows = {area.rpartition("!")[0].strip("'").replace("''", "'").casefold() for area in areas}
            if shows - {title.casefold()}:
                yield link.target

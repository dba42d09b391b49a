"""Reads .xlsx and .xlsm workbooks with our own reader: values, formats, notes, colours, merged and hidden."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from rosterkit.lists.files.coloured import Box, coloured_blanks
from rosterkit.lists.files.limits import MAX_LOOKED_AT
from rosterkit.lists.files.number_formats import format_codes, shows_year
from rosterkit.lists.files.values import plain_cell
from rosterkit.lists.plain import PlainArea, PlainCell, PlainSheet
from rosterkit.xlsx.grid import Grid
from rosterkit.xlsx.package.contents import SheetPart
from rosterkit.xlsx.package.opening import Package, parsed
from rosterkit.xlsx.read.looks import SheetLooks, looks_of, sheet_looks
from rosterkit.xlsx.read.notes import notes_of
from rosterkit.xlsx.read.workbook import read_workbook

_COPY = "Copy"
"""What a sheet is that rosterkit copied out of another list."""


def sheets_of_workbook(package: Package) -> tuple[PlainSheet, ...]:
    """Return the worksheets of a workbook in its order; charts on sheets of their own have no cells.

    Raises:
        CannotRunError: a part is damaged, or holds what no sheet can.
    """
    grids = read_workbook(package, lambda _: True).grids
    looks = looks_of(package)
    part = package.styles_part
    codes = () if part is None else parsed(package.archive, part, format_codes)
    return tuple(
        _Sheet(
            part=sheet,
            grid=grids[sheet.title],
            looks=sheet_looks(package, sheet.part, looks),
            codes=codes,
            notes={at: note.text for at, note in notes_of(package, sheet.part).items()},
        ).plain()
        for sheet in package.sheets
        if sheet.title in grids
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class _Sheet:
    part: SheetPart
    grid: Grid
    looks: SheetLooks
    codes: tuple[str, ...]
    """The codes of number formats, by the number of a cell's format."""
    notes: Mapping[tuple[int, int], str]

    def plain(self) -> PlainSheet:
        cells = {at: cell for at, cell in self._filled() if cell.text or cell.note or cell.fill}
        more = {
            at: PlainCell("", "", note=self.notes[at], fill=self.looks.at(*at).fill or "")
            for at in self.notes.keys() - cells.keys()
        }
        more |= coloured_blanks(cells | more, self._coloured(Box.around(cells | more)))
        if more:
            cells = dict(sorted((cells | more).items()))
        merged = tuple(PlainArea(one.top, one.left, one.bottom, one.right) for one in self.grid.merged)
        return PlainSheet(
            title=self.grid.title,
            cells=cells,
            merged=merged,
            hidden=self.grid.hidden,
            own=_COPY if self.part.is_copy else self.grid.title if self.grid.is_own else "",
        )

    def _filled(self) -> Iterator[tuple[tuple[int, int], PlainCell]]:
        for row, values in enumerate(self.grid.rows, 1):
            formats = self.looks.formats(row, len(values)) if values else []
            for column, (value, number) in enumerate(zip(values, formats, strict=True), 1):
                if value != "":
                    at = (row, column)
                    code = self.codes[number] if number < len(self.codes) else ""
                    note = self.notes.get(at, "") if self.notes else ""
                    fill = self.looks.look(number).fill or ""
                    yield at, plain_cell(value, code=code, note=note, fill=fill, year_shown=shows_year(code))

    def _coloured(self, box: Box) -> Iterator[tuple[tuple[int, int], str]]:
        """Return the colours of the cells in and around those that hold anything."""
        if not any(look.fill for look in self.looks.looks):
            return
        if box.area > MAX_LOOKED_AT:
            numbered = (
                ((row, column), n) for row, cells in self.looks.cells.items() for column, n in cells.items()
            )
        else:
            numbered = (
                ((row, column), number)
                for row in range(box.top, box.bottom + 1)
                for column, number in enumerate(self.looks.formats(row, box.right), 1)
            )
        for at, number in numbered:
            fill = self.looks.look(number).fill
            if fill and box.holds(*at):
                yield at, fill

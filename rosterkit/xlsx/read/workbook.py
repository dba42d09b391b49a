"""Reads the sheets that are wanted of a workbook into grids."""

from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path

from rosterkit.xlsx.grid import Grid, MergedRange, Workbook, filled
from rosterkit.xlsx.package.contents import SheetPart
from rosterkit.xlsx.package.errors import shown, unreadable
from rosterkit.xlsx.package.markup import MarkupError, TooMuchError, utf8
from rosterkit.xlsx.package.opening import Package, explained, opened, parsed
from rosterkit.xlsx.read.cells import Meaning
from rosterkit.xlsx.read.drawings import drawing_areas
from rosterkit.xlsx.read.fast import Scanned, rows_of
from rosterkit.xlsx.read.formats import NO_FORMATS, formats
from rosterkit.xlsx.read.pictures import picture_values
from rosterkit.xlsx.read.scan import scan
from rosterkit.xlsx.read.shared_strings import read_texts, shared_strings
from rosterkit.xlsx.read.slow import Walked, walk
from rosterkit.xlsx.read.spellings import formats_stated, spellings
from rosterkit.xlsx.read.worksheet_frame import frame


def read_workbook(source: Path | Package, wanted: Callable[[str], bool]) -> Workbook:
    """Read the sheets whose title is wanted of a file or a package; the cells of others are not looked at.

    CannotRunError if the file is no workbook, is damaged, or a wanted sheet holds what no sheet can.
    """
    package = opened(source) if isinstance(source, Path) else source
    sheets = [sheet for sheet in package.sheets if sheet.kind == "worksheet" and wanted(sheet.title)]
    return Workbook(
        name=package.name,
        titles=tuple(sheet.title for sheet in package.sheets),
        grids={grid.title: grid for grid in _Reading(package).grids(sheets)} if sheets else {},
        own_titles=tuple(sheet.title for sheet in package.sheets if sheet.is_own),
    )


class _Reading:
    """The reading of one package: what its sheets share is read once."""

    def __init__(self, package: Package) -> None:
        self._package = package
        styles = package.styles_part
        self._formats = NO_FORMATS if styles is None else parsed(package.archive, styles, formats)
        self._strings = shared_strings(package)
        self._meaning = Meaning(
            formats=self._formats,
            texts=cache(lambda: read_texts(package, self._strings)),
            blank_texts=self._strings.blank,
            pictures=picture_values(package),
            date1904=package.date1904,
        )

    def grids(self, sheets: list[SheetPart]) -> Iterator[Grid]:
        scanned = [self._scanned(sheet) for sheet in sheets]
        rows = rows_of(self._package, [one for one in scanned if one], self._formats, self._strings)
        for sheet, found in zip(sheets, scanned, strict=True):
            read = next(rows) if found else None
            if found is None or read is None:
                yield self._walked(sheet, found)
            else:
                yield _grid(sheet, Walked(read, found.merged, found.scan.formulas), found.drawing_areas)

    def _scanned(self, sheet: SheetPart) -> Scanned | None:
        """Look a sheet through; None if it has to be read cell by cell, which tells what is wrong with it."""
        stored = self._package.read(sheet.part)
        self._package.archive.forget(sheet.part)
        with explained(self._package.name, f"sheet {shown(sheet.title)}"):
            try:
                for data in spellings(utf8(stored), self._formats):
                    around = frame(data)
                    found = scan(data, around.begin, around.end, self._meaning) if around else None
                    if around is not None and found is not None:
                        return Scanned(
                            sheet=sheet,
                            scan=found,
                            merged=around.merged,
                            drawing_areas=drawing_areas(self._package, sheet.part, data),
                            data=None if data is stored else data,
                        )
            except TooMuchError:
                raise
            except MarkupError:
                return None
        return None

    def _walked(self, sheet: SheetPart, found: Scanned | None) -> Grid:
        data = self._package.read(sheet.part)
        with explained(self._package.name, f"sheet {shown(sheet.title)}"):
            walked = walk(formats_stated(utf8(data), self._formats), self._meaning)
        if found is not None and filled(walked.rows) != found.scan.cells:
            raise unreadable(
                self._package.name,
                f"two ways of reading its sheet {shown(sheet.title)} find different cells"
                f" ({filled(walked.rows)} and {found.scan.cells} with a value)",
            )
        return _grid(sheet, walked, drawing_areas(self._package, sheet.part, utf8(data)))


def _grid(sheet: SheetPart, walked: Walked, drawing_areas: tuple[MergedRange, ...]) -> Grid:
    return Grid(
        title=sheet.title,
        rows=walked.rows,
        merged=walked.merged,
        formulas=walked.formulas,
        drawing_areas=drawing_areas,
        hidden=sheet.hidden,
        is_own=sheet.is_own,
    )

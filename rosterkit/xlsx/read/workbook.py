"""Reads the sheets that are wanted of a workbook into grids."""

from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path

from rosterkit.xlsx.grid import Grid, MergedRange, Raw, Workbook
from rosterkit.xlsx.package import limits
from rosterkit.xlsx.package.contents import SheetPart
from rosterkit.xlsx.package.errors import shown, unreadable
from rosterkit.xlsx.package.markup import MarkupError, TooMuchError, utf8
from rosterkit.xlsx.package.opening import Package, explained, opened
from rosterkit.xlsx.read import fast as quick
from rosterkit.xlsx.read import formats
from rosterkit.xlsx.read.cells import Meaning
from rosterkit.xlsx.read.column_formats import formats_stated
from rosterkit.xlsx.read.drawings import drawing_areas
from rosterkit.xlsx.read.fast import Scanned
from rosterkit.xlsx.read.formats import NO_FORMATS, Formats
from rosterkit.xlsx.read.normalise import normalised
from rosterkit.xlsx.read.pictures import picture_values
from rosterkit.xlsx.read.rows import filled
from rosterkit.xlsx.read.scan import Setting, scan
from rosterkit.xlsx.read.shared_strings import read_texts, shared_strings
from rosterkit.xlsx.read.slow import walk
from rosterkit.xlsx.read.worksheet_frame import frame


def read_workbook(source: Path | Package, wanted: Callable[[str], bool]) -> Workbook:
    """Read the sheets whose title is wanted; the cells of the others are not looked at.

    Args:
        source: The workbook file, or the package that it was opened as.
        wanted: Tells of a sheet's title whether to read it.

    Raises:
        CannotRunError: the file is no workbook, is damaged, or a wanted sheet holds what no sheet can.
    """
    package = opened(source) if isinstance(source, Path) else source
    sheets = [sheet for sheet in package.sheets if sheet.kind == "worksheet" and wanted(sheet.title)]
    return Workbook(
        name=package.name,
        titles=tuple(sheet.title for sheet in package.sheets),
        grids=dict(_Reading(package).grids(sheets)) if sheets else {},
    )


class _Reading:
    """The reading of one package: what its sheets share is read once."""

    def __init__(self, package: Package) -> None:
        self._package = package
        self._formats = _formats(package)
        self._strings = shared_strings(package)
        self._setting = Setting(
            formats=self._formats, blank_texts=self._strings.blank, date1904=package.date1904
        )
        self._meaning = Meaning(
            formats=self._formats,
            texts=cache(lambda: read_texts(package, self._strings)),
            pictures=picture_values(package),
            date1904=package.date1904,
        )

    def grids(self, sheets: list[SheetPart]) -> Iterator[tuple[str, Grid]]:
        scanned = [found for sheet in sheets if (found := self._scanned(sheet)) is not None]
        ordinary = {found.sheet.part: found for found in scanned}
        rows = quick.rows_of(self._package, scanned, self._formats, self._strings)
        for sheet in sheets:
            found = ordinary.get(sheet.part)
            read = next(rows) if found is not None else None
            if found is not None and read is not None:
                yield sheet.title, _grid(sheet, read, found.merged, found.drawing_areas)
            else:
                yield sheet.title, self._walked(sheet, found)

    def _scanned(self, sheet: SheetPart) -> Scanned | None:
        """Look a sheet through; None if it has to be read cell by cell, which tells what is wrong with it."""
        stored = self._package.read(sheet.part)
        self._package.archive.forget(sheet.part)
        with explained(self._package.name, f"sheet {shown(sheet.title)}"):
            try:
                for data in self._spellings(stored):
                    around = frame(data)
                    found = scan(data, around.begin, around.end, self._setting) if around else None
                    if around is not None and found is not None:
                        own = None if data is stored else data
                        areas = drawing_areas(self._package, sheet.part, data)
                        return Scanned(
                            sheet=sheet,
                            scan=found,
                            merged=around.merged,
                            drawing_areas=areas,
                            data=own,
                        )
            except TooMuchError:
                raise
            except MarkupError:
                return None
        return None

    def _spellings(self, stored: bytes) -> Iterator[bytes]:
        """Return a sheet's part in UTF-8 as it is, and then more plainly spelt if that can be done."""
        data = utf8(stored)
        yield formats_stated(data, self._formats)
        plain = normalised(data)
        if plain is not None:
            yield formats_stated(plain, self._formats)

    def _walked(self, sheet: SheetPart, found: Scanned | None) -> Grid:
        data = self._package.read(sheet.part)
        with explained(self._package.name, f"sheet {shown(sheet.title)}"):
            rows, merged = walk(formats_stated(utf8(data), self._formats), self._meaning)
        if found is not None and filled(rows) != found.scan.cells:
            raise unreadable(
                self._package.name,
                f"two ways of reading its sheet {shown(sheet.title)} find different cells"
                f" ({filled(rows)} and {found.scan.cells} with a value)",
            )
        return _grid(sheet, rows, merged, drawing_areas(self._package, sheet.part, utf8(data)))


def _formats(package: Package) -> Formats:
    part = package.styles_part
    if part is None:
        return NO_FORMATS
    with explained(package.name, f"part {shown(part)}"):
        return formats.formats(package.xml(part, limits.MAX_STRUCTURE_BYTES))


def _grid(
    sheet: SheetPart,
    rows: list[list[Raw]],
    merged: tuple[MergedRange, ...],
    drawing_areas: tuple[MergedRange, ...],
) -> Grid:
    return Grid(
        title=sheet.title,
        rows=rows,
        merged=merged,
        drawing_areas=drawing_areas,
        hidden=sheet.hidden,
        is_own=sheet.is_own,
    )

"""Verifies, by another way than it was made, that an edited workbook differs only in what was meant to.

Each part that was written is given the look that it has to stand. A part that has none may not be written at
all, and only parts of our own sheets may go.
"""

import io
import struct
import zipfile
from collections import Counter
from collections.abc import Callable, Mapping
from functools import partial

from lxml import etree

from rosterkit.errors import CannotRunError
from rosterkit.xlsx.changes import SheetChange, SheetLock
from rosterkit.xlsx.own_sheets.insert import Placed
from rosterkit.xlsx.own_sheets.sheet_xml import filter_area, sheet_reference
from rosterkit.xlsx.package import limits
from rosterkit.xlsx.package.archive import archive
from rosterkit.xlsx.package.contents import LOCK_MARKER, MARKER
from rosterkit.xlsx.package.errors import shown
from rosterkit.xlsx.package.markup import MarkupError
from rosterkit.xlsx.package.opening import Package, package_of
from rosterkit.xlsx.package.relations import relationships_name
from rosterkit.xlsx.patch.filters import FILTER_NAME
from rosterkit.xlsx.patch.formulas import has_formulas
from rosterkit.xlsx.patch.refusal import unwritable
from rosterkit.xlsx.verify import charts, parts
from rosterkit.xlsx.verify.archive import verify_archive
from rosterkit.xlsx.verify.claims import Claims, cells_of
from rosterkit.xlsx.verify.frame import verify_frame
from rosterkit.xlsx.verify.growth import Growth
from rosterkit.xlsx.verify.lists import Lists
from rosterkit.xlsx.verify.locks import verify_lock, verify_unlocked
from rosterkit.xlsx.verify.number_formats import verify_number_formats
from rosterkit.xlsx.verify.own_sheet import verify_own_sheet
from rosterkit.xlsx.verify.remainder import VerificationError
from rosterkit.xlsx.verify.rows import verify_rows
from rosterkit.xlsx.verify.sheet_data import SheetData
from rosterkit.xlsx.verify.whole import verify_gone, verify_sheets
from rosterkit.xlsx.xml.areas import Area, area
from rosterkit.xlsx.xml.nodes import parsed
from rosterkit.xlsx.xml.outline import outline
from rosterkit.xlsx.xml.values import text_formula

_FAULTS = (
    CannotRunError,
    VerificationError,
    MarkupError,
    zipfile.BadZipFile,
    etree.XMLSyntaxError,
    ValueError,
    LookupError,
    struct.error,
)

_Look = Callable[[bytes, bytes], None]
"""What a part must stand, by what it was and what it is."""


def verify_edit(package: Package, data: bytes, claims: Claims) -> None:
    """Compare a new file with the package that it was made from.

    Raises:
        CannotRunError: the two differ in something that was not to be changed.
    """
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as new:
            verify_archive(package.raw, data, new, claims.written, claims.removed)
            verification = _Verification(package, data, new, claims)
            verification.verify_written()
            verification.verify_calculation()
            verify_sheets(package, verification.after, claims)
            verify_gone(package, claims)
    except _FAULTS as error:
        raise unwritable(
            package.name,
            f"a second look at the new file found more changed than was meant ({error})",
            "Nothing was written; please report this, with the workbook if you can.",
        ) from error


class _Verification:
    """A new file beside the package that it was made from."""

    def __init__(self, package: Package, data: bytes, new: zipfile.ZipFile, claims: Claims) -> None:
        self.before = package
        self.after = package_of(package.path, archive(package.name, data), package.identity)
        self.new = new
        self.claims = claims
        self.cells = {part: cells_of(change) for part, change in claims.changes.items()}
        self.ours, self.charts, self.drawings = claims.ours, claims.charts, claims.drawings
        self.titles = {one.own_sheet.title: one.title for one in claims.placed}
        styles = self.after.styles_part
        self.formulas_changed = False
        self.formats = parts.counts(self.now(styles)) if styles else Counter[str]()

    def was(self, part: str) -> bytes:
        """Return a part as it was, in UTF-8; nothing if it was not there."""
        return self.before.xml(part, limits.MAX_PART_BYTES) if part in self.before.infos else b""

    def now(self, part: str) -> bytes:
        """Return a part as it is; in UTF-8 if it was written."""
        return self.new.read(part) if part in self.claims.written else self.was(part)

    def verify_written(self) -> None:
        """Demand of each part that was written, or was to be, what it must stand."""
        looks = self.looks()
        for part in self.claims.written | self.claims.changes.keys() | self.claims.locks.keys():
            if part not in looks:
                raise VerificationError(f"the part {shown(part)} is not one to change")
            looks[part](self.was(part), self.now(part))

    def looks(self) -> Mapping[str, _Look]:
        """Return what each part that may change must stand."""
        book = self.before.workbook_part
        places = {sheet.part: position for position, sheet in enumerate(self.after.sheets)}
        own = {places[part]: _names(one) for part, one in self.ours.items()}
        edited = {places[part]: self.growth(part) for part in self.cells}
        hidden = {(name, parts.WORKBOOK): text_formula(text) for name, text in self.claims.texts.items()}
        hidden |= {(LOCK_MARKER, places[part]): "1" for part in self.claims.locks}
        links = relationships_name(book)
        lists = Lists(self.before, self.claims, self.after.styles_part)
        looks: dict[str, _Look] = {
            book: partial(parts.verify_workbook, own=own, edited=edited, hidden=hidden),
            self.before.content_types_part: lists.verify_types,
            self.before.find(links) or links: lists.verify_links,
        }
        if self.after.styles_part is not None:
            looks[self.after.styles_part] = parts.verify_styles if self.before.styles_part else _readable
        for part, change in self.claims.changes.items():
            looks[part] = partial(self.verify_worksheet, part=part, change=change)
            looks |= dict.fromkeys(self.tables(part), partial(self.verify_table, sheet=part))
        looks |= {part: partial(self.verify_lock, lock=one) for part, one in self.claims.locks.items()}
        looks |= {
            part: self.verify_drawing if part.endswith(".rels") else _readable for part in self.drawings
        }
        looks |= {part: partial(charts.verify_chart, shown=chart) for part, chart in self.charts.items()}
        return looks | {part: partial(self.verify_own_sheet, placed=one) for part, one in self.ours.items()}

    def growth(self, sheet: str, table: bytes = b"") -> Growth:
        """Return how the list in a sheet was to grow, or such a table over it."""
        areas = [_area_of(self.now(part)) for part in self.tables(sheet)]
        if table:
            areas.remove(_area_of(table))
        return Growth.of(self.claims.changes[sheet], self.cells[sheet], areas)

    def tables(self, sheet: str) -> list[str]:
        """Return the parts of the tables of a sheet."""
        links = self.before.relationships(sheet)
        return [link.target for link in links if link.kind == "table" and link.target is not None]

    def verify_table(self, old: bytes, new: bytes, sheet: str) -> None:
        """Verify a table of a sheet that was edited."""
        parts.verify_table(old, new, self.growth(sheet, new))

    def verify_worksheet(self, old: bytes, new: bytes, part: str, change: SheetChange) -> None:
        """Verify a worksheet of a member's: what stands around its rows, its rows, and the formats used."""
        before, after, cells = SheetData(old), SheetData(new), self.cells[part]
        growth = self.growth(part)
        verify_frame(before.frame, after.frame, change, cells, growth, self.formats["dxfs"])
        seen = verify_rows(before, after, cells.items())
        # A format that there is not is an error of the member's file if it comes from there.
        self.verify_formats({style for style in seen.used if b'"%d"' % style not in old})
        if seen.changed or seen.meant:
            styles = self.after.styles_part
            verify_number_formats(self.now(styles) if styles else b"", seen.changed, seen.meant)
        self.formulas_changed |= bool(seen.formulas)

    def verify_lock(self, old: bytes, new: bytes, lock: SheetLock) -> None:
        """Verify a worksheet of a member's that was locked, and the formats of its open cells."""
        styles = self.after.styles_part
        verify_unlocked(self.now(styles) if styles else b"", verify_lock(old, new, lock))

    def verify_own_sheet(self, old: bytes, new: bytes, placed: Placed) -> None:
        """Verify a sheet of our own, and the formats used."""
        self.verify_formats(verify_own_sheet(new, placed.own_sheet, self.titles))
        self.formulas_changed |= has_formulas(old) or has_formulas(new)

    def verify_calculation(self) -> None:
        """Demand that no list of formula cells names others than there are."""
        links = self.after.relationships(self.after.workbook_part)
        if self.formulas_changed and any(link.kind == "calcChain" for link in links):
            raise VerificationError("the list of formula cells is that of the old file")

    def verify_formats(self, styles: set[int]) -> None:
        """Demand formats that the style sheet has."""
        if max(styles, default=0) >= max(self.formats["cellXfs"], 1):
            raise VerificationError("a cell has a format that there is not")

    def verify_drawing(self, _: bytes, new: bytes) -> None:
        """Verify that relationships of ours lead to parts of ours."""
        targets = (child.attributes.get("Target", "") for child in outline(new).children)
        if not {self.after.find(target.lstrip("/")) for target in targets} <= {*self.charts, *self.drawings}:
            raise VerificationError("a drawing shows a part that is not ours")


def _names(placed: Placed) -> dict[str, str]:
    """Return what the names of a sheet of our own stand for."""
    reference, filtered = sheet_reference(placed.title), filter_area(placed.own_sheet)
    names = {} if placed.own_sheet.of_members else {MARKER: "1"}
    if filtered is not None:
        names[FILTER_NAME] = f"{reference}!{filtered.absolute}"
    if placed.own_sheet.frozen_rows:
        names[parts.PRINT_TITLES] = f"{reference}!$1:${placed.own_sheet.frozen_rows}"
    return names


def _area_of(table: bytes) -> Area:
    return area(outline(table).attributes.get("ref", ""))


def _readable(_: bytes, new: bytes) -> None:
    parsed(new)

"""Verifies, by another way than it was made, that an edited workbook differs only in what was meant to.

Parts that nobody wrote are the same packed bytes. A part that was written has to stand the look that its kind
is given: a worksheet of a member's (``worksheet``, ``worksheet_frame``), a part that may only be appended to
(``parts``), a sheet or chart of our own (``values``, ``charts``). Any other part may not change at all.
"""

import io
import struct
import zipfile
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import partial
from urllib.parse import unquote

from lxml import etree

from rosterkit.xlsx.changes import OwnSheet, WorkbookChange
from rosterkit.xlsx.chart import Chart
from rosterkit.xlsx.own_sheets.insert import Placed
from rosterkit.xlsx.own_sheets.sheet_xml import sheet_reference
from rosterkit.xlsx.package import limits
from rosterkit.xlsx.package.errors import shown
from rosterkit.xlsx.package.markup import MarkupError
from rosterkit.xlsx.package.opening import Package
from rosterkit.xlsx.package.relations import relationships_name
from rosterkit.xlsx.patch.draft import Draft
from rosterkit.xlsx.patch.refusal import unwritable
from rosterkit.xlsx.verify import charts, parts, values, worksheet
from rosterkit.xlsx.verify.parts import VerificationError
from rosterkit.xlsx.xml.nodes import parsed
from rosterkit.xlsx.xml.values import Value

_Look = Callable[[bytes, bytes], None]
"""What a part must stand, by what it was and what it is."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Claims:
    """All that an edit says it did; the verification allows nothing else."""

    written: frozenset[str]
    """Parts that were changed or added."""
    removed: frozenset[str]
    cells: Mapping[str, worksheet.Cells]
    """By the part of the sheet: the values of the cells."""
    widths: Mapping[str, frozenset[int]]
    """By the part of the sheet: the columns that got a width."""
    own_sheets: Mapping[str, OwnSheet]
    last_rows: Mapping[str, int] = field(default_factory=dict)
    """By the part of the sheet: the last row that was added below a list, 0 if none was."""
    charts: Mapping[str, tuple[Chart, OwnSheet, str]] = field(default_factory=dict)
    """By its part: a chart, its page, and the page's title as references begin with it."""
    drawings: frozenset[str] = frozenset()
    """The parts that place the charts, and lists of relationships."""

    @classmethod
    def of(cls, draft: Draft, change: WorkbookChange, placed: list[Placed]) -> "Claims":
        """Gather them from what was asked for and the names of the parts that were written."""
        parts = {sheet.title.casefold(): sheet.part for sheet in draft.package.sheets}
        cells: dict[str, dict[int, dict[int, Value]]] = {}
        widths: dict[str, frozenset[int]] = {}
        for one in change.sheets:
            part = parts[one.title.casefold()]
            rows = cells.setdefault(part, {})
            for cell in one.cells:
                rows.setdefault(cell.row, {})[cell.column] = cell.value
            widths[part] = widths.get(part, frozenset()) | frozenset(one.widths)
        return cls(
            written=frozenset(draft.written),
            removed=frozenset(draft.removed),
            cells=cells,
            widths=widths,
            own_sheets={one.part: one.own_sheet for one in placed},
            last_rows={parts[one.title.casefold()]: one.last_row for one in change.sheets},
            charts={
                part: (chart, one.own_sheet, sheet_reference(one.title))
                for one in placed
                for part, chart in zip(one.charted.charts, one.own_sheet.charts, strict=True)
            },
            drawings=frozenset().union(*(one.charted.others for one in placed)),
        )


def verify_edit(package: Package, data: bytes, claims: Claims) -> None:
    """Compare a new file with the package that it was made from.

    Raises:
        CannotRunError: the two differ in something that was not to be changed.
    """
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as new:
            _verify_entries(package, data, new, claims)
            _verify_drawings(package, claims)
            looks = _looks(package, claims)
            for part in claims.written:
                old = package.xml(part, limits.MAX_PART_BYTES) if part in package.infos else b""
                _look_of(part, looks)(old, new.read(part))
    except (VerificationError, MarkupError, zipfile.BadZipFile, etree.XMLSyntaxError, ValueError) as error:
        raise unwritable(
            package.name,
            f"a second look at the new file found more changed than was meant ({error})",
            "Nothing was written; please report this, with the workbook if you can.",
        ) from error


def _look_of(part: str, looks: Mapping[str, _Look]) -> _Look:
    if part not in looks:
        raise VerificationError(f"the part {shown(part)} is not one to change")
    return looks[part]


def _verify_drawings(package: Package, claims: Claims) -> None:
    ours = {*claims.own_sheets, *claims.charts, *claims.drawings, *claims.removed}
    touched = {*claims.charts, *claims.drawings} & claims.written
    charts.verify_nobody_else_refers(package, ours | {package.workbook_part}, touched | claims.removed)


def _verify_entries(package: Package, data: bytes, new: zipfile.ZipFile, claims: Claims) -> None:
    """Demand the entries in their order, and of those not written all that the archive holds of them."""
    with zipfile.ZipFile(io.BytesIO(package.raw)) as old:
        kept = [name for name in old.namelist() if name not in claims.removed]
        after = new.namelist()
        if after[: len(kept)] != kept or not set(after[len(kept) :]) <= claims.written:
            raise VerificationError("the parts are not the same")
        for name in kept:
            if name not in claims.written and _stored(package.raw, old, name) != _stored(data, new, name):
                raise VerificationError(f"the part {shown(name)} is not the same")


def _stored(raw: bytes, archive: zipfile.ZipFile, name: str) -> tuple[object, ...]:
    """Return all that an archive holds of an entry: its packed bytes where its own header says they are."""
    info = archive.getinfo(name)
    with archive.open(info):  # compares the two headers of the entry
        pass
    name_length, extra_length = struct.unpack_from("<2H", raw, info.header_offset + 26)
    begin = info.header_offset + 30 + name_length + extra_length
    packed = memoryview(raw)[begin : begin + info.compress_size]
    stated = (info.CRC, info.file_size, info.compress_type, info.date_time, info.external_attr, info.comment)
    return (*stated, packed)


def _looks(package: Package, claims: Claims) -> dict[str, _Look]:
    """Return the look that each part that may change must stand."""
    came_and_went = {*(claims.written - set(package.infos)), *claims.removed}
    links = relationships_name(package.workbook_part)
    names = {_plain(part) for part in came_and_went}
    looks: dict[str, _Look] = {
        package.workbook_part: partial(parts.verify_workbook, positions=_positions(package, claims)),
        package.content_types_part: partial(
            parts.verify_list, allowed=partial(_names_one, names), what="the list of content types"
        ),
        package.find(links) or links: partial(
            parts.verify_list, allowed=partial(_leads_to_one, names), what="the list of the workbook's parts"
        ),
        **(
            dict.fromkeys(came_and_went, _verify_readable)
            if package.styles_part is None
            else {package.styles_part: parts.verify_styles}
        ),
    }
    for part, cells in claims.cells.items():
        widths = claims.widths.get(part, frozenset())
        last = claims.last_rows.get(part, 0)
        looks[part] = partial(worksheet.verify_worksheet, cells=cells, widths=widths, last_row=last)
        tables = (link.target for link in package.relationships(part) if link.kind == "table")
        look = partial(parts.verify_table, last_row=last)
        looks |= {table: look for table in tables if table is not None}
    looks |= dict.fromkeys(claims.drawings, _verify_readable)
    looks |= {part: partial(charts.verify_chart, shown=shown) for part, shown in claims.charts.items()}
    return looks | {
        part: partial(values.verify_own_sheet, own_sheet=own_sheet)
        for part, own_sheet in claims.own_sheets.items()
    }


def _verify_readable(_: bytes, new: bytes) -> None:
    parsed(new)


def _names_one(parts: set[str], entry: etree._Element) -> bool:
    return _plain(entry.get("PartName", "")) in parts


def _leads_to_one(parts: set[str], entry: etree._Element) -> bool:
    target = _plain(entry.get("Target", "?"))
    return any(part.endswith(target) for part in parts)


def _plain(name: str) -> str:
    return unquote(name).replace("\\", "/").lstrip("/").casefold()


def _positions(package: Package, claims: Claims) -> set[int]:
    touched = {*claims.cells, *claims.own_sheets}
    return {position for position, sheet in enumerate(package.sheets) if sheet.part in touched}

"""Proves of a new workbook, by another way than it was made, that only changed what was meant to."""

import io
import zipfile
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import partial
from urllib.parse import unquote

from lxml import etree

from rosterkit.errors import CannotRunError
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
from rosterkit.xlsx.verify import charts as proving_charts
from rosterkit.xlsx.verify import parts as proving_parts
from rosterkit.xlsx.verify import values as proving_values
from rosterkit.xlsx.verify import worksheet as proving_sheets
from rosterkit.xlsx.verify.parts import ProofError
from rosterkit.xlsx.xml.nodes import parsed
from rosterkit.xlsx.xml.values import Value

Role = Callable[[bytes, bytes], None]
"""The proof that a part must stand, by what it was and what it is."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Claims:
    """All that an edit says it did; the proof allows nothing else."""

    written: frozenset[str]
    """Parts that were changed or added."""
    removed: frozenset[str]
    cells: Mapping[str, proving_sheets.Cells]
    """By the part of the sheet: the values of the cells."""
    widths: Mapping[str, frozenset[int]]
    """By the part of the sheet: the columns that got a width."""
    pages: Mapping[str, OwnSheet]
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
            pages={one.part: one.page for one in placed},
            charts={
                part: (chart, one.page, sheet_reference(one.title))
                for one in placed
                for part, chart in zip(one.charted.charts, one.page.charts, strict=True)
            },
            drawings=frozenset().union(*(one.charted.others for one in placed)),
        )


def prove(package: Package, data: bytes, claims: Claims) -> None:
    """Compare a new file with the package that it was made from.

    Raises:
        CannotRunError: the two differ in something that was not to be changed.
    """
    try:
        with zipfile.ZipFile(io.BytesIO(data)) as new:
            _prove_entries(package, data, new, claims)
            _prove_drawings(package, claims)
            roles = _roles(package, claims)
            for part in claims.written:
                _prove_part(package, part, new.read(part), roles)
    except (ProofError, MarkupError, zipfile.BadZipFile, etree.XMLSyntaxError, ValueError) as error:
        raise _failed(package, str(error)) from error


def _prove_drawings(package: Package, claims: Claims) -> None:
    ours = {*claims.pages, *claims.charts, *claims.drawings, *claims.removed}
    charts = {*claims.charts, *claims.drawings} & claims.written
    proving_charts.prove_alone(package, ours | {package.workbook_part}, charts | claims.removed)


def _failed(package: Package, what: str) -> CannotRunError:
    return unwritable(
        package.name,
        f"a second look at the new file found more changed than was meant ({what})",
        "Nothing was written; please report this, with the workbook if you can.",
    )


def _prove_entries(package: Package, data: bytes, new: zipfile.ZipFile, claims: Claims) -> None:
    with zipfile.ZipFile(io.BytesIO(package.raw)) as old:
        before = {info.filename: info for info in old.infolist()}
        after = {info.filename: info for info in new.infolist()}
        kept = [name for name in before if name not in claims.removed]
        if list(after)[: len(kept)] != kept or not set(list(after)[len(kept) :]) <= claims.written:
            raise ProofError("the parts are not the same")
        for name in kept:
            if name not in claims.written and _stored(package.raw, old, name) != _stored(data, new, name):
                raise ProofError(f"the part {shown(name)} is not the same")


def _stored(raw: bytes, archive: zipfile.ZipFile, name: str) -> tuple[object, ...]:
    """Return all that an archive holds of an entry: its packed bytes where its own header says they are."""
    info = archive.getinfo(name)
    with archive.open(info):  # compares the two headers of the entry
        pass
    lengths = raw[info.header_offset + 26 : info.header_offset + 30]
    begin = (
        info.header_offset
        + 30
        + int.from_bytes(lengths[:2], "little")
        + int.from_bytes(lengths[2:], "little")
    )
    packed = memoryview(raw)[begin : begin + info.compress_size]
    return (
        info.CRC,
        info.file_size,
        info.compress_type,
        info.date_time,
        info.external_attr,
        info.comment,
        packed,
    )


def _prove_part(package: Package, part: str, new: bytes, roles: Mapping[str, Role]) -> None:
    role = roles.get(part)
    if role is None:
        raise ProofError(f"the part {shown(part)} is not one to change")
    old = package.xml(part, limits.MAX_PART_BYTES) if part in package.infos else b""
    role(old, new)


def _roles(package: Package, claims: Claims) -> dict[str, Role]:
    """Return the proof that each part that may change must stand."""
    came_and_went = {*(claims.written - set(package.infos)), *claims.removed}
    links = relationships_name(package.workbook_part)
    names = {_plain(part) for part in came_and_went}
    roles: dict[str, Role] = {
        package.workbook_part: lambda old, new: proving_parts.prove_workbook(
            old, new, _positions(package, claims)
        ),
        package.content_types_part: lambda old, new: proving_parts.prove_lists(
            old, new, partial(_names_one, names), "the list of content types"
        ),
        package.find(links) or links: lambda old, new: proving_parts.prove_lists(
            old, new, partial(_leads_to_one, names), "the list of the workbook's parts"
        ),
    }
    if package.styles_part is not None:
        roles[package.styles_part] = proving_parts.prove_styles
    else:
        roles |= dict.fromkeys(came_and_went, _prove_readable)
    for part, cells in claims.cells.items():
        roles[part] = partial(_prove_sheet, cells, claims.widths.get(part, frozenset()))
        tables = (link.target for link in package.relationships(part) if link.kind == "table")
        roles |= {table: proving_parts.prove_table for table in tables if table is not None}
    roles |= dict.fromkeys(claims.drawings, _prove_readable)
    roles |= {part: partial(_prove_chart, *shown) for part, shown in claims.charts.items()}
    return roles | {part: partial(_prove_page, page) for part, page in claims.pages.items()}


def _prove_sheet(cells: proving_sheets.Cells, widths: frozenset[int], old: bytes, new: bytes) -> None:
    proving_sheets.prove_sheet(old, new, cells, widths)


def _prove_page(page: OwnSheet, _: bytes, new: bytes) -> None:
    proving_values.prove_page(new, page)


def _prove_chart(chart: Chart, page: OwnSheet, reference: str, _: bytes, new: bytes) -> None:
    proving_charts.prove_chart(new, chart, page, reference)


def _prove_readable(_: bytes, new: bytes) -> None:
    parsed(new)


def _names_one(parts: set[str], entry: etree._Element) -> bool:
    return _plain(entry.get("PartName", "")) in parts


def _leads_to_one(parts: set[str], entry: etree._Element) -> bool:
    target = _plain(entry.get("Target", "?"))
    return any(part.endswith(target) for part in parts)


def _plain(name: str) -> str:
    return unquote(name).replace("\\", "/").lstrip("/").casefold()


def _positions(package: Package, claims: Claims) -> set[int]:
    touched = {*claims.cells, *claims.pages}
    return {position for position, sheet in enumerate(package.sheets) if sheet.part in touched}

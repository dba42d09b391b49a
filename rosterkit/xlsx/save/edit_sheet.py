"""Edits one worksheet of a member's: the cells that rosterkit owns, its highlights, and what must fit."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from rosterkit.xlsx.changes import CellChange, SheetChange
from rosterkit.xlsx.package import limits
from rosterkit.xlsx.package.errors import REPAIR, shown
from rosterkit.xlsx.package.markup import MarkupError
from rosterkit.xlsx.package.opening import SheetPart
from rosterkit.xlsx.patch import conditional_formats as highlights
from rosterkit.xlsx.patch import filters, protection, tables
from rosterkit.xlsx.patch.cell_writer import CellSplices, StyleOf
from rosterkit.xlsx.patch.cells import cell_splices
from rosterkit.xlsx.patch.columns import column_styles, width_splices
from rosterkit.xlsx.patch.draft import Draft
from rosterkit.xlsx.patch.formulas import blocks
from rosterkit.xlsx.patch.growth import Growth
from rosterkit.xlsx.patch.refusal import EditRefused, unwritable
from rosterkit.xlsx.patch.splices import Splice, set_attribute, spliced
from rosterkit.xlsx.patch.styles import Styles
from rosterkit.xlsx.patch.tables import Table
from rosterkit.xlsx.patch.worksheet import OutOfOrderError, SheetText, sheet_text
from rosterkit.xlsx.xml.areas import Area, area, first_inside
from rosterkit.xlsx.xml.outline import outline


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetEdit:
    """What the edit of one sheet came to."""

    written: bool
    """A cell's value changed."""
    formulas_changed: bool
    """A formula came, went or became another."""
    wider_filter: tuple[Area, Area] | None
    """The area of the sheet's filter, or of what was sorted, before and after, if it grew."""


def edit_sheet(
    draft: Draft, sheet: SheetPart, change: SheetChange, styles: Styles, texts: Callable[[], Sequence[str]]
) -> SheetEdit:
    """Edit a sheet's part and its tables in the draft.

    Raises:
        CannotRunError: a cell cannot be written without harm, or the sheet is not such as can be edited.
    """
    workbook = draft.package.name
    try:
        return _edited(draft, sheet, change, styles, texts)
    except EditRefused as harm:
        raise harm.refusal(workbook, sheet.title) from None
    except MarkupError as error:
        raise unwritable(workbook, f"its sheet {shown(sheet.title)} {error}", REPAIR) from None
    except (OutOfOrderError, ValueError) as error:
        raise unwritable(workbook, f"in its sheet {shown(sheet.title)}, {error}", REPAIR) from None


def _edited(
    draft: Draft, part: SheetPart, change: SheetChange, styles: Styles, texts: Callable[[], Sequence[str]]
) -> SheetEdit:
    sheet = sheet_text(draft.text(part.part))
    _refuse_protected(sheet, draft.package.name, part)
    changes = _by_row(change.cells)
    _refuse_beyond(change.cells)
    beside = _tables(draft, part.part)
    for table in beside:
        tables.refuse_harm(table, changes)
    cells = cell_splices(sheet, changes, _style_of(sheet, styles), texts)
    _refuse_guarded(sheet, cells.written, _pivot_areas(draft, part.part))
    growth = Growth(heading=change.heading, last_row=change.last_row, changes=changes)
    wider = filters.filter_growth(sheet, growth, [table.area for table in beside])
    splices = [
        *cells.splices,
        *_dimension(sheet, cells),
        *width_splices(sheet, change.widths),
        *_highlights(sheet, change, styles),
        *(filters.filter_splices(sheet, *wider) if wider else []),
    ]
    if splices:
        draft.write(part.part, spliced(sheet.data, splices))
    _grow_tables(draft, sheet, beside, growth)
    return SheetEdit(written=bool(cells.written), formulas_changed=cells.formulas_changed, wider_filter=wider)


def _refuse_protected(sheet: SheetText, workbook: str, part: SheetPart) -> None:
    """Refuse a sheet that a member protects; a protection of ours keeps only typing people from it."""
    ours = part.is_locked and not protection.has_password(sheet)
    if protection.is_protected(sheet) and not ours:
        raise unwritable(
            workbook,
            f"its sheet {shown(part.title)} is protected",
            "Take the sheet's protection off, then try again.",
        )


def _refuse_beyond(cells: Sequence[CellChange]) -> None:
    for cell in cells:
        if cell.row > limits.LAST_ROW or cell.column > limits.LAST_COLUMN:
            across = cell.column > limits.LAST_COLUMN
            why = f"would lie beyond the last {'column' if across else 'row'} that a sheet has"
            fix = f"Delete or move what stands in its last {'columns' if across else 'rows'}, then try again."
            raise EditRefused(cell.row, cell.column, why, fix)


def _by_row(cells: Sequence[CellChange]) -> dict[int, dict[int, CellChange]]:
    rows: dict[int, dict[int, CellChange]] = {}
    for cell in cells:
        rows.setdefault(cell.row, {})[cell.column] = cell
    return rows


def _highlights(sheet: SheetText, change: SheetChange, styles: Styles) -> list[Splice]:
    return [] if change.keeps_highlights else highlights.highlight_splices(sheet, change.highlights, styles)


def _style_of(sheet: SheetText, styles: Styles) -> StyleOf:
    runs = column_styles(sheet)
    of_column: dict[int, int | None] = {}

    def style_of(change: CellChange, own: int | None, row_style: int | None) -> int | None:
        column = change.column
        if column not in of_column:
            found = (style for first, last, style in runs if first <= column <= last)
            of_column[column] = next(found, None)
        numeric = change.formula is not None or isinstance(change.value, int | float)
        return styles.of_cell(change.look, own=own, inherited=row_style or of_column[column], numeric=numeric)

    return style_of


def _merged(sheet: SheetText) -> list[Area]:
    return [
        area(merge.attributes.get("ref", ""))
        for merges in sheet.root.named("mergeCells")
        for merge in merges.named("mergeCell")
    ]


def _refuse_guarded(sheet: SheetText, written: Mapping[int, Sequence[int]], pivots: list[Area]) -> None:
    guarded = dict(blocks(sheet))
    if hit := first_inside(guarded, written):
        why = f"{guarded[hit[0]]} ({hit[0]})"
        raise EditRefused(hit[1], hit[2], why, "Move that formula away, then try again.")
    if hit := first_inside(pivots, written):
        raise EditRefused(hit[1], hit[2], f"lies in a pivot table ({hit[0]})", "Move the pivot table away.")
    merged = _merged(sheet)
    anchors = {(one.top, one.left) for one in merged}
    covered = {
        row: [column for column in columns if (row, column) not in anchors]
        for row, columns in written.items()
    }
    if merged and (hit := first_inside(merged, covered)):
        raise EditRefused(
            hit[1], hit[2], f"is merged with others ({hit[0]})", "Unmerge those cells, then try again."
        )


def _pivot_areas(draft: Draft, part: str) -> list[Area]:
    found: list[Area] = []
    for link in draft.package.relationships(part):
        if link.kind == "pivotTable" and link.target is not None:
            location = outline(draft.text(link.target)).child("location")
            if location is not None:
                found.append(area(location.attributes.get("ref", "")))
    return found


def _tables(draft: Draft, part: str) -> list[Table]:
    return [
        tables.table(link.target, draft.text(link.target))
        for link in draft.package.relationships(part)
        if link.kind == "table" and link.target is not None
    ]


def _grow_tables(draft: Draft, sheet: SheetText, beside: list[Table], growth: Growth) -> None:
    if not beside:
        return
    filtered = filters.filtered_area(sheet)
    fixed = [*_merged(sheet), *(guarded for guarded, _ in blocks(sheet)), *([filtered] if filtered else [])]
    for table in beside:
        others = [other.area for other in beside if other is not table]
        data = tables.grown(table, sheet, growth, [*others, *fixed])
        if data is not None:
            draft.write(table.part, data)


def _dimension(sheet: SheetText, cells: CellSplices) -> list[Splice]:
    element = sheet.root.child("dimension")
    if element is None or not cells.written:
        return []
    columns = [column for row in cells.written.values() for column in (min(row), max(row))]
    written = Area(min(cells.written), min(columns), max(cells.written), max(columns))
    try:
        stated = area(element.attributes.get("ref", ""))
    except ValueError:
        return []
    wide = stated.around(written)
    return [] if wide == stated else set_attribute(sheet.data, element, "ref", str(wide))

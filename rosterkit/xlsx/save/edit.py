"""Edits a member's workbook in place: only what rosterkit owns changes, all else goes over byte for byte."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache

from rosterkit.xlsx.changes import WorkbookChange
from rosterkit.xlsx.own_sheets.insert import Placed, insert_own_sheets
from rosterkit.xlsx.package.contents import LOCK_MARKER
from rosterkit.xlsx.package.errors import REPAIR, shown
from rosterkit.xlsx.package.markup import MarkupError
from rosterkit.xlsx.package.opening import Package, SheetPart, explained
from rosterkit.xlsx.patch.draft import Draft
from rosterkit.xlsx.patch.filters import FILTER_NAME, widened_name
from rosterkit.xlsx.patch.formulas import has_formulas
from rosterkit.xlsx.patch.protection import lock_sheet
from rosterkit.xlsx.patch.refusal import unwritable
from rosterkit.xlsx.patch.styles import Styles, new_style_sheet
from rosterkit.xlsx.patch.workbook import WorkbookText
from rosterkit.xlsx.patch.worksheet import OutOfOrderError
from rosterkit.xlsx.read.shared_strings import read_texts, shared_strings
from rosterkit.xlsx.save.edit_sheet import SheetEdit, edit_sheet
from rosterkit.xlsx.save.zip_writer import zipped
from rosterkit.xlsx.verify.claims import Claims
from rosterkit.xlsx.verify.verify import verify_edit
from rosterkit.xlsx.xml.values import text_formula


@dataclass(frozen=True, slots=True, kw_only=True)
class Edited:
    """A workbook with a change made, not yet on the disk."""

    data: bytes
    """The file; the very bytes of the original if there was nothing to change."""
    changed: bool
    titles: Mapping[str, str] = field(default_factory=dict)
    """The title that each page bears in the workbook, by the title it was to have.

    They differ where a member's own sheet bears that title, or where no sheet can have it.
    """


def edited(package: Package, change: WorkbookChange) -> Edited:
    """Make a change in a workbook and verify that nothing else changed.

    Cells keep their formats, emptied ones too; a text never becomes a formula. Our highlights are replaced.
    A page replaces the sheet of ours that bears its title, and is added at the end if there is none.

    Raises:
        CannotRunError: the change cannot be made without harm; the sheet and the cell are named.
    """
    _refuse_package(package)
    draft = Draft(package)
    with explained(package.name, package.styles_part or "styles"):
        styles = Styles(
            draft.text(package.styles_part) if package.styles_part else new_style_sheet(draft.namespace)
        )
    with explained(package.name, package.workbook_part):
        workbook = WorkbookText(draft.text(package.workbook_part), draft.relations)
    edits = _edit_sheets(draft, change, styles, workbook)
    _lock_sheets(draft, change, styles, workbook)
    placed = insert_own_sheets(
        draft, change.own_sheets, workbook, styles, replaces_typed=change.replaces_typed
    )
    _write_styles(draft, styles)
    own_formulas = any(_formulas_written(draft, one.part) for one in placed)
    if own_formulas or any(edit.formulas_changed for edit in edits.values()):
        _drop_calculation_chain(draft)
    changed = own_formulas or _values_changed(draft, edits, placed)
    if changed and _any_formula(draft, placed):
        workbook.recalculate()
    for name, text in change.texts.items():
        workbook.define(name, None, text_formula(text), hidden=True)
    draft.write(package.workbook_part, workbook.text())
    return _finished(draft, change, placed)


def _finished(draft: Draft, change: WorkbookChange, placed: list[Placed]) -> Edited:
    titles = {one.own_sheet.title: one.title for one in placed}
    # Some programs list the content types of relationships too, by part and not by their ending.
    draft.undeclare(draft.removed)
    if not draft.written and not draft.removed:
        return Edited(data=draft.package.raw, changed=False, titles=titles)
    data = zipped(draft)
    claims = Claims.of(draft, change, placed)
    draft.forget()
    verify_edit(draft.package, data, claims)
    return Edited(data=data, changed=True, titles=titles)


def _refuse_package(package: Package) -> None:
    if package.signed:
        raise unwritable(
            package.name,
            "it bears a digital signature, which any change makes void",
            "Remove the signature in a spreadsheet program, then try again.",
        )
    if any(link.kind == "revisionHeaders" for link in package.relationships(package.workbook_part)):
        raise unwritable(
            package.name,
            "it is a shared workbook that records who changed what",
            "Stop sharing it in a spreadsheet program, then try again.",
        )


def _edit_sheets(
    draft: Draft, change: WorkbookChange, styles: Styles, workbook: WorkbookText
) -> dict[str, SheetEdit]:
    @cache
    def texts() -> Sequence[str]:
        return read_texts(draft.package, shared_strings(draft.package))

    edits: dict[str, SheetEdit] = {}
    for one in change.sheets:
        position, sheet = sheet_named(draft.package, one.title)
        edit = edit_sheet(draft, sheet, one, styles, texts)
        edits[sheet.part] = edit
        if edit.wider_filter:
            named = workbook.value(FILTER_NAME, position)
            wide = widened_name(named, *edit.wider_filter) if named else None
            if wide is not None:
                workbook.redefine(FILTER_NAME, position, wide)
    return edits


def _lock_sheets(draft: Draft, change: WorkbookChange, styles: Styles, workbook: WorkbookText) -> None:
    for one in change.locks:
        position, sheet = sheet_named(draft.package, one.title)
        try:
            lock_sheet(draft, sheet, one, styles)
        except (MarkupError, OutOfOrderError, ValueError) as error:
            raise unwritable(
                draft.package.name, f"in its sheet {shown(sheet.title)}, {error}", REPAIR
            ) from None
        workbook.define(LOCK_MARKER, position, "1", hidden=True)


def sheet_named(package: Package, title: str) -> tuple[int, SheetPart]:
    """Find a worksheet by its title, with its position from 0.

    Raises:
        CannotRunError: there is none.
    """
    for position, sheet in enumerate(package.sheets):
        if sheet.title.casefold() == title.casefold():
            if sheet.kind == "worksheet":
                return position, sheet
            raise unwritable(package.name, f"its sheet {shown(title)} holds no cells", "Name another sheet.")
    raise unwritable(
        package.name, f"it has no sheet {shown(title)}", "Check the title of the sheet, then try again."
    )


def _write_styles(draft: Draft, styles: Styles) -> None:
    part = draft.package.styles_part
    if part is not None:
        draft.write(part, styles.text())
    elif styles.used:
        part = draft.name_or_free(draft.folder, "styles")
        draft.write(part, styles.text())
        draft.declare(part, "styles")
        draft.relate(part, "styles")


def _drop_calculation_chain(draft: Draft) -> None:
    """Take out the list of formula cells, which is not that of the new file; programs make it anew."""
    for link in draft.package.relationships(draft.package.workbook_part):
        if link.kind == "calcChain" and link.target is not None:
            draft.drop(link.target)


def _values_changed(draft: Draft, edits: Mapping[str, SheetEdit], placed: list[Placed]) -> bool:
    return any(edit.written for edit in edits.values()) or any(
        own_sheet.part in draft.written and own_sheet.part in draft.package.infos for own_sheet in placed
    )


def _any_formula(draft: Draft, placed: list[Placed]) -> bool:
    parts = {sheet.part for sheet in draft.package.sheets if sheet.kind == "worksheet"}
    parts |= {own_sheet.part for own_sheet in placed}
    return any(has_formulas(draft.text(part)) for part in sorted(parts)) or any(
        has_formulas(draft.standing(part)) for part in sorted(parts & draft.package.infos.keys())
    )


def _formulas_written(draft: Draft, part: str) -> bool:
    """Tell whether a part was written that holds formulas, or held some."""
    if part not in draft.written:
        return False
    return has_formulas(draft.written[part]) or (
        part in draft.package.infos and has_formulas(draft.standing(part))
    )

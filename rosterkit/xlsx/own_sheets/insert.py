"""Puts our own sheets into a workbook: a new one at the end, an earlier one where it stands."""

import re
from collections.abc import Iterable
from dataclasses import dataclass

from rosterkit.xlsx.changes import OwnSheet
from rosterkit.xlsx.own_sheets.insert_charts import Charted, place_charts
from rosterkit.xlsx.own_sheets.sheet_xml import filter_area, own_sheet_markup, sheet_reference
from rosterkit.xlsx.own_sheets.typed import coded, refuse_typed
from rosterkit.xlsx.package.contents import MARKER
from rosterkit.xlsx.patch.draft import Draft
from rosterkit.xlsx.patch.filters import FILTER_NAME
from rosterkit.xlsx.patch.refusal import unwritable
from rosterkit.xlsx.patch.sheet_titles import own_title
from rosterkit.xlsx.patch.styles import Styles
from rosterkit.xlsx.patch.workbook import WorkbookText

_PRINT_TITLES = "_xlnm.Print_Titles"
# Either quote and any prefix: another program wrote the sheet that is shown first.
_SELECTED = re.compile(rb"""<[^\s<>]*sheetView\s[^>]*\btabSelected\s*=\s*["'](?:1|true)["']""")


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed:
    """A page with the title and the part that it has in the workbook."""

    own_sheet: OwnSheet
    title: str
    part: str
    charted: Charted


def titles_for(draft: Draft, own_sheets: Iterable[OwnSheet]) -> dict[str, str]:
    """Return the title under which each page is put into the workbook, by the title that it was to have."""
    sheets = draft.package.sheets
    own = [sheet.title for sheet in sheets if sheet.is_own and sheet.kind == "worksheet"]
    others = [sheet.title for sheet in sheets if sheet.title not in own]
    titles: dict[str, str] = {}
    for own_sheet in own_sheets:
        title = own_title(own_sheet.title, own=own, others=others)
        titles[own_sheet.title] = title
        own = [each for each in own if each != title]
        others.append(title)
    return titles


def insert_own_sheets(
    draft: Draft,
    own_sheets: Iterable[OwnSheet],
    workbook: WorkbookText,
    styles: Styles,
    *,
    replaces_typed: bool = False,
) -> list[Placed]:
    """Write the parts of all pages into the draft, and enter them in the workbook.

    Raises:
        CannotRunError: a sheet must be added to a workbook whose structure is protected; or somebody typed
            into a sheet that is to be replaced, unless that is to be done all the same.
    """
    wanted = [one if one.filled_by_members else coded(one) for one in own_sheets]
    titles = titles_for(draft, wanted)
    placed: list[Placed] = []
    replaced: list[tuple[str, str, OwnSheet]] = []
    for own_sheet in wanted:
        part, position = _seat(draft, titles[own_sheet.title], workbook)
        charted = place_charts(draft, part, own_sheet, sheet_reference(titles[own_sheet.title]))
        data = own_sheet_markup(
            own_sheet,
            styles.look,
            namespace=draft.namespace,
            titles=titles,
            selected=_selected(draft, part),
            drawing=draft.relations if charted.drawn else None,
        )
        if part in draft.package.infos and draft.standing(part) != data:
            replaced.append((titles[own_sheet.title], part, own_sheet))
        draft.write(part, data)
        _define(workbook, own_sheet, titles[own_sheet.title], position)
        placed.append(Placed(own_sheet=own_sheet, title=titles[own_sheet.title], part=part, charted=charted))
    if not replaces_typed:
        refuse_typed(draft.package, replaced)
    return placed


def _seat(draft: Draft, title: str, workbook: WorkbookText) -> tuple[str, int]:
    """Return part and position of the sheet, which is added if there is none."""
    for position, sheet in enumerate(draft.package.sheets):
        if sheet.title == title:
            links = draft.relations_of(sheet.part)
            if links in draft.package.infos:
                draft.removed.add(links)
            return sheet.part, position
    if workbook.locked:
        raise unwritable(
            draft.package.name,
            "its structure is protected, so that no sheet can be added",
            "Take the protection of the workbook's structure off, then try again.",
        )
    part = draft.free_names(f"{draft.folder}worksheets/", "sheet")[0]
    draft.written[part] = b""
    draft.declare(part, "worksheet")
    return part, workbook.add_sheet(title, draft.relate(part, "worksheet"))


def _selected(draft: Draft, part: str) -> bool:
    """Tell whether an earlier sheet of ours is the one that shows when the workbook is opened."""
    return part in draft.package.infos and _SELECTED.search(draft.text(part)) is not None


def _define(workbook: WorkbookText, own_sheet: OwnSheet, title: str, position: int) -> None:
    reference = sheet_reference(title)
    filtered = filter_area(own_sheet)
    if not own_sheet.of_members:
        workbook.define(MARKER, position, "1", hidden=True)
    workbook.define(
        FILTER_NAME, position, f"{reference}!{filtered.absolute}" if filtered else None, hidden=True
    )
    rows = f"{reference}!$1:${own_sheet.frozen_rows}" if own_sheet.frozen_rows else None
    workbook.define(_PRINT_TITLES, position, rows)

"""What an edit says it did, taken from what was asked for: the verification allows nothing else."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from rosterkit.xlsx.changes import OwnSheet, SheetChange, SheetLock, Wanted, WorkbookChange
from rosterkit.xlsx.chart import Chart
from rosterkit.xlsx.own_sheets.insert import Placed
from rosterkit.xlsx.own_sheets.sheet_xml import sheet_reference
from rosterkit.xlsx.patch.draft import Draft

Cells = Mapping[int, Mapping[int, Wanted]]
"""What cells are to hold, by row and column."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Claims:
    """All that an edit says it did."""

    written: frozenset[str]
    """Parts that were changed or added."""
    removed: frozenset[str]
    changes: Mapping[str, SheetChange]
    """By the part of a member's sheet: what was to change in it."""
    placed: tuple[Placed, ...] = ()
    """The sheets of our own with their parts."""
    locks: Mapping[str, SheetLock] = field(default_factory=dict)
    """By the part of a member's sheet: how it was to be locked."""
    texts: Mapping[str, str] = field(default_factory=dict)
    """By hidden names of the whole workbook: the text that each was to hold."""

    @classmethod
    def of(cls, draft: Draft, change: WorkbookChange, placed: list[Placed]) -> "Claims":
        """Gather them from what was asked for and the names of the parts that were written."""
        parts = {sheet.title.casefold(): sheet.part for sheet in draft.package.sheets}
        changes: dict[str, SheetChange] = {}
        for one in change.sheets:
            part = parts[one.title.casefold()]
            first = changes.get(part, SheetChange(title=one.title, keeps_highlights=True))
            changes[part] = replace(
                one,
                cells=(*first.cells, *one.cells),
                highlights=first.highlights if one.keeps_highlights else one.highlights,
                keeps_highlights=first.keeps_highlights and one.keeps_highlights,
                widths=first.widths | one.widths,
                heading=one.heading or first.heading,
                last_row=max(first.last_row, one.last_row),
            )
        return cls(
            written=frozenset(draft.written),
            removed=frozenset(draft.removed),
            changes=changes,
            placed=tuple(placed),
            locks={parts[one.title.casefold()]: one for one in change.locks},
            texts=change.texts,
        )

    @property
    def ours(self) -> Mapping[str, Placed]:
        """The sheets of our own by their parts."""
        return {one.part: one for one in self.placed}

    @property
    def charts(self) -> Mapping[str, tuple[Chart, OwnSheet, str]]:
        """By its part: a chart, its sheet, and that sheet's title as references begin with it."""
        return {
            part: (chart, one.own_sheet, sheet_reference(one.title))
            for one in self.placed
            for part, chart in zip(one.charted.charts, one.own_sheet.charts, strict=True)
        }

    @property
    def drawings(self) -> frozenset[str]:
        """The parts that place the charts, and lists of relationships."""
        return frozenset().union(*(one.charted.others for one in self.placed))


def cells_of(change: SheetChange) -> Cells:
    """Return what the cells of a sheet were to get, in the order of its rows."""
    rows: dict[int, dict[int, Wanted]] = {}
    for cell in change.cells:
        rows.setdefault(cell.row, {})[cell.column] = cell
    return dict(sorted(rows.items()))

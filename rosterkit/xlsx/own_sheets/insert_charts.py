"""Puts the charts of our own sheets into a workbook, in place of those that an earlier run put there."""

from dataclasses import dataclass

from rosterkit.xlsx.changes import OwnSheet
from rosterkit.xlsx.own_sheets.chart_xml import chart_markup, drawing_markup, links_markup, spaces
from rosterkit.xlsx.patch.draft import Draft

_TYPES = "application/vnd.openxmlformats-officedocument."
_DRAWING_TYPE = f"{_TYPES}drawing+xml"
_CHART_TYPE = f"{_TYPES}drawingml.chart+xml"


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """What an earlier run put on a sheet of ours, or a program that saved the workbook since made of it."""

    drawing: str | None = None
    charts: tuple[str, ...] = ()
    attached: frozenset[str] = frozenset()
    """Other parts: lists of relationships, and what programs add to charts."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Charted:
    """The parts that hold a sheet's charts now."""

    charts: tuple[str, ...] = ()
    """In the order of the page's charts."""
    others: frozenset[str] = frozenset()
    """The drawing, and the lists of relationships."""

    @property
    def drawn(self) -> bool:
        """Whether the sheet has a drawing, by the relationship rId1."""
        return bool(self.charts)


def place_charts(draft: Draft, part: str, own_sheet: OwnSheet, reference: str) -> Charted:
    """Write the charts of a page whose sheet is in a part; names of earlier parts are used again.

    The reference is the sheet's title as references begin with it.
    """
    standing = _standing(draft, part)
    if not own_sheet.charts:
        _discard(draft, {*standing.charts, *standing.attached, *filter(None, [standing.drawing])})
        return Charted()
    count = len(own_sheet.charts)
    drawing = standing.drawing or draft.free_names(f"{draft.folder}drawings/", "drawing")[0]
    kept = standing.charts[:count]
    charts = (*kept, *draft.free_names(f"{draft.folder}charts/", "chart", count - len(kept)))
    names = spaces(strict=draft.package.strict)
    written = {
        draft.relations_of(part): links_markup(f"{draft.relations}/drawing", [drawing]),
        drawing: drawing_markup(own_sheet.charts, names, draft.relations),
        draft.relations_of(drawing): links_markup(f"{draft.relations}/chart", charts),
    }
    others = frozenset(written)
    written |= {
        name: chart_markup(chart, own_sheet, reference, names)
        for name, chart in zip(charts, own_sheet.charts, strict=True)
    }
    _discard(draft, {*standing.charts[count:], *(standing.attached - others)})
    for name, data in written.items():
        draft.removed.discard(name)
        draft.write(name, data)
    types = {drawing: _DRAWING_TYPE} | dict.fromkeys(charts, _CHART_TYPE)
    draft.declare_all({name: kind for name, kind in types.items() if name not in draft.package.infos})
    return Charted(charts=charts, others=others)


def _standing(draft: Draft, part: str) -> Standing:
    if part not in draft.package.infos:
        return Standing()
    drawing = next(iter(_links(draft, part, "drawing")), None)
    others = (sheet.part for sheet in draft.package.sheets if sheet.part != part)
    if drawing is None or any(drawing in _links(draft, other, "drawing") for other in others):
        return Standing()
    charts = tuple(dict.fromkeys(_links(draft, drawing, "chart")))
    beside = {draft.relations_of(one) for one in (drawing, *charts)} & draft.package.infos.keys()
    styles = {target for chart in charts for target in _links(draft, chart, "chartStyle", "chartColorStyle")}
    return Standing(drawing=drawing, charts=charts, attached=frozenset(beside | styles))


def _links(draft: Draft, part: str, *kinds: str) -> list[str]:
    links = draft.package.relationships(part)
    return [link.target for link in links if link.kind in kinds and link.target is not None]


def _discard(draft: Draft, parts: set[str]) -> None:
    if parts:
        draft.removed |= parts
        draft.undeclare(parts)

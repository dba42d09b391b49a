"""Finds the cells that a drawing or a table covers or a sparkline stands in: without values, yet not free."""

from contextlib import suppress

from rosterkit.errors import CannotRunError
from rosterkit.xlsx.grid import MergedRange
from rosterkit.xlsx.package import limits
from rosterkit.xlsx.package.markup import MarkupError, local, walked, whole
from rosterkit.xlsx.package.opening import Package
from rosterkit.xlsx.read.worksheet_frame import around
from rosterkit.xlsx.xml.areas import area

_EMU_OF_COLUMN, _EMU_OF_ROW = 609_600, 190_500
"""Of a cell of the usual size, in the unit of drawings: 64 and 20 pixels of 9,525 each."""


def drawing_areas(package: Package, part: str, data: bytes) -> tuple[MergedRange, ...]:
    """Return the areas of a sheet that sparklines, photos, charts, boxes and tables take.

    ``data`` is its part in UTF-8. What is damaged there is left out: it is for other readers to judge. A
    drawing of a fixed size is measured in cells of the usual size.
    """
    found: list[MergedRange] = []
    with suppress(MarkupError, CannotRunError):
        if b"sparkline" in data:
            _add_areas(around(data), found)
    with suppress(MarkupError, CannotRunError):
        for link in package.relationships(part):
            if link.kind in {"drawing", "table"} and link.target is not None:
                _add_areas(package.xml(link.target), found)
    return tuple(one for one in found if one.right < limits.LAST_COLUMN)


def _add_areas(data: bytes, found: list[MergedRange]) -> None:
    """Add the places of the sparklines in a sheet's part, of all that stands in a drawing, or of a table."""
    within: list[str] = []
    pieces: list[str] = []
    corners: dict[str, int] = {}

    def stand(references: str) -> None:
        for reference in references.split():
            with suppress(ValueError):
                place = area(reference)
                found.append(MergedRange(place.top, place.left, place.bottom, place.right))

    def started(name: str, attributes: dict[str, str]) -> None:
        within.append(local(name))
        pieces.clear()
        if within == ["table"]:
            stand(attributes.get("ref", ""))
        elif within[-2:] == ["oneCellAnchor", "ext"]:
            corners["cx"] = _whole(attributes.get("cx", "")) // _EMU_OF_COLUMN
            corners["cy"] = _whole(attributes.get("cy", "")) // _EMU_OF_ROW

    def ended(_: str) -> None:
        match within[-2:]:
            case ["sparkline", "sqref"]:
                stand("".join(pieces))
            case [("from" | "to") as corner, ("col" | "row") as kind]:
                corners[f"{corner} {kind}"] = _whole("".join(pieces))
            case [*_, "oneCellAnchor" | "twoCellAnchor"]:
                top, left = corners.get("from row", 0), corners.get("from col", 0)
                bottom = corners.get("to row", top + corners.get("cy", 0))
                right = corners.get("to col", left + corners.get("cx", 0))
                found.append(MergedRange(top + 1, left + 1, bottom + 1, right + 1))
                corners.clear()
        within.pop()

    walked(data, started, ended, pieces.append)


def _whole(text: str) -> int:
    return whole(text.strip()) or 0

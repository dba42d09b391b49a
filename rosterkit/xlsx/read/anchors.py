"""Reads what is drawn on a sheet: photos, charts, boxes, and where each begins."""

import hashlib
import re
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass
from enum import StrEnum

from lxml import etree

from rosterkit.errors import CannotRunError
from rosterkit.xlsx.package.errors import shown
from rosterkit.xlsx.package.markup import MarkupError, utf8, whole
from rosterkit.xlsx.package.opening import Package, explained
from rosterkit.xlsx.package.relations import Relationship
from rosterkit.xlsx.read.pictures import picture_values
from rosterkit.xlsx.xml import tags
from rosterkit.xlsx.xml.areas import area_or_none
from rosterkit.xlsx.xml.nodes import parsed

_RICH = re.compile(rb"<(?:[^\s<>/:!?]+:)?c\s[^<>]*\bvm=[^<>]*>")
_ROW = 2
"""The place of the row among the numbers of an old anchor: column, offset, row, offset, and its end."""
_ANCHORS = {"twoCellAnchor", "oneCellAnchor", "absoluteAnchor"}
_EMBED = ("{http://schemas.openxmlformats.org/officeDocument/2006/relationships}embed",
          "{http://purl.oclc.org/ooxml/officeDocument/relationships}embed")  # fmt: skip


class DrawnKind(StrEnum):
    """What is drawn."""

    PHOTO = "photo"
    CHART = "chart"
    BOX = "text box"
    OTHER = "drawing"


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """One thing that lies over the cells."""

    kind: DrawnKind
    row: int
    """The sheet row in which it begins, from 1."""
    column: int
    mark: str
    """Of a photo, what tells its file from others; of a box its text."""


def drawn_on(package: Package, part: str, *, controls: bool = False) -> list[Drawn]:
    """Return what is drawn on a sheet's part, in the order of its drawing.

    Args:
        package: The workbook.
        part: The sheet's part.
        controls: Old buttons and the like are boxes too, as which some programs write them a second time.

    Raises:
        CannotRunError: a drawing is damaged.
    """
    found: list[Drawn] = []
    for link in package.relationships(part):
        if link.kind == "drawing" and link.target is not None:
            with explained(package.name, f"part {shown(link.target)}"):
                root = parsed(package.xml(link.target))
            links = {one.id: one for one in package.relationships(link.target)}
            found += (_drawn(package, anchor, links) for anchor in _anchors(root))
        elif controls and link.kind == "vmlDrawing" and link.target is not None:
            found += _controls(package, link.target)
    return found


def photos_in_cells(package: Package, part: str) -> list[Drawn]:
    """Return the photos that fill a cell of a sheet's part, row by row; which photo it is, they do not tell.

    Raises:
        CannotRunError: a part concerned is damaged.
    """
    known = picture_values(package)
    if not known:
        return []
    with explained(package.name, f"part {shown(part)}"):
        data = utf8(package.read(part))
    found: list[Drawn] = []
    for tag in _RICH.finditer(data):
        stated = tags.attributes(tag[0])
        at = area_or_none(stated.get("r"))
        if at is not None and stated["vm"] in known:
            found.append(Drawn(kind=DrawnKind.PHOTO, row=at.top, column=at.left, mark=""))
    return found


def _controls(package: Package, part: str) -> Iterator[Drawn]:
    """Return buttons and other controls as boxes with their texts, as some programs write them."""
    with suppress(MarkupError, CannotRunError):
        for shape in parsed(package.xml(part)).iter("{*}shape"):
            said = shape.find("{*}ClientData")
            if said is not None and said.get("ObjectType") != "Note":
                text = " ".join("".join(str(one) for one in shape.itertext("{*}div", "{*}font")).split())
                corner = [whole(one.strip()) or 0 for one in (said.findtext("{*}Anchor") or "").split(",")]
                column, row = (corner[0], corner[2]) if len(corner) > _ROW else (0, 0)
                yield Drawn(kind=DrawnKind.BOX, row=row + 1, column=column + 1, mark=text)


def _anchors(root: etree._Element) -> Iterator[etree._Element]:
    return (one for one in root.iter(etree.Element) if _local(one) in _ANCHORS)


def _drawn(package: Package, anchor: etree._Element, links: dict[str, Relationship]) -> Drawn:
    names = {_local(one): one for one in reversed(list(anchor.iter(etree.Element)))}
    start = names.get("from")
    corner = [] if start is None else list(start.iterchildren(etree.Element))
    places = {_local(one): whole((one.text or "").strip()) or 0 for one in corner}
    kind, mark = DrawnKind.OTHER, ""
    if "pic" in names:
        kind, mark = DrawnKind.PHOTO, _photo(package, names.get("blip"), links)
    elif "chart" in names:
        kind = DrawnKind.CHART
    elif "t" in names:
        kind = DrawnKind.BOX
        mark = " ".join("".join(one.text or "" for one in anchor.iter("{*}t")).split())
    return Drawn(kind=kind, row=places.get("row", 0) + 1, column=places.get("col", 0) + 1, mark=mark)


def _photo(package: Package, blip: etree._Element | None, links: dict[str, Relationship]) -> str:
    """Return what tells the file of a photo from others; "" where it is not in the workbook."""
    ids = [] if blip is None else [blip.get(name) for name in _EMBED]
    link = next((links[one] for one in ids if one in links), None)
    if link is None or link.target is None:
        return ""
    return hashlib.sha256(package.read(link.target)).hexdigest()


def _local(element: etree._Element) -> str:
    return etree.QName(element).localname

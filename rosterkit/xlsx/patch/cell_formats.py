"""How each look of rosterkit's cells is drawn: font, fill, borders and alignment."""

from dataclasses import dataclass, replace

from rosterkit.xlsx.changes import CellStyle
from rosterkit.xlsx.xml.nodes import Node, node

WHOLE_NUMBER = "0"
"""The code of the built-in number format 1 (ISO/IEC 29500-1, 18.8.30)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawing:
    """One look; colours are written as the format does, opacity first (FF), then red, green and blue."""

    bold: bool = False
    italic: bool = False
    underlined: bool = False
    colour: str | None = None
    enlarged: float = 0
    """Points added to the size of the workbook's usual font."""
    typeface: str | None = None
    fill: str | None = None
    edges: tuple[tuple[str, str, str], ...] = ()
    """Side, style and colour of each border line, in the order left, right, top, bottom."""
    wrapped: bool = False
    vertical: str = "top"
    horizontal: str | None = None
    number_format: str | None = None
    """The code of a number format; None for General."""


_PALE_EDGES = tuple((side, "thin", "FFD0D0D0") for side in ("left", "right", "top", "bottom"))
_COMPUTED = Drawing(italic=True, colour="FF595959", fill="FFF5F5F5")
_GREY_EDGES = tuple((side, "thin", "FF7F7F7F") for side in ("left", "right", "top", "bottom"))

DRAWINGS: dict[CellStyle, Drawing] = {
    CellStyle.PLAIN: Drawing(),
    CellStyle.TITLE: Drawing(bold=True, enlarged=5, colour="FF2F3E4E", vertical="center"),
    CellStyle.HEADING: Drawing(
        bold=True, fill="FFE4EAF1", edges=(("bottom", "thin", "FF8497B0"),), wrapped=True, vertical="center"
    ),
    CellStyle.WRAPPED: Drawing(wrapped=True),
    CellStyle.LINK: Drawing(underlined=True, colour="FF0563C1"),
    CellStyle.ERROR: Drawing(fill="FFFFC7CE", colour="FF9C0006"),
    CellStyle.WARNING: Drawing(fill="FFFFEB9C", colour="FF7F6000"),
    CellStyle.NOTE: Drawing(fill="FFDDE6EF", colour="FF3B4F66"),
    CellStyle.CAUTION: Drawing(
        bold=True, fill="FFFFF2CC", colour="FF7F6000", edges=(("left", "medium", "FFBF9000"),), wrapped=True
    ),
    CellStyle.ENGINE: Drawing(
        bold=True, enlarged=2, fill="FFD5DEE8", edges=(("top", "medium", "FF44546A"),), vertical="center"
    ),
    CellStyle.VALUE: Drawing(bold=True, enlarged=3),
    CellStyle.FIXED: Drawing(typeface="Courier New"),
    CellStyle.BOX: Drawing(edges=_GREY_EDGES, vertical="center"),
    CellStyle.INPUT: Drawing(fill="FFFFFFF0", edges=_GREY_EDGES, vertical="center"),
    CellStyle.CHOICE: Drawing(fill="FFFFFFF0", edges=_GREY_EDGES, vertical="center", number_format="@"),
    CellStyle.DATE: Drawing(number_format="yyyy-mm-dd"),
    CellStyle.DATE_AND_TIME: Drawing(number_format="yyyy-mm-dd hh:mm:ss"),
    CellStyle.TIME: Drawing(number_format="hh:mm:ss"),
    CellStyle.DURATION: Drawing(number_format="[h]:mm:ss"),
    CellStyle.SCIENTIFIC: Drawing(number_format="0.00E+00"),
    CellStyle.NUMBER: Drawing(number_format="General"),
    CellStyle.COMPUTED: _COMPUTED,
    CellStyle.COMPUTED_WHOLE: replace(_COMPUTED, number_format=WHOLE_NUMBER),
    CellStyle.COMPUTED_ADDRESS: replace(_COMPUTED, number_format='"short "0;"long "0;;@'),
    CellStyle.FREE: Drawing(colour="FF7F7F7F", edges=_PALE_EDGES, horizontal="center"),
    CellStyle.TAKEN: Drawing(fill="FFBDD7EE", edges=_PALE_EDGES, horizontal="center"),
    CellStyle.HALF: Drawing(fill="FF5B9BD5", edges=_PALE_EDGES, horizontal="center"),
    CellStyle.FULL: Drawing(
        bold=True, fill="FF1F4E79", colour="FFFFFFFF", edges=_PALE_EDGES, horizontal="center"
    ),
    CellStyle.LENT: Drawing(fill="FFE2EFDA", colour="FF375623", edges=_PALE_EDGES, horizontal="center"),
    CellStyle.KEPT: Drawing(fill="FFD9D9D9", colour="FF7F7F7F", edges=_PALE_EDGES, horizontal="center"),
    CellStyle.CLASH: Drawing(
        bold=True, fill="FFFFC7CE", colour="FF9C0006", edges=_PALE_EDGES, horizontal="center"
    ),
}

USUAL_FONT = node("font", node("sz", val="11"), node("name", val="Calibri"), node("family", val="2"))
"""The font of a workbook that has none of its own."""


def font(drawing: Drawing, usual: Node) -> Node:
    """Return the font of a look, like the workbook's usual font where the look says nothing of it."""
    size = next((part.attribute("val") for part in usual.children if part.name == "sz"), None) or "11"
    marks = [
        *_marks(drawing),
        *([node("u")] if drawing.underlined else []),
        node("sz", val=f"{float(size) + drawing.enlarged:g}"),
        *([node("color", rgb=drawing.colour)] if drawing.colour else _of(usual, "color")),
    ]
    if drawing.typeface:
        return node("font", *marks, node("name", val=drawing.typeface), node("family", val="3"))
    return node("font", *marks, *_of(usual, "name", "family", "charset", "scheme"))


def _marks(drawing: Drawing) -> list[Node]:
    return [node(name) for name, wanted in (("b", drawing.bold), ("i", drawing.italic)) if wanted]


def _of(usual: Node, *names: str) -> list[Node]:
    return [part for part in usual.children if part.name in names]


def fill(drawing: Drawing) -> Node | None:
    """Return the fill of a look; None for no fill."""
    if drawing.fill is None:
        return None
    colours = (node("fgColor", rgb=drawing.fill), node("bgColor", indexed="64"))
    return node("fill", node("patternFill", *colours, patternType="solid"))


def border(drawing: Drawing) -> Node | None:
    """Return the border lines of a look; None for none."""
    if not drawing.edges:
        return None
    lines = {
        side: node(side, node("color", rgb=colour), style=style) for side, style, colour in drawing.edges
    }
    return node(
        "border", *(lines.get(side, node(side)) for side in ("left", "right", "top", "bottom", "diagonal"))
    )


def alignment(drawing: Drawing) -> Node:
    """Return the alignment of a look."""
    stated = {"vertical": drawing.vertical}
    if drawing.wrapped:
        stated["wrapText"] = "1"
    if drawing.horizontal:
        stated["horizontal"] = drawing.horizontal
    return node("alignment", **stated)


def standing_out(look: CellStyle) -> Node:
    """Return the format that a conditional format lays over a cell: only what says that it stands out."""
    drawing = DRAWINGS[look]
    parts: list[Node] = []
    if drawing.colour or drawing.bold or drawing.italic:
        colour = [node("color", rgb=drawing.colour)] if drawing.colour else []
        parts.append(node("font", *_marks(drawing), *colour))
    if drawing.fill:
        parts.append(node("fill", node("patternFill", node("bgColor", rgb=drawing.fill))))
    return node("dxf", *parts)

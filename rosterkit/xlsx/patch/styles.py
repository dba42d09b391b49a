"""The styles of a workbook: all stay as they are; those that rosterkit needs are found or added."""

from collections import Counter
from functools import cached_property

from rosterkit.errors import CannotRunError
from rosterkit.xlsx.changes import SHOWN_AS, CellStyle
from rosterkit.xlsx.package.markup import MarkupError
from rosterkit.xlsx.patch import cell_formats as looks
from rosterkit.xlsx.patch import format_protection as protection
from rosterkit.xlsx.patch import number_formats
from rosterkit.xlsx.patch.splices import Splice, added_inside, added_to_child, set_attribute, spliced
from rosterkit.xlsx.read.formats import Kind, formats
from rosterkit.xlsx.xml import tags
from rosterkit.xlsx.xml.nodes import Node, as_node, node, parsed
from rosterkit.xlsx.xml.outline import outline

ORDER = (
    "numFmts", "fonts", "fills", "borders", "cellStyleXfs", "cellXfs", "cellStyles", "dxfs", "tableStyles",
    "colors", "extLst",
)  # fmt: skip
"""The children of a style sheet in the order of the format (ISO/IEC 29500-1, 18.8.39)."""

MOST_FORMATS = 65_490
"""Cell formats that a workbook can have; a limit of spreadsheet programs."""

_FIRST: dict[str, tuple[Node, ...]] = {
    "numFmts": (),
    "fonts": (looks.USUAL_FONT,),
    "fills": (
        node("fill", node("patternFill", patternType="none")),
        node("fill", node("patternFill", patternType="gray125")),
    ),
    "borders": (node("border", *map(node, ("left", "right", "top", "bottom", "diagonal"))),),
    "cellStyleXfs": (node("xf", numFmtId="0", fontId="0", fillId="0", borderId="0"),),
    "cellXfs": (node("xf", numFmtId="0", fontId="0", fillId="0", borderId="0", xfId="0"),),
    "dxfs": (),
}
"""What each collection begins with; the format gives the first entries their places."""

_MOMENTS = {Kind.DATE, Kind.TIME, Kind.DURATION}


def new_style_sheet(namespace: str) -> bytes:
    """Return a style sheet for a workbook that has none."""
    head = f'<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n<styleSheet xmlns="{namespace}">'
    collections = (
        b'<%b count="%d">%b</%b>'
        % (name.encode(), len(first), b"".join(one.markup() for one in first), name.encode())
        for name, first in _FIRST.items()
        if first
    )
    normal = b'<cellStyles count="1"><cellStyle name="Normal" xfId="0" builtinId="0"/></cellStyles>'
    return head.encode() + b"".join(collections) + normal + b"</styleSheet>"


def _entries(data: bytes, namespace: str) -> dict[str, list[Node]]:
    """Return the entries of each collection of a style sheet."""
    found: dict[str, list[Node]] = {}
    for collection in parsed(data).iterchildren(f"{{{namespace}}}*"):
        name = str(collection.tag).rpartition("}")[2]
        found[name] = [as_node(entry, namespace) for entry in collection.iterchildren(f"{{{namespace}}}*")]
    return found


class Styles:
    """A style sheet that only grows: formats are looked up in it, and added where they are missing."""

    def __init__(self, data: bytes) -> None:
        """Read a style sheet in UTF-8.

        Raises:
            MarkupError: it is not well-formed, or no style sheet.
        """
        self._data = data
        self._root = outline(data, depth=2)
        if self._root.name != "styleSheet" or not self._root.namespace:
            raise MarkupError("is no style sheet")
        names = Counter(child.name for child in self._root.children)
        if twice := next((name for name in ORDER if names[name] > 1), None):
            raise MarkupError(f"holds its {twice} more than once")
        self._nodes = _entries(data, self._root.namespace)
        self._prefix = tags.prefix(data[self._root.start : self._root.inside])
        self._added: dict[str, list[bytes]] = {}
        self._places: dict[str, dict[Node, int]] = {}
        self._cell_styles: dict[tuple[CellStyle | None, int | None, int | None, bool], int | None] = {}
        self._looks: dict[CellStyle, int] = {}
        self._unlocked: dict[int, int] = {}

    @cached_property
    def _kinds(self) -> tuple[Kind, ...]:
        return formats(self._data).kinds

    def _place(self, collection: str, wanted: Node, markup: bytes | None = None) -> int:
        """Find an entry in a collection, or add it."""
        places = self._places.get(collection)
        if places is None:
            if not self._nodes.get(collection):
                self._nodes[collection] = list(_FIRST[collection])
                self._added[collection] = [entry.markup(self._prefix) for entry in _FIRST[collection]]
            entries = self._nodes[collection]
            places = {entry: place for place, entry in reversed(list(enumerate(entries)))}
            self._places[collection] = places
        if wanted not in places:
            places[wanted] = len(self._nodes[collection])
            self._nodes[collection].append(wanted)
            self._added.setdefault(collection, []).append(markup or wanted.markup(self._prefix))
        return places[wanted]

    def look(self, look: CellStyle) -> int:
        """Return the cell format of a look."""
        if look not in self._looks:
            self._looks[look] = self._place("cellXfs", self._format(look))
        return self._looks[look]

    def _format(self, look: CellStyle) -> Node:
        drawing = looks.DRAWINGS[look]
        stated = {"numFmtId": "0", "fontId": "0", "fillId": "0", "borderId": "0", "applyAlignment": "1"}
        if drawing.number_format is not None:
            stated |= self._number_format(drawing.number_format)
        usual = self._usual_font
        font, fill, border = looks.font(drawing, usual), looks.fill(drawing), looks.border(drawing)
        if font == usual:
            stated["fontId"] = self._usual_font_place
        else:
            stated |= {"fontId": str(self._place("fonts", font)), "applyFont": "1"}
        if fill is not None:
            stated |= {"fillId": str(self._place("fills", fill)), "applyFill": "1"}
        if border is not None:
            stated |= {"borderId": str(self._place("borders", border)), "applyBorder": "1"}
        if self._nodes.get("cellStyleXfs"):
            stated["xfId"] = "0"
        return node("xf", looks.alignment(drawing), **stated)

    def _number_format(self, code: str) -> dict[str, str]:
        """Return the attributes of a cell format with a number format, which is added if need be."""
        entries = self._nodes.get("numFmts", [])
        number, missing = number_formats.number_format(code, entries, self._nodes.get("dxfs", []))
        if missing is not None:
            self._place("numFmts", missing)
        return {"numFmtId": number, "applyNumberFormat": "1"}

    def _shows_any(self, style: int) -> bool:
        formats = self._nodes.get("cellXfs", [])
        known = style < len(formats)
        return known and number_formats.is_general(formats[style], self._nodes.get("numFmts", []))

    @property
    def _usual_font_place(self) -> str:
        formats = self._nodes.get("cellXfs")
        return (formats[0].attribute("fontId") if formats else None) or "0"

    @cached_property
    def _usual_font(self) -> Node:
        fonts = self._nodes.get("fonts", [])
        place = int(self._usual_font_place)
        return fonts[place] if place < len(fonts) else looks.USUAL_FONT

    def standing_out(self, look: CellStyle) -> int:
        """Return the place of the format that a conditional format of this look uses."""
        return self._place("dxfs", looks.standing_out(look))

    def of_cell(
        self, look: CellStyle | None, *, own: int | None, inherited: int | None, numeric: bool
    ) -> int | None:
        """Return the format of a written cell; None for no format at all.

        A cell that is formatted keeps its format. One without takes that of its row or column, but no date
        format if a number is to be read in it; otherwise it takes the look. The number format of the look
        is added to a format that has none; of a look that says what a number means, to each that gives it
        another meaning.

        Args:
            look: For a cell that has no format.
            own: The cell's own format, None if it states none.
            inherited: The format of its row or column.
            numeric: The cell gets a number.
        """
        key = (look, own, inherited, numeric)
        if key not in self._cell_styles:
            self._cell_styles[key] = self._of_cell(look, own, inherited, numeric=numeric)
        return self._cell_styles[key]

    def _of_cell(
        self, look: CellStyle | None, own: int | None, inherited: int | None, *, numeric: bool
    ) -> int | None:
        code = None if look is None else looks.DRAWINGS[look].number_format
        kept = own or (inherited if own is None else None)
        if look in SHOWN_AS and code is not None and self._nodes.get("cellXfs"):
            alike = (kept or 0) < len(self._kinds) and self._kinds[kept or 0] is SHOWN_AS[look]
            return (kept or own) if alike else self._with(kept or 0, self._number_format(code))
        if not kept:
            return own if look is None else self.look(look)
        misread = not own and numeric and self._shows_date(kept)
        if code is not None and (misread or self._shows_any(kept)):
            return self._with(kept, self._number_format(code))
        return self._with(kept, number_formats.GENERAL) if misread else kept

    def _shows_date(self, style: int) -> bool:
        return style < len(self._kinds) and self._kinds[style] in _MOMENTS

    def _with(self, style: int, number_format: dict[str, str]) -> int:
        """Return the format that is like another, but shows numbers in another way."""
        wanted = self._nodes["cellXfs"][style].with_attributes(number_format)
        collection = self._root.child("cellXfs")
        entry = list(collection.named("xf"))[style] if collection else None
        if entry is None:
            return style
        tag = self._data[entry.start : entry.inside]
        for name, value in number_format.items():
            tag = tags.with_attribute(tag, name, value)
        return self._place("cellXfs", wanted, tag + self._data[entry.inside : entry.end])

    def unlocked(self, style: int) -> int:
        """Return the format that is like another, but lets its cell be typed into where a sheet is protected.

        A format that there is not stays what it is.
        """
        if style not in self._unlocked:
            self._unlocked[style] = self._without_lock(style)
        return self._unlocked[style]

    def _without_lock(self, style: int) -> int:
        known = self._nodes.get("cellXfs") or _FIRST["cellXfs"]
        if style >= len(known) or protection.is_unlocked(known[style]):
            return style
        collection = self._root.child("cellXfs")
        entries = list(collection.named("xf")) if collection else []
        # A sheet of styles without formats begins with the usual one.
        entry = entries[style] if style < len(entries) else None
        stands = known[style].markup(self._prefix)
        markup = self._data[entry.start : entry.end] if entry else stands
        wanted = protection.unlocked(known[style])
        return self._place("cellXfs", wanted, protection.unlocked_markup(markup, self._prefix))

    @property
    def used(self) -> bool:
        """Whether any format was asked for that had to be added."""
        return any(self._added.values())

    def text(self) -> bytes:
        """Return the style sheet with all that was added.

        Raises:
            CannotRunError: it would hold more formats than a workbook can have.
        """
        if self._added.get("cellXfs") and len(self._nodes["cellXfs"]) > MOST_FORMATS:
            raise CannotRunError(
                "the workbook has as many cell formats as a workbook can have",
                "Remove formats that are not used, then try again.",
            )
        splices: list[Splice] = []
        for name in ORDER:
            if self._added.get(name):
                splices += self._grown(name, self._added[name])
        if splices and self._root.empty:
            splices = [added_inside(self._data, self._root, b"".join(splice.new for splice in splices))]
        return spliced(self._data, splices)

    def _grown(self, name: str, added: list[bytes]) -> list[Splice]:
        new = b"".join(added)
        element = self._root.child(name)
        grown = added_to_child(self._data, self._root, name, ORDER, new)
        count = str(len(self._nodes[name]))
        if element is None or element.empty:
            tag, content, end = grown.new.partition(new)
            return [grown._replace(new=tags.with_attribute(tag, "count", count) + content + end)]
        stated = set_attribute(self._data, element, "count", count) if "count" in element.attributes else []
        return [*stated, grown]

"""The workbook part in the making: sheets are added at its end, names defined, recalculation asked for."""

from rosterkit.xlsx.package.markup import whole
from rosterkit.xlsx.patch.splices import Splice, added_to_child, place_for, set_attribute, spliced
from rosterkit.xlsx.xml import tags
from rosterkit.xlsx.xml.outline import Element, outline

ORDER = (
    "fileVersion", "fileSharing", "workbookPr", "workbookProtection", "bookViews", "sheets", "functionGroups",
    "externalReferences", "definedNames", "calcPr", "oleSize", "customWorkbookViews", "pivotCaches",
    "smartTagPr", "smartTagTypes", "webPublishing", "fileRecoveryPr", "webPublishObjects", "extLst",
)  # fmt: skip
"""The children of a workbook in the order of the format (ISO/IEC 29500-1, 18.2.27)."""

_TRUE = {"1", "true"}
_WORKBOOK = -1
"""In the place of a sheet's position: a name is one of the whole workbook."""


class WorkbookText:
    """A workbook part, and what is to be changed in it."""

    def __init__(self, data: bytes, relations: str) -> None:
        """Read a workbook part.

        Args:
            data: The part in UTF-8.
            relations: The namespace of relationship attributes.

        Raises:
            MarkupError: it is not well-formed.
        """
        self._data = data
        self._root = outline(data, depth=2)
        tag = data[self._root.start : self._root.inside]
        self._prefix = tags.prefix(tag)
        self._relations = relations
        self._reference = _reference(tag, relations)
        self._sheets: list[bytes] = []
        self._defined: dict[tuple[str, int], bytes | None] = {}
        self._recalculated = False

    @property
    def locked(self) -> bool:
        """Whether the workbook's structure is protected, so that no sheet may be added."""
        protection = self._root.child("workbookProtection")
        return protection is not None and protection.attributes.get("lockStructure") in _TRUE

    @property
    def _listed(self) -> list[Element]:
        return [sheet for sheets in self._root.named("sheets") for sheet in sheets.named("sheet")]

    def add_sheet(self, title: str, relationship_id: str) -> int:
        """Add a sheet behind all others, and give its position from 0."""
        last = max((whole(sheet.attributes.get("sheetId")) or 0 for sheet in self._listed), default=0)
        self._sheets.append(
            b'<%bsheet name="%b" sheetId="%d" %b="%b"/>'
            % (
                self._prefix,
                tags.quoted(title),
                last + len(self._sheets) + 1,
                self._reference,
                relationship_id.encode(),
            )
        )
        return len(self._listed) + len(self._sheets) - 1

    def _names(self) -> list[Element]:
        return [name for names in self._root.named("definedNames") for name in names.named("definedName")]

    def value(self, name: str, position: int) -> str | None:
        """Return what a name of one sheet stands for."""
        found = next((one for one in self._names() if _key(one) == (name.casefold(), position)), None)
        return None if found is None else tags.plain(self._data[found.inside : found.outside].decode())

    def define(self, name: str, position: int | None, value: str | None, *, hidden: bool = False) -> None:
        """Let a name of one sheet or of the workbook stand for something, or remove it (None).

        Args:
            name: The name.
            position: The sheet's position from 0; None for a name of the whole workbook.
            value: A reference or a constant, without an equals sign.
            hidden: The name is not shown to members.
        """
        markup = None
        if value is not None:
            markup = b'<%bdefinedName name="%b"%b%b>%b</%bdefinedName>' % (
                self._prefix,
                tags.quoted(name),
                b"" if position is None else b' localSheetId="%d"' % position,
                b' hidden="1"' if hidden else b"",
                tags.text_markup(value).encode(),
                self._prefix,
            )
        self._defined[name.casefold(), _WORKBOOK if position is None else position] = markup

    def redefine(self, name: str, position: int, value: str) -> None:
        """Change what a name stands for, and nothing else of it."""
        for one in self._names():
            if _key(one) == (name.casefold(), position):
                tag = self._data[one.start : one.inside]
                end = self._data[one.outside : one.end]
                self._defined[name.casefold(), position] = tag + tags.text_markup(value).encode() + end

    def recalculate(self) -> None:
        """Ask spreadsheet programs to work all formulas out anew when they open the workbook."""
        self._recalculated = True

    def text(self) -> bytes:
        """Return the part with all changes made."""
        splices = self._name_splices()
        if self._sheets:
            new = b"".join(self._sheets)
            splices.append(added_to_child(self._data, self._root, "sheets", ORDER, new))
        if self._recalculated:
            splices += self._calculation()
        return spliced(self._data, splices)

    def _name_splices(self) -> list[Splice]:
        waiting = dict(self._defined)
        standing = [one for one in self._names() if _key(one) in waiting]
        splices = [Splice(one.start, one.end, waiting.pop(_key(one), None) or b"") for one in standing]
        new = b"".join(markup for markup in waiting.values() if markup)
        if new:
            splices.append(added_to_child(self._data, self._root, "definedNames", ORDER, new))
        return splices

    def _calculation(self) -> list[Splice]:
        calculation = self._root.child("calcPr")
        if calculation is None:
            place = place_for(self._root, "calcPr", ORDER)
            return [Splice(place, place, b'<%bcalcPr fullCalcOnLoad="1"/>' % self._prefix)]
        if calculation.attributes.get("fullCalcOnLoad") in _TRUE:
            return []
        return set_attribute(self._data, calculation, "fullCalcOnLoad", "1")


def _key(name: Element) -> tuple[str, int]:
    position = whole(name.attributes.get("localSheetId"))
    return name.attributes.get("name", "").casefold(), _WORKBOOK if position is None else position


def _reference(root_tag: bytes, relations: str) -> bytes:
    """Return name of the attribute that holds a relationship's id, declared on the spot if it has to be."""
    for name, uri in tags.attributes(root_tag).items():
        if uri == relations and name.startswith("xmlns:"):
            return name.removeprefix("xmlns:").encode() + b":id"
    return b'xmlns:r="' + relations.encode() + b'" r:id'

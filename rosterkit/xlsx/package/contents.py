"""What the workbook part and the content types say of a package: its sheets, and the kinds of its parts."""

from dataclasses import dataclass

from rosterkit.xlsx.package import limits
from rosterkit.xlsx.package.cache import cached
from rosterkit.xlsx.package.markup import MarkupError, TooMuchError, elements, local, whole

OWNER = "rosterkit"
"""Whose sheets and formats are our own: they carry this name."""
MARKER = f"_{OWNER}_made"
"""The hidden defined name, scoped to a sheet, that marks the sheets of our own."""
COPY_MARKER = f"_{OWNER}_copied"
"""The hidden defined name, scoped to a sheet, that marks the copy of a sheet of a list that was adopted."""
LOCK_MARKER = f"_{OWNER}_locked"
"""The hidden defined name, scoped to a sheet, that marks the sheets of members whose protection is ours."""

_STRICT = "http://purl.oclc.org/ooxml/"
_TRUE = {"1", "true"}


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetPart:
    """One sheet of the workbook and the part that holds it."""

    title: str
    state: str
    """The state as the format names it: visible, hidden or veryHidden."""
    relationship_id: str
    sheet_id: int
    is_own: bool
    is_locked: bool
    """Its protection is ours, and keeps nobody but typing people from changing it."""
    is_copy: bool
    """It is the copy of a sheet of a list that was adopted: the member's own, and no engines to be read."""
    part: str = ""
    """"" only until the relationship is looked up, as is its kind."""
    kind: str = ""
    """Such as "worksheet", "chartsheet", "dialogsheet"; only worksheets hold cells."""

    @property
    def hidden(self) -> bool:
        """Whether the sheet is not among the tabs."""
        return self.state in {"hidden", "veryHidden"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Contents:
    """What the workbook part says."""

    sheets: tuple[SheetPart, ...]
    strict: bool
    date1904: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class ContentTypes:
    """The content types of a package's parts."""

    by_part: dict[str, str]
    by_ending: dict[str, str]

    def of(self, part: str) -> str:
        """Return the content type of a part, "" if it has none."""
        name = "/" + part.replace("\\", "/").casefold()
        return self.by_part.get(name) or self.by_ending.get(name.rpartition(".")[2], "")


@cached
def content_types(data: bytes) -> ContentTypes:
    """Read the list of content types; MarkupError if the part is not well-formed."""
    types = ContentTypes(by_part={}, by_ending={})
    for _, kind, _, stated in elements(data):
        if kind == "Override":
            types.by_part[stated.get("PartName", "").casefold()] = stated.get("ContentType", "")
        elif kind == "Default":
            types.by_ending[stated.get("Extension", "").casefold()] = stated.get("ContentType", "")
    return types


@cached
def contents(data: bytes) -> Contents:
    """Read the workbook part.

    MarkupError if the part is not well-formed, is no workbook, or lists more than ``limits`` allow.
    """
    strict = date1904 = False
    names = 0
    listed: list[dict[str, str]] = []
    marked: dict[str, set[str]] = {MARKER: set(), LOCK_MARKER: set(), COPY_MARKER: set()}
    for name, kind, within, stated in elements(data):
        if not within:
            if kind != "workbook":
                raise MarkupError("is no workbook part")
            strict = name.startswith(_STRICT)
        elif kind == "workbookPr":
            date1904 = stated.get("date1904") in _TRUE
        elif kind == "sheet":
            if len(listed) == limits.MAX_SHEETS:
                raise TooMuchError(f"lists more than {limits.MAX_SHEETS:,} sheets")
            listed.append({local(attribute): value for attribute, value in stated.items()})
        elif kind == "definedName":
            names += 1
            if names > limits.MAX_NAMES:
                raise TooMuchError(f"defines more than {limits.MAX_NAMES:,} names")
            if stated.get("name") in marked:
                marked[stated["name"]].add(stated.get("localSheetId", ""))
    sheets = tuple(
        _sheet(sheet, {marker for marker, places in marked.items() if str(place) in places})
        for place, sheet in enumerate(listed)
    )
    return Contents(sheets=sheets, strict=strict, date1904=date1904)


def _sheet(stated: dict[str, str], markers: set[str]) -> SheetPart:
    number = whole(stated.get("sheetId", ""))
    if number is None:
        raise MarkupError(f"gives a sheet the number '{stated.get('sheetId', '')[:20]}'")
    return SheetPart(
        title=stated.get("name", ""),
        state=stated.get("state", "visible"),
        relationship_id=stated.get("id", ""),
        sheet_id=number,
        is_own=MARKER in markers,
        is_locked=LOCK_MARKER in markers,
        is_copy=COPY_MARKER in markers,
    )

"""What the workbook part and the content types say of a package: its sheets, and the kinds of its parts."""

from dataclasses import dataclass

from rosterkit.xlsx.package import limits
from rosterkit.xlsx.package.cache import cached
from rosterkit.xlsx.package.markup import MarkupError, TooMuchError, local, walked

MARKER = "_rosterkit_made"
"""The hidden defined name, scoped to a sheet, that marks the sheets of our own."""

_STRICT = "http://purl.oclc.org/ooxml/"
_TRUE = {"1", "true"}


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetPart:
    """One sheet of the workbook and the part that holds it."""

    title: str
    part: str
    kind: str
    """Such as "worksheet", "chartsheet", "dialogsheet"; only worksheets hold cells."""
    state: str
    """The state as the format names it: visible, hidden or veryHidden."""
    relationship_id: str
    sheet_id: int
    is_own: bool

    @property
    def hidden(self) -> bool:
        """Whether the sheet is not among the tabs."""
        return self.state in {"hidden", "veryHidden"}


@dataclass(frozen=True, slots=True, kw_only=True)
class ListedSheet:
    """One sheet as the workbook part lists it, before its part is looked up."""

    title: str
    state: str
    relationship_id: str
    sheet_id: int
    is_own: bool

    def placed(self, *, part: str, kind: str) -> SheetPart:
        """Return the sheet with the part that holds it."""
        return SheetPart(
            title=self.title,
            part=part,
            kind=kind,
            state=self.state,
            relationship_id=self.relationship_id,
            sheet_id=self.sheet_id,
            is_own=self.is_own,
        )


@dataclass(frozen=True, slots=True, kw_only=True)
class Contents:
    """What the workbook part says."""

    sheets: tuple[ListedSheet, ...]
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
    """Read the list of content types.

    Raises:
        MarkupError: the part is not well-formed.
    """
    types = ContentTypes(by_part={}, by_ending={})

    def started(name: str, attributes: dict[str, str]) -> None:
        kind = attributes.get("ContentType", "")
        if local(name) == "Override":
            types.by_part[attributes.get("PartName", "").casefold()] = kind
        elif local(name) == "Default":
            types.by_ending[attributes.get("Extension", "").casefold()] = kind

    walked(data, started)
    return types


@cached
def contents(data: bytes) -> Contents:
    """Read the workbook part.

    Raises:
        MarkupError: the part is not well-formed, is no workbook, or lists more than ``limits`` allow.
    """
    reader = _Contents()
    walked(data, reader.started)
    return reader.result()


class _Contents:
    def __init__(self) -> None:
        self.root = ""
        self.date1904 = False
        self.names = 0
        self.listed: list[dict[str, str]] = []
        self.marked: set[str] = set()

    def started(self, name: str, attributes: dict[str, str]) -> None:
        kind = local(name)
        if not self.root:
            self.root = name
            if kind != "workbook":
                raise MarkupError("is no workbook part")
        elif kind == "workbookPr":
            self.date1904 = attributes.get("date1904") in _TRUE
        elif kind == "sheet":
            self._sheet(attributes)
        elif kind == "definedName":
            self.names += 1
            if self.names > limits.MAX_NAMES:
                raise TooMuchError(f"defines more than {limits.MAX_NAMES:,} names")
            if attributes.get("name") == MARKER:
                self.marked.add(attributes.get("localSheetId", ""))

    def _sheet(self, attributes: dict[str, str]) -> None:
        if len(self.listed) == limits.MAX_SHEETS:
            raise TooMuchError(f"lists more than {limits.MAX_SHEETS:,} sheets")
        self.listed.append({local(key): value for key, value in attributes.items()})

    def result(self) -> Contents:
        return Contents(
            sheets=tuple(
                ListedSheet(
                    title=sheet.get("name", ""),
                    state=sheet.get("state", "visible"),
                    relationship_id=sheet.get("id", ""),
                    sheet_id=_whole(sheet.get("sheetId", "")),
                    is_own=str(position) in self.marked,
                )
                for position, sheet in enumerate(self.listed)
            ),
            strict=self.root.startswith(_STRICT),
            date1904=self.date1904,
        )


def _whole(text: str) -> int:
    if not (text.isascii() and text.isdigit() and len(text) < 12):
        raise MarkupError(f"gives a sheet the number '{text[:20]}'")
    return int(text)

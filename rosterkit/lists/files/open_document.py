"""Reads OpenDocument spreadsheets (ISO/IEC 26300, ODF 1.2 and later) by hand, with lxml.

By hand, for calamine refuses files with white space between their cells, as some programs write them, takes
cells for numbers whose text says more (007), and leaves out notes, colours and hidden sheets.
"""

import io
from collections.abc import Iterator

from lxml import etree

from rosterkit.errors import CannotRunError
from rosterkit.lists.files import limits
from rosterkit.lists.files.open_document_names import OFFICE, STYLE, TABLE
from rosterkit.lists.files.open_document_sheet import SheetReader
from rosterkit.lists.files.open_document_styles import Styles
from rosterkit.lists.plain import PlainSheet
from rosterkit.xlsx.package.archive import Archive
from rosterkit.xlsx.package.errors import FETCH_AGAIN, REPAIR, shown, unreadable
from rosterkit.xlsx.package.limits import MAX_SHEETS, MAX_STRUCTURE_BYTES
from rosterkit.xlsx.package.markup import MarkupError, utf8

_CONTENT, _STYLES, _MANIFEST = "content.xml", "styles.xml", "META-INF/manifest.xml"
_EVENTS = (
    f"{TABLE}table",
    f"{TABLE}table-column",
    f"{TABLE}table-row",
    f"{STYLE}style",
    f"{STYLE}default-style",
)
_LINKED = "'file:"
"""How the names of sheets begin that are only kept values of another file."""
_UNLOCK = "Open it in a spreadsheet program, remove the password, and save it again."


def packed_sheets(archive: Archive) -> tuple[PlainSheet, ...]:
    """Return the sheets of a packed spreadsheet (.ods).

    Raises:
        CannotRunError: it is encrypted or damaged, or larger than ``limits`` allow.
    """
    name = archive.name
    manifest = archive.infos.get(_MANIFEST)
    if manifest is not None and b"encryption-data" in archive.read(_MANIFEST, MAX_STRUCTURE_BYTES):
        raise unreadable(name, "it is protected by a password", _UNLOCK)
    if _CONTENT not in archive.infos:
        raise unreadable(name, f"its part {shown(_CONTENT)} is missing", FETCH_AGAIN)
    reading = _Reading(name)
    if _STYLES in archive.infos:
        reading.read(archive.read(_STYLES, MAX_STRUCTURE_BYTES), _STYLES)
    content = archive.read(_CONTENT, limits.MAX_CONTENT_BYTES)
    archive.forget(_CONTENT)
    reading.read(content, _CONTENT)
    return reading.found()


def flat_sheets(raw: bytes, name: str) -> tuple[PlainSheet, ...]:
    """Return the sheets of a spreadsheet that is one XML file (.fods).

    Args:
        raw: Its bytes.
        name: The file, as messages call it.

    Raises:
        CannotRunError: it is damaged, or larger than ``limits`` allow.
    """
    if len(raw) > limits.MAX_CONTENT_BYTES:
        raise limits.too_large(name, limits.MAX_CONTENT_BYTES)
    reading = _Reading(name)
    reading.read(raw, name)
    return reading.found()


class _Reading:
    """The reading of one spreadsheet: its styles come before the sheets that use them."""

    def __init__(self, name: str) -> None:
        self._name = name
        self._styles = Styles()
        self._sheets: list[PlainSheet] = []
        self._filled = 0

    def found(self) -> tuple[PlainSheet, ...]:
        if not self._sheets:
            raise unreadable(self._name, "it has no sheets")
        return tuple(self._sheets)

    def read(self, stored: bytes, part: str) -> None:
        """Read the styles and the sheets of one part."""
        try:
            self._read(_elements(stored))
        except MarkupError as error:
            raise self._damaged(part, str(error)) from None
        except etree.LxmlError as error:
            why = " ".join(str(error).split())
            raise self._damaged(part, f"is not well-formed XML ({why:.100})") from None

    def _damaged(self, part: str, why: str) -> CannotRunError:
        return unreadable(self._name, f"its part {shown(part)} {why}", REPAIR)

    def _read(self, events: Iterator[tuple[str, etree._Element]]) -> None:
        sheet: SheetReader | None = None
        depth = 0
        for event, element in events:
            begins, kind = event == "start", element.tag
            if kind == f"{TABLE}table":
                depth += 1 if begins else -1
                if begins and depth == 1 and _is_sheet(element):
                    sheet = SheetReader(self._name, element, self._styles, self._filled)
                elif not begins and depth == 0 and sheet is not None:
                    self._end(sheet)
                    sheet = None
            elif begins:
                continue
            elif sheet is None:
                self._styles.add(element)
            elif depth == 1 and kind == f"{TABLE}table-column":
                sheet.add_column(element)
            elif depth == 1 and kind == f"{TABLE}table-row":
                sheet.add_row(element)
                element.clear()

    def _end(self, sheet: SheetReader) -> None:
        self._filled = sheet.filled
        self._sheets.append(sheet.plain())
        if len(self._sheets) > MAX_SHEETS:
            raise unreadable(self._name, f"it has more than {MAX_SHEETS:,} sheets")


def _elements(stored: bytes) -> Iterator[tuple[str, etree._Element]]:
    data = utf8(stored)
    if b"<!DOCTYPE" in data:
        raise MarkupError("declares a document type, which no spreadsheet does")
    # No entity is resolved, nothing is fetched, and the depth is limited by the library.
    return iter(
        etree.iterparse(
            io.BytesIO(data),
            events=("start", "end"),
            tag=_EVENTS,
            resolve_entities=False,
            load_dtd=False,
            no_network=True,
            huge_tree=False,
            remove_comments=True,
            remove_pis=True,
        )
    )


def _is_sheet(table: etree._Element) -> bool:
    parent = table.getparent()
    inside = parent is not None and parent.tag == f"{OFFICE}spreadsheet"
    return inside and not (table.get(f"{TABLE}name") or "").startswith(_LINKED)

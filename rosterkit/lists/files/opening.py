"""Opens a list of any format that is read, by what the file holds and not by its ending alone."""

from dataclasses import replace
from pathlib import Path

from rosterkit.lists.files import limits
from rosterkit.lists.files.coloured import bounded
from rosterkit.lists.files.kinds import Kind, kind_of, kind_of_archive
from rosterkit.lists.files.old_workbooks import old_workbook
from rosterkit.lists.files.open_document import flat_sheets, packed_sheets
from rosterkit.lists.files.texts import text_list
from rosterkit.lists.files.web_pages import web_page
from rosterkit.lists.files.workbooks import sheets_of_workbook
from rosterkit.lists.plain import PlainList, PlainSheet
from rosterkit.xlsx.package.archive import Archive, archive
from rosterkit.xlsx.package.errors import unreadable
from rosterkit.xlsx.package.file import Identity, content
from rosterkit.xlsx.package.opening import package_of

_ZIP = b"PK\x03\x04"


def read_list(path: Path) -> PlainList:
    """Return a list as it stands in its file: .xlsx, .xlsm, .xls, .xlsb, .ods, .csv, .txt and the like.

    Raises:
        CannotRunError: there is no such file, it is of a kind that is not read, it is damaged, protected by a
            password, blank, or larger than ``limits`` allow.
    """
    name = str(path)
    raw, identity = content(path, name)
    read = _read(path, name, raw, identity)
    found = replace(read, sheets=tuple(map(bounded, read.sheets)))
    filled = sum(1 for sheet in found.sheets for cell in sheet.cells.values() if cell.text)
    if not filled:
        raise unreadable(name, "it holds no filled cell", "Give the file that holds the list.")
    if filled > limits.MAX_FILLED:
        raise limits.too_many_cells(name)
    return found


def _read(path: Path, name: str, raw: bytes, identity: Identity) -> PlainList:
    if raw.startswith(_ZIP):
        return _of_archive(path, archive(name, raw), identity)
    match kind_of(raw, name):
        case Kind.OLD:
            return old_workbook(raw, name, path.name)
        case Kind.FLAT_DOCUMENT:
            return _listed(path, flat_sheets(raw, name), Kind.FLAT_DOCUMENT)
        case Kind.WEB_PAGE:
            return _listed(path, web_page(raw, name, path.stem), Kind.WEB_PAGE)
        case _:
            return text_list(raw, name, path)


def _of_archive(path: Path, source: Archive, identity: Identity) -> PlainList:
    kind = kind_of_archive(source)
    source.check()
    match kind:
        case Kind.OPEN_DOCUMENT:
            return _listed(path, packed_sheets(source), kind)
        case Kind.BINARY:
            return old_workbook(source.raw, source.name, path.name)
        case _:
            return _listed(path, sheets_of_workbook(package_of(path, source, identity)), kind)


_ENDINGS = {
    Kind.WORKBOOK: {".xlsx", ".xlsm", ".xltx", ".xltm"},
    Kind.OPEN_DOCUMENT: {".ods", ".ots"},
    Kind.FLAT_DOCUMENT: {".fods", ".xml"},
    Kind.WEB_PAGE: {".html", ".htm"},
}
_CALLED = {
    Kind.WORKBOOK: "an .xlsx workbook",
    Kind.OPEN_DOCUMENT: "an .ods spreadsheet",
    Kind.FLAT_DOCUMENT: "a spreadsheet in one XML file",
    Kind.WEB_PAGE: "a web page (HTML)",
}


def _listed(path: Path, sheets: tuple[PlainSheet, ...], kind: Kind) -> PlainList:
    ending = path.suffix.casefold()
    told = not ending or ending in _ENDINGS[kind]
    remarks = () if told else (f"It is read as {_CALLED[kind]}, for that is what it holds.",)
    return PlainList(path.name, sheets, remarks)

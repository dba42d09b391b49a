"""Tells what a file is by its bytes, whatever its ending says, and refuses what no list is read from."""

from enum import Enum

from rosterkit.errors import CannotRunError
from rosterkit.xlsx.package import sniffing
from rosterkit.xlsx.package.archive import Archive
from rosterkit.xlsx.package.errors import FETCH_AGAIN, unreadable

AS_LIST = "Open it in a program that shows it, and save the list as .xlsx or .csv."
"""What helps with a document of another kind."""
UNPACK = "Unpack it, and give the list inside."

_OLE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
_SIGNS: tuple[tuple[bytes, str, str], ...] = (
    (b"%PDF", "it is a PDF document", AS_LIST),
    (b"\x89PNG", "it is a picture", ""),
    (b"\xff\xd8\xff", "it is a picture", ""),
    (b"GIF8", "it is a picture", ""),
    (b"II*\x00", "it is a picture", ""),
    (b"MM\x00*", "it is a picture", ""),
    (b"BM", "it is a picture", ""),
    (b"{\\rtf", "it is a text document (RTF)", AS_LIST),
    (b"\x1f\x8b", "it is a compressed file (gzip)", UNPACK),
    (b"7z\xbc\xaf", "it is a compressed file (7z)", UNPACK),
    (b"Rar!", "it is a compressed file (rar)", UNPACK),
    (b"BZh", "it is a compressed file (bzip2)", UNPACK),
    (b"\xfd7zXZ", "it is a compressed file (xz)", UNPACK),
    (b"SQLite format 3", "it is a database", AS_LIST),
    (b"\x00\x01\x00\x00Standard ", "it is a database", AS_LIST),
    (b"PAR1", "it is a file of columns for programs (Parquet)", AS_LIST),
)
"""How a file begins, what it is, and what to do; blank for a picture."""
_PICTURE = "Type the list into a workbook: rosterkit does not read pictures."
_OLD_SHEETS = (b"\x09\x00\x04\x00", b"\x09\x02\x06\x00", b"\x09\x04\x06\x00", b"\x09\x08\x08\x00")
"""How workbooks begin that are older than those with several sheets in a container."""


class Kind(Enum):
    """What a list is read from."""

    WORKBOOK = ".xlsx"
    BINARY = ".xlsb"
    OLD = ".xls"
    OPEN_DOCUMENT = ".ods"
    FLAT_DOCUMENT = ".fods"
    WEB_PAGE = ".html"
    TEXT = ".csv"


def kind_of(raw: bytes, name: str) -> Kind:
    """Return what a file is that is no zip archive.

    Raises:
        CannotRunError: it is of a kind that no list is read from.
    """
    if raw.startswith(_OLE):
        return _kind_of_container(raw, name)
    for sign, what, fix in _SIGNS:
        if raw.startswith(sign) and (sign != b"BM" or b"\x00" in raw[:32]):
            raise unreadable(name, what, fix or _PICTURE)
    if raw[4:12] in {b"ftypheic", b"ftypheix", b"ftypmif1", b"ftypavif"} or raw[8:12] == b"WEBP":
        raise unreadable(name, "it is a picture", _PICTURE)
    if raw.startswith(_OLD_SHEETS):
        raise unreadable(name, "it is a sheet of a program of the early 1990s", AS_LIST)
    if raw.startswith(b"PK"):
        raise unreadable(name, "it is a zip archive that is empty or damaged", FETCH_AGAIN)
    return _kind_of_markup(raw, name)


def _kind_of_container(raw: bytes, name: str) -> Kind:
    if _named(raw, "EncryptedPackage"):
        fix = "Open it in a spreadsheet program, remove the password for opening, and save it again."
        raise unreadable(name, "it is protected by a password", fix)
    if _named(raw, "Workbook", "Book"):
        return Kind.OLD
    raise unreadable(name, "it is a document of an old kind that is no workbook", AS_LIST)


def _named(raw: bytes, *entries: str) -> bool:
    """Tell whether a container has an entry of one of these names."""
    return any(f"{entry}\x00".encode("utf-16-le") in raw for entry in entries)


def _kind_of_markup(raw: bytes, name: str) -> Kind:
    begin = raw[:4096]
    if begin.startswith((b"\xff\xfe", b"\xfe\xff")) or b"\x00" in begin[:64]:
        begin = begin.replace(b"\x00", b"")
    begin = begin.lstrip(b"\xef\xbb\xbf\xff\xfe \t\r\n").lower()
    if not begin.startswith(b"<"):
        return Kind.TEXT
    if b"urn:oasis:names:tc:opendocument" in begin:
        return Kind.FLAT_DOCUMENT
    if any(sign in begin for sign in (b"<html", b"<!doctype html", b"<table", b"<head", b"<body")):
        return Kind.WEB_PAGE
    if begin.startswith(b"<?xml"):
        raise unreadable(name, "it is an XML file of a kind that rosterkit does not read", AS_LIST)
    return Kind.TEXT


def kind_of_archive(archive: Archive) -> Kind:
    """Return what a zip archive is.

    Raises:
        CannotRunError: it is of a kind that no list is read from.
    """
    names = archive.infos
    mimetype = archive.read("mimetype", 1024) if "mimetype" in names else b""
    if mimetype.strip().startswith(b"application/vnd.oasis.opendocument.spreadsheet"):
        return Kind.OPEN_DOCUMENT
    if not mimetype and "content.xml" in names and "META-INF/manifest.xml" in names:
        return Kind.OPEN_DOCUMENT
    sniffing.refuse_other_archive(archive)
    if any(entry.endswith(".iwa") or entry in {"index.apxl", "Index.zip"} for entry in names):
        raise unreadable(archive.name, "it is a spreadsheet of the .numbers kind", AS_LIST)
    if not any(entry.casefold().endswith("[content_types].xml") for entry in names):
        raise _other_archive(archive)
    if any(entry.casefold().endswith("workbook.bin") for entry in names):
        return Kind.BINARY
    return Kind.WORKBOOK


def _other_archive(archive: Archive) -> CannotRunError:
    return unreadable(archive.name, "it is a zip archive that holds no workbook of its own", UNPACK)

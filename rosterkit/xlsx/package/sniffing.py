"""Names what a file is that was given as a workbook but is none."""

from rosterkit.errors import CannotRunError
from rosterkit.xlsx.package.archive import Archive
from rosterkit.xlsx.package.errors import FETCH_AGAIN, other_table, unreadable

ZIP = b"PK\x03\x04"
_OLE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
_LOOKED_AT = 64 * 1024
_AS_XLSX = "Open it in a spreadsheet program and save it as an .xlsx workbook."

_TEXT_SIGNS = (
    (("<!doctype html", "<html", "<table", "<head"), "it is a web page (HTML), not a workbook"),
    (("{\\rtf",), "it is a text document (RTF), not a workbook"),
    (("<?xml", "<"), "it is an XML file, not a workbook"),
)
_BINARY_SIGNS = (
    (b"%PDF", "it is a PDF document, not a workbook"),
    (b"\x89PNG", "it is a picture, not a workbook"),
    (b"\xff\xd8\xff", "it is a picture, not a workbook"),
    (b"\x1f\x8b", "it is a compressed file (gzip), not a workbook"),
    (b"7z\xbc\xaf", "it is a compressed file (7z), not a workbook"),
    (b"Rar!", "it is a compressed file (rar), not a workbook"),
)
_ODS = b"application/vnd.oasis.opendocument.spreadsheet"
_MIMETYPES = (
    (b"application/vnd.oasis.opendocument", "it is an OpenDocument file that is no spreadsheet"),
    (b"application/epub", "it is an e-book"),
)


def not_a_zip(name: str, raw: bytes) -> CannotRunError:
    """Make the error for a file that does not begin as a zip archive does."""
    if raw.startswith(_OLE):
        return _old_container(name, raw)
    for sign, what in _BINARY_SIGNS:
        if raw.startswith(sign):
            return unreadable(name, what, "Give the workbook itself, saved as .xlsx.")
    text = _text(raw[:_LOOKED_AT])
    if text is None:
        return unreadable(name, "it is no .xlsx workbook, or its beginning is damaged", FETCH_AGAIN)
    begin = text.lstrip("\ufeff \t\r\n").casefold()
    what = f"it is a {'CSV text' if _separated(text) else 'text'} file, not a workbook"
    for signs, other in _TEXT_SIGNS:
        if begin.startswith(signs):
            return unreadable(name, other, _AS_XLSX)
    return other_table(name, what)


def _old_container(name: str, raw: bytes) -> CannotRunError:
    if "EncryptedPackage".encode("utf-16-le") in raw:
        fix = "Open it in a spreadsheet program, remove the password for opening, and save it again."
        return unreadable(name, "it is protected by a password", fix)
    if any(stream.encode("utf-16-le") in raw for stream in ("Workbook", "Book")):
        return other_table(name, "it is a workbook of the old .xls kind")
    return unreadable(name, "it is a document of an old kind that is no .xlsx workbook", _AS_XLSX)


def _text(begin: bytes) -> str | None:
    """Return the text that a file begins with, in whatever encoding; None if it is none."""
    encoding = "utf-16" if begin.startswith((b"\xff\xfe", b"\xfe\xff")) else "latin-1"
    text = begin.decode(encoding, "replace").removeprefix("\xef\xbb\xbf")
    return None if any(sign < " " and sign not in "\t\r\n\f" for sign in text) else text


def _separated(text: str) -> bool:
    lines = [line for line in text.splitlines()[:20] if line.strip()][:10]
    return any(lines and all(separator in line for line in lines) for separator in ",;\t|")


def refuse_other_archive(archive: Archive) -> None:
    """Raise CannotRunError for a zip archive that is known to be something else."""
    mimetype = archive.read("mimetype", 1024) if "mimetype" in archive.infos else b""
    if mimetype.startswith(_ODS):
        raise other_table(archive.name, "it is an OpenDocument spreadsheet (.ods)")
    for sign, what in _MIMETYPES:
        if mimetype.startswith(sign):
            raise unreadable(archive.name, what, _AS_XLSX)


_XLSB = "sheet.binary.macroenabled.main"
_MAIN_PARTS = (
    ("wordprocessingml", "it is a text document (.docx)"),
    ("ms-word", "it is a text document (.docm)"),
    ("presentationml", "it is a presentation (.pptx)"),
    ("ms-powerpoint", "it is a presentation (.pptm)"),
    ("visio", "it is a drawing (.vsdx)"),
)


def other_document(name: str, content_type: str) -> CannotRunError:
    """Make the error for a package whose main part, of this content type in small letters, is no workbook."""
    if _XLSB in content_type:
        return other_table(name, "it is a workbook of the binary .xlsb kind")
    for sign, what in _MAIN_PARTS:
        if sign in content_type:
            return unreadable(name, what, _AS_XLSX)
    return unreadable(name, "it is no workbook (its main part is of another kind)", _AS_XLSX)

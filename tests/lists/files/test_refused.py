"""Files that no list can be read from: one sentence why, one what to do, and never a traceback."""

import io
import struct
import zipfile
from pathlib import Path

import openpyxl
import pytest

from rosterkit.errors import CannotRunError
from rosterkit.lists.files import limits
from rosterkit.lists.files.opening import read_list
from rosterkit.xlsx.package.archive import archive

AS_LIST = "Open it in a program that shows it, and save the list as .xlsx or .csv."


def zipped(**parts: bytes) -> bytes:
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as opened:
        for name, content in parts.items():
            opened.writestr(name, content)
    return target.getvalue()


def workbook() -> bytes:
    target = io.BytesIO()
    book = openpyxl.Workbook()
    book.worksheets[0]["A1"] = "Address"
    book.save(target)
    return target.getvalue()


def container(*entries: str) -> bytes:
    return (
        b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
        + bytes(600)
        + b"".join(f"{one}\0".encode("utf-16-le") for one in entries)
    )


_KIND = b"application/vnd.openxmlformats-officedocument.wordprocessingml.document.main+xml"
DOCUMENT = zipped(
    **{
        "[Content_Types].xml": b"<T><Override PartName='/w.xml' ContentType='%b'/></T>" % _KIND,
        "_rels/.rels": b"<R><Relationship Id='a' Type='x/officeDocument' Target='w.xml'/></R>",
        "w.xml": b"<w/>",
    }
)
ENCRYPTED = zipped(
    mimetype=b"application/vnd.oasis.opendocument.spreadsheet",
    **{"META-INF/manifest.xml": b"<m:manifest><m:encryption-data/></m:manifest>", "content.xml": b"\x00\x01"},
)


@pytest.mark.parametrize(
    ("raw", "why", "fix"),
    [
        pytest.param(b"", "it is empty (0 bytes)", "Copy the file again", id="an empty file"),
        pytest.param(b"\r\n \n", "it holds no text", "Give the file that holds the list.", id="a blank text"),
        pytest.param(b"%PDF-1.7 ...", "it is a PDF document", AS_LIST, id="a PDF document"),
        pytest.param(
            b"\x89PNG\r\n\x1a\n", "it is a picture", "Type the list into a workbook", id="a picture"
        ),
        pytest.param(b"\xff\xd8\xff\xe0", "it is a picture", "Type the list", id="a photo"),
        pytest.param(
            b"\x00\x00\x00\x18ftypheic", "it is a picture", "Type the list", id="a photo of a telephone"
        ),
        pytest.param(b"{\\rtf1 x}", "it is a text document (RTF)", AS_LIST, id="a text document (RTF)"),
        pytest.param(b"\x1f\x8b\x08", "it is a compressed file (gzip)", "Unpack it", id="a compressed file"),
        pytest.param(b"SQLite format 3\x00", "it is a database", AS_LIST, id="a database"),
        pytest.param(
            DOCUMENT,
            "it is a text document (.docx)",
            "Open it in a spreadsheet program",
            id="a text document (.docx)",
        ),
        pytest.param(
            zipped(**{"Index/Document.iwa": b"x"}),
            "it is a spreadsheet of the .numbers kind",
            AS_LIST,
            id="a spreadsheet of the .numbers kind",
        ),
        pytest.param(
            zipped(**{"engines.csv": b"a;b\n"}),
            "it is a zip archive that holds no workbook of its own",
            "Unpack it, and give the list inside.",
            id="a zip archive with a list inside",
        ),
        pytest.param(
            zipped(mimetype=b"application/vnd.oasis.opendocument.text"),
            "it is an OpenDocument file that is no spreadsheet",
            "Open it",
            id="a text document (.odt)",
        ),
        pytest.param(
            ENCRYPTED, "it is protected by a password", "remove the password", id="an encrypted .ods"
        ),
        pytest.param(
            container("EncryptedPackage"),
            "it is protected by a password",
            "remove the password",
            id="an encrypted .xlsx",
        ),
        pytest.param(
            container("WordDocument"),
            "it is a document of an old kind that is no workbook",
            AS_LIST,
            id="a text document (.doc)",
        ),
        pytest.param(
            container("Workbook"),
            "it is damaged, or of a kind that cannot be read",
            "let it repair the file",
            id="a damaged .xls",
        ),
        pytest.param(
            b"\x09\x08\x08\x00\x00\x05\x10\x00",
            "it is a sheet of a program of the early 1990s",
            AS_LIST,
            id="a sheet that is older than workbooks",
        ),
        pytest.param(
            workbook()[:2000], "the file is damaged or only half copied", "Copy", id="half a workbook"
        ),
        pytest.param(
            b"PK\x05\x06" + bytes(18), "it is a zip archive that is empty", "Copy", id="an empty archive"
        ),
        pytest.param(
            b"<?xml version='1.0'?><Workbook xmlns='urn:schemas-microsoft-com:office:spreadsheet'/>",
            "it is an XML file of a kind that rosterkit does not read",
            AS_LIST,
            id="an XML file",
        ),
        pytest.param(
            b"<html><body>not found</body></html>",
            "it is a web page (HTML) without a table",
            AS_LIST,
            id="a web page without a table",
        ),
        pytest.param(
            b"a;b\n1;\x00\x01\x02", "it is no text (the sign 00 in its line 2)", "save", id="binary data"
        ),
        pytest.param(
            b"\xff\xfea\x00;", "it begins as text in UTF-16 and is none from", "save", id="half a sign"
        ),
    ],
)
def test_what_is_no_list(raw: bytes, why: str, fix: str, tmp_path: Path) -> None:
    path = tmp_path / "list.xlsx"
    path.write_bytes(raw)

    with pytest.raises(CannotRunError) as refused:
        read_list(path)

    assert refused.value.message.startswith(f"cannot read {path}: {why}")
    assert fix in refused.value.fix
    assert "\n" not in refused.value.message + refused.value.fix


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(CannotRunError, match="there is no such file"):
        read_list(tmp_path / "list.csv")


def test_a_folder(tmp_path: Path) -> None:
    with pytest.raises(CannotRunError, match="it is a folder"):
        read_list(tmp_path)


def test_a_file_that_nobody_may_read(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "list.csv"
    path.write_text("a;b")

    def refused(*_: object) -> None:
        raise PermissionError

    # The superuser, as whom tests may run, may read all.
    monkeypatch.setattr(Path, "open", refused)

    with pytest.raises(CannotRunError, match="you are not allowed to read it"):
        read_list(path)


@pytest.mark.parametrize(
    ("limit", "size", "raw", "why"),
    [
        pytest.param("MAX_FILLED", 3, b"a;b\n1;2\n", "more than 3 filled cells", id="cells of a text"),
        pytest.param("MAX_COLUMNS", 2, b"a;b;c\n1;2;3\n", "more than 2 columns", id="columns of a text"),
        pytest.param("MAX_ROWS", 2, b"a\nb\nc\n", "more than 2 rows", id="rows of a text"),
        pytest.param("MAX_TEXT_BYTES", 1 << 20, bytes(1 << 21), "larger than 1 MB", id="bytes of a text"),
        pytest.param("MAX_FILLED", 0, workbook(), "more than 0 filled cells", id="cells of a workbook"),
    ],
)
def test_a_list_that_is_too_large(
    limit: str, size: int, raw: bytes, why: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(limits, limit, size)
    path = tmp_path / "list.csv"
    path.write_bytes(raw.replace(b"\x00", b"x") if limit == "MAX_TEXT_BYTES" else raw)

    with pytest.raises(CannotRunError, match=why) as refused:
        read_list(path)

    assert refused.value.fix == "Copy the engines into a file of their own, and adopt that."


def test_a_cell_that_is_too_long(tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    path.write_bytes(b'a;b\n1;"' + b"x" * 200_000 + b'"\n')

    with pytest.raises(CannotRunError, match="a cell of it is longer than 131,072 signs"):
        read_list(path)


@pytest.mark.parametrize("share", [0.1, 0.3, 0.5, 0.7, 0.9, 0.99])
@pytest.mark.parametrize(
    "raw", [pytest.param(workbook(), id="workbook"), pytest.param(ENCRYPTED, id="archive")]
)
def test_a_file_that_was_cut_short(raw: bytes, share: float, tmp_path: Path) -> None:
    path = tmp_path / "list.xlsx"
    path.write_bytes(raw[: int(len(raw) * share)])

    with pytest.raises(CannotRunError):
        read_list(path)


def test_the_archives_of_these_tests_are_whole() -> None:
    assert list(archive("x", ENCRYPTED).infos) == ["mimetype", "META-INF/manifest.xml", "content.xml"]
    assert struct.unpack_from("<I", workbook())[0] == 0x04034B50

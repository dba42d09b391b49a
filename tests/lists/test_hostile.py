"""Files that are no list, or too much of one: each is refused in one sentence, and nothing is written."""

import io
import os
import zipfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest

from tests.command_line import run
from tests.lists.own.make import FOLDER

_CFB = bytes.fromhex("d0cf11e0a1b11ae1")
"""How files of older office programs, and encrypted ones, begin ([MS-CFB] 2.2)."""
_ODS = "application/vnd.oasis.opendocument.spreadsheet"


def _written(content: bytes) -> Callable[[Path], object]:
    return lambda path: path.write_bytes(content)


def _cut(name: str, part: float = 0.6) -> Callable[[Path], object]:
    content = (FOLDER / name).read_bytes()
    return _written(content[: int(len(content) * part)])


def _sparse(path: Path) -> None:
    """Three hundred megabytes that take no room on the disk."""
    with path.open("wb") as file:
        file.write(b"Loco,Address\n")
        file.truncate(300 * 1024 * 1024)


def _zipped(name: str, content: bytes, *more: tuple[str, bytes]) -> bytes:
    stream = io.BytesIO()
    with zipfile.ZipFile(stream, "w", zipfile.ZIP_DEFLATED) as package:
        for part, data in ((name, content), *more):
            package.writestr(part, data)
    return stream.getvalue()


def _ods_of(content: bytes, kind: bytes = b"spreadsheet") -> bytes:
    return _zipped("mimetype", b"application/vnd.oasis.opendocument." + kind, ("content.xml", content))


def _bomb(name: str) -> Callable[[Path], None]:
    def write(path: Path) -> None:
        blank = bytes(64 * 1024 * 1024)
        with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as package:
            package.writestr("mimetype", _ODS)
            with package.open(name, "w", force_zip64=True) as part:
                for _ in range(32):
                    part.write(blank)

    return write


def _encrypted_ods() -> bytes:
    names = "urn:oasis:names:tc:opendocument:xmlns:manifest:1.0"
    manifest = (
        f'<manifest:manifest xmlns:manifest="{names}"><manifest:file-entry manifest:full-path="content.xml" '
        'manifest:media-type="text/xml"><manifest:encryption-data manifest:checksum-type="SHA1/1K" '
        'manifest:checksum="AA=="/></manifest:file-entry></manifest:manifest>'
    )
    return _zipped(
        "mimetype",
        _ODS.encode(),
        ("content.xml", os.urandom(900)),
        ("META-INF/manifest.xml", manifest.encode()),
    )


def _encrypted_xlsx() -> bytes:
    """A compound file as encrypted workbooks are, its directory naming EncryptedPackage."""
    return _CFB + bytes(504) + "EncryptedPackage".encode("utf-16-le") + bytes(2000)


def _locked(path: Path) -> None:
    path.write_text("Loco,Address\nNE 5,5\n")
    path.chmod(0)


_PDF = (
    b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n1 0 obj\n<< /Type /Catalog >>\nendobj\ntrailer\n<< /Root 1 0 R >>\n%%EOF\n"
)
_JUNK = bytes(range(256)) * 40

FILES = {
    "an empty text file": ("list.csv", _written(b"")),
    "a text file of blanks": ("list.csv", _written(b" \r\n\t\r\n")),
    "a byte order mark and nothing else": ("list.csv", _written(b"\xef\xbb\xbf")),
    "an empty workbook": ("list.xlsx", _written(b"")),
    "an empty older workbook": ("list.xls", _written(b"")),
    "an empty OpenDocument": ("list.ods", _written(b"")),
    "binary junk named csv": ("list.csv", _written(_JUNK)),
    "binary junk named ods": ("list.ods", _written(_JUNK)),
    "binary junk named xls": ("list.xls", _written(_JUNK)),
    "binary junk named xlsb": ("list.xlsb", _written(_JUNK)),
    "a folder": ("list.csv", lambda path: path.mkdir()),
    "no file": ("list.csv", lambda path: None),
    "no file without an ending": ("list", lambda path: None),
    "a workbook cut short": ("list.xlsx", _cut("club_book.xlsx")),
    "an OpenDocument cut short": ("list.ods", _cut("bahnen.ods")),
    "an older workbook cut short": ("list.xls", _cut("zweizeilig.xls", 0.3)),
    "an encrypted workbook": ("list.xlsx", _written(_encrypted_xlsx())),
    "an encrypted OpenDocument": ("list.ods", _written(_encrypted_ods())),
    "a zip without anything": ("list.xlsx", _written(_zipped("nothing.txt", b""))),
    "an OpenDocument text": ("list.ods", _written(_ods_of(b"", kind=b"text"))),
    "an OpenDocument of broken XML": ("list.ods", _written(_ods_of(b"<a><b>"))),
    "a PDF named csv": ("list.csv", _written(_PDF)),
    "a PDF named xlsx": ("list.xlsx", _written(_PDF)),
    "300 megabytes of text": ("list.csv", _sparse),
    "NUL bytes among the text": ("list.csv", _written(b"Loco,Address\nNE\x005,\x005\n" * 3)),
    "one line of ten megabytes": ("list.csv", _written(b"x" * 10_000_000)),
    "a quote that never ends": ("list.csv", _written(b'"Loco' + b" and more\n" * 20_000)),
}  # fmt: skip

LARGE = {
    "a quote that does not end in 200,000 lines": ("list.csv", _written(b'"Loco' + b" and more\n" * 200_000)),
    "a workbook that unpacks to two gigabytes": ("list.xlsx", _bomb("xl/workbook.xml")),
    "an OpenDocument that unpacks to two gigabytes": ("list.ods", _bomb("content.xml")),
}

ALL = [
    *(pytest.param(*one, id=name) for name, one in FILES.items()),
    *(pytest.param(*one, id=name, marks=pytest.mark.slow) for name, one in LARGE.items()),
]


@pytest.mark.parametrize(("name", "write"), ALL)
def test_a_file_that_is_no_list_is_refused_in_one_sentence(
    name: str, write: Callable[[Path], object], tmp_path: Path
) -> None:
    write(tmp_path / name)

    _assert_refused(tmp_path, name)


def _assert_refused(folder: Path, name: str) -> None:
    there = sorted(folder.iterdir())

    ran = run("adopt", folder / name, "-o", folder / "out.xlsx")

    assert ran.status == 2
    assert ran.err.startswith("rosterkit: ")
    assert len(ran.err.splitlines()) == 1
    assert "Traceback" not in ran.err
    assert name in ran.err
    assert len(ran.err) < 1500
    assert sorted(folder.iterdir()) == there


def test_a_file_that_may_not_be_read_is_refused() -> None:
    with TemporaryDirectory() as name:  # not tmp_path, whose folders are closed to others
        folder = Path(name)
        folder.chmod(0o755)
        (folder / "other.csv").write_text("Loco,Address\nNE 5,5\n")
        _locked(folder / "list.csv")
        assert run("adopt", folder / "other.csv").status == 0  # loads what it needs while it may
        with _somebody_else():
            _assert_refused(folder, "list.csv")


@contextmanager
def _somebody_else() -> Iterator[None]:
    """Be nobody for a while where this is root, who may read every file."""
    if os.geteuid() != 0:
        yield
        return
    os.seteuid(65534)
    try:
        yield
    finally:
        os.seteuid(0)


def test_a_row_of_as_many_columns_as_a_sheet_can_hold_is_read_or_refused_at_once(tmp_path: Path) -> None:
    source = tmp_path / "list.csv"
    heads = ["Loco", "DCC address", *(f"box {n}" for n in range(16_382))]
    source.write_text(",".join(heads) + "\nNE 5,5" + ",x" * 16_382 + "\n")

    ran = run("adopt", source)

    assert ran.status in {0, 1, 2}
    assert "Traceback" not in ran.err


def test_the_list_is_never_the_workbook_that_is_written(tmp_path: Path) -> None:
    source = tmp_path / "list.xlsx"
    content = (FOLDER / "club_book.xlsx").read_bytes()
    source.write_bytes(content)

    ran = run("adopt", source, "-o", source, "--force")

    assert ran.status == 2
    assert source.read_bytes() == content


def test_what_a_file_is_called_does_not_matter(tmp_path: Path) -> None:
    (tmp_path / "list.dat").write_text("Loco,Address\nNE 5,5\n")

    ran = run("adopt", tmp_path / "list.dat", "-o", tmp_path / "out.xlsx")

    assert ran.status == 0, ran.err
    assert (tmp_path / "out.xlsx").exists()

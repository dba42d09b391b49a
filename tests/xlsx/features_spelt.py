"""Makes workbooks in other spellings: macros, Strict, prefixes, archives, encodings, other programs."""

import re
import subprocess
import zipfile
from collections.abc import Callable
from functools import cache
from io import BytesIO
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.xlsx.clubs import club, locomotives
from tests.xlsx.packages import parts, patch, replaced, write

_SHEET = "xl/worksheets/sheet1.xml"
_STRICT = (
    (
        b"http://schemas.openxmlformats.org/spreadsheetml/2006/main",
        b"http://purl.oclc.org/ooxml/spreadsheetml/main",
    ),
    (
        b"http://schemas.openxmlformats.org/officeDocument/2006/relationships",
        b"http://purl.oclc.org/ooxml/officeDocument/relationships",
    ),
    (b"http://schemas.openxmlformats.org/drawingml/2006/main", b"http://purl.oclc.org/ooxml/drawingml/main"),
)


def macros(path: Path) -> None:
    project = path.with_suffix(".bin")
    project.write_bytes(b"\xd0\xcf\x11\xe0" + bytes(range(256)) * 8)
    book = club(path)
    book.add_vba_project(str(project))
    book.close()


def strict(path: Path) -> None:
    club(path).close()
    content = parts(path)
    for old, new in _STRICT:
        content = {name: data.replace(old, new) for name, data in content.items()}
    write(path, content)


def prefixes(path: Path) -> None:
    club(path).close()
    names = [_SHEET, "xl/workbook.xml", "xl/styles.xml"]
    patch(path, dict.fromkeys(names, _prefixed))


def _prefixed(data: bytes) -> bytes:
    named = re.sub(rb"<(/?)(?=[A-Za-z])", rb"<\1x:", data)
    return named.replace(b'xmlns="', b'xmlns:x="', 1)


def comments_and_cdata(path: Path) -> None:
    book = club(path)
    locomotives(book).write_formula("F2", "=1<2", None, True)
    book.close()
    patch(
        path,
        {
            _SHEET: lambda data: (
                data.replace(b"<sheetData>", b'<sheetData><!-- <row r="1"><c r="G1"/></row> -->')
                .replace(b"<f>1&lt;2</f>", b"<f><![CDATA[1<2]]></f>")
                .replace(b'<row r="3"', b'<?kept <row r="3"?><row r="3"')
            )
        },
    )


def utf_16(path: Path) -> None:
    club(path).close()

    def recoded(data: bytes) -> bytes:
        return data.decode().replace('encoding="UTF-8"', 'encoding="UTF-16"').encode("utf-16")

    patch(path, {_SHEET: recoded})


def byte_order_mark(path: Path) -> None:
    club(path).close()
    patch(
        path, dict.fromkeys([_SHEET, "xl/workbook.xml", "xl/styles.xml"], lambda data: b"\xef\xbb\xbf" + data)
    )


def single_quotes(path: Path) -> None:
    club(path).close()
    patch(
        path,
        dict.fromkeys([_SHEET, "xl/styles.xml"], lambda data: re.sub(rb"=\"([^\"']*)\"", rb"='\1'", data)),
    )


def line_breaks_between_tags(path: Path) -> None:
    club(path).close()
    patch(path, dict.fromkeys([_SHEET, "xl/styles.xml"], lambda data: data.replace(b"><", b">\n  <")))


def no_styles(path: Path) -> None:
    club(path).close()
    content = parts(path)
    del content["xl/styles.xml"]
    types, links = "[Content_Types].xml", "xl/_rels/workbook.xml.rels"
    content[types] = re.sub(rb'<Override PartName="/xl/styles.xml"[^>]*>', b"", content[types])
    content[links] = re.sub(rb'<Relationship [^>]*styles.xml"/>', b"", content[links])
    content[_SHEET] = re.sub(rb' s="[0-9]+"', b"", content[_SHEET])
    write(path, content)


def absolute_targets(path: Path) -> None:
    club(path).close()
    patch(path, {"xl/_rels/workbook.xml.rels": lambda data: data.replace(b'Target="', b'Target="/xl/')})


def odd_part_names(path: Path) -> None:
    club(path).close()
    content = parts(path)
    content = {name.replace("sheet1.xml", "Roster%20sheet.XML"): data for name, data in content.items()}
    for name in ("[Content_Types].xml", "xl/_rels/workbook.xml.rels"):
        content[name] = content[name].replace(b"sheet1.xml", b"Roster%20sheet.XML")
    write(path, content)


def sizes_behind_the_parts(path: Path) -> None:
    """Write the archive as a stream: sizes stand behind each part, and some parts are not packed."""
    club(path).close()
    content = parts(path)
    stream = _Stream()
    with zipfile.ZipFile(stream, mode="w") as archive:
        archive.comment = b"a comment of the archive"
        for place, (name, data) in enumerate(content.items()):
            info = zipfile.ZipInfo(name, (2024, 5, 17, 20, 30, 12))
            info.compress_type = zipfile.ZIP_DEFLATED if place % 2 else zipfile.ZIP_STORED
            info.comment = b"of this part"
            with archive.open(info, "w", force_zip64=place == 1) as part:
                part.write(data)
    path.write_bytes(stream.getvalue())


class _Stream(BytesIO):
    """A file that cannot be wound back."""

    def tell(self) -> int:
        raise OSError("a stream has no places")


def by_libreoffice(path: Path) -> None:
    path.write_bytes(_saved_by(_soffice))


def by_gnumeric(path: Path) -> None:
    path.write_bytes(_saved_by(_ssconvert))


@cache
def _saved_by(convert: Callable[[Path, Path], None]) -> bytes:
    """Have another program save a workbook, once for all tests of a process."""
    with TemporaryDirectory() as folder:
        source, saved = Path(folder, "source", "club.xlsx"), Path(folder, "saved")
        source.parent.mkdir()
        saved.mkdir()
        book = club(source)
        sheet = locomotives(book)
        sheet.write_comment("C2", "a note")
        sheet.freeze_panes(1, 0)
        sheet.data_validation("C2:C99", {"validate": "integer", "criteria": ">", "value": 0})
        sheet.conditional_format("C2:C6", {"type": "duplicate", "format": book.add_format({"bold": True})})
        sheet.write_formula("A9", "=SUM(C2:C6)", None, 5852)
        book.close()
        convert(source, saved)
        return (saved / source.name).read_bytes()


def _ssconvert(source: Path, target: Path) -> None:
    subprocess.run(["ssconvert", source, target / source.name], check=True, timeout=60)


def _soffice(source: Path, target: Path) -> None:
    profile = f"-env:UserInstallation={(source.parent / 'profile').as_uri()}"
    command = ["soffice", profile, "--headless", "--convert-to", "xlsx", "--outdir", str(target), str(source)]
    subprocess.run(command, check=True, timeout=120, capture_output=True)


def formula_without_value(path: Path) -> None:
    book = club(path)
    locomotives(book).write_formula("A9", "=SUM(C2:C6)", None, 7)
    book.close()
    patch(path, {_SHEET: replaced("<v>7</v>", "")})


SPELT = {
    "macros": macros,
    "the Strict namespaces": strict,
    "prefixed namespaces": prefixes,
    "comments and CDATA": comments_and_cdata,
    "a UTF-16 part": utf_16,
    "byte order marks": byte_order_mark,
    "single quotes": single_quotes,
    "line breaks between tags": line_breaks_between_tags,
    "no styles": no_styles,
    "absolute targets": absolute_targets,
    "odd part names": odd_part_names,
    "a streamed archive": sizes_behind_the_parts,
    "a formula without its value": formula_without_value,
    "saved by LibreOffice": by_libreoffice,
    "saved by Gnumeric": by_gnumeric,
}

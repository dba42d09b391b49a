import os
import re
import struct
import zipfile
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from rosterkit.errors import CannotRunError
from rosterkit.xlsx.package import limits
from rosterkit.xlsx.package.opening import opened
from tests.xlsx.hand_made import (
    CONTENT_TYPES,
    MAIN,
    OFFICE,
    ROOT_LINKS,
    WORKBOOK,
    links,
    parts,
    saved,
    zipped,
)


def refusal(path: Path) -> tuple[str, str]:
    with pytest.raises(CannotRunError) as caught:
        opened(path)
    return caught.value.message.removeprefix(f"cannot read {path}: "), caught.value.fix


def test_missing_file_is_named(tmp_path: Path) -> None:
    path = tmp_path / "nowhere" / "club.xlsx"

    with pytest.raises(CannotRunError) as caught:
        opened(path)

    assert caught.value.message == f"cannot read {path}: there is no such file"
    assert caught.value.fix == "Check the spelling of the name and the folder."


def test_folder_is_no_workbook(tmp_path: Path) -> None:
    assert refusal(tmp_path) == ("it is a folder", "Give a workbook inside it.")


def test_name_that_no_file_can_have_is_refused(tmp_path: Path) -> None:
    why, fix = refusal(tmp_path / ("x" * 300))

    assert why == "the system says File name too long"
    assert fix == "Check the name and the drive, then try again."


def ole(*streams: str) -> bytes:
    """The beginning of an old compound file, and its directory with these streams."""
    directory = b"".join(stream.encode("utf-16-le").ljust(128, b"\0") for stream in ("Root Entry", *streams))
    return b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1".ljust(512, b"\0") + directory


@pytest.mark.parametrize(
    ("content", "why"),
    [
        pytest.param(b"", "it is empty (0 bytes)", id="empty file"),
        pytest.param(b"Name,Address\r\nA,3\r\n", "it is a CSV text file, not a workbook", id="CSV"),
        pytest.param(
            "\ufeffName;Größe\nA;3\n".encode(),
            "it is a CSV text file, not a workbook",
            id="CSV with semicolons and a mark",
        ),
        pytest.param(
            "Name\tAddress\nA\t3\n".encode("utf-16"),
            "it is a CSV text file, not a workbook",
            id="tab-separated UTF-16",
        ),
        pytest.param(
            b"Gr\xf6\xdfe;3\nA;3\n" * 9,
            "it is a CSV text file, not a workbook",
            id="CSV in Latin-1",
        ),
        pytest.param(
            b"My engines are in the cellar\n",
            "it is a text file, not a workbook",
            id="plain text",
        ),
        pytest.param(
            b"\n <html><body><table><tr><td>A",
            "it is a web page (HTML), not a workbook",
            id="HTML table",
        ),
        pytest.param(
            b"<!DOCTYPE HTML><html>",
            "it is a web page (HTML), not a workbook",
            id="HTML document",
        ),
        pytest.param(
            b'<?xml version="1.0"?><Workbook/>',
            "it is an XML file, not a workbook",
            id="XML spreadsheet",
        ),
        pytest.param(b"%PDF-1.7\n", "it is a PDF document, not a workbook", id="PDF"),
        pytest.param(b"\x89PNG\r\n\x1a\n", "it is a picture, not a workbook", id="picture"),
        pytest.param(b"\x1f\x8b\x08\x00", "it is a compressed file (gzip), not a workbook", id="gzip"),
        pytest.param(
            b"\x00\x01\x02\x03" * 50, "it is no .xlsx workbook, or its beginning is damaged", id="noise"
        ),
        pytest.param(
            ole("EncryptionInfo", "EncryptedPackage"), "it is protected by a password", id="password"
        ),
        pytest.param(ole("Workbook"), "it is a workbook of the old .xls kind", id="old workbook"),
        pytest.param(
            ole("WordDocument"),
            "it is a document of an old kind that is no .xlsx workbook",
            id="old document",
        ),
        pytest.param(b"PK\x03\x04", "the file is damaged or only half copied", id="four bytes of an archive"),
    ],
)
def test_other_file_with_the_name_of_a_workbook_is_named(tmp_path: Path, content: bytes, why: str) -> None:
    assert refusal(saved(tmp_path, content))[0] == why


def test_password_protected_workbook_can_be_helped(tmp_path: Path) -> None:
    _, fix = refusal(saved(tmp_path, ole("EncryptedPackage")))

    assert fix == "Open it in a spreadsheet program, remove the password for opening, and save it again."


def typed(kind: str) -> dict[str, bytes]:
    main = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"
    return parts(types=CONTENT_TYPES.replace(main, kind))


@pytest.mark.parametrize(
    ("entries", "why"),
    [
        pytest.param(
            {"mimetype": b"application/vnd.oasis.opendocument.spreadsheet"},
            "it is an OpenDocument spreadsheet (.ods)",
            id="ods",
        ),
        pytest.param(
            {"mimetype": b"application/vnd.oasis.opendocument.text"},
            "it is an OpenDocument file that is no spreadsheet",
            id="odt",
        ),
        pytest.param(
            typed("application/vnd.ms-excel.sheet.binary.macroEnabled.main"),
            "it is a workbook of the binary .xlsb kind",
            id="xlsb",
        ),
        pytest.param(
            typed("application/vnd.openxmlformats-officedocument.wordprocessingml.document.main+xml"),
            "it is a text document (.docx)",
            id="docx",
        ),
        pytest.param(
            typed("application/vnd.openxmlformats-officedocument.presentationml.presentation.main+xml"),
            "it is a presentation (.pptx)",
            id="pptx",
        ),
        pytest.param(
            typed("application/xhtml+xml"),
            "it is no workbook (its main part is of another kind)",
            id="another package",
        ),
        pytest.param(
            {"photos/engine.jpg": b"x"}, "it is a zip archive that holds no workbook", id="zip of photos"
        ),
        pytest.param(
            parts(root=None), "it does not say which of its parts is the workbook", id="no root relationships"
        ),
        pytest.param(
            parts(workbook=None), "its workbook part 'xl/workbook.xml' is missing", id="no workbook part"
        ),
        pytest.param(
            parts(root=ROOT_LINKS.replace("xl/workbook.xml", "../../etc/passwd")),
            "its workbook part '../../etc/passwd' is missing",
            id="workbook outside the package",
        ),
        pytest.param(
            parts(links=None),
            "the part with its sheet 'Locomotives' is missing",
            id="no workbook relationships",
        ),
        pytest.param(
            parts(links=links(sheet="worksheets/sheet7.xml")),
            "the part with its sheet 'Locomotives' is missing",
            id="no sheet part",
        ),
        pytest.param(
            parts(links=links(sheet="../../../sheet1.xml")),
            "the part with its sheet 'Locomotives' is missing",
            id="sheet outside the package",
        ),
        pytest.param(
            parts(styles=None),
            "the part with the formats of its cells, 'styles.xml', is missing",
            id="announced styles missing",
        ),
        pytest.param(
            {k: v for k, v in parts().items() if "shared" not in k},
            "the part with the texts of its cells, 'sharedStrings.xml', is missing",
            id="announced texts missing",
        ),
        pytest.param(
            parts(workbook=f'<workbook xmlns="{MAIN}"><sheets/></workbook>'),
            "it has no sheets",
            id="no sheets",
        ),
        pytest.param(
            parts(workbook="<workbook>"),
            "its part 'xl/workbook.xml' is not well-formed XML at line 1 (no element found)",
            id="workbook part cut short",
        ),
        pytest.param(
            parts(workbook="<html/>"), "its part 'xl/workbook.xml' is no workbook part", id="another root"
        ),
        pytest.param(
            parts(workbook="<!DOCTYPE workbook>" + WORKBOOK),
            "its part 'xl/workbook.xml' declares a document type, which no workbook does",
            id="document type in the workbook part",
        ),
        pytest.param(
            parts(root='<!DOCTYPE x [<!ENTITY a "b">]>' + ROOT_LINKS),
            "its part '_rels/.rels' declares a document type, which no workbook does",
            id="document type in relationships",
        ),
        pytest.param(
            parts(workbook="<a>" * 300),
            "its part 'xl/workbook.xml' is no workbook part",
            id="deep nesting of nothing",
        ),
        pytest.param(
            parts(workbook=WORKBOOK.replace("<sheets>", "<a>" * 300)),
            "its part 'xl/workbook.xml' is nested more than 200 levels deep",
            id="deep nesting",
        ),
        pytest.param(
            parts(workbook=WORKBOOK.replace('sheetId="1"', 'sheetId="one"')),
            "its part 'xl/workbook.xml' gives a sheet the number 'one'",
            id="sheet number in words",
        ),
        pytest.param(
            parts(
                workbook=WORKBOOK.replace(
                    "</sheets>", '<sheet name="LOCOMOTIVES" sheetId="2" r:id="rId2"/></sheets>'
                )
            ),
            "two of its sheets are called 'LOCOMOTIVES'",
            id="two sheets of one title",
        ),
        pytest.param(
            parts(
                workbook=WORKBOOK.replace(
                    "</sheets>", '<sheet name="Other" sheetId="2" r:id="rId1"/></sheets>'
                )
            ),
            "its sheet 'Other' stands in the part of another sheet",
            id="two sheets in one part",
        ),
        pytest.param(
            parts(workbook='<?xml version="1.0" encoding="klingon"?>' + WORKBOOK),
            "its part 'xl/workbook.xml' is in the encoding klingon, in which no workbook is written",
            id="unknown encoding",
        ),
        *(
            pytest.param(
                parts(workbook=f'<?xml version="1.0" encoding="{name}"?>' + WORKBOOK),
                f"its part 'xl/workbook.xml' is in the encoding {name}, in which no workbook is written",
                id=f"{name}, which Python knows and no processor of XML need read",
            )
            for name in ("punycode", "idna", "undefined", "utf-7", "rot13", "base64")
        ),
        pytest.param(
            parts(workbook=b"\xff\xfe" + WORKBOOK.encode("utf-16-le") + b"\0"),
            "its part 'xl/workbook.xml' is not the utf-16-le text that it says it is",
            id="half a character at the end",
        ),
        pytest.param(
            parts(workbook=WORKBOOK.encode().replace(b"Loco", b"L\xff\xfe")),
            "its part 'xl/workbook.xml' is not well-formed XML at line 1 (not well-formed (invalid token))",
            id="invalid UTF-8",
        ),
        pytest.param(
            {"../evil.xml": b"x", **parts()},
            "it holds a part with the unsafe name '../evil.xml'",
            id="name that climbs",
        ),
        pytest.param(
            {"xl/%2e%2e/%2e%2e/evil.xml": b"x", **parts()},
            "it holds a part with the unsafe name 'xl/%2e%2e/%2e%2e/evil.xml'",
            id="name that climbs in disguise",
        ),
        pytest.param(
            {"..\\evil.xml": b"x", **parts()},
            "it holds a part with the unsafe name '..\\evil.xml'",
            id="name that climbs with backslashes",
        ),
        pytest.param(
            {"/etc/passwd": b"x", **parts()},
            "it holds a part with the unsafe name '/etc/passwd'",
            id="absolute name",
        ),
        pytest.param(
            {"C:/evil.xml": b"x", **parts()},
            "it holds a part with the unsafe name 'C:/evil.xml'",
            id="name with a drive",
        ),
        pytest.param(
            {"XL/Workbook.xml": b"x", **parts()},
            "it holds its part 'xl/workbook.xml' twice",
            id="two names but for their case",
        ),
    ],
)
def test_package_that_is_no_workbook_is_refused(tmp_path: Path, entries: dict[str, bytes], why: str) -> None:
    assert refusal(saved(tmp_path, zipped(entries)))[0] == why


def test_half_a_file_is_refused_wherever_it_was_cut(tmp_path: Path) -> None:
    whole = zipped(parts())

    found = {refusal(saved(tmp_path, whole[:length]))[0] for length in range(4, len(whole) - 1, 97)}

    assert found == {"the file is damaged or only half copied"}


def test_damaged_part_is_named(tmp_path: Path) -> None:
    content = bytearray(zipped(parts() | {"xl/media/image1.png": b"photo of an engine"}, zipfile.ZIP_STORED))
    content[content.index(b"photo")] ^= 1

    why, fix = refusal(saved(tmp_path, bytes(content)))

    assert why == "its part 'xl/media/image1.png' is damaged (wrong checksum)"
    assert fix == "Copy or download the file again, or take the last good backup."


@pytest.mark.parametrize("place", [0, 5, 20, 40])
def test_damaged_packed_part_is_named(tmp_path: Path, place: int) -> None:
    content = bytearray(zipped(parts()))
    with zipfile.ZipFile(saved(tmp_path, bytes(content))) as archive:
        info = archive.getinfo("xl/workbook.xml")
    content[info.header_offset + 30 + len(info.filename) + place] ^= 0x55

    assert (
        refusal(saved(tmp_path, bytes(content)))[0]
        == "its part 'xl/workbook.xml' is damaged (wrong checksum)"
    )


def with_directory_field(at: int, layout: str, value: int) -> Callable[[bytes], bytes]:
    """Change a field of the first entry of the archive's directory."""

    def change(content: bytes) -> bytes:
        changed = bytearray(content)
        struct.pack_into(layout, changed, content.index(b"PK\x01\x02") + at, value)
        return bytes(changed)

    return change


@pytest.mark.parametrize(
    ("change", "why"),
    [
        pytest.param(with_directory_field(8, "<H", 1), "parts of it are encrypted", id="encrypted entry"),
        pytest.param(
            with_directory_field(10, "<H", 12),
            "its part '[Content_Types].xml' is packed in a way that workbooks do not use",
            id="other packing",
        ),
        pytest.param(
            with_directory_field(24, "<I", 20),
            "its part '[Content_Types].xml' is damaged (wrong checksum)",
            id="size that is too small",
        ),
        pytest.param(
            with_directory_field(24, "<I", 5000),
            "its part '[Content_Types].xml' is damaged (wrong checksum)",
            id="size that is too large",
        ),
        pytest.param(
            with_directory_field(24, "<I", 300 << 20),
            "its part '[Content_Types].xml' unpacks to 300 MB",
            id="size beyond the limit",
        ),
        pytest.param(
            with_directory_field(42, "<I", 7),
            "its part '[Content_Types].xml' is not where it should be",
            id="place of no entry",
        ),
        pytest.param(
            with_directory_field(20, "<I", 10**8),
            "its part '[Content_Types].xml' is cut short",
            id="packed size beyond the file",
        ),
    ],
)
def test_directory_that_lies_is_not_believed(
    tmp_path: Path, change: Callable[[bytes], bytes], why: str
) -> None:
    assert refusal(saved(tmp_path, change(zipped(parts()))))[0] == why


def test_sum_of_all_parts_is_limited(tmp_path: Path) -> None:
    content = bytearray(zipped(parts() | {f"xl/media/image{number}.png": b"" for number in range(70)}))
    for entry in re.finditer(b"PK\x01\x02", bytes(content)):
        struct.pack_into("<I", content, entry.start() + 24, 16 << 20)

    why, fix = refusal(saved(tmp_path, bytes(content)))

    assert why == "it is larger than 1024 MB when unpacked"
    assert fix == "Make its pictures smaller, or split the workbook."


@pytest.mark.filterwarnings("ignore:Duplicate name")
def test_part_that_is_there_twice_is_refused(tmp_path: Path) -> None:
    path = saved(tmp_path, zipped(parts()))
    with zipfile.ZipFile(path, "a") as archive:
        archive.writestr("xl/worksheets/sheet1.xml", "<worksheet/>")

    assert refusal(path)[0] == "it holds its part 'xl/worksheets/sheet1.xml' twice"


def test_more_parts_than_the_limit_are_refused(tmp_path: Path) -> None:
    entries = parts() | {f"xl/media/{number}": b"" for number in range(limits.MAX_PARTS)}

    assert refusal(saved(tmp_path, zipped(entries)))[0] == "it holds more than 10,000 parts"


def test_more_sheets_than_the_limit_are_refused(tmp_path: Path) -> None:
    sheets = "".join(
        f'<sheet name="S{number}" sheetId="{number}" r:id="r{number}"/>'
        for number in range(2, limits.MAX_SHEETS + 2)
    )
    entries = parts(workbook=WORKBOOK.replace("</sheets>", sheets + "</sheets>"))

    assert (
        refusal(saved(tmp_path, zipped(entries)))[0]
        == "its part 'xl/workbook.xml' lists more than 1,000 sheets"
    )


def test_more_names_than_the_limit_are_refused(tmp_path: Path) -> None:
    names = '<definedName name="a">1</definedName>' * (limits.MAX_NAMES + 1)
    entries = parts(
        workbook=WORKBOOK.replace("</workbook>", f"<definedNames>{names}</definedNames></workbook>")
    )

    assert (
        refusal(saved(tmp_path, zipped(entries)))[0]
        == "its part 'xl/workbook.xml' defines more than 50,000 names"
    )


def test_as_many_sheets_as_the_limit_are_read(tmp_path: Path) -> None:
    numbers = range(2, limits.MAX_SHEETS + 1)
    sheets = "".join(f'<sheet name="S{number}" sheetId="{number}" r:id="r{number}"/>' for number in numbers)
    extra = "".join(
        f'<Relationship Id="r{number}" Type="{OFFICE}/worksheet" Target="worksheets/sheet{number}.xml"/>'
        for number in numbers
    )
    entries = parts(workbook=WORKBOOK.replace("</sheets>", sheets + "</sheets>"), links=links(extra))
    entries |= {f"xl/worksheets/sheet{number}.xml": b"<worksheet/>" for number in numbers}

    assert len(opened(saved(tmp_path, zipped(entries))).sheets) == 1000


@pytest.fixture
def forbidden(tmp_path: Path) -> Path:
    path = saved(tmp_path, zipped(parts()))
    path.chmod(0)
    return path


@pytest.fixture
def unprivileged() -> Iterator[None]:
    """Drop the right of the superuser to read everything, where the tests have it."""
    user = os.geteuid()
    os.seteuid(user or 65534)
    yield
    os.seteuid(user)


def test_file_that_may_not_be_read_is_named(forbidden: Path, unprivileged: None) -> None:
    assert refusal(forbidden) == (
        "you are not allowed to read it",
        "Change its permissions, or close the program that holds it.",
    )

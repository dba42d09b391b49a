import os
import struct
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest

from rosterkit.xlsx.grid import Workbook
from rosterkit.xlsx.package.opening import opened
from rosterkit.xlsx.read.workbook import read_workbook
from tests.xlsx.hand_made import (
    CONTENT_TYPES,
    MAIN,
    NAME,
    OFFICE,
    PACKAGE,
    WORKBOOK,
    links,
    parts,
    rows,
    saved,
    styles,
    texts,
    worksheet,
    zipped,
)


def everything(_: str) -> bool:
    return True


def test_package_lists_sheets_with_their_parts_in_workbook_order(tmp_path: Path) -> None:
    workbook = (
        f'<workbook xmlns="{MAIN}" xmlns:r="{OFFICE}"><sheets>'
        '<sheet name="Second part" sheetId="7" state="veryHidden" r:id="rId9"/>'
        '<sheet name="Chart" sheetId="9" state="hidden" r:id="rId8"/>'
        '<sheet name="First part" sheetId="3" r:id="rId1"/></sheets></workbook>'
    )
    entries = parts(
        workbook=workbook,
        links=links(
            f'<Relationship Id="rId9" Type="{OFFICE}/worksheet" Target="worksheets/sheet2.xml"/>',
            f'<Relationship Id="rId8" Type="{OFFICE}/chartsheet" Target="chartsheets/sheet1.xml"/>',
        ),
    ) | {"xl/worksheets/sheet2.xml": b"<worksheet/>", "xl/chartsheets/sheet1.xml": b"<chartsheet/>"}

    package = opened(saved(tmp_path, zipped(entries)))

    assert [
        (sheet.title, sheet.part, sheet.kind, sheet.state, sheet.sheet_id) for sheet in package.sheets
    ] == [
        ("Second part", "xl/worksheets/sheet2.xml", "worksheet", "veryHidden", 7),
        ("Chart", "xl/chartsheets/sheet1.xml", "chartsheet", "hidden", 9),
        ("First part", "xl/worksheets/sheet1.xml", "worksheet", "visible", 3),
    ]
    assert [sheet.hidden for sheet in package.sheets] == [True, True, False]


def test_package_names_its_parts_as_they_are_spelt_and_in_their_order(tmp_path: Path) -> None:
    path = saved(tmp_path, zipped(parts()))

    package = opened(path)

    assert package.names == (
        "[Content_Types].xml",
        "_rels/.rels",
        "xl/workbook.xml",
        "xl/_rels/workbook.xml.rels",
        "xl/worksheets/sheet1.xml",
        "xl/styles.xml",
        "xl/sharedStrings.xml",
    )
    assert package.raw == path.read_bytes()
    assert package.name == str(path)


def test_package_tells_what_a_writer_has_to_know(tmp_path: Path) -> None:
    package = opened(saved(tmp_path, zipped(parts())))

    assert (package.workbook_part, package.content_types_part) == ("xl/workbook.xml", "[Content_Types].xml")
    assert (package.styles_part, package.shared_strings_part) == ("xl/styles.xml", "xl/sharedStrings.xml")
    assert (package.strict, package.macro, package.signed, package.date1904) == (False, False, False, False)


def test_identity_changes_when_the_file_is_saved_again(tmp_path: Path) -> None:
    path = saved(tmp_path, zipped(parts()))
    before = opened(path).identity
    os.utime(path, ns=(1_700_000_000_000_000_000, 1_700_000_000_000_000_000))

    after = opened(path).identity

    assert before != after
    assert after.mtime_ns == 1_700_000_000_000_000_000
    assert after.size == path.stat().st_size
    assert after.inode == path.stat().st_ino


def test_relationships_tell_parts_from_what_is_outside_or_missing(tmp_path: Path) -> None:
    extra = (
        f'<Relationship Id="rId4" Type="{OFFICE}/theme" Target="theme/theme1.xml"/>',
        f'<Relationship Id="rId5" Type="{OFFICE}/externalLinkPath" Target="../other.xlsx"'
        ' TargetMode="External"/>',
    )
    package = opened(saved(tmp_path, zipped(parts(links=links(*extra)))))

    found = {link.id: link for link in package.relationships("xl/workbook.xml")}

    assert found["rId1"].target == "xl/worksheets/sheet1.xml"
    assert found["rId1"].kind == "worksheet"
    assert (found["rId4"].target, found["rId4"].external) == (None, False)
    assert (found["rId5"].target, found["rId5"].external) == (None, True)
    assert found["rId5"].raw_target == "../other.xlsx"
    assert package.relationships("xl/worksheets/sheet1.xml") == ()


@pytest.mark.parametrize(
    ("definition", "made"),
    [
        pytest.param(
            '<definedName name="_rosterkit_made" localSheetId="0" hidden="1">1</definedName>',
            True,
            id="marker of the sheet",
        ),
        pytest.param(
            '<definedName name="_rosterkit_made" localSheetId="1" hidden="1">1</definedName>',
            False,
            id="marker of another sheet",
        ),
        pytest.param(
            '<definedName name="_rosterkit_made" hidden="1">1</definedName>', False, id="marker of no sheet"
        ),
        pytest.param('<definedName name="Prices" localSheetId="0">1</definedName>', False, id="another name"),
    ],
)
def test_sheet_is_known_as_made_here_by_its_marker_alone(tmp_path: Path, definition: str, made: bool) -> None:
    workbook = WORKBOOK.replace("</workbook>", f"<definedNames>{definition}</definedNames></workbook>")
    path = saved(tmp_path, zipped(parts(workbook=workbook)))

    read = read_workbook(path, everything)

    assert read.grids["Locomotives"].is_own is made


def renamed(change: Callable[[str], str], **changed: str) -> dict[str, bytes]:
    return {change(name): part for name, part in parts(**changed).items()}


STRICT = "http://purl.oclc.org/ooxml"


def strict(part: str) -> str:
    return part.replace(MAIN, f"{STRICT}/spreadsheetml/main").replace(
        OFFICE, f"{STRICT}/officeDocument/relationships"
    )


PREFIXED_WORKBOOK = (
    f'<x:workbook xmlns:x="{MAIN}" xmlns:q="{OFFICE}"><x:sheets>'
    '<x:sheet name="Locomotives" sheetId="1" q:id="rId1"/></x:sheets></x:workbook>'
)
PREFIXED_SHEET = (
    f'<x:worksheet xmlns:x="{MAIN}"><x:sheetData><x:row r="1"><x:c r="A1" t="s"><x:v>0</x:v></x:c></x:row>'
    "</x:sheetData></x:worksheet>"
)
PREFIXED_TEXTS = f'<x:sst xmlns:x="{MAIN}"><x:si><x:t>Name</x:t></x:si></x:sst>'
DECLARED = '<?xml version="1.0" encoding="{}"?>\n'
SHEET = worksheet(rows('<c r="A1" t="str"><v>Näme</v></c>'))

ODD_PACKAGES = {
    "part names with percent signs": parts(links=links(sheet="worksheets/my%20sheet.xml"))
    | {"xl/worksheets/my%20sheet.xml": worksheet(rows(f'<c r="A1" {NAME}')).encode()},
    "part names decoded by a zip program": parts(links=links(sheet="worksheets/my%20sheet.xml"))
    | {"xl/worksheets/my sheet.xml": worksheet(rows(f'<c r="A1" {NAME}')).encode()},
    "part names with backslashes": renamed(lambda name: name.replace("/", "\\")),
    "part names in another case": renamed(
        lambda name: name.replace("sheet1", "Sheet1").replace("xl/w", "XL/w")
    ),
    "absolute targets": parts(links=links(sheet="/xl/worksheets/sheet1.xml")),
    "targets with detours": parts(links=links(sheet="../xl/./worksheets/sheet1.xml")),
    "prefixed names": parts(PREFIXED_SHEET, PREFIXED_TEXTS, workbook=PREFIXED_WORKBOOK),
    "no shared texts": {
        name: part
        for name, part in parts(
            links=links().replace(
                f'<Relationship Id="rId3" Type="{OFFICE}/sharedStrings" Target="sharedStrings.xml"/>', ""
            )
        ).items()
        if name != "xl/sharedStrings.xml"
    },
    "no styles": {
        name: part
        for name, part in parts(
            links=links().replace(f'<Relationship Id="rId2" Type="{OFFICE}/styles" Target="styles.xml"/>', "")
        ).items()
        if name != "xl/styles.xml"
    },
    "another place for the workbook": {
        name.replace("xl/", "book/"): part.replace(b"xl/", b"book/") for name, part in parts().items()
    },
    "a workbook at the top": {
        name.replace("xl/", ""): part.replace(b"/xl/", b"/").replace(b"xl/", b"")
        for name, part in parts().items()
    },
}


@pytest.mark.parametrize("entries", ODD_PACKAGES.values(), ids=ODD_PACKAGES.keys())
def test_oddly_made_package_is_read_like_any_other(tmp_path: Path, entries: dict[str, bytes]) -> None:
    path = saved(tmp_path, zipped(entries))

    read = read_workbook(path, everything)

    assert read.grids["Locomotives"].rows == [["Name"]]


@pytest.mark.parametrize(
    "sheet",
    [
        pytest.param(
            DECLARED.format("UTF-16").encode("utf-16") + SHEET.encode("utf-16-le"), id="UTF-16 with its mark"
        ),
        pytest.param((DECLARED.format("UTF-16") + SHEET).encode("utf-16-be"), id="UTF-16 without its mark"),
        pytest.param(b"\xef\xbb\xbf" + SHEET.encode(), id="UTF-8 with a mark"),
        pytest.param((DECLARED.format("ISO-8859-1") + SHEET).encode("latin-1"), id="Latin-1"),
        pytest.param((DECLARED.format("windows-1252") + SHEET).encode("cp1252"), id="Windows-1252"),
        pytest.param((DECLARED.format("utf-8") + SHEET).encode(), id="UTF-8 in small letters"),
    ],
)
def test_part_in_any_encoding_is_read(tmp_path: Path, sheet: bytes) -> None:
    path = saved(tmp_path, zipped(parts(sheet)))

    read = read_workbook(path, everything)

    assert read.grids["Locomotives"].rows == [["Näme"]]


def test_strict_workbook_is_read_and_known_as_strict(tmp_path: Path) -> None:
    sheet = worksheet(rows('<c r="A1" t="s"><v>0</v></c><c r="B1" s="1" t="d"><v>2024-02-29</v></c>'))
    entries = {name: strict(part.decode()).encode() for name, part in parts(sheet).items()}

    package = opened(saved(tmp_path, zipped(entries)))

    assert package.strict
    assert str(read_workbook(package, everything).grids["Locomotives"].rows) == (
        "[['Name', datetime.date(2024, 2, 29)]]"
    )


def stored(path: Path) -> Path:
    return saved(path, zipped(parts(), zipfile.ZIP_STORED))


def streamed(path: Path) -> Path:
    """Sizes stand behind each entry, in a data descriptor, as programs write that cannot go back."""

    class Forward:
        def __init__(self) -> None:
            self.content = b""

        def write(self, data: bytes) -> int:
            self.content += data
            return len(data)

        def flush(self) -> None:
            pass

    file = Forward()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as archive:  # type: ignore[call-overload]
        for name, part in parts().items():
            archive.writestr(name, part)
    assert file.content[6] & 8
    return saved(path, file.content)


def zip64(path: Path) -> Path:
    target = path / "club.xlsx"
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, part in parts().items():
            with archive.open(name, "w", force_zip64=True) as entry:
                entry.write(part)
    return target


def directory_zip64(path: Path) -> Path:
    """The directory itself is in the form for archives of more than 4 GB."""
    content = zipped(parts())
    end = content.rindex(b"PK\x05\x06")
    entries, size, offset = struct.unpack_from("<HII", content, end + 10)
    long_end = struct.pack("<4sQ2H2I4Q", b"PK\x06\x06", 44, 45, 45, 0, 0, entries, entries, size, offset)
    locator = struct.pack("<4sIQI", b"PK\x06\x07", 0, end, 1)
    short_end = struct.pack("<4s4H2IH", b"PK\x05\x06", 0, 0, 0xFFFF, 0xFFFF, 0xFFFFFFFF, 0xFFFFFFFF, 0)
    return saved(path, content[:end] + long_end + locator + short_end)


def with_folders(path: Path) -> Path:
    return saved(path, zipped({"xl/": b"", "xl/worksheets/": b"", **parts()}))


@pytest.mark.parametrize("made", [stored, streamed, zip64, directory_zip64, with_folders])
def test_every_kind_of_zip_archive_is_read(tmp_path: Path, made: Callable[[Path], Path]) -> None:
    path = made(tmp_path)

    read = read_workbook(path, everything)

    assert read.grids["Locomotives"].rows == [["Name"]]


def test_a_packed_part_without_content_is_read_as_empty(tmp_path: Path) -> None:
    package = opened(saved(tmp_path, zipped({**parts(), "custom/empty.bin": b""})))

    assert package.read("custom/empty.bin") == b""


def test_part_is_read_as_it_stands_and_in_utf8_on_demand(tmp_path: Path) -> None:
    sheet = DECLARED.format("UTF-16").encode("utf-16") + SHEET.encode("utf-16-le")
    package = opened(saved(tmp_path, zipped(parts(sheet))))

    assert package.read("xl/worksheets/sheet1.xml") == sheet
    assert package.xml("xl/worksheets/sheet1.xml").endswith(SHEET.encode())


def test_macro_workbook_is_known_by_its_content_type(tmp_path: Path) -> None:
    types = CONTENT_TYPES.replace(
        "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml",
        "application/vnd.ms-excel.sheet.macroEnabled.main+xml",
    )
    package = opened(saved(tmp_path, zipped(parts(types=types)), "club.xlsm"))

    assert package.macro


def test_signed_workbook_is_known_by_its_signature(tmp_path: Path) -> None:
    root = parts()["_rels/.rels"].decode()
    signed = root.replace(
        "</Relationships>",
        f'<Relationship Id="s" Type="{PACKAGE}/relationships/digital-signature/origin" '
        'Target="_xmlsignatures/o"/>'
        "</Relationships>",
    )
    package = opened(saved(tmp_path, zipped(parts(root=signed))))

    assert package.signed


def test_dates_from_1904_are_known(tmp_path: Path) -> None:
    workbook = WORKBOOK.replace("<sheets>", '<workbookPr date1904="true"/><sheets>')

    assert opened(saved(tmp_path, zipped(parts(workbook=workbook)))).date1904


def test_only_wanted_sheets_are_looked_at(tmp_path: Path) -> None:
    workbook = WORKBOOK.replace("</sheets>", '<sheet name="Broken" sheetId="2" r:id="rId4"/></sheets>')
    extra = f'<Relationship Id="rId4" Type="{OFFICE}/worksheet" Target="worksheets/sheet2.xml"/>'
    entries = parts(workbook=workbook, links=links(extra)) | {"xl/worksheets/sheet2.xml": b"no XML at all"}
    path = saved(tmp_path, zipped(entries))

    read = read_workbook(path, lambda title: title == "Locomotives")

    assert read == Workbook(name=str(path), titles=("Locomotives", "Broken"), grids=read.grids)
    assert list(read.grids) == ["Locomotives"]


def test_nothing_is_needed_where_nothing_is_wanted(tmp_path: Path) -> None:
    path = saved(tmp_path, zipped(parts("no XML at all", "no XML at all", styles="no XML at all")))

    assert read_workbook(path, lambda _: False).grids == {}


def test_texts_and_styles_with_unused_entries_do_no_harm(tmp_path: Path) -> None:
    path = saved(tmp_path, zipped(parts("", texts("<t>a</t>", "<t>b</t>"), styles=styles(0, 14, 14))))

    assert read_workbook(path, everything).grids["Locomotives"].rows == [["Name"]]

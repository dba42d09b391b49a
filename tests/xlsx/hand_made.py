"""Workbooks put together by hand, part by part, so that a test can make one part of them odd."""

import io
import zipfile
from pathlib import Path

MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
OFFICE = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
PACKAGE = "http://schemas.openxmlformats.org/package/2006"
SHEET_TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml.worksheet+xml"
WORKBOOK_TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"

NAME = 't="inlineStr"><is><t>Name</t></is></c>'

CONTENT_TYPES = (
    f'<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n<Types xmlns="{PACKAGE}/content-types">'
    '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
    '<Default Extension="xml" ContentType="application/xml"/>'
    f'<Override PartName="/xl/workbook.xml" ContentType="{WORKBOOK_TYPE}"/>'
    f'<Override PartName="/xl/worksheets/sheet1.xml" ContentType="{SHEET_TYPE}"/></Types>'
)
ROOT_LINKS = (
    f'<Relationships xmlns="{PACKAGE}/relationships">'
    f'<Relationship Id="rId1" Type="{OFFICE}/officeDocument" Target="xl/workbook.xml"/></Relationships>'
)
WORKBOOK = (
    f'<workbook xmlns="{MAIN}" xmlns:r="{OFFICE}"><sheets>'
    '<sheet name="Locomotives" sheetId="1" r:id="rId1"/></sheets></workbook>'
)
STYLE_CODES = (0, 14, 20, 46, 11, 49, 22)
"""Number formats of cell formats 0 to 6: general, date, time, duration, scientific, text, date with time."""


def links(*extra: str, sheet: str = "worksheets/sheet1.xml") -> str:
    """The workbook's relationships: its sheet, its styles, its texts and what else is given."""
    own = (
        f'<Relationship Id="rId1" Type="{OFFICE}/worksheet" Target="{sheet}"/>',
        f'<Relationship Id="rId2" Type="{OFFICE}/styles" Target="styles.xml"/>',
        f'<Relationship Id="rId3" Type="{OFFICE}/sharedStrings" Target="sharedStrings.xml"/>',
    )
    return f'<Relationships xmlns="{PACKAGE}/relationships">{"".join((*own, *extra))}</Relationships>'


def worksheet(cells: str, after: str = "") -> str:
    """A sheet's part around its rows."""
    return f'<worksheet xmlns="{MAIN}"><sheetData>{cells}</sheetData>{after}</worksheet>'


def rows(*cells: str) -> str:
    """Rows 1, 2 ... of these cells."""
    return "".join(f'<row r="{number}">{row}</row>' for number, row in enumerate(cells, 1))


def texts(*items: str) -> str:
    """The part of the shared texts with these items."""
    return f'<sst xmlns="{MAIN}">{"".join(f"<si>{item}</si>" for item in items)}</sst>'


def styles(*codes: int) -> str:
    """A styles part with a cell format for each of these built-in number formats."""
    formats = "".join(f'<xf numFmtId="{code}"/>' for code in codes)
    return f'<styleSheet xmlns="{MAIN}"><cellXfs>{formats}</cellXfs></styleSheet>'


def parts(
    sheet: str | bytes = "", strings: str | bytes = "", **changed: str | bytes | None
) -> dict[str, bytes]:
    """The parts of a small workbook.

    Args:
        sheet: Its sheet's part.
        strings: The part of its shared texts.
        changed: Other parts by a short name (types, root, workbook, links, styles); None leaves one out.
    """
    chosen: dict[str, str | bytes | None] = {
        "[Content_Types].xml": CONTENT_TYPES,
        "_rels/.rels": ROOT_LINKS,
        "xl/workbook.xml": WORKBOOK,
        "xl/_rels/workbook.xml.rels": links(),
        "xl/worksheets/sheet1.xml": sheet or worksheet(rows(f'<c r="A1" {NAME}')),
        "xl/styles.xml": styles(*STYLE_CODES),
        "xl/sharedStrings.xml": strings or texts("<t>Name</t>"),
    }
    short = {
        "types": "[Content_Types].xml",
        "root": "_rels/.rels",
        "workbook": "xl/workbook.xml",
        "links": "xl/_rels/workbook.xml.rels",
        "styles": "xl/styles.xml",
    }
    chosen.update({short[name]: part for name, part in changed.items()})
    return {
        name: part.encode() if isinstance(part, str) else part
        for name, part in chosen.items()
        if part is not None
    }


def zipped(entries: dict[str, bytes], method: int = zipfile.ZIP_DEFLATED) -> bytes:
    """The archive of these entries."""
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", method) as archive:
        for name, part in entries.items():
            archive.writestr(name, part)
    return file.getvalue()


def saved(folder: Path, content: bytes, name: str = "club.xlsx") -> Path:
    """The file of this content in a folder."""
    path = folder / name
    path.write_bytes(content)
    return path

"""The parts of a workbook file for tests: read apart, and put together anew with some of them changed."""

import struct
import zipfile
from collections.abc import Callable, Mapping
from pathlib import Path

from lxml import etree

Patch = Callable[[bytes], bytes]


def parts(path: Path) -> dict[str, bytes]:
    """Return the unpacked parts of a workbook in the order of its archive."""
    with zipfile.ZipFile(path) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def stored(path: Path) -> dict[str, tuple[int, int, bytes]]:
    """Return method, checksum and packed bytes of each entry in the order of the archive."""
    raw = path.read_bytes()
    with zipfile.ZipFile(path) as archive:
        return {
            info.filename: (info.compress_type, info.CRC, _packed(raw, info)) for info in archive.infolist()
        }


def _packed(raw: bytes, info: zipfile.ZipInfo) -> bytes:
    name, extra = struct.unpack_from("<2H", raw, info.header_offset + 26)
    begin = info.header_offset + 30 + name + extra
    return raw[begin : begin + info.compress_size]


def write(path: Path, content: Mapping[str, bytes | str]) -> None:
    """Write a workbook file from its parts."""
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in content.items():
            archive.writestr(zipfile.ZipInfo(name, (2024, 5, 17, 20, 30, 12)), data, zipfile.ZIP_DEFLATED)


def patch(path: Path, patches: Mapping[str, Patch], added: Mapping[str, bytes | str] | None = None) -> None:
    """Change some parts of a workbook file and add others."""
    content = {name: patches.get(name, _same)(data) for name, data in parts(path).items()}
    assert not set(patches) - set(content), "a part to be patched is missing"
    write(path, {**content, **(added or {})})


def _same(data: bytes) -> bytes:
    return data


def replaced(old: str, new: str) -> Patch:
    """Replace a text that must be there."""

    def patched(data: bytes) -> bytes:
        assert old.encode() in data, f"{old} is not in the part"
        return data.replace(old.encode(), new.encode(), 1)

    return patched


def before(text: str, new: str) -> Patch:
    """Put something before a text that must be there."""
    return replaced(text, new + text)


def declared(*overrides: tuple[str, str]) -> Patch:
    """Add content types."""
    return before(
        "</Types>",
        "".join(f'<Override PartName="/{part}" ContentType="{kind}"/>' for part, kind in overrides),
    )


def related(*links: tuple[str, str, str]) -> Patch:
    """Add relationships: id, type and target."""
    new = "".join(
        f'<Relationship Id="{name}" Type="{kind}" Target="{target}"/>' for name, kind, target in links
    )
    return before("</Relationships>", new)


def relationships(*links: tuple[str, str, str]) -> bytes:
    """Make a relationships part."""
    namespace = "http://schemas.openxmlformats.org/package/2006/relationships"
    return related(*links)(
        f'<?xml version="1.0"?><Relationships xmlns="{namespace}"></Relationships>'.encode()
    )


def cells(data: bytes) -> dict[str, bytes]:
    """Return the markup of each cell of a worksheet's part by its reference."""
    found: dict[str, bytes] = {}
    for row_number, row in enumerate(etree.fromstring(data).iterfind("{*}sheetData/{*}row"), start=1):
        for column, cell in enumerate(row.iterfind("{*}c"), start=1):
            found[cell.get("r") or f"R{row_number}C{column}"] = etree.tostring(cell, with_tail=False)
    return found


def element(data: bytes, name: str) -> etree._Element:
    """Find an element by its name without namespace; it must be there."""
    found = etree.fromstring(data).find(f".//{{*}}{name}")
    assert found is not None, f"no {name}"
    return found


def elements(data: bytes, name: str) -> list[etree._Element]:
    """Return all elements of a name without namespace."""
    return list(etree.fromstring(data).iterfind(f".//{{*}}{name}"))

"""Writes a workbook's zip archive anew: untouched entries as the packed bytes they are, in their order."""

import io
import struct
import zipfile
import zlib
from collections.abc import Iterator
from dataclasses import dataclass

from rosterkit.xlsx.package.errors import REPAIR
from rosterkit.xlsx.package.packing import deflated
from rosterkit.xlsx.patch.draft import Draft
from rosterkit.xlsx.patch.refusal import unwritable

_LOCAL = struct.Struct("<4s5H3L2H")
_CENTRAL = struct.Struct("<4s4B4H3L5H2L")
_END = struct.Struct("<4s4H2LH")
_EXTRA = struct.Struct("<2H")
_ZIP64 = 1
_SIZES_BEHIND = 0x08
_UTF8_NAME = 0x800
_EARLIEST = (1980, 1, 1, 0, 0, 0)
"""The date of entries that are written anew, always the same, so that the same change gives the same file."""
_LARGEST = 0xFFFFFFFE


@dataclass(frozen=True, slots=True, kw_only=True)
class _Entry:
    info: zipfile.ZipInfo
    name: bytes
    local_extra: bytes
    content: bytes | memoryview


def zipped(draft: Draft) -> bytes:
    """Return the file that a draft describes.

    Raises:
        CannotRunError: it would be larger than an archive of this kind can be (4 GB).
    """
    pieces: list[bytes | memoryview] = []
    directory: list[bytes] = []
    offset = 0
    with zipfile.ZipFile(io.BytesIO(draft.package.raw)) as source:
        comment = source.comment
        for entry in _entries(draft, source.infolist()):
            head = _local_header(entry)
            directory.append(_directory_entry(entry, offset))
            pieces += (head, entry.content)
            offset += len(head) + len(entry.content)
            if offset > _LARGEST:
                raise unwritable(draft.package.name, "it would be larger than 4 GB", "Split the workbook.")
    whole = b"".join(directory)
    count = len(directory)
    end = _END.pack(b"PK\5\6", 0, 0, count, count, len(whole), offset, len(comment))
    return b"".join([*pieces, whole, end, comment])


def _entries(draft: Draft, infos: list[zipfile.ZipInfo]) -> Iterator[_Entry]:
    known: set[str] = set()
    for info in infos:
        known.add(info.filename)
        if info.filename in draft.written:
            name = info.filename
            yield _written(name, draft.written[name], info.compress_type, info.flag_bits & _UTF8_NAME)
        elif info.filename not in draft.removed:
            yield _copied(draft, info)
    for name, data in draft.written.items():
        if name not in known:
            yield _written(name, data, zipfile.ZIP_DEFLATED, 0 if name.isascii() else _UTF8_NAME)


def _written(name: str, data: bytes, method: int, flags: int) -> _Entry:
    info = zipfile.ZipInfo(name, _EARLIEST)
    content = deflated(data) if method == zipfile.ZIP_DEFLATED else data
    info.compress_type, info.flag_bits, info.create_system = method, flags, 0
    info.file_size, info.compress_size, info.CRC = len(data), len(content), zlib.crc32(data)
    return _Entry(
        info=info, name=name.encode("utf-8" if flags else "cp437"), local_extra=b"", content=content
    )


def _copied(draft: Draft, info: zipfile.ZipInfo) -> _Entry:
    raw = draft.package.raw
    fields = _LOCAL.unpack_from(raw, info.header_offset)
    begin = info.header_offset + _LOCAL.size
    extra = begin + fields[-2]
    name = info.orig_filename.encode("utf-8" if info.flag_bits & _UTF8_NAME else "cp437")
    if fields[0] != b"PK\3\4" or raw[begin:extra] != name:
        raise unwritable(draft.package.name, "its zip archive is damaged", REPAIR)
    content = extra + fields[-1]
    return _Entry(
        info=info,
        name=name,
        local_extra=_without_zip64(raw[extra:content]),
        content=memoryview(raw)[content : content + info.compress_size],
    )


def _without_zip64(extra: bytes) -> bytes:
    """Drop the field for sizes over 4 GB, which are in their usual places now, and what cannot be read."""
    kept = b""
    place = 0
    while place + _EXTRA.size <= len(extra):
        kind, length = _EXTRA.unpack_from(extra, place)
        end = place + _EXTRA.size + length
        if end > len(extra):
            break
        if kind != _ZIP64:
            kept += extra[place:end]
        place = end
    return kept


def _moment(info: zipfile.ZipInfo) -> tuple[int, int]:
    year, month, day, hour, minute, second = info.date_time
    return hour << 11 | minute << 5 | second // 2, (year - 1980) << 9 | month << 5 | day


def _sizes(entry: _Entry) -> tuple[int, int, int, int, int]:
    info = entry.info
    return info.flag_bits & ~_SIZES_BEHIND, info.compress_type, info.CRC, info.compress_size, info.file_size


def _local_header(entry: _Entry) -> bytes:
    flags, method, checksum, packed, size = _sizes(entry)
    needed = entry.info.extract_version
    name, extra = entry.name, entry.local_extra
    lengths = (len(name), len(extra))
    head = _LOCAL.pack(
        b"PK\3\4", needed, flags, method, *_moment(entry.info), checksum, packed, size, *lengths
    )
    return head + name + extra


def _directory_entry(entry: _Entry, offset: int) -> bytes:
    info = entry.info
    flags, method, checksum, packed, size = _sizes(entry)
    extra = _without_zip64(info.extra)
    head = _CENTRAL.pack(
        b"PK\1\2",
        info.create_version,
        info.create_system,
        info.extract_version,
        info.reserved,
        flags,
        method,
        *_moment(info),
        checksum,
        packed,
        size,
        len(entry.name),
        len(extra),
        len(info.comment),
        0,
        info.internal_attr,
        info.external_attr,
        offset,
    )
    return head + entry.name + extra + info.comment

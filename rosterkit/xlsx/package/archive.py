"""The zip archive that a workbook is: its directory is checked, its entries are unpacked without trust."""

import io
import struct
import zipfile
import zlib
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import lru_cache
from urllib.parse import unquote

from rosterkit.xlsx.package import limits
from rosterkit.xlsx.package.errors import FETCH_AGAIN, SMALLER, shown, unreadable

LOCAL_HEADER = struct.Struct("<4s5H3I2H")
_ENCRYPTED = 0x1
_SPLIT = "Remove what the roster does not need, or split the workbook."
_DIRECTORY_ERRORS = (zipfile.BadZipFile, struct.error, ValueError, NotImplementedError, EOFError, OSError)


@lru_cache(maxsize=4096)
def plain(name: str) -> str:
    """Return an entry's name as names are compared: slashes forward, case ignored."""
    return name.replace("\\", "/").casefold()


@dataclass(frozen=True, slots=True, kw_only=True)
class Archive:
    """The entries of one workbook file, in the order of its directory."""

    name: str
    """The workbook, as messages call it."""
    raw: bytes
    infos: dict[str, zipfile.ZipInfo]
    _kept: dict[str, bytes] = field(default_factory=dict)

    def packed(self, name: str) -> bytes:
        """Return an entry's content as stored; CannotRunError if its header does not fit the directory."""
        info = self.infos[name]
        start = info.header_offset
        try:
            signature, *_, named, extra = LOCAL_HEADER.unpack_from(self.raw, start)
        except struct.error:
            signature = b""
        if signature != b"PK\x03\x04":
            raise unreadable(self.name, f"its part {shown(name)} is not where it should be", FETCH_AGAIN)
        begin = start + LOCAL_HEADER.size + named + extra
        content = self.raw[begin : begin + info.compress_size]
        if len(content) != info.compress_size:
            raise unreadable(self.name, f"its part {shown(name)} is cut short", FETCH_AGAIN)
        return content

    def read(self, name: str, largest: int = limits.MAX_PART_BYTES) -> bytes:
        """Unpack an entry; its size and checksum are those that the directory states.

        CannotRunError if the entry is damaged, or larger than ``largest`` bytes.
        """
        kept = self._kept.get(name)
        if kept is None:
            if self.infos[name].file_size > largest:
                why = f"its part {shown(name)} is larger than {largest // limits.MIB} MB when unpacked"
                raise unreadable(self.name, why, _SPLIT)
            kept = self._kept[name] = b"".join(self._unpacked(name))
            # Those that were kept first go until the rest, but for this one, is small enough.
            size = sum(map(len, self._kept.values()))
            while size > limits.KEPT_BYTES and len(self._kept) > 1:
                size -= len(self._kept.pop(next(iter(self._kept))))
        return kept

    def beginning(self, name: str, size: int) -> bytes:
        """Return up to so many first bytes of an entry, unpacked no further; unchecked, unlike ``read``.

        CannotRunError if its header does not fit the directory.
        """
        kept = self._kept.get(name)
        if kept is None:
            try:
                kept = next(_pieces(self.packed(name), self.infos[name], size), b"")
            except zlib.error:
                return b""
        return kept[:size]

    def forget(self, name: str) -> None:
        """Let an unpacked entry go; it can be unpacked again."""
        self._kept.pop(name, None)

    def check(self) -> None:
        """Unpack every entry once, to meet damage (CannotRunError) before any work is done."""
        room = limits.KEPT_BYTES
        for name, info in self.infos.items():
            if info.file_size <= room:
                self._kept[name] = b"".join(self._unpacked(name))
                room -= info.file_size
            else:
                for _ in self._unpacked(name, limits.MIB):
                    pass

    def _unpacked(self, name: str, step: int = 0) -> Iterator[bytes]:
        """Unpack an entry in pieces of ``step`` bytes, or in one piece (0)."""
        info = self.infos[name]
        size = checksum = 0
        try:
            for piece in _pieces(self.packed(name), info, step or info.file_size + 1):
                size += len(piece)
                if size > info.file_size:
                    break
                checksum = zlib.crc32(piece, checksum)
                yield piece
        except zlib.error:
            size = -1
        if size != info.file_size or checksum != info.CRC:
            raise unreadable(self.name, f"its part {shown(name)} is damaged (wrong checksum)", FETCH_AGAIN)


def _pieces(content: bytes, info: zipfile.ZipInfo, step: int) -> Iterator[bytes]:
    if info.compress_type == zipfile.ZIP_STORED:
        yield content
        return
    unpacker = zlib.decompressobj(-zlib.MAX_WBITS)
    rest = content
    while not unpacker.eof:
        piece = unpacker.decompress(rest, step)
        rest = unpacker.unconsumed_tail
        if not piece and not rest and not unpacker.eof:
            raise zlib.error
        yield piece


def archive(name: str, raw: bytes) -> Archive:
    """Read the directory of the zip archive that a workbook of this name is; refuse what no workbook has.

    CannotRunError if the archive is cut short, damaged, ambiguous, encrypted or too large.
    """
    try:
        with zipfile.ZipFile(io.BytesIO(raw)) as opened:
            entries = opened.infolist()
    except _DIRECTORY_ERRORS:
        raise unreadable(name, "the file is damaged or only half copied", FETCH_AGAIN) from None
    files = [info for info in entries if not info.filename.endswith("/")]
    _refuse_too_much(name, files)
    for info in files:
        _refuse_entry(name, info)
    seen: set[str] = set()
    for info in files:
        if plain(info.filename) in seen:
            raise unreadable(name, f"it holds its part {shown(info.filename)} twice")
        seen.add(plain(info.filename))
    return Archive(name=name, raw=raw, infos={info.filename: info for info in files})


def _refuse_too_much(name: str, files: list[zipfile.ZipInfo]) -> None:
    if len(files) > limits.MAX_PARTS:
        raise unreadable(name, f"it holds more than {limits.MAX_PARTS:,} parts")
    if sum(info.file_size for info in files) > limits.MAX_TOTAL_BYTES:
        why = f"it is larger than {limits.MAX_TOTAL_BYTES // limits.MIB} MB when unpacked"
        raise unreadable(name, why, SMALLER)


def _refuse_entry(name: str, info: zipfile.ZipInfo) -> None:
    entry = info.orig_filename
    steps = unquote(entry).replace("\\", "/").split("/")
    if ".." in steps or "" in steps or ":" in steps[0] or "\x00" in entry:
        raise unreadable(name, f"it holds a part with the unsafe name {shown(entry)}")
    if info.flag_bits & _ENCRYPTED:
        fix = "Save it again as an .xlsx workbook without a password."
        raise unreadable(name, "parts of it are encrypted", fix)
    if info.compress_type not in {zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED}:
        raise unreadable(name, f"its part {shown(entry)} is packed in a way that workbooks do not use")
    tight = info.file_size > limits.MAX_RATIO * max(info.compress_size, 1)
    if info.file_size > limits.MAX_PART_BYTES or (tight and info.file_size > limits.FREE_RATIO_BYTES):
        why = f"its part {shown(entry)} unpacks to {info.file_size // limits.MIB} MB"
        raise unreadable(name, why, _SPLIT)

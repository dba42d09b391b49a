"""Damage to the file as bytes and as the archive that it is."""

import io
import random
import struct
import zipfile
from collections.abc import Callable, Mapping

Mutation = Callable[[random.Random, bytes], bytes]

_NUMBERS = (0, 1, 8, 20, 0x7F, 0x80, 0xFF, 0xFFFF, 0x7FFFFFFF, 0xFFFFFFFF)
_RECORDS = {
    b"PK\x03\x04": {4: 2, 6: 2, 8: 2, 10: 2, 14: 4, 18: 4, 22: 4, 26: 2, 28: 2},
    b"PK\x01\x02": {6: 2, 8: 2, 10: 2, 16: 4, 20: 4, 24: 4, 28: 2, 30: 2, 32: 2, 34: 2, 38: 4, 42: 4},
    b"PK\x05\x06": {4: 2, 6: 2, 8: 2, 10: 2, 12: 4, 16: 4, 20: 2},
}
"""The fields of an archive's records: offset within the record, and length in bytes (APPNOTE.TXT 4.3)."""


def entries_of(content: bytes) -> list[tuple[str, bytes]]:
    """Return the unpacked parts in the order of the archive."""
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        return [(info.filename, archive.read(info)) for info in archive.infolist()]


def zipped(entries: list[tuple[str, bytes]]) -> bytes:
    """Return an archive of these parts."""
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, part in entries:
            archive.writestr(zipfile.ZipInfo(name), part, zipfile.ZIP_DEFLATED)
    return file.getvalue()


def bits(chance: random.Random, content: bytes) -> bytes:
    changed = bytearray(content)
    for _ in range(chance.choice((1, 1, 2, 8))):
        changed[chance.randrange(len(changed))] ^= 1 << chance.randrange(8)
    return bytes(changed)


def stretch(chance: random.Random, content: bytes) -> bytes:
    changed = bytearray(content)
    at = chance.randrange(len(changed))
    end = min(len(changed), at + chance.choice((1, 2, 4, 64, 1024)))
    match chance.randrange(3):
        case 0:
            changed[at:end] = chance.randbytes(end - at)
        case 1:
            del changed[at:end]
        case _:
            changed[at:at] = changed[at:end]
    return bytes(changed)


def cut(chance: random.Random, content: bytes) -> bytes:
    return content[: chance.randrange(len(content))]


def surrounded(chance: random.Random, content: bytes) -> bytes:
    noise = chance.randbytes(chance.choice((1, 22, 500)))
    return noise + content if chance.random() < 0.5 else content + noise


def record_field(chance: random.Random, content: bytes) -> bytes:
    changed = bytearray(content)
    for _ in range(chance.choice((1, 1, 2, 4))):
        signature = chance.choice(list(_RECORDS))
        places = [at for at in range(len(content)) if content.startswith(signature, at)]
        if not places:
            continue
        offset, length = chance.choice(list(_RECORDS[signature].items()))
        at = chance.choice(places) + offset
        number = chance.choice((*_NUMBERS, chance.randrange(1 << 16))) & ((1 << 8 * length) - 1)
        changed[at : at + length] = struct.pack("<I", number)[:length]
    return bytes(changed)


def part_removed(chance: random.Random, content: bytes) -> bytes:
    entries = entries_of(content)
    del entries[chance.randrange(len(entries))]
    return zipped(entries)


def part_renamed(chance: random.Random, content: bytes) -> bytes:
    entries = entries_of(content)
    at = chance.randrange(len(entries))
    name, part = entries[at]
    other = chance.choice((name.upper(), "../x", "x\\y", "xl/%41.xml", f"/{name}", f"{name}/", "", "é.xml"))
    entries[at] = (other, part)
    return zipped(entries)


def part_doubled(chance: random.Random, content: bytes) -> bytes:
    entries = entries_of(content)
    name, part = chance.choice(entries)
    entries.append((name if chance.random() < 0.5 else name.upper(), part))
    return zipped(entries)


def part_exchanged(chance: random.Random, content: bytes) -> bytes:
    entries = entries_of(content)
    at, other = chance.randrange(len(entries)), chance.randrange(len(entries))
    entries[at], entries[other] = (entries[at][0], entries[other][1]), (entries[other][0], entries[at][1])
    return zipped(entries)


def part_replaced(chance: random.Random, content: bytes) -> bytes:
    entries = entries_of(content)
    at = chance.randrange(len(entries))
    entries[at] = (entries[at][0], chance.choice((b"", b"<a/>", b"\xef\xbb\xbf", chance.randbytes(50))))
    return zipped(entries)


ARCHIVE: Mapping[str, Mutation] = {
    "bits of the file flipped": bits,
    "a stretch of the file gone, doubled or noise": stretch,
    "the file cut off": cut,
    "noise before or behind the file": surrounded,
    "a field of the archive's records": record_field,
    "a part removed": part_removed,
    "a part renamed": part_renamed,
    "a part doubled": part_doubled,
    "two parts exchanged": part_exchanged,
    "a part's content replaced": part_replaced,
}
"""Damage to the archive, by what it is."""

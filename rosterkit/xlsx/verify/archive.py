"""Verifies the zip archive: what nobody wrote is stored in the bytes that it was stored in."""

import io
import struct
import zipfile
from collections.abc import Collection

from rosterkit.xlsx.package.errors import shown
from rosterkit.xlsx.verify.remainder import VerificationError

_END = struct.Struct("<4s4H2LH")


def verify_archive(
    old: bytes, new: bytes, archive: zipfile.ZipFile, written: Collection[str], removed: Collection[str]
) -> None:
    """Demand the same entries in their order, new ones behind them, and no byte that belongs to none.

    Args:
        old: The file before.
        new: The file after.
        archive: The file after, opened.
        written: The entries that may differ or be new.
        removed: The entries that are to be gone.

    Raises:
        VerificationError: anything else differs.
    """
    with zipfile.ZipFile(io.BytesIO(old)) as before:
        kept = [name for name in before.namelist() if name not in removed]
        after = archive.namelist()
        if after[: len(kept)] != kept or sorted(after[len(kept) :]) != sorted(set(written) - set(kept)):
            raise VerificationError("the parts are not the same")
        place = 0
        for info in archive.infolist():
            begin, end = _extent(new, info)
            if info.header_offset != place:
                raise VerificationError("something lies between the parts")
            if info.filename not in written:
                known = before.getinfo(info.filename)
                first, last = _extent(old, known)
                if _stated(known) != _stated(info) or old[first:last] != new[begin:end]:
                    raise VerificationError(f"the part {shown(info.filename)} is not the same")
            with archive.open(info):  # compares the two headers of the entry
                place = end
        end_of_file = len(new) - _END.size - len(before.comment)
        tail = _END.unpack_from(new, end_of_file) if end_of_file > place else ()
        # The directory begins where the last entry ends, and ends where the record of its end begins.
        if tail[5:7] != (end_of_file - place, place) or archive.comment != before.comment:
            raise VerificationError("something lies behind the parts")


def _extent(data: bytes, info: zipfile.ZipInfo) -> tuple[int, int]:
    """Return where the stored bytes of an entry begin and end, by its own header."""
    name, extra = struct.unpack_from("<2H", data, info.header_offset + 26)
    begin = info.header_offset + 30 + name + extra
    return begin, begin + info.compress_size


def _stated(info: zipfile.ZipInfo) -> tuple[object, ...]:
    return info.CRC, info.file_size, info.compress_type, info.date_time, info.external_attr, info.comment

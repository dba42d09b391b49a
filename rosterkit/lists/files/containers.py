"""Streams in the compound files that .xls workbooks are ([MS-CFB], the published specification of them)."""

import struct
from collections.abc import Iterator
from itertools import pairwise

_HEADER = 512
_ENTRY = 128
_LAST = 0xFFFFFFFA
"""Numbers of sectors end before it; those above it mark the ends of chains and free sectors."""
_IN_HEADER = 109
"""Sectors of the table that the header itself lists."""
_ROOT, _STREAM = 5, 2
"""Kinds of entries of the directory."""


class ContainerError(Exception):
    """A file is no compound file, or a damaged one."""


class EndlessError(ContainerError):
    """A chain of sectors goes round in a circle."""


def stream(raw: bytes, *names: str) -> bytes:
    """Return the content of the first stream that has one of the names, whatever their case.

    Raises:
        ContainerError: there is none, or the file is damaged.
    """
    try:
        return _Container(raw).stream(tuple(name.casefold() for name in names))
    except struct.error:
        raise ContainerError("the compound file is cut short") from None


class _Container:
    def __init__(self, raw: bytes) -> None:
        self._raw = raw
        sector, mini = struct.unpack_from("<HH", raw, 30)
        if sector not in {9, 12} or not 4 <= mini < sector:
            raise ContainerError("the sizes of its sectors are none")
        self._size, self._mini_size = 1 << sector, 1 << mini
        self._directory, self._cutoff, self._first_mini = struct.unpack_from("<I4xII", raw, 48)
        self._table = self._allocation()

    def _sector(self, number: int) -> bytes:
        begin = (number + 1) * self._size
        return self._raw[begin : begin + self._size]

    def _numbers(self, sector: bytes) -> tuple[int, ...]:
        return struct.unpack(f"<{len(sector) // 4}I", sector[: len(sector) // 4 * 4])

    def _allocation(self) -> list[int]:
        """Return the table that says of each sector which one follows."""
        further, count = struct.unpack_from("<II", self._raw, 68)
        listed = list(struct.unpack_from(f"<{_IN_HEADER}I", self._raw, 76))
        most = len(self._raw) // self._size + 1
        for _ in range(min(count, most)):
            numbers = self._numbers(self._sector(further))
            if not numbers:
                break
            listed += numbers[:-1]
            further = numbers[-1]
        table: list[int] = []
        for number in listed[:most]:
            if number < _LAST:
                table += self._numbers(self._sector(number))
        return table

    def _chain(self, first: int, table: list[int]) -> Iterator[int]:
        for _ in range(len(table) + 1):
            if first >= _LAST:
                return
            if first >= len(table):
                raise ContainerError("a chain of its sectors leads nowhere")
            yield first
            first = table[first]
        raise EndlessError("a chain of its sectors goes round in a circle")

    def _content(self, first: int) -> bytes:
        return b"".join(self._sector(number) for number in self._chain(first, self._table))

    def stream(self, names: tuple[str, ...]) -> bytes:
        directory = self._content(self._directory)
        found: dict[str, tuple[int, int]] = {}
        root = 0
        for begin, end in pairwise(range(0, len(directory) + 1, _ENTRY)):
            entry = directory[begin:end]
            length, kind = struct.unpack_from("<HB", entry, 64)
            first, size = struct.unpack_from("<II", entry, 116)
            if kind == _ROOT:
                root = first
            elif kind == _STREAM:
                name = entry[: max(0, min(length, 64) - 2)].decode("utf-16-le", "replace")
                found.setdefault(name.casefold(), (first, size))
        first, size = next((found[name] for name in names if name in found), (0, -1))
        if size < 0:
            raise ContainerError("it has no stream of that name")
        if size >= self._cutoff:
            return self._content(first)[:size]
        return self._small(first, root)[:size]

    def _small(self, first: int, root: int) -> bytes:
        """Return a small stream, of which several share the sectors of the root's."""
        shared, step = self._content(root), self._mini_size
        table = list(self._numbers(self._content(self._first_mini)))
        return b"".join(shared[number * step : (number + 1) * step] for number in self._chain(first, table))

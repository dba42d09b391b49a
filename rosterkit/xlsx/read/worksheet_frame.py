"""What a sheet's part holds around its cells; they are left out here, since they are nearly all of it."""

from dataclasses import dataclass

from rosterkit.xlsx.grid import MergedRange
from rosterkit.xlsx.package import limits
from rosterkit.xlsx.package.cache import cached
from rosterkit.xlsx.package.markup import MarkupError, TooMuchError, elements
from rosterkit.xlsx.xml.references import merged

_OPEN = b"<sheetData>"
_CLOSE = b"</sheetData>"
_NONE = b"<sheetData/>"
_CELLS = {"sheetData", "row", "c", "v", "f", "is"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """Where in the part the cells begin and end, and the ranges that are merged."""

    begin: int
    end: int
    merged: tuple[MergedRange, ...]


def add_merged(ranges: list[MergedRange], attributes: dict[str, str]) -> None:
    """Add the range of a mergeCell element; MarkupError if it is no range, or there are too many."""
    if len(ranges) == limits.MAX_MERGED:
        raise TooMuchError(f"merges more than {limits.MAX_MERGED:,} ranges")
    ranges.append(merged(attributes.get("ref", "")))


def frame(data: bytes) -> Frame | None:
    """Look at a sheet's part in UTF-8 without its cells; None if it is not spelt in the canonical way.

    MarkupError if the part is no worksheet, or merges what cannot be merged.
    """
    cut = _cut(data)
    if cut is None:
        return None
    outside = around(data)
    ranges = None if b"<!" in outside else _merged(outside)
    return None if ranges is None else Frame(begin=cut[1], end=cut[2], merged=ranges)


@cached
def _merged(outside: bytes) -> tuple[MergedRange, ...] | None:
    """Return the merged ranges of a part without its cells; None if there are cells all the same."""
    ranges: list[MergedRange] = []
    cells: list[str] = []
    namespace = ""
    for name, kind, within, stated in elements(outside):
        if not within:
            if kind != "worksheet":
                raise MarkupError("is no worksheet")
            namespace = name.removesuffix(kind)
        elif kind in _CELLS and name == namespace + kind:
            cells.append(kind)
        elif kind == "mergeCell":
            add_merged(ranges, stated)
    # Cells beside the cells are for the slow reader to judge.
    return tuple(ranges) if cells == ["sheetData"] else None


def around(data: bytes) -> bytes:
    """Return a sheet's part in UTF-8 without its cells; with them if it is not spelt in the canonical way.

    MarkupError if it is too large.
    """
    cut = _cut(data)
    outside = data[: cut[0]] + _NONE + data[cut[3] :] if cut else data
    if len(outside) > limits.MAX_STRUCTURE_BYTES:
        raise TooMuchError(f"holds more than {limits.MAX_STRUCTURE_BYTES // limits.MIB} MB beside its cells")
    return outside


def _cut(data: bytes) -> tuple[int, int, int, int] | None:
    """Return the places where the element of the cells begins, its content begins and ends, and it ends."""
    before = data.find(_OPEN)
    if before >= 0:
        end = data.rfind(_CLOSE)
        return (before, before + len(_OPEN), end, end + len(_CLOSE)) if end > before else None
    before = data.find(_NONE)
    return (before, before, before, before + len(_NONE)) if before >= 0 else None

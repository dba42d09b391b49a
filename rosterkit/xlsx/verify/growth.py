"""Verifies how filters, tables and what they sort grew: with the list that they lie over, and no further."""

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from rosterkit.xlsx.changes import SheetChange
from rosterkit.xlsx.verify.claims import Cells
from rosterkit.xlsx.verify.remainder import VerificationError
from rosterkit.xlsx.xml.areas import Area, area_or_none
from rosterkit.xlsx.xml.outline import Element
from rosterkit.xlsx.xml.values import Value, blank

DEPTH = 6
"""Levels of a part down to the last conditions of a sort, which stand in the extension of another."""
_SORTED = {"sortState", "sortCondition"}
_TRUE = {"1", "true"}


@dataclass(frozen=True, slots=True, kw_only=True)
class Growth:
    """How a list was to grow."""

    heading: tuple[int, int]
    """Row and column of one of its headings; no cell if nothing was to grow."""
    last_row: int
    """The last row that was to be added below it; 0 if none was."""
    headings: Mapping[int, Value]
    """By their columns: what was to be written into its heading row."""
    apart: Collection[Area]
    """The tables of the sheet, or its others, which nothing may grow into."""

    @classmethod
    def of(cls, change: SheetChange, cells: Cells, apart: Collection[Area]) -> "Growth":
        """Take it from what was to change in a sheet, its cells by row and column, and its tables."""
        heading = change.heading or (0, 0)
        headings = {column: wanted.value for column, wanted in cells.get(heading[0], {}).items()}
        return cls(heading=heading, last_row=change.last_row, headings=headings, apart=apart)

    def allows(self, known: Area, wide: Area) -> bool:
        """Tell whether an area stayed, or lies over the list and reaches over its new headings and rows."""
        if known == wide:
            return True
        if any(one.meets(wide) and not one.meets(known) for one in self.apart):
            return False
        headed = self.heading[0] == known.top and known.holds(*self.heading)
        placed = (known.top, known.left) == (wide.top, wide.left) and known.right <= wide.right
        low = wide.bottom in {known.bottom, max(known.bottom, self.last_row)}
        new = range(known.right + 1, wide.right + 1)
        return headed and placed and low and not any(blank(self.headings.get(column)) for column in new)

    def filtered(self, root: Element) -> Area | None:
        """Return the cells under a sheet's own filter, or else those sorted last and their headings."""
        filtered, state = (
            area_or_none(one.attributes.get("ref")) if one else None
            for one in (root.child("autoFilter"), root.child("sortState"))
        )
        if filtered is None and state is not None and state.top == self.heading[0] + 1:
            return replace(state, top=self.heading[0])
        return filtered or state


def sorts(elements: Iterable[Element]) -> Iterator[Element]:
    """Return what is said of sorting in some elements, in its order."""
    for element in elements:
        if element.name in _SORTED:
            yield element
        yield from sorts(element.children)


def verify_sorts(before: Iterable[Element], after: Iterable[Element], known: Area, wide: Area) -> None:
    """Demand that what was sorted as far as an area reached does so still.

    Sorted again, it would tear rows apart otherwise. What was sorted from left to right stays.

    Args:
        before: What was said of sorting.
        after: What is said of it.
        known: The area before.
        wide: The area after.

    Raises:
        VerificationError: it reaches less far or further.
    """
    wanted: list[str | None] = []
    by_rows = False
    for one in before:
        ref = one.attributes.get("ref")
        where = area_or_none(ref)
        if one.name == "sortState":
            by_rows = one.attributes.get("columnSort") not in _TRUE
        if where is not None and by_rows:
            bottom = wide.bottom if where.bottom == known.bottom else where.bottom
            whole = one.name == "sortState" and where.right == known.right
            follows = replace(where, bottom=bottom, right=wide.right if whole else where.right)
            ref = ref if follows == where else str(follows)
        wanted.append(ref)
    if wanted != [one.attributes.get("ref") for one in after]:
        raise VerificationError("what was sorted changed")

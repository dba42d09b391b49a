"""The cells that formulas refer to, and what is looked up in ranges of them, counted once for each range."""

from bisect import bisect_right
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import NamedTuple, Protocol, TypeGuard, TypeVar
from weakref import WeakKeyDictionary

from rosterkit.formulas.values import UNSURE, Content, Fault, FormulaError, loosely, may_be_number

_Key = TypeVar("_Key")

Scalar = Callable[["Cells", int], Content]
"""A part of a formula: its value for some cells, as if it stood in a row."""


class Cells(Protocol):
    """The cells of a workbook, or some of them.

    They must not change while formulas are calculated from them: what was counted in a range is kept for as
    long as the object lives. A sheet that is not there holds UNSURE in every cell.
    """

    def value(self, sheet: str, row: int, column: int) -> Content:
        """Return what a cell holds; titles are the same in any case, rows and columns count from 1."""

    def block(self, sheet: str, top: int, left: int, bottom: int, right: int) -> Sequence[Sequence[Content]]:
        """Return the rows of cells from top to bottom, each from left to right, both ends included."""


class Span(NamedTuple):
    """A range of cells on a sheet, both ends included."""

    sheet: str
    top: int
    left: int
    bottom: int
    right: int


def _is_number(value: Content) -> TypeGuard[float]:
    return isinstance(value, int | float) and not isinstance(value, bool)


class RangeContent:
    """What a range holds, with everything that functions look up in it."""

    def __init__(self, rows: Sequence[Sequence[Content]]) -> None:
        self.height = len(rows)
        self.width = len(rows[0])
        self.values: list[Content] = [value for row in rows for value in row]

    @cached_property
    def numbers(self) -> list[float]:
        """The numbers in their order; truth values are none."""
        return [value for value in self.values if _is_number(value)]

    @cached_property
    def in_order(self) -> list[float]:
        """The numbers from the smallest."""
        return sorted(self.numbers)

    @cached_property
    def number_counts(self) -> Counter[float]:
        """How often each number stands there."""
        return Counter(self.numbers)

    @cached_property
    def text_counts(self) -> Counter[str]:
        """How often each text stands there, in small letters."""
        return Counter(value.lower() for value in self.values if isinstance(value, str))

    @cached_property
    def loose_texts(self) -> Mapping[str, set[str]]:
        """The texts in small letters by those that some program takes for equal to them."""
        found: dict[str, set[str]] = {}
        for one in self.text_counts:
            found.setdefault(loosely(one), set()).add(one)
        return found

    def text(self, wanted: str) -> str:
        """Return the key of a text in the counts; Fault UNSURE if programs differ on what equals it."""
        small = wanted.lower()
        if self.loose_texts.get(loosely(small), {small}) != {small}:
            raise Fault(UNSURE)
        return small

    @cached_property
    def doubtful_texts(self) -> list[str]:
        """The texts that some program may take for a number, without blanks round them."""
        return [one.strip() for one in self.text_counts if may_be_number(one)]

    @cached_property
    def blanks(self) -> int:
        """How many cells are blank."""
        return self.values.count(None)

    @cached_property
    def has_truth(self) -> bool:
        """Whether a truth value stands there."""
        return any(value is True or value is False for value in self.values)

    @cached_property
    def error(self) -> FormulaError | None:
        """The first error in it."""
        return next((value for value in self.values if isinstance(value, FormulaError)), None)

    @cached_property
    def is_unsure(self) -> bool:
        """Whether it holds a value that programs differ on."""
        return UNSURE in self.values

    @cached_property
    def first_numbers(self) -> dict[float, int]:
        """The position, from 1, at which each number stands first."""
        return _first((at, value) for at, value in enumerate(self.values, 1) if _is_number(value))

    @cached_property
    def first_texts(self) -> dict[str, int]:
        """The position, from 1, at which each text stands first, in small letters."""
        texts = ((at, value) for at, value in enumerate(self.values, 1) if isinstance(value, str))
        return _first((at, value.lower()) for at, value in texts)

    @cached_property
    def ascending(self) -> "Ascending | None":
        """Its numbers, if they ascend without other values between them, else None."""
        places = [at for at, value in enumerate(self.values) if _is_number(value)]
        if not places or places[-1] - places[0] + 1 != len(places) or self.has_truth or self.error:
            return None
        found = self.numbers
        ascends = all(one <= after for one, after in pairwise(found))
        return Ascending(places[0], found) if ascends else None


@dataclass(frozen=True, slots=True)
class Ascending:
    """Numbers that ascend, after so many cells without one."""

    before: int
    numbers: Sequence[float]

    def position(self, wanted: float) -> int:
        """Return the position in the range of the last number up to the one wanted, 0 if there is none."""
        place = bisect_right(self.numbers, wanted)
        return place and self.before + place


def _first(found: Iterator[tuple[int, _Key]]) -> dict[_Key, int]:
    places: dict[_Key, int] = {}
    for at, value in found:
        places.setdefault(value, at)
    return places


_RANGES: WeakKeyDictionary[Cells, dict[Span, RangeContent]] = WeakKeyDictionary()


def content(cells: Cells, span: Span) -> RangeContent:
    """Return what a range holds, looked through once for each object of cells."""
    known = _RANGES.get(cells)
    if known is None:
        known = _RANGES[cells] = {}
    found = known.get(span)
    if found is None:
        found = known[span] = RangeContent(cells.block(*span))
    return found


def forget(cells: Cells) -> None:
    """Forget what was counted in ranges of these cells, because they have changed."""
    _RANGES.pop(cells, None)

"""What a range of cells holds, and what is looked up in it, each thing counted once."""

from bisect import bisect_left, bisect_right
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import pairwise
from typing import TypeGuard, TypeVar

from rosterkit.formulas.values import (
    UNSURE,
    Content,
    Fault,
    FormulaError,
    loosely,
    may_be_number,
    number_or_none,
)

_NEAR = 1e-12
"""Numbers that differ by less than this part of them are equal in one program and not in the other."""
_Key = TypeVar("_Key")


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
    def text_numbers(self) -> frozenset[float | None]:
        """The numbers that texts are in digits; None among them for a text of which nobody knows which."""
        return frozenset(number_or_none(one) for one in self.text_counts if may_be_number(one))

    @cached_property
    def only_numbers(self) -> bool:
        """Whether it holds numbers and nothing else."""
        return len(self.numbers) == len(self.values)

    @cached_property
    def _all_places(self) -> Mapping[Content, list[int]]:
        """The places, from 0, of each number and of each text in small letters."""
        found: dict[Content, list[int]] = {}
        for at, value in enumerate(self.values):
            found.setdefault(value.lower() if isinstance(value, str) else value, []).append(at)
        return found

    def places_of(self, wanted: Content) -> Sequence[int] | None:
        """Return the places, from 0, of the cells that equal a value; None if they have to be compared.

        Raises Fault UNSURE if programs differ on what equals it.
        """
        if not wanted or isinstance(wanted, bool | FormulaError) or self.has_truth:
            # 0 and an empty text are equal to blank cells too.
            return None
        key = self.text(wanted) if isinstance(wanted, str) else self.number(wanted)
        return self._all_places.get(key, ())

    def number(self, wanted: float) -> float:
        """Return a number; Fault UNSURE if one stands there that is so near to it that programs differ."""
        at = bisect_left(self.in_order, wanted)
        for near in self.in_order[max(0, at - 1) : at + 1]:
            if near != wanted and abs(near - wanted) < _NEAR * abs(wanted):
                raise Fault(UNSURE)
        return wanted

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

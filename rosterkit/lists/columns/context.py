"""What the other columns of a table say for or against what one may be."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from rosterkit.lists.columns.candidates import Candidate
from rosterkit.lists.columns.contents import Contents
from rosterkit.lists.columns.fits import fit_of
from rosterkit.lists.columns.values import address, is_byte
from rosterkit.lists.heading_text import without_unit
from rosterkit.lists.tables import Table

IDENTITY = ("loco", "engine", "number")
SPEEDS = ("vstart", "acceleration", "deceleration", "vhigh", "vmid")
_KM_H = frozenset({"km/h", "kmh", "mph", "kph", "km h"})
_SHORT = 7
"""By, durch, przez: words that may say anything of the column before them."""
MOSTLY = 0.6
SAME = 0.5
"""From this share of equal digits on, two columns speak of the same number."""


@dataclass(frozen=True)
class Context:
    """A table with what its headings may stand for."""

    table: Table
    contents: tuple[Contents, ...]
    candidates: Sequence[tuple[Candidate, ...]]

    def clearly(self, field: str, but: int = -1) -> bool:
        """Whether another heading stands for a field alone (for a railway: first), and its cells fit."""
        return any(
            len(some)
            and some[0].field == field
            and (some[0].choices == 1 or field == "railway")
            and self._holds(number, field)
            for number, some in enumerate(self.candidates)
            if number != but
        )

    def may_be(self, fields: Sequence[str], but: int) -> list[int]:
        """Return the other headings whose likeliest meaning is one of some fields."""
        return [
            number
            for number, some in enumerate(self.candidates)
            if number != but and some and some[0].field in fields and self.contents[number].texts
        ]

    @cached_property
    def has_cvs(self) -> bool:
        """Whether a heading names a CV."""
        return any(some and some[-1].field.startswith("cv:") for some in self.candidates)

    @cached_property
    def speeds(self) -> int:
        """How many headings speak of what CV2 to CV6 hold, above values of CVs."""
        return sum(
            any(one.field in SPEEDS for one in some) and self.contents[number].share(is_byte) >= MOSTLY
            for number, some in enumerate(self.candidates)
        )

    def agreement(self, number: int, others: Sequence[int]) -> float:
        """Return the best share of records in which one column's number stands in another column."""
        return max((self.contents[number].agrees(self.contents[other]) for other in others), default=0.0)

    def _holds(self, number: int, field: str) -> bool:
        contents = self.contents[number]
        return not contents.texts or fit_of(field, contents, self.table.headings[number].text) >= SAME

    def fit(self, number: int, candidate: Candidate) -> float | None:
        """Return how well a column's cells fit a meaning of its heading, with what stands beside them.

        0 to 1; None where there are no cells.
        """
        contents, text = self.contents[number], self.table.headings[number].text
        if not contents.texts:
            return None
        plain = fit_of(candidate.field, contents, text)
        if candidate.field in SPEEDS and candidate.choices <= 2 and not self._is_cv(number):
            return plain if self._is_setting(number, candidate) else 0.0
        if candidate.choices == 1:
            return plain
        if self.counts(number, candidate) and self._may_name(number):
            return 0.0
        if candidate.field in {*IDENTITY, "model"}:
            return min(plain, self._identity(number, candidate))
        if candidate.field == "length" and self.agreement(number, self.may_be(IDENTITY, number)) >= SAME:
            return 0.0
        if candidate.field == "checked_by":
            days = self.may_be(("checked_on",), number)
            preposition = len(text.strip()) < _SHORT
            near = number - 1 in days if preposition else bool(days)
            return plain if near else 0.0
        if candidate.field == "meet_address" and candidate.rank:
            return plain if plain > 0.9 and self.clearly("address", number) else 0.0
        if candidate.field == "address" and candidate.rank:
            plain = min(plain, contents.share(lambda text: address(text) is not None))
            return plain if plain > 0.9 and self._is_address(number) else 0.0
        return plain

    def _is_cv(self, number: int) -> bool:
        return self.candidates[number][-1].field.startswith("cv:")

    def _is_setting(self, number: int, candidate: Candidate) -> bool:
        """Whether a speed is a CV's value: a top speed alone is more often in km/h or mph."""
        _, unit = without_unit(self.table.headings[number].text)
        if unit.casefold() in _KM_H:
            return False
        alone = candidate.field in {"acceleration", "deceleration", "vstart"} and candidate.choices == 1
        return alone or self.has_cvs or self.speeds > 1

    def _may_name(self, but: int) -> bool:
        """Whether another column may name the engines: by its heading, or by labels below, all different."""
        return bool(self.may_be(IDENTITY, but)) or any(
            any(one.field in IDENTITY for one in some) and self.has_labels(number)
            for number, some in enumerate(self.candidates)
            if number != but
        )

    def has_labels(self, number: int) -> bool:
        """Whether a column has letters and a number in nearly each row, and another in each."""
        contents = self.contents[number]
        return contents.labels >= MOSTLY and contents.different > 0.9 and contents.filled > 0.9

    def counts(self, number: int, candidate: Candidate) -> bool:
        """Whether a column may only count the rows, where its heading does not say what it is."""
        named = candidate.field in {*IDENTITY, "address"} and candidate.choices > 1
        return named and self.contents[number].is_count

    def _is_address(self, number: int) -> bool:
        """Whether a number that may be an address is one: by the engine's digits, or a decoder beside it."""
        engines = self.may_be(IDENTITY, number)
        if self.clearly("address", number):
            return False
        return self.agreement(number, engines) >= SAME or self.clearly("decoder", number)

    def _identity(self, number: int, candidate: Candidate) -> float:
        """Return how well cells fit what names an engine, by their make and by what else there is."""
        contents = self.contents[number]
        numbered = self._is_numbered(number)
        if candidate.field == "number":
            return self._as_number(number, candidate, contents)
        if candidate.field == "loco":
            return self._as_loco(number, contents, numbered=numbered)
        if candidate.field == "engine":
            whole = self.clearly("railway", number) and numbered
            return (0.6 if whole else 0.95) if contents.labels >= 0.5 else 0.0
        if contents.figures >= MOSTLY:
            return 0.7 if candidate.rank == 0 else 0.0
        named = bool(self.may_be(IDENTITY, number))
        return 1.0 if candidate.rank == 0 or (named and contents.labels < 0.5) else 0.3

    def _is_numbered(self, but: int) -> bool:
        """Whether another column has the engines' numbers, by a heading such as Number or No. at least."""
        return any(
            some[0].field == "number"
            and not (some[0].choices > 1 and self.contents[number].is_count)
            and self._holds(number, "number")
            and self.contents[number].labels < MOSTLY
            for number, some in enumerate(self.candidates)
            if number != but and some
        )

    def _as_number(self, number: int, candidate: Candidate, contents: Contents) -> float:
        if contents.figures < MOSTLY and contents.labels >= 0.5:
            return 1.0 if self.clearly("railway", number) else 0.4
        if candidate.rank == 0:
            return 1.0
        others = self.may_be(("address", *IDENTITY), number)
        named = [one for one in others if self.candidates[one][0].field != "address"]
        return 1.0 if not named or self.agreement(number, others) >= SAME else 0.0

    def _as_loco(self, number: int, contents: Contents, *, numbered: bool) -> float:
        if contents.figures >= MOSTLY:
            return 0.0
        if contents.different < 0.9:
            return 0.2
        if contents.labels >= 0.5:
            return 1.0 if numbered else 0.7
        return 0.9 if contents.filled >= 0.9 and not self.may_be(("loco",), number) else 0.4

"""The cells below one heading, and which share of them is of some kind."""

from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import cached_property

from rosterkit.lists.columns.values import (
    address,
    digits_in,
    has_letters,
    is_answer,
    is_blank_word,
    is_dated,
    is_label,
    says_no_address,
    whole,
)
from rosterkit.lists.plain import PlainCell
from rosterkit.lists.tables import Table

_SAMPLES = 3
_ALL = 0.9
_FEWEST_ADDRESSES = 0.3
"""The share of cells that have to be addresses in plain figures, whatever the others leave open."""


@dataclass(frozen=True)
class Contents:
    """What stands below a heading, by the number of its record."""

    by_record: dict[int, PlainCell]
    records: int
    """How many records the table has."""

    @cached_property
    def cells(self) -> tuple[PlainCell, ...]:
        """The cells that hold anything, words for nothing such as "-" and "none" left out."""
        return tuple(cell for cell in self.by_record.values() if not is_blank_word(cell.text))

    @cached_property
    def texts(self) -> tuple[str, ...]:
        """What they show."""
        return tuple(cell.text for cell in self.cells)

    @cached_property
    def _often(self) -> Counter[str]:
        """Each content once, with how often it stands there."""
        return Counter(self.texts)

    @property
    def samples(self) -> tuple[str, ...]:
        """The first three different contents."""
        return tuple(dict.fromkeys(cell.text for cell in self.by_record.values()))[:_SAMPLES]

    def share(self, test: Callable[[str], object]) -> float:
        """Return the share of the filled cells that pass a test, 0 where none is filled."""
        passed = sum(times for text, times in self._often.items() if test(text))
        return passed / len(self.texts) if self.texts else 0.0

    @cached_property
    def dated(self) -> float:
        """The share that are days or times."""
        return sum(map(is_dated, self.cells)) / len(self.cells) if self.cells else 0.0

    @cached_property
    def lettered(self) -> float:
        """The share with letters in them that are no day; 0 where all are ticks or answers."""
        if self.answers > _ALL:
            return 0.0
        good = (has_letters(cell.text) and not is_dated(cell) for cell in self.cells)
        return sum(good) / len(self.cells) if self.cells else 0.0

    @cached_property
    def answers(self) -> float:
        """The share that are a yes or a no, or ticks."""
        return self.share(is_answer)

    @cached_property
    def figures(self) -> float:
        """The share that are whole numbers."""
        return self.share(lambda text: whole(text) is not None)

    @cached_property
    def labels(self) -> float:
        """The share that are letters and then digits."""
        return self.share(is_label)

    @cached_property
    def different(self) -> float:
        """The share that remains if each content is counted once."""
        return len(self._often) / len(self.texts) if self.texts else 0.0

    @cached_property
    def filled(self) -> float:
        """The share of the records that hold anything here."""
        return len(self.cells) / self.records if self.records else 0.0

    @cached_property
    def addresses(self) -> float:
        """The share of the cells that are addresses; those that only leave open which are not counted."""
        found = self.share(lambda text: address(text) is not None)
        wrong = self.share(lambda text: address(text) is None and not says_no_address(text))
        return found / (found + wrong) if found >= _FEWEST_ADDRESSES else 0.0

    @cached_property
    def is_count(self) -> bool:
        """Whether the cells number the records: 1, 2, 3 and so on, or 10, 20, 30."""
        numbers = [whole(text) for text in self.texts]
        known = [number for number in numbers if number is not None]
        if len(known) < _SAMPLES or len(known) < len(numbers):
            return False
        step = known[1] - known[0]
        return step in {1, 10} and known == list(range(known[0], known[0] + step * len(known), step))

    def agrees(self, other: "Contents") -> float:
        """Return in which share of the records that both have, this number stands in the other's text."""
        both = self.by_record.keys() & other.by_record.keys()
        pairs = [(digits_in(self.by_record[one].text), digits_in(other.by_record[one].text)) for one in both]
        pairs = [(ours, theirs) for ours, theirs in pairs if ours and theirs]
        same = sum(ours[0] in theirs for ours, theirs in pairs)
        return same / len(pairs) if pairs else 0.0


def contents_of(table: Table) -> tuple[Contents, ...]:
    """Return what stands below each heading of a table, in their order."""
    found: list[dict[int, PlainCell]] = [{} for _ in table.headings]
    for number, record in enumerate(table.records):
        for heading, located in record.cells.items():
            if located.cell.text:
                found[heading][number] = located.cell
    return tuple(Contents(cells, len(table.records)) for cells in found)


def pooled(tables: Iterable[tuple[Contents, ...]]) -> tuple[Contents, ...]:
    """Return the contents of tables that have the same headings as if they were one table."""
    first, *more = tables
    if not more:
        return first
    found: list[Contents] = []
    for some in zip(first, *more, strict=True):
        cells: dict[int, PlainCell] = {}
        records = 0
        for contents in some:
            cells |= {records + record: cell for record, cell in contents.by_record.items()}
            records += contents.records
        found.append(Contents(cells, records))
    return tuple(found)

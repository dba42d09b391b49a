"""The formulas of a sheet by their cells, each as if it stood there alone.

Programs write a formula that was filled down only once, into the first cell of its group; the others refer to
it by the number of the group (ISO/IEC 29500-1, 18.3.1.40).
"""

from collections.abc import Iterable, Iterator, Mapping
from functools import cache

from rosterkit.formulas.shift import shifted
from rosterkit.xlsx.read import patterns as spelling
from rosterkit.xlsx.xml.references import column_number
from rosterkit.xlsx.xml.tags import plain

Place = tuple[int, int]
"""Row and column, from 1."""


class Formulas(Mapping[Place, str]):
    """The texts of formulas by row and column, without the equals sign.

    One that is derived from another is worked out when it is asked for.
    """

    def __init__(self, texts: dict[Place, str], derived: dict[Place, Place]) -> None:
        """Take the texts.

        Args:
            texts: The text of each formula; of one that is derived, that of the first of its group.
            derived: For such a cell, the first of its group.
        """
        self._texts = texts
        self._derived = derived

    def __getitem__(self, place: Place) -> str:
        """Return the formula of a cell; KeyError if it holds none."""
        text = self._texts[place]
        first = self._derived.get(place)
        if first is None:
            return text
        return shifted(text, place[0] - first[0], place[1] - first[1])

    def __contains__(self, place: object) -> bool:
        """Tell whether a cell holds a formula."""
        return place in self._texts

    def __iter__(self) -> Iterator[Place]:
        """Return the cells with formulas in the order of the sheet."""
        return iter(self._texts)

    def __len__(self) -> int:
        """Count them."""
        return len(self._texts)


class FormulaList:
    """Takes in the formulas of a sheet one by one."""

    def __init__(self) -> None:
        """Begin without any."""
        self.texts: dict[Place, str] = {}
        self._first: dict[str, Place] = {}
        self._members: dict[Place, str] = {}

    def add_shared(self, place: Place, text: str, group: str) -> None:
        """Take in a formula of a group; the first of it has the text, others may have one of their own."""
        self.texts[place] = text
        if text:
            self._first.setdefault(group, place)
        else:
            self._members[place] = group

    def formulas(self) -> Mapping[Place, str]:
        """Return what was taken in; a cell of a group that has no first one has a formula without text."""
        derived = {
            place: self._first[group] for place, group in self._members.items() if group in self._first
        }
        for place, first in derived.items():
            self.texts[place] = self.texts[first]
        return Formulas(self.texts, derived) if derived else self.texts


def formulas_of(data: bytes, rows: Iterable[tuple[int, int]]) -> Mapping[Place, str]:
    """Return the formulas of a sheet in canonical form.

    Args:
        data: The sheet's part in UTF-8.
        rows: Where the rows with formulas begin and end in it.
    """
    found = FormulaList()
    number = cache(lambda letters: column_number(letters.decode()))
    for start, stop in rows:
        for match in spelling.FORMULA_CELL.finditer(data, start, stop):
            letters, row, attributes, formula = match.groups(b"")
            text = formula.decode("utf-8", "replace")
            text = plain(text) if "&" in text else text
            group = spelling.group(attributes) if attributes else None
            if group is None:
                found.texts[int(row), number(letters)] = text
            else:
                found.add_shared((int(row), number(letters)), text, group)
    return found.formulas()

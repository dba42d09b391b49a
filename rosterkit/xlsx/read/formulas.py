"""The formulas of a sheet by their cells, each as if it stood there alone.

Programs write a formula that was filled down only once, into the first cell of its group; the others refer to
it by the number of the group (ISO/IEC 29500-1, 18.3.1.40).
"""

from collections.abc import Callable, Iterable, Iterator, Mapping

from rosterkit.formulas.shared import SharedFormula
from rosterkit.xlsx.read import patterns as spelling
from rosterkit.xlsx.xml.references import column_number
from rosterkit.xlsx.xml.tags import plain

Place = tuple[int, int]
"""Row and column, from 1."""


class Formulas(Mapping[Place, str]):
    """The texts of formulas by row and column, without the equals sign.

    One that is derived from another is worked out when it is asked for.
    """

    def __init__(self, found: dict[Place, str | SharedFormula]) -> None:
        """Take the text of each formula, or that of its group."""
        self.found = found

    def __getitem__(self, place: Place) -> str:
        """Return the formula of a cell; KeyError if it holds none."""
        formula = self.found[place]
        return formula if isinstance(formula, str) else formula.at(*place)

    def __contains__(self, place: object) -> bool:
        """Tell whether a cell holds a formula."""
        return place in self.found

    def __iter__(self) -> Iterator[Place]:
        """Return the cells with formulas."""
        return iter(self.found)

    def __len__(self) -> int:
        """Count them."""
        return len(self.found)

    def among(self, places: Iterable[Place]) -> "Formulas":
        """Return those of some cells, without working them out."""
        return Formulas({place: self.found[place] for place in places})


def as_found(formulas: Mapping[Place, str]) -> Callable[[Place], str | SharedFormula | None]:
    """Return what gives the text of a cell's formula, or that of its group; None for a cell without one."""
    return formulas.found.get if isinstance(formulas, Formulas) else formulas.get


def column_group(formulas: Mapping[Place, str], place: Place) -> SharedFormula | None:
    """Return the formula that a cell has in common with others of its column, one object for all of them.

    None if it has none, or one that differs among them in more than the number of the row.
    """
    group = as_found(formulas)(place)
    return group if isinstance(group, SharedFormula) and group.is_filled_down(place[1]) else None


def among(formulas: Mapping[Place, str], places: Iterable[Place]) -> Mapping[Place, str]:
    """Return the formulas of some cells; those that cells have in common are not worked out."""
    if isinstance(formulas, Formulas):
        return formulas.among(places)
    return {place: formulas[place] for place in places}


def each_once(formulas: Mapping[Place, str]) -> Iterator[str]:
    """Return the texts of all formulas, but of those that cells of a column have in common the first one."""
    seen: set[SharedFormula] = set()
    for place in formulas:
        group = column_group(formulas, place)
        if group is None or group not in seen:
            yield formulas[place]
        if group is not None:
            seen.add(group)


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

    def add_members(self, members: Mapping[Place, str]) -> None:
        """Take in cells without a text of their own, each with its group."""
        self.texts |= dict.fromkeys(members, "")
        self._members |= members

    def formulas(self) -> Mapping[Place, str]:
        """Return what was taken in; a cell of a group that has no first one has a formula without text."""
        if not self._members:
            return self.texts
        of_group = {group: SharedFormula(self.texts[first], *first) for group, first in self._first.items()}
        shared = {place: of_group[group] for place, group in self._members.items() if group in of_group}
        shared |= {self._first[group]: formula for group, formula in of_group.items()}
        return Formulas({**self.texts, **shared})


def formulas_of(data: bytes, rows: Iterable[tuple[int, int]]) -> Mapping[Place, str]:
    """Return the formulas of a sheet in canonical form.

    Args:
        data: The sheet's part in UTF-8.
        rows: Where the rows with formulas begin and end in it.
    """
    found = FormulaList()
    number = _Columns()
    for start, stop in rows:
        members = spelling.SHARING_CELL.findall(data, start, stop)
        if members:
            found.add_members({(int(row), number[at]): group.decode() for at, row, group in members})
        if len(members) == data.count(b"<f", start, stop):
            continue
        for match in spelling.FORMULA_CELL.finditer(data, start, stop):
            letters, row, attributes, formula = match.groups(b"")
            text = formula.decode("utf-8", "replace")
            text = plain(text) if "&" in text else text
            group = spelling.group(attributes) if attributes else None
            if group is None:
                found.texts[int(row), number[letters]] = text
            else:
                found.add_shared((int(row), number[letters]), text, group)
    return found.formulas()


class _Columns(dict[bytes, int]):
    def __missing__(self, letters: bytes) -> int:
        number = self[letters] = column_number(letters.decode())
        return number

"""What a stored cell means: its type, its text, its formula and its format turned into a value."""

from collections.abc import Callable
from dataclasses import dataclass

from rosterkit.xlsx.grid import CellError, NoStoredValue, Raw
from rosterkit.xlsx.package.markup import MarkupError, whole
from rosterkit.xlsx.read.dates import iso_moment, number_shown
from rosterkit.xlsx.read.formats import Formats
from rosterkit.xlsx.read.shared_strings import unescaped

_BOOLEANS = {"1": True, "true": True, "0": False, "false": False}
_BLANKS = " \t\r\n"


@dataclass(slots=True, kw_only=True)
class StoredCell:
    """A cell as its element and the elements in it have it."""

    reference: str
    kind: str
    style: str
    picture: str
    """What the attribute of the cell's value metadata says; "" if there is none."""
    text: str | None = None
    """The stored value."""
    inline: str | None = None
    """A text that stands in the cell itself."""
    formula: str | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Meaning:
    """Turns stored cells into values, by what is known of their workbook."""

    formats: Formats
    texts: Callable[[], tuple[str, ...]]
    """Gives the shared texts."""
    blank_texts: frozenset[int]
    """Indices of those without any character."""
    pictures: frozenset[str]
    """Value metadata that stands for a picture in a cell."""
    date1904: bool

    def value(self, cell: StoredCell) -> Raw:
        """Return the value of a cell, "" if it is blank.

        A number that is none comes back as the text that it is, or as a BadDate where a date should be.
        MarkupError if the cell is of no known type, or its text or format is not in the workbook.
        """
        text = cell.text or ""
        if cell.formula is not None and not text and cell.kind not in {"str", "inlineStr"}:
            return NoStoredValue(cell.formula)
        match cell.kind:
            case "n":
                return self._number(cell, text.strip(_BLANKS))
            case "s":
                return self._shared_text(cell, text.strip(_BLANKS))
            case "str":
                return unescaped(text)
            case "inlineStr":
                return unescaped(text) if cell.inline is None else cell.inline
            case "b":
                return _BOOLEANS.get(text.strip(_BLANKS), text)
            case "e":
                return "" if cell.picture in self.pictures else CellError(text) if text else ""
            case "d":
                return iso_moment(text) if text else ""
        raise MarkupError(f"gives its cell {cell.reference:.20} the unknown type '{cell.kind[:20]}'")

    def _number(self, cell: StoredCell, text: str) -> Raw:
        if not text:
            return ""
        kinds = self.formats.kinds
        index = whole(cell.style)
        if index is None or index >= len(kinds):
            raise MarkupError(
                f"gives its cell {cell.reference:.20} the format {cell.style:.20} of {len(kinds)}"
            )
        return number_shown(text, kinds[index], date1904=self.date1904)

    def _shared_text(self, cell: StoredCell, text: str) -> str:
        if not text:
            return ""
        texts = self.texts()
        index = whole(text)
        if index is None or index >= len(texts):
            where = f"from its cell {cell.reference:.20} at text {text:.20}"
            raise MarkupError(f"points {where} of the {len(texts)} shared texts")
        return texts[index]

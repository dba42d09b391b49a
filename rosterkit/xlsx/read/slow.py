"""Reads a sheet cell by cell, whatever its spelling: slower, but it knows all that the format allows."""

from collections.abc import Mapping
from typing import NamedTuple

from rosterkit.cell_names import column_letters
from rosterkit.xlsx.grid import MergedRange, Raw, trimmed
from rosterkit.xlsx.package import limits
from rosterkit.xlsx.package.markup import MarkupError, TooMuchError, finish, local, parser, whole
from rosterkit.xlsx.read.cells import Meaning, StoredCell
from rosterkit.xlsx.read.formulas import FormulaList
from rosterkit.xlsx.read.shared_strings import TextReader
from rosterkit.xlsx.read.worksheet_frame import add_merged
from rosterkit.xlsx.xml.references import cell as place


class Walked(NamedTuple):
    """What a sheet's part holds."""

    rows: list[list[Raw]]
    """Without blank cells at their ends."""
    merged: tuple[MergedRange, ...]
    formulas: Mapping[tuple[int, int], str]
    """The formulas by row and column."""


def walk(data: bytes, meaning: Meaning) -> Walked:
    """Read the cells and the merged ranges of a sheet's part in UTF-8.

    MarkupError if the part is no well-formed worksheet, or a cell of it cannot be.
    """
    reader = _Reader(meaning)
    made = parser()
    made.StartElementHandler = reader.started
    made.EndElementHandler = reader.ended
    made.CharacterDataHandler = reader.text.pieces.append
    finish(made, data)
    return Walked(trimmed(reader.rows), tuple(reader.merged), reader.formulas.formulas())


_OUTER = {"row": "", "c": "row", "v": "c", "f": "c", "is": "c"}
"""Where the elements that hold cells, and what cells hold, stand: in which other one of them."""


class _Reader:
    def __init__(self, meaning: Meaning) -> None:
        self.rows: list[list[Raw]] = []
        self.merged: list[MergedRange] = []
        self.formulas = FormulaList()
        self.text = TextReader()
        self._meaning = meaning
        self._depth = self._elements = 0
        self._places = self._values = 0
        self._row = self._column = 0
        self._within = ""
        self._cell = StoredCell(reference="", kind="", style="", picture="")
        self._shared: dict[str, str] = {}
        self._group: str | None = None
        self._kinds: dict[str, str] = {}

    def started(self, name: str, attributes: dict[str, str]) -> None:
        self._depth += 1
        self._elements += 1
        kind = self._kinds.get(name)
        if kind is not None:
            self._begin(kind, attributes)
            if self._elements > limits.MAX_ODD_ELEMENTS:
                raise TooMuchError("is too large for its unusual spelling")
        elif self._within == "is":
            self.text.started(name)
        elif self._depth == 1:
            # The root tells under which namespace, transitional or Strict, the elements go.
            if local(name) != "worksheet":
                raise MarkupError("is no worksheet")
            prefix = name.removesuffix("worksheet")
            self._kinds = {prefix + kind: kind for kind in (*_OUTER, "mergeCell")}
        elif self._depth > limits.MAX_DEPTH:
            raise MarkupError(f"is nested more than {limits.MAX_DEPTH} levels deep")

    def ended(self, name: str) -> None:
        self._depth -= 1
        kind = self._kinds.get(name)
        if kind in _OUTER:
            self._within = _OUTER[kind]
            self._end(kind)
        elif self._within == "is":
            self.text.ended(name)

    def _begin(self, kind: str, attributes: dict[str, str]) -> None:
        if kind == "mergeCell":
            add_merged(self.merged, attributes)
            return
        if self._within != _OUTER[kind]:
            raise MarkupError("nests rows, cells and values in a way that no sheet does")
        self._within = kind
        self.text.pieces.clear()
        match kind:
            case "row":
                self._begin_row(attributes)
            case "c":
                self._begin_cell(attributes)
            case "f":
                self._group = attributes.get("si") if attributes.get("t") == "shared" else None

    def _end(self, kind: str) -> None:
        match kind:
            case "v":
                self._cell.text = "".join(self.text.pieces)
            case "f":
                text = "".join(self.text.pieces)
                self._note_formula(text)
                self._cell.formula = self._formula(text)
            case "is":
                self._cell.inline = self.text.taken()
            case "c":
                self._end_cell()

    def _begin_row(self, attributes: dict[str, str]) -> None:
        stated = attributes.get("r")
        self._row = self._row + 1 if stated is None else whole(stated) or 0
        if not 1 <= self._row <= limits.LAST_ROW:
            raise MarkupError(f"numbers a row '{(stated or self._row)!s:.20}', which no sheet has")
        self._column = 0

    def _begin_cell(self, attributes: dict[str, str]) -> None:
        stated = attributes.get("r")
        if stated is None:
            self._column += 1
        else:
            row, self._column = place(stated.upper())
            if row != self._row:
                raise MarkupError(f"holds the cell {stated:.20} in its row {self._row}")
        if self._column > limits.LAST_COLUMN:
            raise MarkupError(f"holds more than {limits.LAST_COLUMN} cells in its row {self._row}")
        self._cell = StoredCell(
            reference=stated or f"{column_letters(self._column)}{self._row}",
            kind=attributes.get("t", "n"),
            style=attributes.get("s", "0"),
            picture=attributes.get("vm", ""),
        )

    def _note_formula(self, text: str) -> None:
        if self._group is None:
            self.formulas.texts[self._row, self._column] = text
        else:
            self.formulas.add_shared((self._row, self._column), text, self._group)

    def _formula(self, text: str) -> str:
        """Return a formula in full: of those that cells share, only the first one is written out."""
        if self._group is None:
            return text
        formula = text or self._shared.get(self._group, "")
        self._shared.setdefault(self._group, formula)
        return formula

    def _end_cell(self) -> None:
        cell = self._cell
        if cell.text is None and cell.inline is None and cell.formula is None:
            return
        value = self._meaning.value(cell)
        if value == "":
            return
        self._values += 1
        if self._values > limits.MAX_CELLS:
            raise TooMuchError(f"holds more than {limits.MAX_CELLS:,} cells with a value")
        self.rows.extend([] for _ in range(self._row - len(self.rows)))
        row = self.rows[self._row - 1]
        missing = self._column - len(row)
        if missing > 0:
            self._places += missing
            if self._places > limits.MAX_SLOTS:
                raise TooMuchError("holds cells with a value too far apart")
            row.extend([""] * missing)
        elif row[self._column - 1] != "":
            raise MarkupError(f"holds the cell {self._cell.reference:.20} twice")
        row[self._column - 1] = value

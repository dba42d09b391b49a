"""Reads a sheet cell by cell, whatever its spelling: slower, but it knows all that the format allows."""

from collections.abc import Callable

from rosterkit.cell_names import column_letters
from rosterkit.xlsx.grid import MergedRange, Raw
from rosterkit.xlsx.package import limits
from rosterkit.xlsx.package.markup import MarkupError, TooMuchError, finish, local, parser
from rosterkit.xlsx.read.cells import Meaning, StoredCell
from rosterkit.xlsx.read.rows import trimmed
from rosterkit.xlsx.read.shared_strings import TextReader
from rosterkit.xlsx.read.worksheet_frame import Merges
from rosterkit.xlsx.xml.references import cell as place


def walk(data: bytes, meaning: Meaning) -> tuple[list[list[Raw]], tuple[MergedRange, ...]]:
    """Read a sheet's part in UTF-8.

    Returns:
        The rows, without blank cells at their ends, and the merged ranges.

    Raises:
        MarkupError: the part is no well-formed worksheet, or a cell of it cannot be.
    """
    reader = _Reader(meaning)
    made = parser()
    made.StartElementHandler = reader.started
    made.EndElementHandler = reader.ended
    made.CharacterDataHandler = reader.text.pieces.append
    finish(made, data)
    return trimmed(reader.rows), reader.merges.found()


class _Reader:
    def __init__(self, meaning: Meaning) -> None:
        self.rows: list[list[Raw]] = []
        self.merges = Merges()
        self.text = TextReader()
        self._meaning = meaning
        self._inline = False
        self._depth = self._elements = 0
        self._places = self._values = 0
        self._row = self._column = 0
        self._within = ""
        self._cell = StoredCell(reference="", kind="", style="", picture="")
        self._shared: dict[str, str] = {}
        self._group: str | None = None
        self._starts: dict[str, Callable[[dict[str, str]], None]] = {}
        self._ends: dict[str, Callable[[], None]] = {}

    def started(self, name: str, attributes: dict[str, str]) -> None:
        self._depth += 1
        self._elements += 1
        start = self._starts.get(name)
        if start is not None:
            start(attributes)
            if self._elements > limits.MAX_ODD_ELEMENTS:
                raise TooMuchError("is too large for its unusual spelling")
        elif self._inline:
            self.text.started(name)
        elif self._depth == 1:
            self._begin(name)
        elif self._depth > limits.MAX_DEPTH:
            raise MarkupError(f"is nested more than {limits.MAX_DEPTH} levels deep")

    def ended(self, name: str) -> None:
        self._depth -= 1
        end = self._ends.get(name)
        if end is not None:
            end()
        elif self._inline:
            self.text.ended(name)

    def _begin(self, root: str) -> None:
        """Learn from the root under which namespace, transitional or Strict, the elements go."""
        if local(root) != "worksheet":
            raise MarkupError("is no worksheet")
        prefix = root.removesuffix("worksheet")
        starts = {
            "row": self._row_started,
            "c": self._cell_started,
            "v": self._value_started,
            "f": self._formula_started,
            "is": self._inline_started,
            "mergeCell": self.merges.add,
        }
        ends = {
            "row": self._row_ended,
            "c": self._cell_ended,
            "v": self._value_ended,
            "f": self._formula_ended,
            "is": self._inline_ended,
        }
        self._starts = {prefix + name: start for name, start in starts.items()}
        self._ends = {prefix + name: end for name, end in ends.items()}

    def _enter(self, what: str, outer: str) -> None:
        if self._within != outer:
            raise MarkupError("nests rows, cells and values in a way that no sheet does")
        self._within = what

    def _row_started(self, attributes: dict[str, str]) -> None:
        self._enter("row", "")
        stated = attributes.get("r")
        if stated is None:
            self._row += 1
        elif stated.isascii() and stated.isdigit() and len(stated) < 10:
            self._row = int(stated)
        else:
            self._row = 0
        if not 1 <= self._row <= limits.LAST_ROW:
            raise MarkupError(f"numbers a row '{(stated or self._row)!s:.20}', which no sheet has")
        self._column = 0

    def _row_ended(self) -> None:
        self._within = ""

    def _cell_started(self, attributes: dict[str, str]) -> None:
        self._enter("cell", "row")
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

    def _value_started(self, _: dict[str, str]) -> None:
        self._enter("value", "cell")
        self.text.pieces.clear()

    def _value_ended(self) -> None:
        self._within = "cell"
        self._cell.text = "".join(self.text.pieces)

    def _formula_started(self, attributes: dict[str, str]) -> None:
        self._enter("formula", "cell")
        self.text.pieces.clear()
        self._group = attributes.get("si") if attributes.get("t") == "shared" else None

    def _formula_ended(self) -> None:
        self._within = "cell"
        formula = "".join(self.text.pieces)
        if self._group is not None:
            formula = formula or self._shared.get(self._group, "")
            self._shared.setdefault(self._group, formula)
        self._cell.formula = formula

    def _inline_started(self, _: dict[str, str]) -> None:
        self._enter("inline", "cell")
        self.text.pieces.clear()
        self._inline = True

    def _inline_ended(self) -> None:
        self._inline = False
        self._within = "cell"
        self._cell.inline = self.text.taken()

    def _cell_ended(self) -> None:
        self._within = "row"
        cell = self._cell
        if cell.text is None and cell.inline is None and cell.formula is None:
            return
        value = self._meaning.value(cell)
        if value == "":
            return
        self._values += 1
        if self._values > limits.MAX_CELLS:
            raise TooMuchError(f"holds more than {limits.MAX_CELLS:,} cells with a value")
        while len(self.rows) < self._row:
            self.rows.append([])
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

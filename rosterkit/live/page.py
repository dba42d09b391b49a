"""The sheet Live as it stands in the workbook: the part for people, and the blocks in hidden columns."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from rosterkit.live import asked_address as asked
from rosterkit.live import read_cvs as read
from rosterkit.live.counts import Counted, counts
from rosterkit.live.facts import NOT_COUNTED
from rosterkit.live.free_addresses import OFFERED, free_words, offered, why_offered
from rosterkit.live.inputs import HINT_ADDRESS, HINT_FREE, INPUTS, Typed, blank_input
from rosterkit.live.machinery import FIRST_COLUMN, Machinery
from rosterkit.live.places import Places
from rosterkit.xlsx.changes import BLANK, LINE, CellStyle, OwnCell, OwnSheet

Results = Mapping[tuple[int, int], str | int | float | None]
"""What formulas come to, by sheet row and column."""

_WIDTHS = (18.0, *[14.5] * 6)
_LAST = len(_WIDTHS)
_PURPOSE = (
    "Type into the framed cells: the rest follows while you type, and what you typed stays when rosterkit "
    "fills the workbook. What is listed here comes from the other sheets as they are now."
)
_FILL = "run 'rosterkit fill'"
_NO_ADDRESSES = "The sheet Locomotives has no columns Loco and Address, without which nothing is known."
SHOWN_FAULTS = 7
"""Faults of CVs that are shown one by one."""


@dataclass(slots=True)
class _Page:
    """The cells for people as they are put down."""

    typed: Typed
    cells: dict[tuple[int, int], OwnCell] = field(default_factory=dict)
    merges: list[tuple[int, int, int, int]] = field(default_factory=list)
    heights: dict[int, float] = field(default_factory=dict)

    def text(self, row: int, column: int, words: str, look: CellStyle = CellStyle.PLAIN) -> None:
        self.cells[row, column] = OwnCell(words, look)

    def heading(self, row: int, *words: str) -> None:
        for column in range(1, _LAST + 1):
            said = words[column - 1] if column <= len(words) else None
            self.cells[row, column] = OwnCell(said or None, CellStyle.HEADING)
        if len(words) == 1:
            self._merge(row, 1, 1)

    def formula(self, row: int, column: int, formula: str, look: CellStyle = CellStyle.PLAIN) -> None:
        self.cells[row, column] = OwnCell(None, look, formula=formula)

    def wide(self, row: int, column: int, formula: str, *, lines: int = 1) -> None:
        """Put a formula for a sentence into a cell as wide as the rest of the page."""
        self.formula(row, column, formula, CellStyle.WRAPPED)
        self._merge(row, column, lines)

    def _merge(self, row: int, column: int, lines: int) -> None:
        self.merges.append((row, column, row, _LAST))
        # The height that one cell of those that are merged would need is not to be reckoned.
        self.heights[row] = lines * LINE

    def sentence(self, row: int, words: str, *, lines: int = 1) -> None:
        self.text(row, 1, words, CellStyle.WRAPPED)
        self._merge(row, 1, lines)

    def input(self, name: str) -> None:
        one = INPUTS[name]
        self.text(one.row, one.column - 1, _label(one.label, one.column - 1))
        self.cells[one.row, one.column] = self.typed.get(name) or blank_input()


def live_sheet(
    places: Places, machinery: Machinery, *, typed: Typed | None = None, counted: bool = True
) -> OwnSheet:
    """Make the sheet; formulas have no results yet, which ``with_results`` puts in.

    Args:
        places: Where the sheets stand.
        machinery: The blocks, filled.
        typed: What people typed on the sheet that is replaced.
        counted: Alert counts the engines of an address while one types; else the sheet says that it does not.
    """
    page = _Page(typed=typed or {})
    page.text(1, 1, "Live: look things up while you type", CellStyle.TITLE)
    page.sentence(2, _PURPOSE, lines=2)
    _asked(page, machinery, places)
    _free(page, machinery)
    row = _counts(page, list(counts(places)), counted=counted)
    _read(page, machinery)
    assert row < INPUTS["cv1"].row - 1  # noqa: S101 - parts must not overlap
    return _laid_out(page, machinery)


def with_results(own_sheet: OwnSheet, results: Results) -> OwnSheet:
    """Return the sheet with the results of its formulas; a formula without one keeps an empty text."""
    rows = [
        [
            cell if cell.formula is None or cell.typed else cell._replace(value=results.get((row, column)))
            for column, cell in enumerate(cells, 1)
        ]
        for row, cells in enumerate(own_sheet.rows, 1)
    ]
    return replace(own_sheet, rows=rows)


def _label(words: str, column: int) -> str:
    """Keep a label away from the number that stands at the right edge of the cell before it."""
    return words if column == 1 else f"  {words}"


def _asked(page: _Page, machinery: Machinery, places: Places) -> None:
    page.heading(4, "An address")
    page.input("number")
    page.input("kind")
    page.text(5, 5, _label(HINT_ADDRESS, 5))
    page.text(6, 1, "It is")
    page.wide(6, 2, asked.in_words(machinery))
    for column, cv in ((1, 1), (3, 17), (5, 18)):
        page.text(7, column, _label(f"CV{cv}", column))
        page.formula(7, column + 1, asked.cv_of_asked(machinery, cv))
    for row, (label, formula) in enumerate(
        (
            ("Ranges", asked.range_words(machinery)),
            ("Layout", asked.layout_words(machinery)),
            ("Engines", asked.engine_words(machinery, places)),
            ("Consists", asked.consist_words(machinery)),
            ("Note", asked.doubt_words(machinery)),
        ),
        8,
    ):
        page.text(row, 1, label)
        page.wide(row, 2, formula)


def _free(page: _Page, machinery: Machinery) -> None:
    top = INPUTS["near"].row
    page.heading(top - 1, "Free addresses, the best first")
    for name in ("near", "free_kind", "member"):
        page.input(name)
    page.sentence(top + 1, HINT_FREE)
    if "candidates" not in machinery:
        page.sentence(top + 2, _NO_ADDRESSES)
        return
    for place in range(1, OFFERED + 1):
        page.formula(top + 1 + place, 1, offered(machinery, place))
        page.wide(top + 1 + place, 2, why_offered(machinery, place))
    page.wide(top + 2 + OFFERED, 1, free_words(machinery))


def _counts(page: _Page, lines: Sequence[Counted], *, counted: bool) -> int:
    row = INPUTS["near"].row + OFFERED + 4
    page.heading(row, "What is open", "Rows", "With an error", "Warnings only", "No formulas")
    for line in lines:
        row += 1
        page.text(row, 1, line.title)
        cells = (line.rows, line.errors, line.warnings, line.without_formulas)
        for column, formula in enumerate(cells, 2):
            if formula is not None:
                page.formula(row, column, formula)
    row += 1
    missing = [f"{_cell(row - len(lines) + at, 5)}" for at, line in enumerate(lines) if line.without_formulas]
    if missing:
        count = "+".join(missing)
        words = f"rows without formulas are not counted above as used or open: {_FILL}"
        page.wide(row, 1, f'IF({count}=0,"","{words}")')
    if not counted:
        row += 1
        page.sentence(row, NOT_COUNTED)
    return row


def _cell(row: int, column: int) -> str:
    return f"${'ABCDEFGH'[column - 1]}${row}"


def _read(page: _Page, machinery: Machinery) -> None:
    top = INPUTS["cv1"].row
    page.heading(top - 1, "CVs that were read")
    for name in ("cv1", "cv17", "cv18", "cv29"):
        page.input(name)
    page.text(top + 2, 1, "Answers")
    page.wide(top + 2, 2, read.address_words(machinery))
    page.text(top + 3, 1, "CV29 in words")
    page.wide(top + 3, 2, read.configuration_in_words(machinery), lines=2)
    for place in range(1, SHOWN_FAULTS + 1):
        page.wide(top + 3 + place, 1, read.fault(machinery, place), lines=2)
    page.wide(top + 4 + SHOWN_FAULTS, 1, read.more_faults(machinery, SHOWN_FAULTS))


def _laid_out(page: _Page, machinery: Machinery) -> OwnSheet:
    cells = dict(page.cells)
    for column, words in machinery.headings().items():
        cells[1, column] = OwnCell(words)
    for place, one in machinery.cells.items():
        cells[place] = OwnCell(one.value, formula=one.formula)
    last = machinery.last_column
    return OwnSheet(
        title=machinery.title,
        rows=list(_rows(cells)),
        widths=_WIDTHS,
        landscape=False,
        paper="A4",
        heights=page.heights,
        merges=tuple(page.merges),
        hidden_columns=tuple(range(FIRST_COLUMN, last + 1)),
    )


def _rows(cells: Mapping[tuple[int, int], OwnCell]) -> Iterator[list[OwnCell]]:
    by_row: dict[int, dict[int, OwnCell]] = {}
    for (row, column), cell in cells.items():
        by_row.setdefault(row, {})[column] = cell
    for row in range(1, max(by_row) + 1):
        here = by_row.get(row, {})
        yield [here.get(column, BLANK) for column in range(1, max(here, default=0) + 1)]

"""The sheet Merge: conflicts with a column to choose a side, then what was taken, and what was not."""

from collections.abc import Sequence
from dataclasses import dataclass

from rosterkit.commands.merge.lines import Line, What
from rosterkit.commands.merge.record import record_texts
from rosterkit.roster.cell_values import shown
from rosterkit.xlsx.changes import BLANK, CellStyle, Choices, OwnCell, OwnSheet
from rosterkit.xlsx.grid import Raw

TITLE = "Merge"
BEFORE, REMARK = "Before", "Remark"
"""The headings around the sides."""
KEEP = "Keep"
"""The heading of the column in which somebody chooses a side."""
WHAT, ROW, COLUMN = "What", "Row", "Column"
MOST_TAKEN = 20_000
"""Lines of cells that were taken, at most; nobody reads on from there."""

_BEFORE = (WHAT, "Place", ROW, COLUMN)
_WIDTHS = (16.0, 22.0, 20.0, 18.0)
_SIDE_WIDTH = 18.0
_REMARK_WIDTH = 70.0
_LOOKS = {What.CONFLICT: CellStyle.WARNING, What.TOGETHER: CellStyle.ERROR, What.NOT_MERGED: CellStyle.NOTE}


@dataclass(frozen=True, slots=True, kw_only=True)
class _Form:
    """The columns of the sheet."""

    names: Sequence[str]
    """The sides, one column each."""
    texts: int
    """Hidden columns that keep a conflict with types."""
    offered: int
    """Hidden columns with the words that may stand under Keep."""

    @property
    def keep(self) -> int:
        return len(_BEFORE) + self.texts + self.offered + 1


def merge_sheet(lines: Sequence[Line], names: Sequence[str]) -> OwnSheet:
    """Make the sheet.

    Each conflict keeps beside it, in hidden columns, what is needed to resolve it, and its own words for the
    drop-down list under Keep: rows may be sorted.

    Args:
        lines: What the merge came to, in order.
        names: The sides in the order in which they were given.
    """
    records = [line.record for line in lines if line.record is not None]
    used = {name for line in lines for name in line.sides}
    form = _Form(
        names=[*(name for name in names if name in used), *sorted(used - set(names))],
        texts=max((len(record_texts(one)) for one in records), default=0),
        offered=max((len(one.choices) for one in records), default=0),
    )
    shown_lines, left_out = _within_limit(lines)
    heading = [*_BEFORE, *[""] * (form.texts + form.offered), KEEP, BEFORE, *form.names, REMARK]
    rows = [[OwnCell(text, CellStyle.HEADING) for text in heading], *(_row(one, form) for one in shown_lines)]
    if left_out:
        said = OwnCell(f"{left_out} more cells were taken, which are not on this sheet")
        rows.append([OwnCell(What.TAKEN.value), BLANK, BLANK, said])
    keep = form.keep
    return OwnSheet(
        title=TITLE,
        rows=rows,
        widths=(*_WIDTHS, *[9.0] * (keep - 1 - len(_WIDTHS)), _SIDE_WIDTH, *_side_widths(form)),
        frozen_rows=1,
        filtered=True,
        hidden_columns=tuple(range(len(_BEFORE) + 1, keep)),
        choices=Choices(keep, (2, len(rows)), (len(_BEFORE) + form.texts + 1, keep - 1)) if records else None,
    )


def _side_widths(form: _Form) -> list[float]:
    return [*[_SIDE_WIDTH] * (1 + len(form.names)), _REMARK_WIDTH]


def _within_limit(lines: Sequence[Line]) -> tuple[Sequence[Line], int]:
    taken = [line for line in lines if line.what is What.TAKEN]
    if len(taken) <= MOST_TAKEN:
        return lines, 0
    kept = set(map(id, taken[:MOST_TAKEN]))
    return [one for one in lines if one.what is not What.TAKEN or id(one) in kept], len(taken) - MOST_TAKEN


def _row(line: Line, form: _Form) -> list[OwnCell]:
    is_open = line.record is not None
    return [
        OwnCell(line.what.value, _LOOKS.get(line.what, CellStyle.PLAIN), typed=is_open),
        _place(line),
        OwnCell(line.row or None),
        OwnCell(line.column or None),
        *_kept(line, form),
        OwnCell(str(line.keep) or None, CellStyle.CHOICE, typed=True) if is_open else BLANK,
        _value(line.before),
        *(_value(line.sides.get(name, "")) for name in form.names),
        OwnCell(line.remark or None, CellStyle.WRAPPED),
    ]


def _kept(line: Line, form: _Form) -> list[OwnCell]:
    if line.record is None:
        return [BLANK] * (form.texts + form.offered)
    texts = [OwnCell(text, typed=True) for text in record_texts(line.record)]
    words = [OwnCell(word) for word in line.record.choices]
    return [
        *texts,
        *[BLANK] * (form.texts - len(texts)),
        *words,
        *[BLANK] * (form.offered - len(words)),
    ]


def _place(line: Line) -> OwnCell:
    text = f"{line.sheet} {line.cell}".strip()
    if not (line.linked and line.sheet and line.cell):
        return OwnCell(text or None)
    return OwnCell(text, CellStyle.LINK, link=(line.sheet, line.cell))


def _value(raw: Raw) -> OwnCell:
    """Return a cell that shows a value; dates in words, as the conflict itself is kept with types."""
    if raw == "":
        return BLANK
    return OwnCell(raw if isinstance(raw, str | int | float) else shown(raw))

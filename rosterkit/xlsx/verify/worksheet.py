"""Proves of a worksheet that its cells are what they were, and those that were to change as wanted."""

from collections.abc import Iterator, Mapping
from itertools import islice

from lxml import etree

from rosterkit.cell_names import column_letters
from rosterkit.xlsx.verify.parts import ProofError, local, take_out
from rosterkit.xlsx.verify.rows import Split, is_plain, plain, remarks, shortened, split
from rosterkit.xlsx.verify.values import holds
from rosterkit.xlsx.verify.worksheet_frame import prove_frame
from rosterkit.xlsx.xml.areas import area
from rosterkit.xlsx.xml.values import Value, blank

Cells = Mapping[int, Mapping[int, Value]]
"""Values by row and column."""

_TOGETHER = 400
"""Rows that are parsed at once: enough to be fast, few enough to need little memory."""
_HINTS = "spans"


def prove_sheet(old: bytes, new: bytes, cells: Cells, widths: frozenset[int]) -> None:
    """Compare a sheet before and after an edit.

    Args:
        old: The part before, in UTF-8.
        new: The part after.
        cells: The cells that were to change, and their values.
        widths: The columns that were given a width.

    Raises:
        ProofError: something else changed, or a cell does not hold what it should.
    """
    if not (is_plain(old) and is_plain(new)):
        if remarks(old) != remarks(new):
            raise ProofError("a comment in a sheet changed")
        old, new = plain(old), plain(new)
    before, after = split(old), split(new)
    prove_frame(before.frame, after.frame, widths)
    changed = _changed(before, after, cells)
    while batch := list(islice(changed, _TOGETHER)):
        _prove_batch(before, after, batch, cells)


def _changed(before: Split, after: Split, cells: Cells) -> Iterator[tuple[int, bytes | None, bytes]]:
    """Return number, old and new bytes of the rows that are not the same."""
    rows = before.rows()
    standing = next(rows, None)
    last, compared = max(cells, default=0), False
    for number, row, following in after.rows():
        if standing is None or standing[0] > number:
            yield number, None, row
            continue
        if standing[0] < number:
            break
        if standing[1] != row:
            ours = (f"{column_letters(column)}{number}" for column in sorted(cells.get(number, ())))
            yield number, *shortened(standing[1], row, ours)
        if number >= last and not compared:
            # From here on nothing was to change: a million empty rows are compared at once.
            compared = True
            old, new = memoryview(before.data), memoryview(after.data)
            if old[standing[2] : before.end] == new[following : after.end]:
                return
        standing = next(rows, None)
    if standing is not None:
        raise ProofError("a row is missing")


def _prove_batch(
    before: Split, after: Split, batch: list[tuple[int, bytes | None, bytes]], cells: Cells
) -> None:
    known = before.parsed([old for _, old, _ in batch if old is not None])
    listed = after.parsed([new for _, _, new in batch])
    if len(listed) != len(batch):
        raise ProofError("rows cannot be told apart")
    remaining = iter(known)
    for (number, old, _), row in zip(batch, listed, strict=True):
        _prove_row(number, None if old is None else next(remaining), row, cells.get(number, {}))


def _prove_row(
    number: int, old: etree._Element | None, new: etree._Element, wanted: Mapping[int, Value]
) -> None:
    references = {f"{column_letters(column)}{number}": value for column, value in wanted.items()}
    ours = _taken(new, number, references)
    theirs = {} if old is None else _taken(old, number, references)
    for reference, value in references.items():
        _prove_cell(reference, theirs.get(reference), ours.get(reference), value)
    if old is None:
        if not ours or len(new) or dict(new.attrib) != {"r": str(number)}:
            raise ProofError(f"row {number} is new")
        return
    for row in (old, new):
        if _HINTS in row.attrib:
            del row.attrib[_HINTS]
    if etree.tostring(old) != etree.tostring(new):
        raise ProofError(f"other cells of row {number} changed")


def _taken(row: etree._Element, number: int, references: Mapping[str, Value]) -> dict[str, etree._Element]:
    """Take the cells of some references out of a row, looked for from its end, where ours mostly are."""
    found: dict[str, etree._Element] = {}
    first = min(map(_in_row, references), default=(9, ""))
    for cell in reversed(row):
        reference = cell.get("r")
        if reference is None:
            found = _found_by_count(row, number, references)
            break
        if reference in references:
            found[reference] = cell
        if _in_row(reference) <= first:
            break
    for cell in found.values():
        if cell.tail:
            take_out([cell])
        else:
            row.remove(cell)
    return found


def _in_row(reference: str) -> tuple[int, str]:
    """Return a key that sorts the references of one row from left to right."""
    return len(reference), reference


def _found_by_count(
    row: etree._Element, number: int, references: Mapping[str, Value]
) -> dict[str, etree._Element]:
    found: dict[str, etree._Element] = {}
    column = 0
    for cell in row:
        if local(cell) == "c":
            stated = cell.get("r")
            column = area(stated).left if stated else column + 1
            reference = f"{column_letters(column)}{number}"
            if reference in references:
                found[reference] = cell
    return found


def _prove_cell(
    reference: str, old: etree._Element | None, new: etree._Element | None, wanted: Value
) -> None:
    if new is None:
        if old is not None or not blank(wanted):
            raise ProofError(f"the cell {reference} is missing")
        return
    if old is not None:
        if etree.tostring(old, with_tail=False) == etree.tostring(new, with_tail=False):
            return
        own = old.get("s", "0")
        if own not in {"0", new.get("s", "0")}:
            raise ProofError(f"the format of the cell {reference} changed")
    if not holds(new, wanted):
        raise ProofError(f"the cell {reference} does not hold what it should")

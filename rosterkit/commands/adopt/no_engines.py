"""What is said of a list in which no engine was found: what it seems to be about instead."""

from collections.abc import Iterator, Sequence

from rosterkit.errors import CannotRunError
from rosterkit.lists.plain import PlainList, PlainSheet
from rosterkit.lists.reading import TableReading
from rosterkit.lists.tables import Origin
from rosterkit.lists.vocabulary import fields_of

_SHOWN = 5
_TEXTS = 6
_LONGEST = 20
_LOOKED_AT = 200
"""Rows of a sheet in which headings are looked for."""
_PUT = "Put a row of headings above the engines, such as Number and Address"
_NOT_NAMED = "no column names an engine"
"""What is said of a table that may be about engines all the same."""
_FIELDS = frozenset({Origin.COLUMN, Origin.ROW, Origin.LABEL})


def no_engines(plain: PlainList, readings: Sequence[TableReading] = ()) -> CannotRunError:
    """Make the error that says what the tables are about, and which rows may be headings, likeliest first.

    Args:
        plain: The list.
        readings: Its tables, as they were read.
    """
    message = f"no engine was found in {plain.name}"
    about = [f"the sheet '{one.table.sheet}': {one.why}" for one in readings if one.why]
    below = {one.table.sheet: one.table.heading_row for one in reversed(readings) if one.table.heading_row}
    # Headings that were read are told by what their table is about; what stands below them is no heading.
    found = [one for one in _candidates(plain) if one[3] < below.get(one[2], one[3] + 1)]
    found = sorted(found, key=lambda one: (-one[0], one[1]))[:_SHOWN]
    if not found and not about:
        return CannotRunError(f"{message}, nor a row of headings", f"{_PUT}.")
    rows = "; ".join(f"{title}!{row} ({', '.join(map(repr, texts))})" for _, _, title, row, texts in found)
    said = [
        message,
        *dict.fromkeys(about[:_SHOWN]),
        *([f"rows that may be headings: {rows}"] if rows else []),
    ]
    return CannotRunError("; ".join(said), f"{_PUT}{_ways(found, readings)}.")


def _ways(found: "Sequence[_Candidate]", readings: Sequence[TableReading]) -> str:
    """Return what can be said at the terminal, as far as it can help."""
    ways = []
    open_ones = [one for one in readings if one.why == _NOT_NAMED]
    keys = [heading.key for one in open_ones for heading in one.table.headings if heading.origin in _FIELDS]
    if keys:
        ways.append(f"say which column names the engines, such as --as '{keys[0]}=Loco' if it is that one")
    if found:
        _, _, title, row, _ = found[0]
        ways.append(f"say in which row they stand, such as --headings '{title}!{row}'")
    return "".join(f", or {way}" for way in ways)


_Candidate = tuple[float, int, str, int, Sequence[str]]


def _candidates(plain: PlainList) -> Iterator[_Candidate]:
    """Return how likely each row is, its rank in the list, its sheet and number, and its texts."""
    rank = 0
    for one in plain.sheets:
        for row, texts in () if one.own else _rows(one):
            known = sum(bool(fields_of(text)) for text in texts)
            # Below headings numbers are common, in them they are not.
            words = sum(not any(sign.isdecimal() for sign in text) for text in texts)
            if known or (len(texts) > 1 and 2 * words >= len(texts)):
                rank += 1
                shown = [text if len(text) <= _LONGEST else f"{text[: _LONGEST - 1]}…" for text in texts]
                more = ["…"] if len(shown) > _TEXTS else []
                likely = known + min(words, _TEXTS) / 100
                yield likely, rank, one.title, row, shown[:_TEXTS] + more


def _rows(one: PlainSheet) -> Iterator[tuple[int, Sequence[str]]]:
    rows: dict[int, list[tuple[int, str]]] = {}
    for (row, column), cell in one.cells.items():
        if cell.text and row <= _LOOKED_AT:
            rows.setdefault(row, []).append((column, " ".join(cell.text.split())))
    for row in sorted(rows):
        yield row, [text for _, text in sorted(rows[row])]

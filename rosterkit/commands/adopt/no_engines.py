"""What is said of a list in which no engine was found: the rows that may be its headings."""

from collections.abc import Iterator, Sequence

from rosterkit.errors import CannotRunError
from rosterkit.lists.plain import PlainList, PlainSheet
from rosterkit.lists.vocabulary import fields_of

_SHOWN = 5
_TEXTS = 6
_LONGEST = 20
_LOOKED_AT = 200
"""Rows of a sheet in which headings are looked for."""


def no_engines(plain: PlainList) -> CannotRunError:
    """Make the error that shows which rows of a list may be its headings, the likeliest first."""
    found = sorted(_candidates(plain), key=lambda one: (-one[0], one[1]))[:_SHOWN]
    message = f"no engine was found in {plain.name}"
    if not found:
        return CannotRunError(
            f"{message}, nor a row of headings", "Put headings above the engines, such as Number and Address."
        )
    rows = "; ".join(f"{place} ({', '.join(map(repr, texts))})" for _, _, place, texts in found)
    first = found[0][2]
    title = first.rpartition("!")[0]
    return CannotRunError(
        f"{message}; rows that may be headings: {rows}",
        f"Say what its columns are, such as --as '{title}!A=Number' --as '{title}!B=Address', or in which "
        f"row the headings stand, such as --headings '{first}'.",
    )


_Candidate = tuple[float, int, str, Sequence[str]]


def _candidates(plain: PlainList) -> Iterator[_Candidate]:
    """Return how likely each row is, its rank in the list, its place, and what stands in it."""
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
                yield likely, rank, f"{one.title}!{row}", shown[:_TEXTS] + more


def _rows(one: PlainSheet) -> Iterator[tuple[int, Sequence[str]]]:
    rows: dict[int, list[tuple[int, str]]] = {}
    for (row, column), cell in one.cells.items():
        if cell.text and row <= _LOOKED_AT:
            rows.setdefault(row, []).append((column, " ".join(cell.text.split())))
    for row in sorted(rows):
        yield row, [text for _, text in sorted(rows[row])]

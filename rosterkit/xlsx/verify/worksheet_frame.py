"""Verifies that of a worksheet without its rows only hints, widths, our highlights and filters changed."""

from collections.abc import Iterable

from lxml import etree

from rosterkit.xlsx.package import limits
from rosterkit.xlsx.patch.conditional_formats import MARK
from rosterkit.xlsx.patch.worksheet import ORDER
from rosterkit.xlsx.verify.parts import VerificationError, children, local, same, take_out, verify_sorted
from rosterkit.xlsx.xml.areas import Area, area
from rosterkit.xlsx.xml.nodes import parsed

_Run = tuple[int, int, tuple[tuple[str, str], ...]]


def verify_frame(old: bytes, new: bytes, widths: frozenset[int], last_row: int = 0) -> None:
    """Compare two worksheet parts from which the rows were taken.

    Args:
        old: The part before.
        new: The part after.
        widths: The columns that were given a width.
        last_row: The last row that was added below a list; 0 if none was.

    Raises:
        VerificationError: more changed than may.
    """
    before, after = parsed(old), parsed(new)
    _verify_order(before, after)
    if _columns(before, widths) != _columns(after, widths):
        raise VerificationError("the columns changed")
    _verify_wider(before, after, "dimension")
    _verify_wider(before, after, "autoFilter", last_row)
    verify_sorted(before, after)
    for root in (before, after):
        take_out(children(root, "cols"))
        for filtered in (*children(root, "autoFilter"), *children(root, "dimension")):
            filtered.set("ref", "")
        _take_highlights_out(root)
    for rows in (*children(before, "sheetData"), *children(after, "sheetData")):
        rows.text = rows.text or ""
    same(before, after, "something beside the rows of a sheet")


def _verify_order(before: etree._Element, after: etree._Element) -> None:
    """Demand the order of the format, where the sheet had it."""
    if _ordered(before) and not _ordered(after):
        raise VerificationError("the parts of a sheet are not in order")


def _ordered(root: etree._Element) -> bool:
    ranks = [ORDER.index(local(one)) for one in root.iterchildren(etree.Element) if local(one) in ORDER]
    return ranks == sorted(ranks)


def _columns(root: etree._Element, widths: frozenset[int]) -> list[_Run]:
    """Return what is said of all columns but some, neighbours that are alike taken together."""
    runs: list[_Run] = []
    for columns in children(root, "cols"):
        for column in children(columns, "col"):
            stated = dict(column.attrib)
            first, last = int(stated.pop("min")), int(stated.pop("max"))
            for begin, end in _without(first, min(last, limits.LAST_COLUMN), sorted(widths)):
                _join(runs, (begin, end, tuple(sorted((str(a), str(b)) for a, b in stated.items()))))
    return runs


def _without(first: int, last: int, excluded: Iterable[int]) -> list[tuple[int, int]]:
    pieces: list[tuple[int, int]] = []
    for column in excluded:
        if first <= column <= last:
            if first < column:
                pieces.append((first, column - 1))
            first = column + 1
    return [*pieces, (first, last)] if first <= last else pieces


def _join(runs: list[_Run], run: _Run) -> None:
    if runs and runs[-1][1] + 1 == run[0] and runs[-1][2] == run[2]:
        runs[-1] = (runs[-1][0], run[1], run[2])
    else:
        runs.append(run)


def _verify_wider(
    before: etree._Element, after: etree._Element, name: str, last_row: int | None = None
) -> None:
    old, new = (_areas(root, name) for root in (before, after))
    if len(old) != len(new):
        raise VerificationError(f"{name} changed")
    for known, wide in zip(old, new, strict=True):
        grown = known.around(wide) == wide
        sideways = (known.top, known.left) == (wide.top, wide.left) and wide.bottom in {
            known.bottom,
            last_row,
        }
        if not (grown and (last_row is None or sideways)):
            raise VerificationError(f"{name} changed")


def _areas(root: etree._Element, name: str) -> list[Area]:
    found: list[Area] = []
    for element in children(root, name):
        try:
            found.append(area(element.get("ref", "")))
        except ValueError:
            continue
    return found


def _take_highlights_out(root: etree._Element) -> None:
    for formatting in children(root, "conditionalFormatting"):
        rules = children(formatting, "cfRule")
        ours = [rule for rule in rules if MARK.casefold() in _formulas(rule)]
        take_out(ours)
        if ours and not len(formatting):
            take_out([formatting])


def _formulas(rule: etree._Element) -> str:
    texts = "".join(formula.text or "" for formula in children(rule, "formula"))
    return "".join(texts.casefold().split())

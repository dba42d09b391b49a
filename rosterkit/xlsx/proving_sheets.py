"""Proves of a worksheet that its cells are what they were, and those that were to change as wanted."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from itertools import islice

from lxml import etree

from rosterkit.findings import column_letters
from rosterkit.pages import Page
from rosterkit.xlsx.areas import area
from rosterkit.xlsx.nodes import parsed
from rosterkit.xlsx.proving_frames import prove_frame
from rosterkit.xlsx.proving_parts import ProofError, children, local, take_out
from rosterkit.xlsx.strings import unescaped
from rosterkit.xlsx.tags import quoted
from rosterkit.xlsx.values import Value, blank, cell_text

Cells = Mapping[int, Mapping[int, Value]]
"""Values by row and column."""

_TOGETHER = 400
"""Rows that are parsed at once: enough to be fast, few enough to need little memory."""
_NUMBER = re.compile(rb'\S+ r="([0-9]+)"')
_HINTS = "spans"


@dataclass(frozen=True, slots=True, kw_only=True)
class Split:
    """A worksheet's part taken apart at its rows, by plain search for their tags."""

    frame: bytes
    """The part without its rows."""
    rows: list[bytes]
    """Each row with what stands between it and the next."""
    around: tuple[bytes, bytes]
    """What makes rows a document of their own."""

    def parsed(self, rows: list[bytes]) -> list[etree._Element]:
        """Parse some rows."""
        return list(parsed(self.around[0] + b"".join(rows) + self.around[1]).iterchildren(etree.Element))

    def numbered(self) -> dict[int, bytes]:
        """Give the rows by their numbers, in their order.

        Raises:
            ProofError: they are not in order.
        """
        rows: dict[int, bytes] = {}
        last = 0
        for row in self.rows:
            usual = _NUMBER.match(row)
            number = int(usual[1]) if usual else self._stated(row, last + 1)
            if number <= last:
                raise ProofError("the rows are not in order")
            rows[number] = row
            last = number
        return rows

    def _stated(self, row: bytes, implied: int) -> int:
        only = self.parsed([row])
        if len(only) != 1:
            raise ProofError("rows cannot be told apart")
        return int(only[0].get("r", implied))


def split(data: bytes) -> Split:
    """Take a worksheet's part in UTF-8 apart.

    Raises:
        ProofError: it has no rows.
    """
    parser = etree.XMLPullParser(("start",), resolve_entities=False, load_dtd=False, no_network=True)
    parser.feed(data[: 1 << 16])
    root = next(iter(parser.read_events()))[1]
    prefix = f"{root.prefix}:".encode() if root.prefix else b""
    name = prefix + b"sheetData"
    opening = data.find(b"<" + name)
    begin = data.find(b">", opening) + 1
    if opening < 0:
        raise ProofError("a sheet has no rows")
    single = data[begin - 2 : begin] == b"/>"
    end = begin if single else data.rfind(b"</" + name)
    first, *rows = _rows(data[begin:end], b"<%brow" % prefix)
    declared = b"".join(
        b' xmlns%b="%b"' % (f":{short}".encode() if short else b"", quoted(uri))
        for short, uri in root.nsmap.items()
    )
    return Split(
        frame=data[:begin] + first + data[end:],
        rows=rows,
        around=(b"<%b%b>" % (name, declared), b"</%b>" % name),
    )


def _rows(data: bytes, tag: bytes) -> list[bytes]:
    """Cut before the tag of each row."""
    if any(tag + behind in data for behind in (b">", b"/", b"\n", b"\t", b"\r")):
        return re.split(b"(?=%b[\\s/>])" % tag, data)
    first, *rows = data.split(tag + b" ")
    return [first, *(tag + b" " + row for row in rows)]


def _is_plain(data: bytes) -> bool:
    return b"<!" not in data and data.count(b"<?") <= 1


def _remarks(data: bytes) -> list[bytes]:
    """Give the comments and processing instructions of a part."""
    if _is_plain(data):
        return []
    return [etree.tostring(one, with_tail=False) for one in parsed(data).iter(etree.Comment, etree.PI)]


def _plain(data: bytes) -> bytes:
    """Give a part without comments, processing instructions and CDATA sections, so that each < is a tag."""
    if _is_plain(data):
        return data
    parser = etree.XMLParser(
        remove_comments=True, remove_pis=True, resolve_entities=False, load_dtd=False, no_network=True
    )
    return etree.tostring(etree.fromstring(data, parser), encoding="UTF-8")


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
    if _remarks(old) != _remarks(new):
        raise ProofError("a comment in a sheet changed")
    before, after = split(_plain(old)), split(_plain(new))
    prove_frame(before.frame, after.frame, widths)
    rows = before.numbered()
    changed: list[tuple[int, bytes | None, bytes]] = []
    for number, row in after.numbered().items():
        known = rows.pop(number, None)
        if known != row:
            changed.append((number, known, row))
    if rows:
        raise ProofError("a row is missing")
    waiting = iter(changed)
    while batch := list(islice(waiting, _TOGETHER)):
        _prove_batch(before, after, batch, cells)


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
        if len(new) or dict(new.attrib) != {"r": str(number)}:
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
    """Give a key that sorts the references of one row from left to right."""
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
    if not _holds(new, wanted):
        raise ProofError(f"the cell {reference} does not hold what it should")


def _holds(cell: etree._Element, wanted: Value) -> bool:
    content = [part for part in cell if local(part) != "extLst"]
    if wanted is None or wanted == "":
        return not content
    if len(content) != 1:
        return False
    kind = cell.get("t", "n")
    if isinstance(wanted, str):
        text = content[0][0].text if kind == "inlineStr" and len(content[0]) == 1 else None
        return text is not None and unescaped(text) == cell_text(wanted)
    return kind == ("b" if isinstance(wanted, bool) else "n") and float(content[0].text or "nan") == wanted


def prove_page(data: bytes, page: Page) -> None:
    """Read a sheet of our own back.

    Raises:
        ProofError: a cell does not hold what it should.
    """
    found: dict[str, etree._Element] = {}
    for rows in children(parsed(data), "sheetData"):
        for row in rows:
            found.update((cell.get("r", ""), cell) for cell in row if len(cell))
    for number, cells in enumerate(page.rows, start=1):
        for column, wanted in enumerate(cells, start=1):
            if not blank(wanted.value):
                reference = f"{column_letters(column)}{number}"
                cell = found.pop(reference, None)
                if cell is None or not _holds(cell, wanted.value):
                    raise ProofError(
                        f"the cell {reference} of the sheet '{page.title}' is not what it should be"
                    )
    if found:
        raise ProofError(f"the sheet '{page.title}' holds more than it should")

"""Verifies a worksheet whose rows were put into another order: each is the row that it was, elsewhere."""

from collections.abc import Iterator, Mapping

from lxml import etree

from rosterkit.cell_names import column_letters
from rosterkit.xlsx.changes import RowOrder
from rosterkit.xlsx.verify.remainder import VerificationError
from rosterkit.xlsx.verify.sheet_data import SheetData, spelt_out
from rosterkit.xlsx.xml.areas import area


def verify_order(old: bytes, new: bytes, order: RowOrder) -> None:
    """Compare a worksheet part before and after.

    Raises:
        VerificationError: a row is not the one that was to stand there, or something else changed.
    """
    if sorted(order.rows) != sorted(order.rows.values()):
        raise VerificationError("a row was to stand twice, or nowhere")
    if SheetData(old).frame != SheetData(new).frame:
        raise VerificationError("something beside the rows of a sheet changed")
    (first, remarks), (second, now) = spelt_out(old), spelt_out(new)
    if remarks != now:
        raise VerificationError("a comment in a sheet changed")
    before, after = (_rows(etree.fromstring(data)) for data in (first, second))
    if list(before) != list(after):
        raise VerificationError("the rows are not the same")
    for number, row in after.items():
        source = order.rows.get(number, number)
        if source == number:
            same = _cells(row, number) == _cells(before[number], number)
            same &= dict(row.attrib) == dict(before[number].attrib)
        else:
            same = _as_wanted(before, number, source, order) == _cells(row, number)
            same &= _said(row) == _said(before[source])
        if not same or [_column(cell) for cell in row] != sorted({_column(cell) for cell in row}):
            raise VerificationError(f"row {number} is not what it should be")


def _rows(root: etree._Element) -> dict[int, etree._Element]:
    namespace = str(root.tag).removesuffix("worksheet")
    return {int(row.get("r", "0")): row for row in root.iterfind(f"{namespace}sheetData/{namespace}row")}


def _as_wanted(
    before: Mapping[int, etree._Element], number: int, source: int, order: RowOrder
) -> dict[int, bytes]:
    moved = {at: cell for at, cell in _cells(before[source], number).items() if at not in order.staying}
    stays = {at: cell for at, cell in _cells(before[number], number).items() if at in order.staying}
    return moved | stays


def _cells(row: etree._Element, number: int) -> dict[int, bytes]:
    """Return the cells of a row by column, as if they stood in another row."""
    return dict(_spelt(row, number))


def _spelt(row: etree._Element, number: int) -> Iterator[tuple[int, bytes]]:
    for cell in row:
        if not str(cell.tag).endswith("}c"):
            yield 0, etree.tostring(cell)
            continue
        stated = sorted((str(name), str(value)) for name, value in cell.attrib.items() if name != "r")
        inside = b"".join(etree.tostring(child) for child in cell)
        place = f"{column_letters(_column(cell))}{number}"
        yield _column(cell), repr((place, stated, cell.text)).encode() + inside


def _column(cell: etree._Element) -> int:
    return area(cell.get("r", "")).left


def _said(row: etree._Element) -> dict[str, str]:
    return {str(name): str(value) for name, value in row.attrib.items() if name not in {"r", "spans"}}

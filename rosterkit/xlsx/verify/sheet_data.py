"""Finds the rows of a worksheet by plain search for tags, or spells them out where that is not enough."""

import re

from lxml import etree

from rosterkit.cell_names import column_letters
from rosterkit.xlsx.package import limits
from rosterkit.xlsx.patch.splices import masked
from rosterkit.xlsx.verify.remainder import VerificationError
from rosterkit.xlsx.xml.references import column_number

_OPENING = re.compile(rb"<((?:[^\s/<>:!?]+:)?)sheetData(?=[\s/>])[^>]*>")
_SIGN_IN_VALUE = re.compile(rb"""=\s*(?:"[^"<>]*>|'[^'<>]*>)""")


class SheetData:
    """The rows of a worksheet's part, gone through from the first to the last."""

    def __init__(self, data: bytes) -> None:
        """Find the rows.

        Raises:
            VerificationError: the part has none.
        """
        shape = masked(data) if _found(data, b"<!", 0, len(data)) else data
        opening = _OPENING.search(shape)
        if opening is None:
            raise VerificationError("a sheet has no rows")
        self.data = data
        self.prefix = opening[1]
        self.begin = self.end = opening.end()
        if not opening[0].endswith(b"/>"):
            self.end = shape.rfind(b"</%bsheetData" % self.prefix)
        row = re.compile(rb'<%brow r="([0-9]{1,9})"' % re.escape(self.prefix))
        self._tags = row.finditer(data, self.begin, self.end)
        self.number, self.place = 0, self.begin

    @property
    def frame(self) -> bytes:
        """The part without its rows."""
        return self.data[: self.begin] + self.data[self.end :]

    def seek(self, number: int) -> tuple[int, int]:
        """Return where a row begins and the next one does; twice the place of the next if there is none.

        Raises:
            VerificationError: the rows up to it are not in order.
        """
        while self.number < number:
            self._step()
        begin = self.place
        if self.number == number:
            self._step()
        return begin, self.place

    def _step(self) -> None:
        tag = next(self._tags, None)
        if tag is None:
            self.number, self.place = limits.LAST_ROW + 1, self.end
            return
        before, self.number, self.place = self.number, int(tag[1]), tag.start()
        if not before < self.number <= limits.LAST_ROW:
            raise VerificationError("the rows are not in order")

    @property
    def remarked(self) -> bool:
        """Whether anything but tags begins with < among the rows."""
        return any(_found(self.data, sign, self.begin, self.end) for sign in (b"<!", b"<?"))

    @property
    def odd(self) -> bool:
        """Whether rows or cells do not all begin with their places, or signs of markup stand elsewhere."""
        rows, names = self.data[self.begin : self.end], (b"<%brow" % self.prefix, b"<%bc" % self.prefix)
        unnamed = any(rows.count(name) != rows.count(name + b' r="') for name in names)
        return unnamed or _SIGN_IN_VALUE.search(rows) is not None


def _found(data: bytes, sign: bytes, begin: int, end: int) -> bool:
    # A search for one byte takes a fraction of the time of one for two, and mostly does.
    return data.find(sign[1:], begin, end) >= 0 <= data.find(sign, begin, end)


def spelt_out(data: bytes) -> tuple[bytes, list[bytes]]:
    """Return a part in which each row and cell begins with its place, and its comments apart."""
    parser = etree.XMLParser(resolve_entities=False, load_dtd=False, no_network=True)
    root = etree.fromstring(data, parser)
    remarks = [etree.tostring(one, with_tail=False) for one in root.iter(etree.Comment, etree.PI)]
    etree.strip_tags(root, etree.Comment, etree.PI)
    name = str(root.tag).removesuffix("worksheet")
    row = 0
    for element in root.iterfind(f"{name}sheetData/{name}row"):
        row = int(_name_first(element, str(row + 1)))
        column = 0
        for cell in element.iterfind(f"{name}c"):
            place = _name_first(cell, f"{column_letters(column + 1)}{row}")
            column = column_number(place.rstrip("0123456789"))
    return etree.tostring(root, encoding="UTF-8"), remarks


def _name_first(element: etree._Element, implied: str) -> str:
    stated = dict(element.attrib)
    place = str(stated.pop("r", implied))
    element.attrib.clear()
    element.attrib.update({"r": place, **stated})
    return place

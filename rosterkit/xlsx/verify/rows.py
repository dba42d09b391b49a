"""Takes a worksheet apart at its rows, by plain search, so that a proof need parse only what differs."""

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import chain, pairwise

from lxml import etree

from rosterkit.xlsx.verify.parts import ProofError
from rosterkit.xlsx.xml.nodes import parsed
from rosterkit.xlsx.xml.tags import quoted

_BEHIND_NAMES = {b" ", b"\t", b"\n", b"\r", b"/", b">"}
_NUMBER = re.compile(rb'\S+ r="([0-9]+)"')


@dataclass(frozen=True, slots=True, kw_only=True)
class Split:
    """A worksheet's part in UTF-8 taken apart at its rows, by plain search for their tags."""

    data: bytes
    tag: bytes
    """What the tag of a row begins with."""
    begin: int
    """Where the rows begin."""
    end: int
    around: tuple[bytes, bytes]
    """What makes rows a document of their own."""

    @property
    def frame(self) -> bytes:
        """The part without its rows."""
        return self.data[: next(self._places(), self.end)] + self.data[self.end :]

    def _places(self) -> Iterator[int]:
        """Return the place of each row."""
        place = self.data.find(self.tag, self.begin, self.end)
        while place >= 0:
            behind = place + len(self.tag)
            if self.data[behind : behind + 1] in _BEHIND_NAMES:
                yield place
            place = self.data.find(self.tag, behind, self.end)

    def parsed(self, rows: list[bytes]) -> list[etree._Element]:
        """Parse some rows."""
        return list(parsed(self.around[0] + b"".join(rows) + self.around[1]).iterchildren(etree.Element))

    def rows(self) -> Iterator[tuple[int, bytes, int]]:
        """Return the rows: number, bytes with what stands between it and the next, and where the next begins.

        Raises:
            ProofError: they are not in order.
        """
        last = 0
        for place, following in pairwise(chain(self._places(), [self.end])):
            row = self.data[place:following]
            usual = _NUMBER.match(row)
            number = int(usual[1]) if usual else self._stated(row, last + 1)
            if number <= last:
                raise ProofError("the rows are not in order")
            yield number, row, following
            last = number

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
    declared = b"".join(
        b' xmlns%b="%b"' % (f":{short}".encode() if short else b"", quoted(uri))
        for short, uri in root.nsmap.items()
    )
    return Split(
        data=data,
        tag=b"<%brow" % prefix,
        begin=begin,
        end=begin if single else data.rfind(b"</" + name),
        around=(b"<%b%b>" % (name, declared), b"</%b>" % name),
    )


def is_plain(data: bytes) -> bool:
    """Tell whether each < of a part begins a tag."""
    return b"<!" not in data and data.count(b"<?") <= 1


def remarks(data: bytes) -> list[bytes]:
    """Return the comments and processing instructions of a part."""
    return [etree.tostring(one, with_tail=False) for one in parsed(data).iter(etree.Comment, etree.PI)]


def plain(data: bytes) -> bytes:
    """Return a part without comments, processing instructions and CDATA sections, so that each < is a tag."""
    parser = etree.XMLParser(
        remove_comments=True, remove_pis=True, resolve_entities=False, load_dtd=False, no_network=True
    )
    return etree.tostring(etree.fromstring(data, parser), encoding="UTF-8")


def shortened(old: bytes, new: bytes, wanted: Iterable[str]) -> tuple[bytes, bytes]:
    """Return two rows without those first cells that are the same bytes in both; their start tags stay.

    So do the cells whose references are ``wanted``, given from left to right, and all behind the first.

    Rows are shortened only if all cells name their place; others take it from the cells before them.
    """
    old_tag, new_tag = old.find(b">") + 1, new.find(b">") + 1
    name = new[1 : new.find(b" ")].removesuffix(b"row")
    cell = b"<%bc " % name
    single = old[old_tag - 2 : old_tag] == b"/>" or new[new_tag - 2 : new_tag] == b"/>"
    if single or new.count(cell) != new.count(cell + b'r="') or b"<%bc>" % name in new:
        return old, new
    same = _common(old[old_tag:], new[new_tag:])
    places = (new.find(b'%br="%b"' % (cell, reference.encode()), new_tag) for reference in wanted)
    first = next((place for place in places if place >= 0), len(new))
    begin = min(new.rfind(cell, new_tag, new_tag + same), first)
    if begin < 0:
        return old, new
    return old[:old_tag] + old[begin - new_tag + old_tag :], new[:new_tag] + new[begin:]


def _common(first: bytes, second: bytes) -> int:
    """Return how many bytes two texts begin with alike."""
    low, high = 0, min(len(first), len(second))
    while low < high:
        middle = (low + high + 1) // 2
        if first[low:middle] == second[low:middle]:
            low = middle
        else:
            high = middle - 1
    return low

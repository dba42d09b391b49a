"""The text in an element of OpenDocument, as it is shown (ODF 1.2, part 1, 6.1.2)."""

import re
from collections.abc import Iterator

from lxml import etree

from rosterkit.lists.files.open_document_names import DRAW, OFFICE, TEXT
from rosterkit.xlsx.package.markup import whole

_PARAGRAPH = f"{TEXT}p"
_BLANKS = re.compile(r"[ \t\r\n]+")
_MOST = 32_767
"""Blanks in a row; no cell holds more signs."""
# Signs that no XML holds stand for those that are meant as such while the blanks of the file are taken out.
_BLANK, _TAB, _BREAK = "\x01", "\x02", "\x03"
_MEANT = str.maketrans({_BLANK: " ", _TAB: "\t", _BREAK: "\n"})


def paragraphs(element: etree._Element) -> str:
    """Return the paragraphs in an element, one a line; notes and drawings in it are left out."""
    if len(element) == 1 and element[0].tag == _PARAGRAPH:
        return _paragraph(element[0]).strip()
    return "\n".join(map(_paragraph, element.iterchildren(_PARAGRAPH, f"{TEXT}h"))).strip()


def _paragraph(element: etree._Element) -> str:
    if not len(element):
        plain = element.text or ""
        return plain if plain.isalnum() else _BLANKS.sub(" ", plain).strip(" ")
    return _BLANKS.sub(" ", "".join(_pieces(element))).strip(" ").translate(_MEANT)


def _pieces(element: etree._Element) -> Iterator[str]:
    yield element.text or ""
    for child in element.iterchildren(etree.Element):
        tag = str(child.tag)
        if tag == f"{TEXT}s":
            yield _BLANK * min(_MOST, whole(child.get(f"{TEXT}c", "1")) or 1)
        elif tag == f"{TEXT}tab":
            yield _TAB
        elif tag == f"{TEXT}line-break":
            yield _BREAK
        elif not tag.startswith((OFFICE, DRAW)) and tag not in {f"{TEXT}note", f"{TEXT}ruby-text"}:
            yield from _pieces(child)
        yield child.tail or ""

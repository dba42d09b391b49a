"""The texts in the first rows of a sheet that is not read: no more of it is unpacked than they take.

Only the spelling that spreadsheet programs commonly use is understood: this is for a look at what may be
there, and what is not understood is not seen. Numbers come as they are stored.
"""

import re
from collections.abc import Sequence
from html import unescape

from rosterkit.xlsx.package.opening import Package, SheetPart
from rosterkit.xlsx.read.shared_strings import unescaped
from rosterkit.xlsx.xml.references import column_number

_LOOKED_AT = 128 * 1024
"""Bytes from the beginning of a sheet's part."""
_MOST_COLUMNS = 200
# Attributes are taken possessively, and what follows ends with the tag that closes it (``_whole``): linear
# in time whatever stands there.
_ATTRIBUTES = rb"(?P<attributes>(?:[^<>/]|/(?!>))*+)"
_ROW = re.compile(rb"<row\b%s(?:/>|>(?P<content>.*?)</row>)" % _ATTRIBUTES, re.DOTALL)
_CELL = re.compile(rb"<c\b%s(?:/>|>(?P<content>.*?)</c>)" % _ATTRIBUTES, re.DOTALL)
_NUMBER = re.compile(rb'\br="([0-9]{1,7})"')
_PLACE = re.compile(rb'\br="([A-Z]{1,3})[0-9]+"')
_KIND = re.compile(rb'\bt="([A-Za-z]+)"')
_VALUE = re.compile(rb"<v>([^<]*+)</v>")
_TEXT = re.compile(rb"<t\b[^<>]*+>([^<]*+)</t>")


def first_texts(package: Package, sheets: Sequence[SheetPart], rows: int) -> dict[str, list[list[str]]]:
    """Return the texts in so many first rows of sheets, by title; blank cells as blanks, the ends cut off."""
    shared: list[bytes] = []
    if sheets and package.shared_strings_part is not None:
        shared = package.read(package.shared_strings_part).split(b"<si>")[1:]
    return {one.title: _rows(package.archive.beginning(one.part, _LOOKED_AT), rows, shared) for one in sheets}


def _rows(data: bytes, rows: int, shared: Sequence[bytes]) -> list[list[str]]:
    found: list[list[str]] = []
    for one in _ROW.finditer(_whole(data, b"</row>")):
        stated = _NUMBER.search(one["attributes"])
        number = int(stated[1]) if stated else len(found) + 1
        if not len(found) < number <= rows:
            break
        found += [[] for _ in range(number - len(found))]
        found[number - 1] = _row(one["content"] or b"", shared)
    return found


def _whole(data: bytes, closing: bytes) -> bytes:
    end = data.rfind(closing)
    return data[: end + len(closing)] if end >= 0 else b""


def _row(content: bytes, shared: Sequence[bytes]) -> list[str]:
    cells: list[str] = []
    for found in _CELL.finditer(_whole(content, b"</c>")):
        place, kind = _PLACE.search(found["attributes"]), _KIND.search(found["attributes"])
        at = column_number(place[1].decode()) if place else len(cells) + 1
        text = _text(found["content"] or b"", kind[1] if kind else b"", shared)
        if text and at <= _MOST_COLUMNS:
            cells += [""] * (at - len(cells))
            cells[at - 1] = text
    return cells


def _text(content: bytes, kind: bytes, shared: Sequence[bytes]) -> str:
    if kind == b"inlineStr":
        return _joined(content)
    value = _VALUE.search(content)
    stored = value[1] if value else b""
    if kind == b"s":
        number = int(stored) if stored.isdigit() else len(shared)
        return _joined(shared[number]) if number < len(shared) else ""
    return _plain(stored)


def _joined(content: bytes) -> str:
    return "".join(_plain(text) for text in _TEXT.findall(content.partition(b"<rPh")[0]))


def _plain(text: bytes) -> str:
    return unescaped(unescape(text.decode("utf-8", "replace"))).strip()

"""Gnumeric as far as its converter goes: contents are put in, all is calculated and saved."""

import gzip
import re
import subprocess
from collections.abc import Mapping
from datetime import date
from pathlib import Path
from types import MappingProxyType

from lxml import etree
from openpyxl.utils.cell import column_index_from_string, coordinate_from_string

_NOTHING: Mapping[str, str] = MappingProxyType({})
_NAMESPACE = "{http://www.gnumeric.org/v10.dtd}"
_DECIMAL, _DATE = re.compile(r"[0-9]+(\.[0-9]+)?"), re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
_DAY_0 = date(1899, 12, 30)
_NUMBER, _TEXT = "40", "60"
"""What Gnumeric's own format calls the kinds of values."""


def saved_by_gnumeric(
    source: Path, target: Path, typed: Mapping[str, str] = _NOTHING, notes: Mapping[str, str] = _NOTHING
) -> Path:
    """Put contents into cells, such as Sheet!A1, calculate all, and save as the name of the target says.

    Numbers and dates such as 2026-05-31 become such, as when they are typed; "" empties the cell. Notes
    are put at cells.

    The contents are put into a file of Gnumeric's own format: its converter's option for that knows the
    first sheet only.

    Raises:
        subprocess.CalledProcessError: if Gnumeric does not read or write a file.
        subprocess.TimeoutExpired: if it takes more than two minutes.
    """
    own = target.with_name(f"{target.stem}_own.gnumeric")
    _convert(source, own)
    tree = etree.fromstring(gzip.decompress(own.read_bytes()))
    for cell, text in typed.items():
        sheet, _, name = cell.rpartition("!")
        _put(tree, sheet, name, text)
    for cell, text in notes.items():
        sheet, _, name = cell.rpartition("!")
        _note(tree, sheet, name, text)
    own.write_bytes(gzip.compress(etree.tostring(tree)))
    return _convert(own, target)


def _put(tree: etree._Element, sheet: str, name: str, text: str) -> None:
    letters, row = coordinate_from_string(name)
    at = {"Row": str(row - 1), "Col": str(column_index_from_string(letters) - 1)}
    cells = _sheet(tree, sheet).find(f"{_NAMESPACE}Cells")
    assert cells is not None
    for earlier in [one for one in cells if all(one.get(key) == at[key] for key in at)]:
        cells.remove(earlier)
    if not text:
        return
    if _DATE.fullmatch(text):
        days = (date.fromisoformat(text) - _DAY_0).days
        at |= {"ValueType": _NUMBER, "ValueFormat": "yyyy-mm-dd"}
        etree.SubElement(cells, f"{_NAMESPACE}Cell", at).text = str(days)
        return
    kind = _NUMBER if _DECIMAL.fullmatch(text) else _TEXT
    etree.SubElement(cells, f"{_NAMESPACE}Cell", at | {"ValueType": kind}).text = text


def _note(tree: etree._Element, sheet: str, name: str, text: str) -> None:
    objects = _sheet(tree, sheet).find(f"{_NAMESPACE}Objects")
    if objects is None:
        objects = etree.Element(f"{_NAMESPACE}Objects")
        # The order of the format: objects stand before the cells.
        cells = _sheet(tree, sheet).find(f"{_NAMESPACE}Cells")
        assert cells is not None
        cells.addprevious(objects)
    bound = {"ObjectBound": name, "ObjectOffset": "0 0 0 0", "Direction": "17", "Print": "1"}
    etree.SubElement(objects, f"{_NAMESPACE}CellComment", bound | {"Text": text})


def _sheet(tree: etree._Element, title: str) -> etree._Element:
    sheets = tree.iterfind(f".//{_NAMESPACE}Sheet")
    return next(one for one in sheets if one.findtext(f"{_NAMESPACE}Name") == title)


def _convert(source: Path, target: Path) -> Path:
    command = ["ssconvert", "--recalc", str(source), str(target)]
    subprocess.run(command, check=True, capture_output=True, timeout=120)
    return target

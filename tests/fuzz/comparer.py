"""What a workbook has lost on its way through fill, seen by lxml and zipfile alone.

It knows the headings that rosterkit computes (from ``schema/``) and the titles of its own sheets, and
nothing of the code that writes or verifies.
"""

import json
import posixpath
import re
import struct
import zipfile
import zlib
from collections.abc import Iterator, Set
from copy import deepcopy
from pathlib import Path

from lxml import etree

from tests.samples.__main__ import FOLDER

_DECLARATION = re.compile(rb"^(\xef\xbb\xbf)?<\?xml[^>]*\?>")
OWN_SHEETS = {"findings", "cards"}
_SCHEMA = FOLDER.parent / "schema"
_LISTS = {"fonts", "fills", "borders", "cellXfs", "cellStyleXfs", "cellStyles", "dxfs", "numFmts"}
_WORDS = {"check", "verdict", "table"}
"""Computed columns that hold words."""


def _folded(text: str) -> str:
    return " ".join(text.split()).casefold()


def _headings() -> dict[str, tuple[set[str], set[str]]]:
    """Return by sheet title all known headings, and those of computed columns."""
    found = {}
    for entry in json.loads((_SCHEMA / "sheets.json").read_text(encoding="utf-8"))["sheets"]:
        schema = json.loads((_SCHEMA / entry["schema"]).read_text(encoding="utf-8"))
        known: set[str] = set()
        computed: set[str] = set()
        for column in schema.get("properties", {}).values():
            names = {_folded(name) for name in (column.get("title", ""), *column.get("aliases", ()))}
            known |= names
            if column.get("readOnly"):
                computed |= names
        found[_folded(schema["title"])] = (known, computed)
    return found


HEADINGS = _headings()


def _tree(content: bytes) -> etree._Element:
    parser = etree.XMLParser(resolve_entities=False, huge_tree=True, remove_comments=True, remove_pis=True)
    try:
        return etree.fromstring(content, parser)
    except etree.XMLSyntaxError:
        # A declaration that claims an odd version is passed over by readers of the format.
        return etree.fromstring(_DECLARATION.sub(b"", content), parser)


def _root_of(content: bytes) -> str:
    try:
        return _local(_tree(content))
    except etree.XMLSyntaxError:
        return ""


def _unpacked(path: Path) -> Iterator[tuple[str, bytes]]:
    """Yield the parts by the archive's directory alone, whatever the records before the parts claim."""
    raw = path.read_bytes()
    with zipfile.ZipFile(path) as archive:
        for info in archive.infolist():
            name, extra = struct.unpack_from("<2H", raw, info.header_offset + 26)
            begin = info.header_offset + 30 + name + extra
            packed = raw[begin : begin + info.compress_size]
            stored = info.compress_type == zipfile.ZIP_STORED
            yield info.filename, packed if stored else zlib.decompressobj(-15).decompress(packed)


class _Book:
    """A workbook's parts, and its sheets by title."""

    def __init__(self, path: Path) -> None:
        self.parts = dict(_unpacked(path))
        self._by_name = {name.lower(): name for name in self.parts}
        self.workbook = next(name for name, content in self.parts.items() if _root_of(content) == "workbook")
        folder, name = posixpath.split(self.workbook)
        self.links_part = self._by_name.get(f"{folder}/_rels/{name}.rels".lstrip("/").lower(), "")
        links = self.tree(self.links_part).iter("{*}Relationship") if self.links_part else ()
        self.links = {link.get("Id"): link for link in links}
        self.sheets = {_folded(str(one.get("name"))): self._part(one) for one in self._listed()}

    def _listed(self) -> Iterator[etree._Element]:
        return self.tree(self.workbook).iter("{*}sheet")

    def _part(self, sheet: etree._Element) -> str:
        linked = next((value for name, value in sheet.attrib.items() if str(name).endswith("}id")), None)
        target = self.links[linked].get("Target", "") if linked in self.links else ""
        whole = posixpath.join("/", posixpath.dirname(self.workbook), target)
        return self._by_name.get(posixpath.normpath(whole).lstrip("/").lower(), "")

    def tree(self, part: str) -> etree._Element:
        """Return a part as elements; comments and instructions count only in parts that were left alone."""
        return _tree(self.parts[part])

    def strings(self) -> list[str]:
        """Return the shared texts."""
        part = next((name for name in self.parts if name.lower().endswith("sharedstrings.xml")), None)
        return [_text(item) for item in self.tree(part).iter("{*}si")] if part else []


def losses(before: Path, after: Path) -> list[str]:
    """Return what stood in a workbook and is not in the filled one, one sentence each."""
    old, new = _Book(before), _Book(after)
    strings = new.strings()
    title_of = {part: title for title, part in old.sheets.items()}
    own = {part for title, part in old.sheets.items() if title in OWN_SHEETS}
    found = []
    for name, content in old.parts.items():
        if content == new.parts.get(name) or _is_made(name, own):
            continue
        if name not in new.parts:
            found.append(f"the part {name} is gone")
            continue
        tag = _local(old.tree(name))
        if tag == "worksheet":
            title = title_of.get(name, "")
            found += [
                f"{title}: {loss}" for loss in _sheet_losses(title, old.tree(name), new.tree(name), strings)
            ]
        else:
            found += [f"{name}: {loss}" for loss in _part_losses(tag, old.tree(name), new.tree(name))]
    return found


def _is_made(name: str, own: set[str]) -> bool:
    """Tell whether a part belongs to a sheet of rosterkit's, or is the list of the order of calculation."""
    stem = {part.rpartition("/")[2] for part in own}
    return name in own or name.rpartition("/")[2].removesuffix(".rels") in stem or "calcChain" in name


def _part_losses(tag: str, old: etree._Element, new: etree._Element) -> Iterator[str]:
    match tag:
        case "Types" | "Relationships":
            gone = {_markup(one) for one in old} - {_markup(one) for one in new}
            yield from (f"{one!r} is gone" for one in gone if b"calcChain" not in one and b"heet" not in one)
        case "styleSheet":
            yield from _children_losses(old, new, growing=_LISTS)
        case "sst":
            yield from _list_losses(old, new)
        case "table":
            yield from _children_losses(old, new, growing={"tableColumns"}, free={"autoFilter"})
        case "workbook":
            yield from _children_losses(old, new, free={"sheets", "definedNames", "calcPr", "bookViews"})
            yield from _sheets_losses(old, new)
        case _:
            yield f"<{tag}> is not the same"


def _sheets_losses(old: etree._Element, new: etree._Element) -> Iterator[str]:
    kept = [one.attrib.items() for one in new.iter("{*}sheet")]
    for one in old.iter("{*}sheet"):
        if _folded(one.get("name", "")) not in OWN_SHEETS and one.attrib.items() not in kept:
            yield f"sheet {one.get('name')} is not the same in the list of sheets"
    names = [_name(one, new) for one in new.iter("{*}definedName")]
    for one in old.iter("{*}definedName"):
        if one.get("name") == "_xlnm._FilterDatabase":
            continue  # follows a filter that grew
        if _name(one, old) not in names and _name(one, old)[1] not in OWN_SHEETS:
            yield f"the name {one.get('name')} is not the same"


def _name(one: etree._Element, root: etree._Element) -> tuple[str | None, str, str | None]:
    titles = [_folded(sheet.get("name", "")) for sheet in root.iter("{*}sheet")]
    local = one.get("localSheetId", "")
    title = (
        titles[int(local)] if local.isdecimal() and len(local) < 10 and int(local) < len(titles) else local
    )
    return one.get("name"), title, one.text


def _children_losses(
    old: etree._Element, new: etree._Element, *, growing: Set[str] = frozenset(), free: Set[str] = frozenset()
) -> Iterator[str]:
    """Compare the children of two elements but for some: in lists that may grow, the old come first."""
    later = {_local(one): one for one in new}
    for one in old:
        tag = _local(one)
        if tag in free:
            continue
        if tag not in later:
            yield f"<{tag}> is gone"
        elif tag in growing:
            yield from _list_losses(one, later[tag])
        elif _markup(one) not in {_markup(other) for other in new}:
            yield f"<{tag}> is not the same"


def _list_losses(old: etree._Element, new: etree._Element) -> Iterator[str]:
    for number, (one, other) in enumerate(zip(old, list(new) + [None] * len(old), strict=False)):
        if other is None or _markup(one) != _markup(other):
            yield f"<{_local(old)}> entry {number} is not the same"
            return


def _sheet_losses(title: str, old: etree._Element, new: etree._Element, strings: list[str]) -> Iterator[str]:
    before, after = _cells(old), _cells(new)
    row, computed = _computed_columns(title, after, strings)
    for place, cell in before.items():
        other = after.get(place)
        if other is not None and _markup(cell) == _markup(other):
            continue
        words = computed.get(place[1])
        if place[0] > row and words is not None:
            if _is_text(cell, strings) and words not in _WORDS:
                yield f"R{place[0]}C{place[1]}: a text in a column of numbers is gone"
        elif place[0] == row and words is not None and not _content(cell):
            continue
        else:
            yield f"R{place[0]}C{place[1]} was {_markup(cell)[:200]!r}"
    for place in after.keys() - before.keys():
        if place[1] not in computed or place[0] < row:
            yield f"R{place[0]}C{place[1]} came from nowhere: {_markup(after[place])[:200]!r}"
    yield from _frame_losses(old, new, set(computed))


def _frame_losses(old: etree._Element, new: etree._Element, computed: set[int]) -> Iterator[str]:
    rules = {_markup(rule) for rule in new.iterfind("{*}conditionalFormatting/{*}cfRule")}
    for rule in old.iterfind("{*}conditionalFormatting/{*}cfRule"):
        if _markup(rule) not in rules and b"rosterkit" not in _markup(rule):
            yield f"the conditional format {_markup(rule)[:200]!r} is gone"
    free = {"sheetData", "dimension", "cols", "conditionalFormatting", "autoFilter", "hyperlinks"}
    yield from _children_losses(old, new, free=free)
    widths = _columns(new)
    for column, look in _columns(old).items():
        if column not in computed and widths.get(column) != look:
            yield f"column {column} looked {look}, and looks {widths.get(column)}"
    rows = dict(_rows(new))
    for number, row in _rows(old):
        kept = {name: value for name, value in row.attrib.items() if name not in {"spans", "r"}}
        new_row = rows.get(number)
        if new_row is None:
            if kept or len(row):
                yield f"row {number} is gone"
        elif any(new_row.get(str(name)) != value for name, value in kept.items()):
            yield f"row {number} had {kept}"


def _columns(root: etree._Element) -> dict[int, dict[str, str]]:
    found = {}
    for one in root.iterfind("{*}cols/{*}col"):
        look = {str(name): str(value) for name, value in one.attrib.items() if name not in {"min", "max"}}
        for column in range(int(one.get("min", 0)), min(int(one.get("max", 0)), 300) + 1):
            found[column] = look
    return found


def _rows(root: etree._Element) -> Iterator[tuple[int, etree._Element]]:
    number = 0
    for row in root.iterfind("{*}sheetData/{*}row"):
        number = int(row.get("r", number + 1))
        yield number, row


def _cells(root: etree._Element) -> dict[tuple[int, int], etree._Element]:
    found = {}
    for number, row in _rows(root):
        column = 0
        for cell in row.iterfind("{*}c"):
            letters = re.match(r"[A-Za-z]+", cell.get("r", ""))
            column = _number(letters[0]) if letters else column + 1
            found[number, column] = cell
    return found


def _number(letters: str) -> int:
    number = 0
    for letter in letters.upper():
        number = number * 26 + ord(letter) - 64
    return number


def _computed_columns(
    title: str, cells: dict[tuple[int, int], etree._Element], strings: list[str]
) -> tuple[int, dict[int, str]]:
    """Return the heading row, and the computed columns in it by number with their heading."""
    known, computed = HEADINGS.get(title, (set(), set()))
    rows: dict[int, dict[int, str]] = {}
    for (row, column), cell in cells.items():
        said = _folded(_said(cell, strings))
        if said in known:
            rows.setdefault(row, {})[column] = said
    if not rows:
        return 0, {}
    row = max(rows, key=lambda one: (len(rows[one]), -one))
    return row, {column: said for column, said in rows[row].items() if said in computed}


def _said(cell: etree._Element, strings: list[str]) -> str:
    if cell.get("t") == "s":
        index = cell.findtext("{*}v") or ""
        return strings[int(index)] if index.strip().isdecimal() and int(index) < len(strings) else ""
    inline = cell.find("{*}is")
    return _text(inline) if inline is not None else cell.findtext("{*}v") or ""


def _is_text(cell: etree._Element, strings: list[str]) -> bool:
    return cell.get("t") in {"s", "inlineStr"} and bool(_said(cell, strings).strip())


def _content(cell: etree._Element) -> bool:
    return len(cell) > 0


def _text(item: etree._Element) -> str:
    return "".join(
        run.text or ""
        for run in item.iterfind(".//{*}t")
        if _local(run.getparent()) != "rPh"  # type: ignore[arg-type]
    )


def _local(element: etree._Element) -> str:
    return etree.QName(element).localname


def _markup(element: etree._Element) -> bytes:
    alone = deepcopy(element)
    alone.tail = None
    try:
        return etree.tostring(alone, method="c14n", exclusive=True)
    except etree.C14NError:  # a namespace that is a relative reference has no canonical form
        return etree.tostring(alone)

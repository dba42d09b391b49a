"""Opens a workbook as the package of parts that it is, and refuses in one sentence what cannot be one."""

import zipfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TypeVar

from rosterkit.xlsx.package import contents, limits, markup, relations, sniffing
from rosterkit.xlsx.package.archive import Archive, archive
from rosterkit.xlsx.package.contents import SheetPart
from rosterkit.xlsx.package.errors import shown, unreadable
from rosterkit.xlsx.package.file import Identity, content
from rosterkit.xlsx.package.relations import Finder, Relationship

__all__ = ["Identity", "Package", "Relationship", "SheetPart", "opened"]

_ONE_OF_ITS_SHEETS = "Open it in a spreadsheet program, see that it is whole, and save it again."
_T = TypeVar("_T")


@dataclass(frozen=True, slots=True, kw_only=True)
class Package:
    """A workbook file, read once and checked: its parts, and its sheets in workbook order."""

    path: Path
    name: str
    """The file as the caller named it, for messages and findings."""
    identity: Identity
    archive: Archive
    content_types_part: str
    workbook_part: str
    styles_part: str | None
    shared_strings_part: str | None
    sheets: tuple[SheetPart, ...]
    strict: bool
    """The workbook is written in the Strict namespaces of the format."""
    macro: bool
    signed: bool
    date1904: bool
    """Dates count from 1904-01-01 instead of 1899-12-30."""
    find: Finder
    content_types: contents.ContentTypes
    _relationships: dict[str, tuple[Relationship, ...]] = field(default_factory=dict)

    @property
    def raw(self) -> bytes:
        """The file's bytes, as they were when it was opened."""
        return self.archive.raw

    @property
    def names(self) -> tuple[str, ...]:
        """The parts in the order of the archive, as spelt there; folders left out."""
        return tuple(self.archive.infos)

    @property
    def infos(self) -> dict[str, zipfile.ZipInfo]:
        """The archive's entries by name."""
        return self.archive.infos

    def read(self, name: str, largest: int = limits.MAX_PART_BYTES) -> bytes:
        """Unpack a part as it stands, checked against its size and checksum; KeyError if there is none.

        CannotRunError if the part is damaged or larger than ``largest`` bytes.
        """
        return self.archive.read(name, largest)

    def xml(self, name: str, largest: int = limits.MAX_STRUCTURE_BYTES) -> bytes:
        """Unpack an XML part and give it in UTF-8 without byte order mark; it is not parsed here.

        CannotRunError if the part is damaged, larger than ``largest`` bytes, or wrongly encoded.
        """
        return parsed(self.archive, name, bytes, largest)

    def relationships(self, part: str) -> tuple[Relationship, ...]:
        """Return relationships of a part ("" for the package itself); CannotRunError if they are damaged."""
        if part not in self._relationships:
            self._relationships[part] = _relationships(self.archive, self.find, part)
        return self._relationships[part]


@contextmanager
def explained(name: str, what: str) -> Iterator[None]:
    """Turn a fault in the XML of ``what``, such as "part 'xl/styles.xml'", into a refusal of the workbook."""
    try:
        yield
    except markup.MarkupError as error:
        raise unreadable(name, f"its {what} {error}") from None


def parsed(
    source: Archive, part: str, parse: Callable[[bytes], _T], largest: int = limits.MAX_STRUCTURE_BYTES
) -> _T:
    """Return what is read out of an XML part in UTF-8; CannotRunError for what is damaged or too large."""
    with explained(source.name, f"part {shown(part)}"):
        return parse(markup.utf8(source.read(part, largest)))


def _relationships(source: Archive, find: Finder, part: str) -> tuple[Relationship, ...]:
    listed = find(relations.relationships_name(part))
    if listed is None:
        return ()
    return parsed(source, listed, lambda data: relations.relationships(data, part, find))


def opened(path: Path) -> Package:
    """Read a workbook file and check it as a package; the cells of its sheets are not looked at.

    CannotRunError if there is no such file, it is no .xlsx or .xlsm workbook, or it is damaged.
    """
    name = str(path)
    raw, identity = content(path, name)
    return _checked(path, name, raw, identity)


def opened_in_memory(data: bytes, name: str) -> Package:
    """Check the content of a workbook file as a package, like ``opened``; it has no place on a disk.

    Args:
        data: The file.
        name: What messages call it.

    Raises:
        CannotRunError: it is no .xlsx or .xlsm workbook, or damaged.
    """
    return _checked(Path(name), name, data, Identity(size=len(data), mtime_ns=0, inode=0))


def _checked(path: Path, name: str, raw: bytes, identity: Identity) -> Package:
    if not raw.startswith(sniffing.ZIP):
        raise sniffing.not_a_zip(name, raw)
    source = archive(name, raw)
    sniffing.refuse_other_archive(source)
    source.check()
    return package_of(path, source, identity)


def package_of(path: Path, source: Archive, identity: Identity) -> Package:
    """Read an archive as a package; CannotRunError if it has no workbook, or lacks parts that it names."""
    find = Finder(source.infos)
    types_part = find("[Content_Types].xml")
    if types_part is None:
        why, fix = "it is a zip archive that holds no workbook", "Unpack it and give the workbook inside."
        raise unreadable(source.name, why, fix)
    types = parsed(source, types_part, contents.content_types)
    root = _relationships(source, find, "")
    workbook_part = _main_part(source, root, types)
    links = _relationships(source, find, workbook_part)
    book = parsed(source, workbook_part, contents.contents)
    linked = {link.kind: link for link in reversed(links)}
    return Package(
        path=path,
        name=source.name,
        identity=identity,
        archive=source,
        content_types_part=types_part,
        workbook_part=workbook_part,
        styles_part=_needed(source, linked.get("styles"), "formats of its cells"),
        shared_strings_part=_needed(source, linked.get("sharedStrings"), "texts of its cells"),
        sheets=_sheets(source, book, links),
        strict=book.strict,
        macro="vbaProject" in linked or "macroenabled" in types.of(workbook_part).casefold(),
        signed=any(link.type.endswith("digital-signature/origin") for link in root),
        date1904=book.date1904,
        find=find,
        content_types=types,
    )


def _main_part(source: Archive, root: tuple[Relationship, ...], types: contents.ContentTypes) -> str:
    main = next((link for link in root if link.kind == "officeDocument"), None)
    if main is None:
        raise unreadable(source.name, "it does not say which of its parts is the workbook")
    if main.target is None:
        raise unreadable(source.name, f"its workbook part {shown(main.raw_target)} is missing")
    kind = types.of(main.target).casefold()
    if "binary" in kind or not ("spreadsheetml" in kind or "ms-excel" in kind):
        raise sniffing.other_document(source.name, kind)
    return main.target


def _needed(source: Archive, link: Relationship | None, what: str) -> str | None:
    """Return a part that the workbook may lack, but not announce and then lack."""
    if link is None:
        return None
    if link.target is None:
        raise unreadable(source.name, f"the part with the {what}, {shown(link.raw_target)}, is missing")
    return link.target


def _sheets(
    source: Archive, book: contents.Contents, links: tuple[Relationship, ...]
) -> tuple[SheetPart, ...]:
    by_id = {link.id: link for link in links}
    sheets: dict[str, SheetPart] = {}
    titles: set[str] = set()
    for sheet in book.sheets:
        link = by_id.get(sheet.relationship_id)
        title = shown(sheet.title)
        if link is None or link.target is None:
            raise unreadable(source.name, f"the part with its sheet {title} is missing", _ONE_OF_ITS_SHEETS)
        if sheet.title.casefold() in titles:
            raise unreadable(source.name, f"two of its sheets are called {title}")
        if link.target in sheets:
            raise unreadable(source.name, f"its sheet {title} stands in the part of another sheet")
        titles.add(sheet.title.casefold())
        sheets[link.target] = replace(sheet, part=link.target, kind=link.kind)
    if not sheets:
        raise unreadable(source.name, "it has no sheets")
    return tuple(sheets.values())

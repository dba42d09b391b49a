"""A package in the making: the parts of a workbook as they are, some changed, added or taken out."""

from collections.abc import Callable, Collection, Mapping
from itertools import count, islice

from rosterkit.xlsx.package import limits
from rosterkit.xlsx.package.opening import Package, explained
from rosterkit.xlsx.package.relations import relationships_name
from rosterkit.xlsx.patch.splices import Splice, added_inside, spliced
from rosterkit.xlsx.xml import tags
from rosterkit.xlsx.xml.outline import Element, outline

_TRANSITIONAL = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
_STRICT = "http://purl.oclc.org/ooxml/officeDocument/relationships"
_MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
_MAIN_STRICT = "http://purl.oclc.org/ooxml/spreadsheetml/main"
_PACKAGE = "http://schemas.openxmlformats.org/package/2006/relationships"
_TYPES = "application/vnd.openxmlformats-officedocument.spreadsheetml."


class Draft:
    """What a package will hold. Parts are given and taken in UTF-8."""

    def __init__(self, package: Package) -> None:
        """Begin with the package as it is."""
        self.package = package
        self.written: dict[str, bytes] = {}
        """Parts that are changed or added, by name."""
        self.removed: set[str] = set()
        self._standing: dict[str, bytes] = {}

    @property
    def namespace(self) -> str:
        """The namespace of the parts."""
        return _MAIN_STRICT if self.package.strict else _MAIN

    @property
    def relations(self) -> str:
        """The namespace of relationship attributes, and what the types of relationships begin with."""
        return _STRICT if self.package.strict else _TRANSITIONAL

    def text(self, part: str) -> bytes:
        """Return a part as it will be, cells included."""
        return self.written.get(part) or self.standing(part)

    def standing(self, part: str) -> bytes:
        """Return a part as it is in the package."""
        if part not in self._standing:
            self._standing[part] = self.package.xml(part, limits.MAX_PART_BYTES)
        return self._standing[part]

    def write(self, part: str, data: bytes) -> None:
        """Change or add a part; a part that would be what it is already stays untouched."""
        if part in self.package.infos and data == self.standing(part):
            self.written.pop(part, None)
        else:
            self.written[part] = data

    def forget(self) -> None:
        """Let the parts go, which can be large."""
        self.written.clear()
        self._standing.clear()

    def _root(self, part: str) -> Element:
        with explained(self.package.name, part):
            return outline(self.text(part))

    def free_names(self, folder: str, stem: str, wanted: int = 1) -> list[str]:
        """Return so many names that no part has, such as xl/worksheets/sheet4.xml."""
        names = (f"{folder}{stem}{number}.xml" for number in count(1))
        return list(islice((name for name in names if not self.taken(name)), wanted))

    def name_or_free(self, folder: str, stem: str) -> str:
        """Return the usual name of a part that a workbook has once, such as xl/styles.xml, or a free one."""
        usual = f"{folder}{stem}.xml"
        return self.free_names(folder, stem)[0] if self.taken(usual) else usual

    def taken(self, name: str) -> bool:
        """Tell whether a part has this name, whatever its spelling."""
        if self.package.find(name) is not None or name in self.written:
            return True
        return name.casefold() in {part.casefold() for part in self.written}

    @property
    def folder(self) -> str:
        """The folder of the workbook part, with a slash at its end."""
        folder, slash, _ = self.package.workbook_part.replace("\\", "/").rpartition("/")
        return folder + slash

    def declare(self, part: str, kind: str) -> None:
        """Enter the content type of an added part of the spreadsheet itself, such as "worksheet"."""
        self.declare_all({part: f"{_TYPES}{kind}+xml"})

    def declare_all(self, types: Mapping[str, str]) -> None:
        """Enter the whole content types of added parts."""
        if not types:
            return
        name = self.package.content_types_part
        data, root = self.text(name), self._root(name)
        prefix = tags.prefix(data[root.start : root.inside])
        new = b"".join(
            b'<%bOverride PartName="/%b" ContentType="%b"/>' % (prefix, tags.quoted(part), kind.encode())
            for part, kind in types.items()
        )
        self.write(name, spliced(data, [added_inside(data, root, new)]))

    def undeclare(self, parts: Collection[str]) -> None:
        """Take the content types of parts of the workbook out."""
        wanted = set(parts)
        self._without(
            self.package.content_types_part,
            lambda child: self.package.find(child.attributes.get("PartName", "/")[1:]) in wanted,
        )

    def relate(self, part: str, kind: str) -> str:
        """Add a relationship of the workbook part to an added part in its folder, and give its id."""
        name = self.relations_of(self.package.workbook_part)
        if name not in self.written and name not in self.package.infos:
            self.written[name] = _no_relations()
        data, root = self.text(name), self._root(name)
        known = {child.attributes.get("Id", "").casefold() for child in root.children}
        number = len(known) + 1
        while f"rid{number}" in known:
            number += 1
        new = b'<%bRelationship Id="rId%d" Type="%b/%b" Target="%b"/>' % (
            tags.prefix(data[root.start : root.inside]),
            number,
            self.relations.encode(),
            kind.encode(),
            tags.quoted(part.removeprefix(self.folder)),
        )
        self.write(name, spliced(data, [added_inside(data, root, new)]))
        return f"rId{number}"

    def relations_of(self, part: str) -> str:
        """Return the name of the part with a part's relationships, as spelt in the archive if it is there."""
        wanted = relationships_name(part)
        return self.package.find(wanted) or wanted

    def drop(self, part: str) -> None:
        """Take a part of the workbook out, with its content type and the workbook's relationship to it."""
        self.removed.add(part)
        self.undeclare([part])
        links = self.relations_of(self.package.workbook_part)
        ids = {
            link.id for link in self.package.relationships(self.package.workbook_part) if link.target == part
        }
        self._without(links, lambda child: child.attributes.get("Id") in ids)

    def _without(self, part: str, unwanted: Callable[[Element], bool]) -> None:
        data = self.text(part)
        gone = [child for child in self._root(part).children if unwanted(child)]
        self.write(part, spliced(data, [Splice(child.start, child.end, b"") for child in gone]))


def _no_relations() -> bytes:
    head = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'
    return f'{head}<Relationships xmlns="{_PACKAGE}"/>'.encode()

"""Verifies the lists of a package: content types and the relationships of the workbook part."""

import re
from collections.abc import Callable, Collection

from rosterkit.xlsx.package.opening import Package
from rosterkit.xlsx.verify.claims import Claims
from rosterkit.xlsx.verify.remainder import VerificationError, remainder
from rosterkit.xlsx.xml.outline import Element, outline
from rosterkit.xlsx.xml.tags import quoted

_TYPES = b"application/vnd.openxmlformats-officedocument."
_PREFIX = rb"<(?:[^<>\s/:]+:)?"


class Lists:
    """What entries may come and go."""

    def __init__(self, package: Package, claims: Claims, styles: str | None) -> None:
        """Begin with the package as it was, and the part of the styles as it is."""
        self.package = package
        self.claims = claims
        self.added = claims.written - package.infos.keys()
        self.styles = {} if styles is None else {styles: b"styles"}

    def verify_types(self, old: bytes, new: bytes) -> None:
        """Verify that content types of added parts came, and those of removed ones went.

        Raises:
            VerificationError: others did.
        """
        kinds = dict.fromkeys(self.claims.drawings, b"drawing")
        kinds |= dict.fromkeys(self.claims.charts, b"drawingml.chart")
        kinds |= dict.fromkeys(self.claims.ours, b"spreadsheetml.worksheet")
        kinds |= dict.fromkeys(self.styles, b"spreadsheetml.styles")
        entry = _PREFIX + rb'Override PartName="/%b" ContentType="%b%b\+xml"/>'
        came = [
            entry % (re.escape(quoted(part)), re.escape(_TYPES), re.escape(kind))
            for part, kind in kinds.items()
            if part in self.added and not part.endswith(".rels")
        ]
        find, removed = self.package.find, self.claims.removed
        _verify(old, new, came, lambda one: find(one.attributes.get("PartName", "/")[1:]) in removed)

    def verify_links(self, old: bytes, new: bytes) -> None:
        """Verify that relationships to added sheets and styles came, and those to removed parts went.

        Raises:
            VerificationError: others did.
        """
        book = self.package.workbook_part
        links = self.package.relationships(book)
        # Their types begin as do those of the relationships that are there.
        bases = b"|".join({re.escape(link.type.rpartition("/")[0].encode()) for link in links})
        kinds = dict.fromkeys(self.claims.ours, b"worksheet") | self.styles
        folder = book.replace("\\", "/").rpartition("/")[0] + "/"
        entry = _PREFIX + rb'Relationship Id="[^"<>]*" Type="(?:%b)/%b" Target="%b"/>'
        came = [
            entry % (bases, kind, re.escape(quoted(part.removeprefix(folder))))
            for part, kind in kinds.items()
            if part in self.added
        ]
        gone = {link.id for link in links if link.target in self.claims.removed}
        _verify(old, new, came, lambda one: one.attributes.get("Id") in gone)


def _verify(old: bytes, new: bytes, came: Collection[bytes], gone: Callable[[Element], bool]) -> None:
    for entry in came:
        before, *behind = re.split(entry, new)
        if len(behind) != 1:
            raise VerificationError("an added part is not listed once, as what it is")
        new = before + behind[0]
    if remainder(old, [entry for entry in outline(old).children if gone(entry)]) != new:
        raise VerificationError("the list of content types or of the workbook's parts changed")

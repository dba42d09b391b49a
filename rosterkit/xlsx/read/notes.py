"""Reads the notes of a sheet, and the conversations that newer programs keep beside them."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from rosterkit.xlsx.package.errors import shown
from rosterkit.xlsx.package.opening import Package, explained
from rosterkit.xlsx.xml.areas import area_or_none
from rosterkit.xlsx.xml.nodes import parsed

_KINDS = {"comments": "comment", "threadedComment": "threadedComment"}
"""By the kind of a relationship of a sheet, what holds the text of one cell in its part."""


@dataclass(frozen=True, slots=True)
class Note:
    """What people wrote at a cell."""

    plain: str | None
    """What every program knows, on one line: programs break lines in their own ways."""
    conversation: str | None = None
    """What newer programs know in its place."""

    @property
    def text(self) -> str:
        """What people see, in the newest program."""
        return self.conversation or self.plain or ""

    def says_the_same(self, other: "Note") -> bool:
        """Tell whether two notes are the same one, also where a program dropped the conversation."""
        if self.conversation is not None and other.conversation is not None:
            return self.conversation == other.conversation
        texts = {self.plain, self.conversation} & {other.plain, other.conversation}
        return bool(texts - {None})


def notes_of(package: Package, part: str) -> Mapping[tuple[int, int], Note]:
    """Return the notes of a sheet's part by sheet row and column.

    Raises:
        CannotRunError: a part of notes is damaged.
    """
    texts: dict[tuple[int, int], dict[str, list[str]]] = {}
    for link in package.relationships(part):
        if link.kind in _KINDS and link.target is not None:
            for at, text in _texts(package, link.target, _KINDS[link.kind]):
                texts.setdefault(at, {}).setdefault(link.kind, []).append(text)
    return {at: _note(found) for at, found in sorted(texts.items())}


def _note(found: Mapping[str, list[str]]) -> Note:
    """Return one note; of a conversation all that was said."""
    plain, conversation = (" ".join(found[kind]) if kind in found else None for kind in _KINDS)
    return Note(plain, conversation)


def _texts(package: Package, part: str, name: str) -> Iterator[tuple[tuple[int, int], str]]:
    with explained(package.name, f"part {shown(part)}"):
        root = parsed(package.xml(part))
    for one in root.iter(f"{{*}}{name}"):
        at = area_or_none(one.get("ref"))
        pieces = (
            piece.text or "" for kind in ("t", "text") for piece in one.iter(f"{{*}}{kind}") if not len(piece)
        )
        text = " ".join("".join(pieces).split())
        if at is not None and text:
            yield (at.top, at.left), text

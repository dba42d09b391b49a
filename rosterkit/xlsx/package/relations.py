"""Relationships: how the parts of a workbook name one another, and how such a name finds its entry."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from urllib.parse import unquote

from rosterkit.xlsx.package.archive import plain
from rosterkit.xlsx.package.cache import cached
from rosterkit.xlsx.package.markup import elements


@dataclass(frozen=True, slots=True)
class Relationship:
    """One part's link to another part or to something outside the workbook."""

    id: str
    type: str
    """The whole URI of the kind, transitional or Strict."""
    target: str | None
    """The part, spelt as it stands in the archive; None where it is missing or outside."""
    raw_target: str
    external: bool

    @property
    def kind(self) -> str:
        """The last word of the type, the same in both families of URIs, such as "worksheet"."""
        return self.type.rpartition("/")[2]


class Finder:
    """Finds entries by the names that relationships give them, however a zip program has spelt them."""

    def __init__(self, names: Iterable[str]) -> None:
        self._exact: dict[str, str] = {}
        self._decoded: dict[str, str] = {}
        for name in names:
            self._exact.setdefault(plain(name), name)
            self._decoded.setdefault(plain(unquote(name)), name)

    def __call__(self, name: str) -> str | None:
        """Return the entry's name as it stands in the archive, or None."""
        return self._exact.get(plain(name)) or self._decoded.get(plain(unquote(name)))

    def target(self, source: str, target: str) -> str | None:
        """Find the part that a relationship of the part ``source`` leads to; None if it is not there."""
        steps: list[str] = []
        start = "" if target.startswith(("/", "\\")) else source.replace("\\", "/").rpartition("/")[0]
        for step in f"{start}/{target}".replace("\\", "/").partition("#")[0].split("/"):
            if step == "..":
                if not steps:
                    return None
                steps.pop()
            elif step not in {"", "."}:
                steps.append(step)
        return self("/".join(steps))


def relationships_name(part: str) -> str:
    """Return the name of the part that holds another part's relationships ("" is the package itself)."""
    folder, slash, last = part.replace("\\", "/").rpartition("/")
    return f"{folder}{slash}_rels/{last}.rels"


def relationships(data: bytes, source: str, find: Finder) -> tuple[Relationship, ...]:
    """Read the relationships of the part ``source`` ("" for the package itself) out of their own, in UTF-8.

    MarkupError if that part is not well-formed.
    """
    links: list[Relationship] = []
    for stated in _stated(data):
        target, external = stated.get("Target", ""), stated.get("TargetMode") == "External"
        part = None if external else find.target(source, target)
        links.append(Relationship(stated.get("Id", ""), stated.get("Type", ""), part, target, external))
    return tuple(links)


@cached
def _stated(data: bytes) -> list[Mapping[str, str]]:
    return [found.attributes for found in elements(data) if found.kind == "Relationship"]

"""The outline of an XML part: its upper elements with the exact bytes where each begins and ends."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from rosterkit.xlsx.package import markup
from rosterkit.xlsx.xml import tags
from rosterkit.xlsx.xml.nodes import parsed


@dataclass(frozen=True, slots=True, kw_only=True)
class Element:
    """One element, and where it stands in the part."""

    name: str
    """Without its namespace."""
    namespace: str
    attributes: dict[str, str]
    """By name; a name with a namespace is "namespace local"."""
    start: int
    inside: int
    """Just behind the start tag."""
    outside: int
    """Where the end tag begins; the same as ``inside`` if it is empty."""
    end: int
    children: list["Element"]

    @property
    def empty(self) -> bool:
        """Whether it is one tag, without an end tag."""
        return self.outside == self.end

    def child(self, name: str) -> "Element | None":
        """Return the first child of a name in the element's own namespace."""
        return next(self.named(name), None)

    def named(self, name: str) -> Iterator["Element"]:
        """Return all children of a name in the element's own namespace."""
        return (part for part in self.children if part.name == name and part.namespace == self.namespace)


class _Builder:
    def __init__(self, data: bytes, depth: int, cut: tuple[int, int]) -> None:
        self.data = data
        self.depth = depth
        self.cut, self.left_out = cut
        self.open: list[Element | None] = []
        self.single: list[bool] = []
        self.root: Element | None = None
        self.parser = markup.parser()
        self.parser.StartElementHandler = self.begin
        self.parser.EndElementHandler = self.finish

    def begin(self, name: str, attributes: dict[str, str]) -> None:
        if len(self.open) > self.depth:
            self.open.append(None)
            return
        index = self.parser.CurrentByteIndex
        tag = tags.WHOLE.match(self.data, index)
        if tag is None:
            raise markup.MarkupError("holds a tag that cannot be told apart")
        self.single.append(tag[0].endswith(b"/>"))
        start = self.shifted(index)
        inside = start + len(tag[0])
        namespace, _, local = name.rpartition(" ")
        element = Element(
            name=local,
            namespace=namespace,
            attributes=attributes,
            start=start,
            inside=inside,
            outside=inside,
            end=inside,
            children=[],
        )
        self.open.append(element)

    def finish(self, _: str) -> None:
        element = self.open.pop()
        if element is None:
            return
        index = self.parser.CurrentByteIndex
        # The parser reports an end for a single tag too; only an end that is written counts.
        if not self.single.pop():
            outside = self.shifted(index)
            length = self.data.index(b">", index) + 1 - index
            element = replace(element, outside=outside, end=outside + length)
        if self.open:
            parent = self.open[-1]
            if parent is not None:
                parent.children.append(element)
        else:
            self.root = element

    def shifted(self, index: int) -> int:
        return index + self.left_out if self.left_out and index >= self.cut else index


def outline(data: bytes, depth: int = 1, cut: tuple[int, int] = (0, 0)) -> Element:
    """Read the root element of a part in UTF-8 with its descendants, so many levels deep.

    ``cut`` is a position at which so many bytes were left out; places behind it count them. MarkupError if
    the part is not well-formed, or declares a document type.
    """
    builder = _Builder(data, depth, cut)
    markup.finish(builder.parser, data)
    parsed(data)  # the two parsers do not take all the same declarations and namespaces for well-formed
    if builder.root is None:
        raise markup.MarkupError("is empty")
    return builder.root

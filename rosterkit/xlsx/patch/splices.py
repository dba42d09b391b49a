"""Splices new bytes into a part at exact places, so that every byte between them stays."""

import re
from collections.abc import Iterable, Sequence
from operator import itemgetter
from typing import NamedTuple

from rosterkit.xlsx.xml import tags
from rosterkit.xlsx.xml.outline import Element

# In these, what looks like a tag is none; they are blanked out at the same length.
_HIDDEN = re.compile(rb"<!--.*?-->|<!\[CDATA\[.*?\]\]>|<\?.*?\?>", re.DOTALL)
# A > inside a value would seem to end its tag.
_SIGN_IN_VALUE = re.compile(rb"""=\s*(?:"[^"<>]*>|'[^'<>]*>)""")


class Splice(NamedTuple):
    """Bytes that take the place of those from start to end; nothing is taken away where the two are equal."""

    start: int
    end: int
    new: bytes


def spliced(data: bytes, splices: Iterable[Splice]) -> bytes:
    """Return the part with all splices made; several at one place are made in the order given.

    Raises:
        ValueError: two splices overlap.
    """
    pieces: list[bytes | memoryview] = []
    view = memoryview(data)
    done = 0
    for splice in sorted(splices, key=itemgetter(0, 1)):
        if splice.start < done:
            raise ValueError(f"two changes overlap at byte {splice.start}")
        pieces.append(view[done : splice.start])
        pieces.append(splice.new)
        done = splice.end
    pieces.append(view[done:])
    return b"".join(pieces)


def masked(data: bytes) -> bytes:
    """Blank out what could be taken for a tag or for the end of one, every byte keeping its place.

    Comments, CDATA sections, processing instructions and every > inside an attribute's value are overwritten;
    in the result every < begins a tag and the next > ends it. The part must be well-formed.
    """
    if b"<!" in data or data.count(b"<?") > 1:
        data = _HIDDEN.sub(_blank, data)
    if _SIGN_IN_VALUE.search(data):
        data = tags.WHOLE.sub(lambda tag: b"<" + tag[0][1:-1].replace(b">", b"_") + b">", data)
    return data


def _blank(match: re.Match[bytes]) -> bytes:
    filler = b"x" if match[0].startswith(b"<![") else b" "
    return filler * len(match[0])


def opened(tag: bytes, content: bytes) -> bytes:
    """Return a single tag as an element with content."""
    name = tag[1:-2].split(None, 1)[0]
    return b"%b>%b</%b>" % (tag[:-2].rstrip(), content, name)


def added_inside(data: bytes, parent: Element, new: bytes) -> Splice:
    """Add markup at the end of an element, opening it if it is a single tag."""
    if not parent.empty:
        return Splice(parent.outside, parent.outside, new)
    return Splice(parent.start, parent.end, opened(data[parent.start : parent.inside], new))


def place_for(root: Element, name: str, order: Sequence[str]) -> int:
    """Return the place for a new child: behind the last child that the format puts before it or at its side.

    Args:
        root: The parent, with its children.
        name: The new child.
        order: All children of the parent in the order of the format.
    """
    rank = {each: position for position, each in enumerate(order)}
    before = [
        child.end
        for child in root.children
        if child.namespace == root.namespace and rank.get(child.name, len(order)) <= rank[name]
    ]
    return max(before, default=root.inside)


def added_to_child(data: bytes, root: Element, name: str, order: Sequence[str], new: bytes) -> Splice:
    """Add markup at the end of a child, which is made where the format puts it if it is not there.

    Args:
        data: The part.
        root: The parent, with its children.
        name: The child.
        order: All children of the parent in the order of the format.
        new: What is added.
    """
    standing = root.child(name)
    if standing is not None:
        return added_inside(data, standing, new)
    tag = tags.prefix(data[root.start : root.inside]) + name.encode()
    place = place_for(root, name, order)
    return Splice(place, place, b"<%b>%b</%b>" % (tag, new, tag))


def set_attribute(data: bytes, element: Element, name: str, value: str) -> list[Splice]:
    """Set one attribute of an element; no splice if it has that value."""
    if element.attributes.get(name) == value:
        return []
    tag = data[element.start : element.inside]
    return [Splice(element.start, element.inside, tags.with_attribute(tag, name, value))]

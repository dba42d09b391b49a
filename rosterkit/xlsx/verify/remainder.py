"""Takes out of a part what an edit may have put in; the rest of old and new has to be the same bytes."""

from collections.abc import Collection, Iterable

from rosterkit.xlsx.xml import tags
from rosterkit.xlsx.xml.outline import Element


class VerificationError(Exception):
    """Something changed that was not meant to change; the text says what."""


def remainder(
    data: bytes,
    cut: Collection[Element] = (),
    bare: Iterable[tuple[Element, tuple[str, ...]]] = (),
    put: Iterable[tuple[Element, bytes]] = (),
) -> bytes:
    """Return a part without some elements, and without some attributes of others.

    Args:
        data: The part.
        cut: Elements that are left out.
        bare: Elements with the attributes that they lose. They are written with an end tag, even if they had
            none, as an edit opens single tags that it puts something into.
        put: Elements with what stands in their place.
    """
    pieces = [(element.start, element.end, b"") for element in cut]
    pieces += ((element.start, element.end, new) for element, new in put)
    for element, names in bare:
        tag = tags.without_attributes(data[element.start : element.inside], *names).rstrip(b"/>").rstrip()
        closing = b"</%b>" % tag[1:].split(None, 1)[0] if element.empty else b""
        end = element.end if element.empty else element.inside
        pieces.append((element.start, end, tag + b">" + closing))
    kept: list[bytes] = []
    done = 0
    for start, end, new in sorted(pieces):
        kept += (data[done:start], new)
        done = max(done, end)
    return b"".join([*kept, data[done:]])


def emptied(container: Element, cut: Collection[Element]) -> bool:
    """Tell whether nothing at all is left of a container without some of its children."""
    gone = sum(child.end - child.start for child in container.children if child in cut)
    return not container.attributes and gone == container.outside - container.inside

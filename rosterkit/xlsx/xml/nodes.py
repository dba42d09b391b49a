"""Small pieces of XML as values: compared with pieces of a part whatever their spelling, and written out."""

from typing import NamedTuple

from lxml import etree

from rosterkit.xlsx.package.markup import MarkupError
from rosterkit.xlsx.xml.tags import quoted


class Node(NamedTuple):
    """An element of the format's namespace, or another as "{namespace}name"; attributes by name."""

    name: str
    attributes: tuple[tuple[str, str], ...] = ()
    children: tuple["Node", ...] = ()

    def markup(self, prefix: bytes = b"") -> bytes:
        """Write the element with the prefix of the format's namespace (colon included)."""
        tag = prefix + self.name.encode()
        stated = b"".join(b' %b="%b"' % (name.encode(), quoted(value)) for name, value in self.attributes)
        if not self.children:
            return b"<%b%b/>" % (tag, stated)
        content = b"".join(child.markup(prefix) for child in self.children)
        return b"<%b%b>%b</%b>" % (tag, stated, content, tag)

    def attribute(self, name: str) -> str | None:
        """Return the value of an attribute."""
        return dict(self.attributes).get(name)

    def with_attributes(self, values: dict[str, str]) -> "Node":
        """Return the node with some attributes set."""
        return self._replace(attributes=tuple(sorted({**dict(self.attributes), **values}.items())))


def node(name: str, *children: Node, **attributes: str) -> Node:
    """Make a node."""
    return Node(name, tuple(sorted(attributes.items())), children)


def parsed(data: bytes) -> etree._Element:
    """Parse a small part, trusting nothing in it; MarkupError if it is not well-formed."""
    parser = etree.XMLParser(resolve_entities=False, load_dtd=False, no_network=True, huge_tree=False)
    try:
        return etree.fromstring(data, parser)
    except etree.XMLSyntaxError as error:
        raise MarkupError(f"is not well-formed XML ({' '.join(error.msg.split()):.100})") from None


def as_node(element: etree._Element, namespace: str) -> Node:
    """Return a parsed element as a node; comments and text are left out."""
    own = f"{{{namespace}}}"
    return Node(
        str(element.tag).removeprefix(own),
        tuple(sorted((str(name), str(value)) for name, value in element.attrib.items())),
        tuple(as_node(child, namespace) for child in element.iterchildren(etree.Element)),
    )

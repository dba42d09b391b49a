"""Elements of an HTML page, in which every text is escaped and none can act."""

from collections.abc import Mapping
from xml.etree import ElementTree as ET

from rosterkit.printable import printable


def element(
    tag: str, attributes: Mapping[str, str], *contents: ET.Element | str, plain: bool = False
) -> ET.Element:
    """Return an element with texts and elements in it, in their order.

    Its writer escapes what is markup; what would act beyond that, such as signs that turn the direction of
    writing, is shown as an escape. Text that is no Unicode, as a file's name may be, gets question marks.

    Args:
        tag: its name.
        attributes: by name; one that is only there or not has an empty value.
        contents: what is in it.
        plain: True for a text of our own that is taken as it is: a style or a script.
    """
    made = ET.Element(tag, {name: shown(value) for name, value in attributes.items()})
    last: ET.Element | None = None
    for content in contents:
        if isinstance(content, ET.Element):
            made.append(content)
            last = content
            continue
        text = content if plain else shown(content)
        if last is None:
            made.text = (made.text or "") + text
        else:
            last.tail = (last.tail or "") + text
    return made


def shown(text: str) -> str:
    """Return a text as it can stand in a page."""
    return printable(text).encode(errors="replace").decode()

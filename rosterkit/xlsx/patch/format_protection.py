"""What a cell format says of protection: a cell that is not locked may be typed into on a protected sheet."""

import re

from rosterkit.xlsx.patch.splices import opened
from rosterkit.xlsx.xml import tags
from rosterkit.xlsx.xml.nodes import Node, node

_FALSE = {"0", "false"}
_PROTECTION = re.compile(rb"<(?:[^\s<>/:]+:)?protection(?=[\s/>])[^<>]*?(?:/>|>\s*</[^<>]*>)")
_ALIGNMENT = re.compile(rb"<(?:[^\s<>/:]+:)?alignment(?=[\s/>])[^<>]*?(?:/>|>\s*</[^<>]*>)")


def is_unlocked(cell_format: Node) -> bool:
    """Tell whether cells of a format are not locked; without a word of it they are."""
    return any(one.attribute("locked") in _FALSE for one in cell_format.children if one.name == "protection")


def unlocked(cell_format: Node) -> Node:
    """Return a format in which nothing else is changed; alignment stands before the protection."""
    known = next((one for one in cell_format.children if one.name == "protection"), node("protection"))
    others = [one for one in cell_format.children if one.name != "protection"]
    first = [one for one in others if one.name == "alignment"]
    rest = [one for one in others if one.name != "alignment"]
    children = (*first, known.with_attributes({"locked": "0"}), *rest)
    return cell_format._replace(children=children).with_attributes({"applyProtection": "1"})


def unlocked_markup(entry: bytes, prefix: bytes) -> bytes:
    """Return the same of a format as it is spelt, so that nothing that nobody knows of it is lost.

    Args:
        entry: The whole element.
        prefix: The prefix of the format's namespace with its colon.
    """
    tag = entry[: entry.index(b">") + 1]
    start, content = tags.with_attribute(tag, "applyProtection", "1"), entry[len(tag) :]
    new = b'<%bprotection locked="0"/>' % prefix
    if not content:
        return opened(start, new)
    known = _PROTECTION.search(content)
    if known is not None:
        changed = tags.with_attribute(known[0][: known[0].index(b">") + 1], "locked", "0")
        rest = known[0][known[0].index(b">") + 1 :]
        return start + content[: known.start()] + changed + rest + content[known.end() :]
    before = _ALIGNMENT.search(content)
    place = before.end() if before is not None else 0
    return start + content[:place] + new + content[place:]

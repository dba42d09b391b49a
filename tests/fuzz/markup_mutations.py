"""Damage to one XML part of a workbook: the archive around it stays whole."""

import random
import re
from collections.abc import Callable, Mapping

from lxml import etree

from tests.fuzz.archive_mutations import Mutation, entries_of, zipped

_NASTY = (
    *("", "0", "-1", "1", "7", "-0.5", "60", "1,5", "true", "s", "str", "inlineStr", "b", "e", "d", "n"),
    *("A1", "B2", "ZZ9", "a1", "$A$1", "XFD1048576", "XFE1", "A1048577", "A1:XFD1048576", "B2:A1", "A1 C3"),
    *("NaN", "1e400", "../../x.xml", "%2e%2e/x", "worksheets/sheet1.xml", "rId1", "_x000D_", "_x005F_x000D_"),
    *("&amp;&#0;", "&#13;&#10;", "\u202e\U0001f682", "x" * 40_000),
)
_GIANTS = (
    "1048576",
    "1048577",
    "16385",
    "99999999999999999999",
    "-2147483648",
    "1e308",
    "0" * 400,
    "9" * 5000,
)
_FRAGMENTS = (
    *("<!DOCTYPE a>", "<?pi?>", '<c r="A1"><v>1</v></c>', '<row r="1"><c r="XFD1"><v>2</v></c></row>'),
    *("<row/>", "<c/>", "<v>3</v>", "<f>1+1</f>", "<is><t> x </t></is>", "<t/>", "<si/>", "<sheetData/>"),
    *("</sheetData><sheetData>", '<mergeCell ref="A1:B2"/>', "\x01", "&club;", "&#13;", " ", "]]>", "<xf/>"),
)
_ENCODINGS = ("utf-16", "utf-16-le", "utf-8-sig", "iso-8859-1", "windows-1252", "us-ascii", "utf-32", "cp037")
_ATTRIBUTE = re.compile(r'\s[\w:.-]+="[^"<]*"')
_VALUE = re.compile(r'="[^"<]*"')
_DIGITS = re.compile(r'(?<=[">A-Z$])-?[0-9]+(?=["<:])')
_TAG = re.compile(r"<[^<>!?]*>")
_TEXT = re.compile(r">[^<>]+<")
_NAME = re.compile(r"(</?)([A-Za-z]+)(?=[\s/>])")

TextMutation = Callable[[random.Random, str], str]


def _in_a_part(change: Callable[[random.Random, bytes], bytes]) -> Mutation:
    """Have a change made in a part that a workbook needs, its sheets more often than others."""

    def changed(chance: random.Random, content: bytes) -> bytes:
        entries = entries_of(content)
        weights = [_weight(name) for name, _ in entries]
        if not any(weights):
            return content
        at = chance.choices(range(len(entries)), weights)[0]
        entries[at] = (entries[at][0], change(chance, entries[at][1]))
        return zipped(entries)

    return changed


def _weight(name: str) -> int:
    if not name.endswith((".xml", ".rels")) or name.startswith(("docProps", "xl/theme")):
        return 0
    return 6 if "worksheets/sheet" in name else 2 if "Strings" in name or "styles" in name else 1


def _text(change: TextMutation) -> Mutation:
    def changed(chance: random.Random, part: bytes) -> bytes:
        encoding = "utf-16" if part[:2] in {b"\xff\xfe", b"\xfe\xff"} else "utf-8"
        text = part.decode(encoding, "surrogateescape")
        for _ in range(chance.choice((1, 1, 2, 3))):
            text = change(chance, text)
        return text.encode(encoding, "surrogatepass" if encoding == "utf-16" else "surrogateescape")

    return _in_a_part(changed)


def _at_match(pattern: re.Pattern[str], new: Callable[[random.Random, str], str]) -> TextMutation:
    """Replace one place that matches."""

    def changed(chance: random.Random, text: str) -> str:
        spans = [match.span() for match in pattern.finditer(text)]
        if not spans:
            return text
        begin, end = chance.choice(spans)
        return text[:begin] + new(chance, text[begin:end]) + text[end:]

    return changed


def _attributes_exchanged(chance: random.Random, text: str) -> str:
    spans = [match.span() for match in _VALUE.finditer(text)]
    if len(spans) < 2:
        return text
    (a, b), (c, d) = sorted(chance.sample(spans, 2))
    return text[:a] + text[c:d] + text[b:c] + text[a:b] + text[d:]


def _prefixed(_: random.Random, text: str) -> str:
    """Spell the elements of the main namespace with a prefix."""
    match = re.search(r'\sxmlns="([^"]*)"', text)
    if match is None or "xmlns:own" in text:
        return text
    return _NAME.sub(r"\1own:\2", text[: match.start()] + f' xmlns:own="{match[1]}"' + text[match.end() :])


def _elements(change: Callable[[random.Random, list[etree._Element]], None]) -> Mutation:
    """Have a change made to the elements of a part; one that is no XML stays as it is."""

    def changed(chance: random.Random, part: bytes) -> bytes:
        try:
            root = etree.fromstring(part, etree.XMLParser(resolve_entities=False, huge_tree=True))
        except (etree.XMLSyntaxError, ValueError):
            return part
        below = [one for one in root.iterdescendants() if isinstance(one.tag, str)]
        if below:
            change(chance, below)
        return etree.tostring(root, encoding="UTF-8", xml_declaration=True, standalone=True)

    return _in_a_part(changed)


def _copy(element: etree._Element) -> etree._Element:
    return etree.fromstring(etree.tostring(element, with_tail=False))


def _parent(element: etree._Element) -> etree._Element:
    parent = element.getparent()
    assert parent is not None
    return parent


def _deleted(chance: random.Random, below: list[etree._Element]) -> None:
    gone = chance.choice(below)
    _parent(gone).remove(gone)


def _doubled(chance: random.Random, below: list[etree._Element]) -> None:
    one = chance.choice(below)
    one.addnext(_copy(one))


def _moved(chance: random.Random, below: list[etree._Element]) -> None:
    one, other = chance.choice(below), chance.choice(below)
    new = _copy(one)
    _parent(one).remove(one)
    other.append(new)


def _exchanged(chance: random.Random, below: list[etree._Element]) -> None:
    one = chance.choice(below)
    other = chance.choice([each for each in below if each.tag == one.tag])
    first, second = _copy(one), _copy(other)
    if one is not other and one not in other.iterancestors() and other not in one.iterancestors():
        _parent(one).replace(one, second)
        _parent(other).replace(other, first)


def _encoded(chance: random.Random, part: bytes) -> bytes:
    text = re.sub(r"^<\?xml[^>]*\?>\s*", "", part.decode("utf-8-sig", "replace"))
    encoding = chance.choice(_ENCODINGS)
    declared = chance.choice((encoding, chance.choice(_ENCODINGS), "punycode", "x", "utf-7", "idna"))
    return f'<?xml version="1.0" encoding="{declared}"?>{text}'.encode(encoding, "xmlcharrefreplace")


def _commented(chance: random.Random, tag: str) -> str:
    return tag + chance.choice(("<!-- c -->", "<!-- <c r='A1'/> -->", "<?pi x?>", "<!---->"))


def _cdata(_: random.Random, text: str) -> str:
    return f"><![CDATA[{text[1:-1]}]]><"


MARKUP: Mapping[str, Mutation] = {
    "an element deleted": _elements(_deleted),
    "an element doubled": _elements(_doubled),
    "an element moved": _elements(_moved),
    "two elements exchanged": _elements(_exchanged),
    "a tag deleted": _text(_at_match(_TAG, lambda _, tag: "")),
    "a tag doubled": _text(_at_match(_TAG, lambda _, tag: tag * 2)),
    "an attribute deleted": _text(_at_match(_ATTRIBUTE, lambda _, found: "")),
    "an attribute doubled": _text(_at_match(_ATTRIBUTE, lambda _, found: found * 2)),
    "an attribute's value replaced": _text(_at_match(_VALUE, lambda c, _: f'="{c.choice(_NASTY)}"')),
    "two attributes' values exchanged": _text(_attributes_exchanged),
    "a number made giant": _text(_at_match(_DIGITS, lambda c, _: c.choice(_GIANTS))),
    "a text replaced": _text(_at_match(_TEXT, lambda c, _: f">{c.choice(_NASTY)}<")),
    "a fragment put in": _text(_at_match(_TAG, lambda c, tag: tag + c.choice(_FRAGMENTS))),
    "a comment put in": _text(_at_match(_TAG, _commented)),
    "a text as CDATA": _text(_at_match(_TEXT, _cdata)),
    "white space put in": _text(_at_match(_TAG, lambda c, tag: tag + c.choice(("\n", "\r\n\t", "\u00a0")))),
    "elements spelt with a prefix": _text(_prefixed),
    "another encoding": _in_a_part(_encoded),
}
"""Damage to the markup of a part, by what it is."""

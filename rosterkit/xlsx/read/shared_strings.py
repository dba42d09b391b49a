"""The texts that the cells of a workbook share: judged, and normalised if not in canonical form."""

import re
from dataclasses import dataclass

from rosterkit.xlsx.package import limits
from rosterkit.xlsx.package.errors import shown
from rosterkit.xlsx.package.markup import TooMuchError, elements, local, utf8, walked
from rosterkit.xlsx.package.opening import Package, explained, parsed
from rosterkit.xlsx.xml.tags import text_markup

ESCAPED = re.compile(r"_x([0-9A-Fa-f]{4})_")
"""A character that XML cannot hold, or an underscore that would begin such an escape (ST_Xstring)."""

_SIGNS = rb"[^<&\x00-\x08\x0b-\x1f]"
_ENTITY = rb"&(?:amp|lt|gt|quot|apos|#9|#10|#13|#[1-9][0-9]{2,3}|#[1-4][0-9]{4}|#x[9AD]);"
TEXT = rb"%s*+(?:%s%s*+)*+" % (_SIGNS, _ENTITY, _SIGNS)
"""Text between tags in its canonical form, or none."""

SHOWN = rb'<t(?:>(?![ \t\n<]|&#)%s(?<![ \t\n;])| xml:space="preserve">(?!<)%s)</t>' % (TEXT, TEXT)
"""A text element that every reader takes for the same text, and not for none."""

# Possessive throughout: a text that is not in canonical form fails at once, in linear time.
_ORDINARY = re.compile(rb"(?:<si>%s</si>\s*+)*+" % SHOWN)
# What calamine would drop or take for an escape.
_RESPELT = re.compile(r"[\x00-\x08\x0b-\x1f\ufffe\uffff]|_(?=x[0-9A-Fa-f]{4}_)")


@dataclass(frozen=True, slots=True, kw_only=True)
class SharedStrings:
    """The shared texts of a workbook in the two forms in which they are needed."""

    data: bytes | None
    """The texts as a part in canonical form; None if the workbook's own part is ordinary."""
    texts: tuple[str, ...] | None
    """The texts; None while nobody has had to read them."""
    blank: frozenset[int]
    """Indices of texts without any character."""


def unescaped(text: str) -> str:
    """Put in the characters that a text holds in escaped form, once."""
    if "_x" not in text:
        return text
    plain = ESCAPED.sub(lambda match: chr(int(match[1], 16)), text)
    return plain.encode("utf-16", "surrogatepass").decode("utf-16", "replace")


def shared_strings(package: Package) -> SharedStrings:
    """Judge the shared texts, and read them only where a plain reader could take them otherwise.

    CannotRunError if the part is damaged, not well-formed, or larger than ``limits`` allow.
    """
    part = package.shared_strings_part
    if part is None:
        return SharedStrings(data=None, texts=(), blank=frozenset())
    stored = package.read(part, limits.MAX_STRINGS_BYTES)
    with explained(package.name, f"part {shown(part)}"):
        data = utf8(stored)
        if _is_ordinary(data):
            return SharedStrings(data=None if data is stored else data, texts=None, blank=frozenset())
        found = texts(data)
    blank = frozenset(index for index, text in enumerate(found) if not text)
    return SharedStrings(data=_part(found), texts=found, blank=blank)


def read_texts(package: Package, strings: SharedStrings) -> tuple[str, ...]:
    """Return the shared texts themselves; CannotRunError if the part is not well-formed."""
    part = package.shared_strings_part
    if strings.texts is not None or part is None:
        return strings.texts or ()
    return parsed(package.archive, part, texts, limits.MAX_STRINGS_BYTES)


def _is_ordinary(data: bytes) -> bool:
    first = data.find(b"<si>")
    if first < 0 or any(sign in data for sign in (b"_x", b"<!", b"]]>")):
        return False
    end = _ORDINARY.match(data, first)
    if end is None or data[end.end() :].strip() != b"</sst>":
        return False
    return [one.kind for one in elements(data[:first] + b"</sst>")] == ["sst"]


def texts(data: bytes) -> tuple[str, ...]:
    """Read a shared strings part in UTF-8, whatever its spelling; how a text is read aloud is left out.

    MarkupError if the part is not well-formed.
    """
    reader = TextReader()
    found: list[str] = []

    def ended(name: str) -> None:
        if local(name) == "si":
            found.append(reader.taken())
            if len(found) > limits.MAX_ODD_ELEMENTS:
                raise TooMuchError("is too large for its unusual spelling")
        else:
            reader.ended(name)

    walked(data, reader.started, ended, reader.pieces.append)
    return tuple(found)


class TextReader:
    """Puts together the runs of one text as a parser meets them.

    Blanks at the ends of a run are kept whether the file asks for that or not: some programs forget to ask.
    """

    def __init__(self) -> None:
        self.pieces: list[str] = []
        self._runs: list[str] = []
        self._aloud = 0

    def started(self, name: str, _: object = None) -> None:
        """Take the beginning of an element."""
        self.pieces.clear()
        if local(name) == "rPh":
            self._aloud += 1

    def ended(self, name: str) -> None:
        """Take the end of an element."""
        kind = local(name)
        if kind == "rPh":
            self._aloud -= 1
        elif kind == "t" and not self._aloud:
            self._runs.append("".join(self.pieces))
        self.pieces.clear()

    def taken(self) -> str:
        """Return the text that has come together, and begin the next one."""
        text = unescaped("".join(self._runs))
        self._runs.clear()
        self.pieces.clear()
        return text


def _part(found: tuple[str, ...]) -> bytes:
    items = "".join(f'<si><t xml:space="preserve">{_respelt(text)}</t></si>' for text in found)
    return f"<sst>{items}</sst>".encode("utf-8", "replace")


def _respelt(text: str) -> str:
    return _RESPELT.sub(lambda match: f"_x{ord(match[0]):04X}_", text_markup(text))

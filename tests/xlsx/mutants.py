"""Valid workbooks damaged at random, always in the same way for the same number."""

import io
import random
import re
import zipfile
from collections.abc import Callable
from datetime import date

import openpyxl
import xlsxwriter

from tests.xlsx.hand_made import links, parts, rows, texts, worksheet, zipped

_NASTY = (
    "",
    "0",
    "-1",
    "1",
    "7",
    "1048576",
    "1048577",
    "99999999999999999999",
    "A1",
    "B2",
    "XFD1048576",
    "ZZ9",
    "A99999999999",
    "a1",
    "A1:XFD1048576",
    "NaN",
    "1e400",
    "-0.5",
    "60",
    "1,5",
    "true",
    "s",
    "str",
    "inlineStr",
    "b",
    "e",
    "d",
    "n",
    "../../x.xml",
    "%2e%2e/x",
    "worksheets/sheet1.xml",
    "_x000D_",
    "_x005F_x000D_",
    "&amp;&#0;",
    "\u202e\U0001f682",
    "x" * 40_000,
)
_FRAGMENTS = (
    "<!DOCTYPE a>",
    "<!-- c -->",
    "<![CDATA[<v>1</v>]]>",
    "<?pi?>",
    '<c r="A1"><v>1</v></c>',
    '<row r="1"><c r="XFD1"><v>2</v></c></row>',
    "<row/>",
    "<c/>",
    "<v>3</v>",
    "<f>1+1</f>",
    "<is><t> x </t></is>",
    "<t/>",
    "<si/>",
    "</sheetData><sheetData>",
    "<sheetData/>",
    '<mergeCell ref="A1:B2"/>',
    "\x01",
    "&club;",
    "&#13;",
    " ",
    "]]>",
)
_ATTRIBUTE = re.compile(r'="[^"]*"')
_TAG = re.compile(r"<[^<>]*>")
_TEXT = re.compile(r">[^<>]+<")


def _by_xlsxwriter() -> bytes:
    file = io.BytesIO()
    book = xlsxwriter.Workbook(file)
    sheet = book.add_worksheet("Locomotives")
    day = book.add_format({"num_format": "yyyy-mm-dd"})
    sheet.write_row("A1", ["Name", "Address", "Bought", "Long", "Weight"])
    for row in range(1, 6):
        sheet.write_row(row, 0, [f"Engine {row}", row * 3])
        sheet.write_datetime(row, 2, date(2024, 1, row), day)
        sheet.write_boolean(row, 3, row % 2)
        sheet.write_formula(row, 4, f"=B{row + 1}*2", None, row * 6)
    sheet.write_formula("F2", "=1/0", None, "#DIV/0!")
    sheet.merge_range("A8:C9", "merged")
    book.add_worksheet("Notes").write("A1", "note")
    book.close()
    return file.getvalue()


def _by_openpyxl() -> bytes:
    file = io.BytesIO()
    book = openpyxl.load_workbook(io.BytesIO(_by_xlsxwriter()))
    book.save(file)
    return file.getvalue()


def _by_hand() -> bytes:
    cells = rows(
        '<c r="A1" t="s"><v>0</v></c><c r="B1" t="s"><v>1</v></c><c r="C1" t="s"><v>3</v></c>',
        '<c r="A2" s="1"><v>45351</v></c><c r="B2" s="3"><v>1.5</v></c><c r="C2" s="4"><v>400</v></c>',
        '<c r="A3" t="inlineStr"><is><t>a &amp; b</t></is></c><c r="B3" t="str"><f>A3</f><v>c</v></c>',
        '<c r="A4"><f t="shared" ref="A4:A5" si="0">B1</f><v>1</v></c><c r="B4" t="e"><v>#REF!</v></c>',
        '<c r="A5"><f t="shared" si="0"/></c><c r="B5" s="2"><v>0.5</v></c><c r="C5" t="b"><v>1</v></c>',
    )
    strings = texts("<t>Name</t>", "<r><t>two </t></r><r><t>runs</t></r>", "<t/>", "<t>a_x000D_b</t>")
    return zipped(parts(worksheet(cells, '<mergeCells><mergeCell ref="A8:B9"/></mergeCells>'), strings))


def _indented() -> bytes:
    sheet = worksheet("\n <row>\n  <c>\n   <v>1</v>\n  </c>\n </row>\n").encode("utf-16")
    return zipped(parts(sheet, links=links()), zipfile.ZIP_STORED)


def seeds() -> tuple[bytes, ...]:
    """The valid workbooks."""
    return _by_xlsxwriter(), _by_openpyxl(), _by_hand(), _indented()


def _bytes_changed(chance: random.Random, content: bytes) -> bytes:
    changed = bytearray(content)
    for _ in range(chance.choice((1, 1, 2, 8))):
        at = chance.randrange(len(changed))
        end = min(len(changed), at + chance.choice((1, 2, 4, 64)))
        match chance.randrange(4):
            case 0:
                changed[at] ^= 1 << chance.randrange(8)
            case 1:
                changed[at:end] = chance.randbytes(end - at)
            case 2:
                del changed[at:end]
            case _:
                changed[at:at] = changed[at:end]
    return bytes(changed)


def _cut(chance: random.Random, content: bytes) -> bytes:
    return content[: chance.randrange(len(content))]


def _directory_changed(chance: random.Random, content: bytes) -> bytes:
    changed = bytearray(content)
    headers = [match.start() for match in re.finditer(rb"PK(?:\x01\x02|\x03\x04|\x05\x06)", content)]
    for _ in range(chance.choice((1, 2, 4))):
        at = min(len(changed) - 1, chance.choice(headers) + chance.randrange(4, 46))
        changed[at] = chance.choice((0, 1, 8, 127, 255, chance.randrange(256)))
    return bytes(changed)


def _entries(content: bytes) -> list[tuple[str, bytes]]:
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        return [(info.filename, archive.read(info)) for info in archive.infolist()]


def _zipped(entries: list[tuple[str, bytes]]) -> bytes:
    file = io.BytesIO()
    with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, part in entries:
            archive.writestr(name, part)
    return file.getvalue()


def _entries_changed(chance: random.Random, content: bytes) -> bytes:
    entries = _entries(content)
    at, other = chance.randrange(len(entries)), chance.randrange(len(entries))
    match chance.randrange(5):
        case 0:
            del entries[at]
        case 1:
            entries[at] = (entries[at][0], entries[other][1])
        case 2:
            entries[at] = (
                chance.choice((entries[at][0].upper(), "../x", "x\\y", "xl/%41.xml")),
                entries[at][1],
            )
        case 3:
            entries.append(entries[at])
        case _:
            entries[at] = (entries[at][0], chance.choice((b"", b"<a/>", chance.randbytes(50))))
    return _zipped(entries)


def _markup_changed(chance: random.Random, content: bytes) -> bytes:
    entries = _entries(content)
    telling = [at for at, (name, _) in enumerate(entries) if not name.startswith(("docProps", "xl/theme"))]
    at = chance.choice(telling)
    name, part = entries[at]
    encoding = "utf-16" if part.startswith(b"\xff\xfe") else "utf-8"
    text = part.decode(encoding)
    for _ in range(chance.choice((1, 1, 2, 3))):
        text = _text_changed(chance, text)
    entries[at] = (name, text.encode(encoding, "surrogatepass"))
    return _zipped(entries)


def _text_changed(chance: random.Random, text: str) -> str:
    pattern = chance.choice((_ATTRIBUTE, _ATTRIBUTE, _TAG, _TEXT))
    spans = [match.span() for match in pattern.finditer(text)]
    if not spans:
        return text + chance.choice(_FRAGMENTS)
    begin, end = chance.choice(spans)
    if pattern is _ATTRIBUTE:
        return f'{text[:begin]}="{chance.choice(_NASTY)}"{text[end:]}'
    if pattern is _TEXT:
        return f"{text[:begin]}>{chance.choice(_NASTY)}<{text[end:]}"
    match chance.randrange(4):
        case 0:
            return text[:begin] + text[end:]
        case 1:
            return text[:end] + text[begin:end] + text[end:]
        case 2:
            other = chance.choice(spans)
            return text[:begin] + text[other[0] : other[1]] + text[end:]
        case _:
            return text[:begin] + chance.choice(_FRAGMENTS) + text[begin:]


_WAYS: tuple[Callable[[random.Random, bytes], bytes], ...] = (
    _bytes_changed,
    _cut,
    _directory_changed,
    _entries_changed,
    _markup_changed,
    _markup_changed,
    _markup_changed,
    _markup_changed,
)


def mutant(number: int, originals: tuple[bytes, ...]) -> bytes:
    """The damaged workbook of this number."""
    chance = random.Random(number)  # noqa: S311 - it has to repeat itself
    return chance.choice(_WAYS)(chance, chance.choice(originals))

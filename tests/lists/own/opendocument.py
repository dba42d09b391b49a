"""An .ods written by hand, with what programs write and few lists have: repeats, annotations, blanks as elements."""

import zipfile
from pathlib import Path

from tests.lists.own.own_list import OwnList, columns, engines

_MANIFEST = """<?xml version="1.0" encoding="UTF-8"?>
<manifest:manifest xmlns:manifest="urn:oasis:names:tc:opendocument:xmlns:manifest:1.0" manifest:version="1.2">
<manifest:file-entry manifest:full-path="/" manifest:media-type="application/vnd.oasis.opendocument.spreadsheet"/>
<manifest:file-entry manifest:full-path="content.xml" manifest:media-type="text/xml"/>
</manifest:manifest>"""
_HEAD = """<?xml version="1.0" encoding="UTF-8"?>
<office:document-content xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0"
 xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0"
 xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0"
 xmlns:style="urn:oasis:names:tc:opendocument:xmlns:style:1.0"
 xmlns:fo="urn:oasis:names:tc:opendocument:xmlns:xsl-fo-compatible:1.0"
 xmlns:dc="http://purl.org/dc/elements/1.1/" office:version="1.2">
<office:automatic-styles><style:style style:name="ce1" style:family="table-cell">
<style:table-cell-properties fo:background-color="#ffff99"/></style:style></office:automatic-styles>
<office:body><office:spreadsheet><table:table table:name="Rotabili">
<table:table-column table:number-columns-repeated="9"/>
"""
_TAIL = """
<table:table-row table:number-rows-repeated="1048560"><table:table-cell table:number-columns-repeated="16384"/>
</table:table-row>
</table:table></office:spreadsheet></office:body></office:document-content>"""
_BLANK = "<table:table-cell/>"
_HEADS = (
    "Ferrovia",
    "Matricola",
    "Tipo",
    "Indirizzo",
    "Decoder",
    "Lunghezza mm",
    "Proprietario",
    "Direzione",
    "Note",
)


def _text(value: str, more: str = "") -> str:
    paragraphs = "".join(f"<text:p>{line}</text:p>" for line in value.split("\n"))
    return f'<table:table-cell office:value-type="string"{more}>{paragraphs}</table:table-cell>'


def _number(value: float, shown: str) -> str:
    return (
        f'<table:table-cell office:value-type="float" office:value="{value}"><text:p>{shown}</text:p>'
        "</table:table-cell>"
    )


def _row(*cells: str, more: str = "") -> str:
    return f"<table:table-row{more}>{''.join(cells)}</table:table-row>"


_NOTED = (
    '<table:table-cell office:value-type="string"><office:annotation><dc:date>2018-05-01T10:00:00</dc:date>'
    "<text:p>comprata usata</text:p></office:annotation><text:p>T<text:s/>12</text:p></table:table-cell>"
)
_SPANNED = ' table:number-columns-spanned="1" table:number-rows-spanned="2"'
_COVERED = "<table:covered-table-cell/>"
_ROWS = (
    _row(_text("Parco rotabili", ' table:number-columns-spanned="9" table:number-rows-spanned="1"'),
         '<table:covered-table-cell table:number-columns-repeated="8"/>'),
    _row('<table:table-cell table:number-columns-repeated="9"/>', more=' table:number-rows-repeated="2"'),
    "<table:table-header-rows>" + _row(*(_text(head) for head in _HEADS)) + "</table:table-header-rows>",
    _row(_text("Ferrovia Valgrana", _SPANNED), _text("007"), _text("tender"), _number(7, "7"), _text("grande"),
         _number(142.5, "142,5"), _text("M02"), _text("normale"), _BLANK),
    _row(_COVERED, _NOTED, _text("manovra"), _number(12, "12"), _text("piccolo"), _number(88, "88"), _text("M02"),
         _text("invertita"), _text("gira al\ncontrario")),
    _row(_text("Tranvia di Montebruno"), _number(1203, "1203"), _text("automotrice"), _number(1203, "1203"),
         _text("piccolo"), _number(201, "201"), _text("M06"), _BLANK, _BLANK),
    _row(_text("Tranvia di Montebruno"), _number(1204, "1204"), _text("automotrice"), _text("vedi scheda"), _BLANK,
         _number(201, "201"), _text("M06"), _BLANK, _text("decoder da montare")),
    _row(_text("Tranvia di Montebruno"), _number(5, "005"), _text("carro <text:span>motore</text:span>"),
         _number(3, "3"), _text("piccolo"), _BLANK, _text("M11"), _text("normale"), _BLANK),
)  # fmt: skip


def _rotabili(path: Path) -> None:
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as package:
        package.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet", zipfile.ZIP_STORED)
        package.writestr("content.xml", _HEAD + "\n".join(_ROWS) + _TAIL)
        package.writestr("META-INF/manifest.xml", _MANIFEST)


ROTABILI = OwnList(
    "rotabili.ods",
    _rotabili,
    "Italian, .ods written by hand: repeated blank rows, a million of them below, merged cells, a note, zeros shown",
    columns(
        "Rotabili", A="railway", B=["number", "loco"], C="model", D="address", E="decoder", F="length", G="owner",
        H="direction", I="notes",
    ),
    engines(
        "Rotabili",
        "railway number model address decoder length owner direction notes",
        {
            5: ("Ferrovia Valgrana", "007", "tender", 7, "grande", 142.5, "M02", "normal", None),
            6: ("Ferrovia Valgrana", "T 12", "manovra", 12, "piccolo", 88, "M02", "reversed", "gira al contrario"),
            7: ("Tranvia di Montebruno", "1203", "automotrice", 1203, "piccolo", 201, "M06", None, None),
            8: ("Tranvia di Montebruno", "1204", "automotrice", None, None, 201, "M06", None, "decoder da montare"),
            9: ("Tranvia di Montebruno", "005", "carro motore", 3, "piccolo", None, "M11", "normal", None),
        },
    ),
    doubts=["Rotabili!D8"],
)  # fmt: skip

OPENDOCUMENT = (ROTABILI,)

"""Workbooks of several sheets, and sheets in groups: by railway, by owner; two rows for one engine."""

from datetime import date
from pathlib import Path

from openpyxl import Workbook

from tests.lists.own.own_list import OwnList, columns, engines
from tests.lists.own.sheets import by_libreoffice, put, sheets_of

_HEADS = ("Nr.", "Gattung", "Digitaladresse", "Decoder", "LüP", "Fahrtrichtung", "Bemerkungen")


def _bahnen(path: Path) -> None:
    workbook = Workbook()
    btb, hgk, legend = sheets_of(workbook, "BTB", "HGK", "Legende")
    put(btb, [
        ("Bärentaler Talbahn (BTB)",),
        ("Stand: Herbst 2019",),
        (),
        _HEADS,
        ("M03",),
        (201, "Tenderlok", 201, "einfach", 118.5, "vorwärts"),
        (202, "Tenderlok", 202, "einfach", 118.5, "rückwärts", "Motor dreht falsch"),
        ("VT 7", "Triebwagen", 7, "Klang", 240),
        ("M08",),
        (31, "Kleinlok", 31, "einfach", 74, "vorwärts"),
        ("Summe", None, None, None, "=SUM(E6:E10)"),
    ])  # fmt: skip
    put(hgk, [
        ("Hafen- und Grubenbahn Krühl (HGK)",),
        ("Stand: Frühjahr 2020",),
        (),
        _HEADS,
        ("M03",),
        (1, "Akkulok", 1001, "mini", 66, "vorwärts", "Adresse = Nummer + 1000"),
        (2, "Akkulok", 1002, "mini", 66, "vorwärts"),
        ("E 14", "Schlepper", 14, None, 92, None, "Decoder liegt in Schublade 4"),
        ("Summe", None, None, None, "=SUM(E6:E8)"),
    ])  # fmt: skip
    put(legend, [("vorwärts / rückwärts: von der Rauchkammer aus",), ("LüP in Millimetern",)])
    workbook.save(path)


_FIELDS = "number model address decoder length direction notes owner"
_BTB = ["Bärentaler Talbahn (BTB)", "Bärentaler Talbahn", "BTB"]
_HGK = ["Hafen- und Grubenbahn Krühl (HGK)", "Hafen- und Grubenbahn Krühl", "HGK"]
BAHNEN = OwnList(
    "bahnen.ods",
    by_libreoffice(_bahnen, "ods"),
    "German, a sheet per railway, named in its title; owners in rows of their own; a sheet that only explains",
    {
        f"{sheet}!{letter}": wanted
        for sheet in ("BTB", "HGK")
        for letter, wanted in {
            "A": ["number", "loco"], "B": "model", "C": "address", "D": "decoder", "E": "length", "F": "direction",
            "G": "notes",
        }.items()
    },
    {
        **engines(
            "BTB",
            _FIELDS,
            {
                6: ("201", "Tenderlok", 201, "einfach", 118.5, "normal", None, "M03"),
                7: ("202", "Tenderlok", 202, "einfach", 118.5, "reversed", "Motor dreht falsch", "M03"),
                8: ("VT 7", "Triebwagen", 7, "Klang", 240, None, None, "M03"),
                10: ("31", "Kleinlok", 31, "einfach", 74, "normal", None, "M08"),
            },
            railway=_BTB,
        ),
        **engines(
            "HGK",
            _FIELDS,
            {
                6: ("1", "Akkulok", 1001, "mini", 66, "normal", "Adresse = Nummer + 1000", "M03"),
                7: ("2", "Akkulok", 1002, "mini", 66, "normal", None, "M03"),
                8: ("E 14", "Schlepper", 14, None, 92, None, "Decoder liegt in Schublade 4", "M03"),
            },
            railway=_HGK,
        ),
    },
)  # fmt: skip


def _zweizeilig(path: Path) -> None:
    workbook = Workbook()
    (sheet,) = sheets_of(workbook, "Loks")
    put(sheet, [
        ("Besitzer", "Bahn", "Lok", "Adresse", "Decoder", "gekauft", "Bemerkungen"),
        ("M01", "Rabenfels", "98", 98, "alt", date(2009, 5, 2), "läuft nur bei Tageslicht"),
        (None, None, None, None, None, None, "Schleifer erneuert"),
        (None, "Rabenfels", "99", 99, "alt", date(2009, 5, 2), "ruckelt"),
        (None, None, None, None, None, None, None),
        ("M05", "Rabenfels", "0407", 407, "neu", None, "Getriebe neu"),
        (None, None, None, None, None, None, "2021 geölt"),
        (None, "Rabensteiner Kleinbahn", "4", 4, "neu", None, None),
        (None, None, None, None, None, None, "Probefahrt ausstehend"),
    ])  # fmt: skip
    for top in (2, 4, 6, 8):
        for letter in "BCDEF":
            sheet.merge_cells(f"{letter}{top}:{letter}{top + 1}")
    sheet.merge_cells("A2:A5")
    sheet.merge_cells("A6:A9")
    workbook.save(path)


def _joined(first: str, second: str) -> list[str]:
    return [f"{first}{sign}{second}" for sign in (" ", "; ", " / ", ", ")]


ZWEIZEILIG = OwnList(
    "zweizeilig.xls",
    by_libreoffice(_zweizeilig, "xls"),
    "German, .xls: two rows an engine, merged but for the remarks, which go on in the second; merged owners",
    columns(
        "Loks", A="owner", B="railway", C=["number", "loco"], D="address", E="decoder", F="own", G="notes",
    ),
    engines(
        "Loks",
        "owner railway number address decoder notes",
        {
            2: ("M01", "Rabenfels", "98", 98, "alt", _joined("läuft nur bei Tageslicht", "Schleifer erneuert")),
            4: ("M01", "Rabenfels", "99", 99, "alt", "ruckelt"),
            6: ("M05", "Rabenfels", "0407", 407, "neu", _joined("Getriebe neu", "2021 geölt")),
            8: ("M05", "Rabensteiner Kleinbahn", "4", 4, "neu", "Probefahrt ausstehend"),
        },
    ),
)  # fmt: skip


RAILWAYS = (BAHNEN, ZWEIZEILIG)

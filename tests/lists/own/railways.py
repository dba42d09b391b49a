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


def _club_book(path: Path) -> None:
    workbook = Workbook()
    fleet, turnouts, stock, wishes, members, old = sheets_of(
        workbook, "Engines", "Turnouts", "Decoder stock", "To buy", "Members", "2015"
    )
    put(fleet, [
        ("Road", "No", "Type", "Cat. No", "Bought", "Price", "Address", "Decoder", "Owner"),
        ("Copper Ridge", 501, "consolidation", 23601, date(2016, 2, 1), 329, 501, "loud", "M01"),
        ("Copper Ridge", 502, "consolidation", 23602, date(2016, 2, 1), 329, 502, "loud", "M01"),
        ("Copper Ridge", 12, "switcher", 11012, date(2017, 8, 19), 119.5, 12, "quiet", "M02"),
        ("Salt Marsh", 90, "railcar", 31090, None, 99, 90, "quiet", "M03"),
    ])  # fmt: skip
    put(turnouts, [
        ("Turnout", "Address", "Motor", "Remarks"),
        ("T1 station throat", 1, "slow", None),
        ("T2 station throat", 2, "slow", "sticks"),
        ("T14 mill", 14, "twin coil", None),
    ])  # fmt: skip
    put(stock, [
        ("Decoder", "Qty", "Rated A", "Price each"),
        ("loud", 3, 1.5, 89),
        ("quiet", 11, 1, 24.5),
        ("tiny", 0, 0.6, 31),
    ])  # fmt: skip
    put(wishes, [
        ("Road", "No", "Type", "Price", "Where seen"),
        ("Copper Ridge", 503, "consolidation", 340, "swap meet"),
        ("Salt Marsh", 91, "railcar", 105, None),
    ])  # fmt: skip
    put(members, [
        ("Code", "Address", "Engines"),
        ("M01", "4 Canal Street", 2),
        ("M02", "19 Hill Road", 1),
        ("M03", "7 Canal Street", 1),
    ])  # fmt: skip
    put(old, [
        ("Road", "No", "Address"),
        ("Copper Ridge", 501, 51),
        ("Copper Ridge", 12, 3),
    ])  # fmt: skip
    old.sheet_state = "hidden"
    workbook.save(path)


CLUB_BOOK = OwnList(
    "club_book.xlsx",
    _club_book,
    "engines beside turnouts, a stock of decoders, a wish list, members' homes, and a hidden sheet that is out of date",
    {
        **columns(
            "Engines", A="railway", B=["number", "loco"], C="model", D="own", E="own", F="own", G="address",
            H="decoder", I="owner",
        ),
        **columns(
            "Turnouts", A=["accessory", "own"], B=["accessory address", "own"], C="own", D=["notes", "own"],
        ),
        **columns("Decoder stock", A=["decoder", "own"], B="own", C=["continuous", "own"], D="own"),
        **columns("To buy", A=["railway", "own"], B=["number", "loco", "own"], C=["model", "own"], D="own", E="own"),
        **columns("Members", A=["own", "owner"], B="own", C="own"),
        **columns("2015", A=["railway", "own"], B=["number", "loco", "own"], C=["address", "own"]),
    },
    engines(
        "Engines",
        "railway number model address decoder owner",
        {
            2: ("Copper Ridge", "501", "consolidation", 501, "loud", "M01"),
            3: ("Copper Ridge", "502", "consolidation", 502, "loud", "M01"),
            4: ("Copper Ridge", "12", "switcher", 12, "quiet", "M02"),
            5: ("Salt Marsh", "90", "railcar", 90, "quiet", "M03"),
        },
    ),
    either=["To buy!", "2015!"],
)  # fmt: skip

RAILWAYS = (BAHNEN, ZWEIZEILIG, CLUB_BOOK)

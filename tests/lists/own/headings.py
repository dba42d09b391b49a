"""Workbooks whose headings are the trouble: three rows of them, repeated, or another set halfway down."""

from datetime import date
from pathlib import Path

from openpyxl import Workbook
from openpyxl.styles import Font

from tests.lists.own.own_list import OwnList, columns, engines, labels
from tests.lists.own.sheets import put, sheets_of

_HEADS = (
    ("Engine", None, None, None, "Digital", None, None, "Momentum", None, "Remarks"),
    ("Road", "Number", "Class", None, "Addr.", "Decoder", "Steps", "acc.", "dec.", None),
    (None, "on the cab", None, None, "1-9999", "own name", "14/28/128", "CV3", "CV4", None),
)
_FIRST_PAGE = (
    ("Ferrous Hills", 7, "tank", None, 7, "big", 128, 12, 10, None),
    ("Ferrous Hills", 19, "tank", None, 19, "big", 128, 12, 10, "squeaks"),
    ("Ferrous Hills", 3310, "road switcher", None, 3310, "plain", 128, 8, 8, None),
    ("Ferrous Hills", 3311, "road switcher", None, 3311, "plain", 28, 8, 8, None),
    ("Ferrous Hills", 3312, "road switcher", None, 3312, "plain", 128, None, None, "new motor"),
    ("Blue Heron", 2, "gas car", None, 102, "tiny", 14, 1, 1, None),
    ("Blue Heron", 4, "gas car", None, 104, "tiny", 14, 1, 1, None),
)
_SECOND_PAGE = (
    ("Blue Heron", 51, "cab unit", None, 51, "plain", 128, 20, 15, None),
    ("Blue Heron", 52, "booster", None, 51, "plain", 128, 20, 15, "same address as 51, always together"),
    ("Otter Creek", 610, "railcar", None, 610, "tiny", 128, 5, 5, None),
    ("Otter Creek", 611, "railcar", None, 611, "tiny", 128, 5, 5, None),
)


def _three_heads(path: Path) -> None:
    workbook = Workbook()
    (sheet,) = sheets_of(workbook, "Roster")
    put(sheet, [("Engine roster",), ("page 1",)])
    put(sheet, _HEADS, top=3)
    put(sheet, _FIRST_PAGE, top=6)
    put(sheet, [("carried over", 7), (), ("Engine roster",), ("page 2",)], top=13)
    put(sheet, _HEADS, top=17)
    put(sheet, _SECOND_PAGE, top=20)
    put(sheet, [("engines in all", "=COUNT(B6:B12)+COUNT(B20:B23)")], top=25)
    for top in (3, 17):
        for area in ("A{0}:C{0}", "E{0}:G{0}", "H{0}:I{0}"):
            sheet.merge_cells(area.format(top))
        sheet.merge_cells(f"J{top}:J{top + 2}")
    for row in range(6, 24):
        sheet.cell(row, 2).number_format = "000"
    workbook.save(path)


_NAMES = "railway number model address decoder speed_steps acceleration deceleration notes"
THREE_HEADS = OwnList(
    "three_heads.xlsx",
    _three_heads,
    "three heading rows, merged, again on the second page; number formats make 007 of 7; a blank column; a carry",
    columns(
        "Roster", A="railway", B=["number", "loco"], C="model", E="address", F="decoder", G="speed_steps",
        H="acceleration", I="deceleration", J="notes",
    ),
    engines(
        "Roster",
        _NAMES,
        {
            6: ("Ferrous Hills", "007", "tank", 7, "big", "28/128", 12, 10, None),
            7: ("Ferrous Hills", "019", "tank", 19, "big", "28/128", 12, 10, "squeaks"),
            8: ("Ferrous Hills", "3310", "road switcher", 3310, "plain", "28/128", 8, 8, None),
            9: ("Ferrous Hills", "3311", "road switcher", 3311, "plain", "28/128", 8, 8, None),
            10: ("Ferrous Hills", "3312", "road switcher", 3312, "plain", "28/128", None, None, "new motor"),
            11: ("Blue Heron", "002", "gas car", 102, "tiny", "14", 1, 1, None),
            12: ("Blue Heron", "004", "gas car", 104, "tiny", "14", 1, 1, None),
            20: ("Blue Heron", "051", "cab unit", 51, "plain", "28/128", 20, 15, None),
            21: ("Blue Heron", "052", "booster", 51, "plain", "28/128", 20, 15, "same address as 51, always together"),
            22: ("Otter Creek", "610", "railcar", 610, "tiny", "28/128", 5, 5, None),
            23: ("Otter Creek", "611", "railcar", 611, "tiny", "28/128", 5, 5, None),
        },
    ),
)  # fmt: skip


def _two_tables(path: Path) -> None:
    workbook = Workbook()
    (sheet,) = sheets_of(workbook, "Stock")
    put(sheet, [
        ("STEAM",),
        ("No.", "Name", "DCC", "Decoder", "Owner"),
        (12, "Marigold", 12, "mid", "M01"),
        (14, "Duchess of Fen", 14, "mid", "M01"),
        (15, "Old Sparrow", 15, "mid", "M04"),
        (203, "Thistle", 203, None, "M04"),
        (),
        (),
        ("DIESEL AND ELECTRIC",),
        ("Road", "Unit", "Length in", "DCC address", "Bought", "Price", "Owner"),
        ("Fenland Light", 4101, 7.5, 4101, date(2015, 3, 1), 149, "M02"),
        ("Fenland Light", 4102, 7.5, 4102, date(2015, 3, 1), 149, "M02"),
        ("Quarry Tramway", 6, 4.25, 6, date(2018, 11, 24), 88.5, "M04"),
        ("Quarry Tramway", 7, 4.25, 3, date(2018, 11, 24), 88.5, "M04"),
        (None, None, None, None, "together", "=SUM(F11:F14)"),
        (),
        ("TURNOUTS",),
        ("Turnout", "Address", "Where"),
        ("yard lead", 1, "west yard"),
        ("yard 2", 2, "west yard"),
        ("main east", 11, "junction"),
    ])  # fmt: skip
    for row in (1, 9, 17):
        sheet.cell(row, 1).font = Font(bold=True, size=14)
    workbook.save(path)


TWO_TABLES = OwnList(
    "two_tables.xlsx",
    _two_tables,
    "tables of different columns above each other in one sheet; the last of them is of turnouts",
    {
        **columns(
            "Stock", A=["number", "loco"], B=["loco", "engine", "own", "model"], C="address", D="decoder", E="owner",
            A10="railway", B10=["number", "loco"], C10="length", D10="address", E10="own", F10="own", G10="owner",
            A18=["accessory", "own"], B18=["accessory address", "own"], C18=["notes", "own"],
        ),
    },
    {
        **engines(
            "Stock",
            "number loco address decoder owner",
            {
                3: ("12", ["Marigold", "12", "12 Marigold"], 12, "mid", "M01"),
                4: ("14", ["Duchess of Fen", "14", "14 Duchess of Fen"], 14, "mid", "M01"),
                5: ("15", ["Old Sparrow", "15", "15 Old Sparrow"], 15, "mid", "M04"),
                6: ("203", ["Thistle", "203", "203 Thistle"], 203, None, "M04"),
            },
        ),
        **engines(
            "Stock",
            "railway number loco length address owner",
            {
                11: ("Fenland Light", "4101", labels("Fenland Light", "4101"), 7.5, 4101, "M02"),
                12: ("Fenland Light", "4102", labels("Fenland Light", "4102"), 7.5, 4102, "M02"),
                13: ("Quarry Tramway", "6", labels("Quarry Tramway", "6"), 4.25, 6, "M04"),
                14: ("Quarry Tramway", "7", labels("Quarry Tramway", "7"), 4.25, 3, "M04"),
            },
        ),
    },
)  # fmt: skip

HEADINGS = (THREE_HEADS, TWO_TABLES)

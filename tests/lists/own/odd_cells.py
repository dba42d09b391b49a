"""Sheets whose cells are the trouble: functions by the dozen, formulas, dates, doubts, texts that are numbers."""

from datetime import date
from pathlib import Path

import xlsxwriter
from openpyxl import Workbook

from tests.lists.own.own_list import OwnList, columns, engines, or_blank
from tests.lists.own.sheets import by_gnumeric, by_libreoffice, put, sheets_of


def _functions(path: Path) -> None:
    heads = ["Road", "No.", "Old addr", "Addr", "Long", "MU", *(f"F{n}" for n in range(29)), "Remarks"]
    lights = ["lights"]
    rows: list[list[object]] = [
        ["M04"],
        ["Slate Belt", "0017", "3", "17", None, None, *lights, "bell", "horn", *[None] * 26, None],
        [
            "Slate Belt",
            "2203",
            "23",
            "2203",
            "✓",
            "A",
            *lights,
            "bell",
            "horn",
            *[None] * 25,
            "mute",
            "leads",
        ],
        ["Slate Belt", "2204", "24", "2204", "✓", "A", *lights, *[None] * 28, "trails"],
        ["M16"],
        ["Dune Shore", "5", "5", "5", None, None, *lights, None, "whistle", *[None] * 26, "sold?"],
        ["Dune Shore", "88", "8", "88", "✓", None, *lights, *[None] * 28, None],
    ]
    with xlsxwriter.Workbook(str(path)) as workbook:
        sheet = workbook.add_worksheet("Functions")
        text = workbook.add_format({"num_format": "@", "quote_prefix": True})
        amber = workbook.add_format({"num_format": "@", "bg_color": "#FFC000"})
        sheet.write_row(0, 0, heads)
        for number, row in enumerate(rows, 1):
            for column, value in enumerate(row):
                if value is not None:
                    sheet.write_string(number, column, str(value), amber if number in {3, 7} else text)
        sheet.write_comment(2, 1, "bought at the flea market")
        sheet.write_string(9, 0, "amber", workbook.add_format({"bg_color": "#FFC000"}))
        sheet.write_string(9, 1, "lubricate before the next show")
        sheet.set_column(2, 2, None, None, {"hidden": True})
        sheet.set_row(6, None, None, {"hidden": True})
        sheet.freeze_panes(1, 2)
        sheet.autofilter(0, 0, len(rows), len(heads) - 1)


FUNCTIONS = OwnList(
    "functions.xlsx",
    _functions,
    "every number a text; a column per function; owners in group rows; old addresses in a hidden column; a hidden row",
    {
        **columns(
            "Functions", A="railway", B=["number", "loco"], C="own", D="address", E=["address_kind", "own"], F="own",
            AJ="notes",
        ),
        **{f"Functions!{letter}": "own" for letter in ("G", "H", "I", "P", "Z", "AA", "AI")},
    },
    engines(
        "Functions",
        "railway number address address_kind owner notes colour",
        {
            3: ("Slate Belt", "0017", 17, [None, "short"], "M04", None, None),
            4: ("Slate Belt", "2203", 2203, ["long", None], "M04", "leads", "lubricate"),
            5: ("Slate Belt", "2204", 2204, ["long", None], "M04", "trails", None),
            7: ("Dune Shore", "5", 5, [None, "short"], "M16", "sold?", None),
            8: ("Dune Shore", "88", 88, ["long", None], "M16", None, "lubricate"),
        },
    ),
)  # fmt: skip


def _workbench(path: Path) -> None:
    workbook = Workbook()
    (sheet,) = sheets_of(workbook, "Bench")
    put(sheet, [
        ("Loco", "Railway", "Number", "Address", "Length", "Owner", "Last run", "Motor A", "Notes"),
        ('=B2&" "&C2', "NE", 7, "=C2", '7 1/4"', "M01", date(2023, 4, 1), 0.8, None),
        ('=B3&" "&C3', "NE", 5310, "=C3", "184 mm", "M01", date(2023, 4, 1), 0.75, None),
        ('=B4&" "&C4', "KC", 18, "3 (prog 2101)", "18.4 cm", "M02", None, None, "ask M02"),
        ('=B5&" "&C5', "KC", 19, "see card", 7.25, "M02", None, "=1/0", None),
        ("SM 1-2", "SM", date(2024, 2, 1), "12/13", None, "M07", None, 1.1, "permanently coupled"),
        ('=B7&" "&C7', "SM", "0440", "440?", None, "M07", date(2023, 4, 2), None, "wheels out of gauge"),
        ('=B8&" "&C8', "SM", 99, 0, None, "M07", None, None, None),
    ])  # fmt: skip
    sheet["C2"].number_format = "000"
    sheet["C6"].number_format = "d-m"
    workbook.save(path)


WORKBENCH = OwnList(
    "workbench.xlsx",
    by_libreoffice(_workbench, "xlsx"),
    "formulas for labels and addresses, a date where 1-2 was typed, two numbers in a cell, mixed units, an error value",
    columns(
        "Bench", A=["loco", "engine"], B="railway", C="number", D="address", E=["length", "own"], F="owner", G="own",
        H=["stall", "own"], I="notes",
    ),
    engines(
        "Bench",
        "loco railway number address owner notes length stall",
        {
            2: (["NE 7", "NE 007"], "NE", "007", 7, "M01", None, or_blank(184.15), or_blank(0.8)),
            3: ("NE 5310", "NE", "5310", 5310, "M01", None, or_blank(184), or_blank(0.75)),
            4: ("KC 18", "KC", "18", None, "M02", "ask M02", or_blank(184), None),
            5: ("KC 19", "KC", "19", None, "M02", None, None, None),
            6: ("SM 1-2", "SM", or_blank("1-2"), None, "M07", "permanently coupled", None, or_blank(1.1)),
            7: ("SM 0440", "SM", "0440", or_blank(440), "M07", "wheels out of gauge", None, None),
            8: ("SM 99", "SM", "99", [None, 0], "M07", None, None, None),
        },
    ),
    doubts=["Bench!D4", "Bench!D5", "Bench!D6", "Bench!D7", "Bench!C6", "Bench!E5"],
)  # fmt: skip

_DEPOTS = (
    ("Grand Basin", 4000, "M01"),
    ("Mossy Gap", 610, "M02"),
    ("Tin Valley", 20, "M03"),
    ("Old Harbour", 7300, "M04"),
)
"""The railway of each page of fifty engines, the number before its first one, and the owner."""
_TYPES = ("road engine", "switcher", "railcar", "booster")


def _two_hundred(path: Path) -> None:
    workbook = Workbook()
    (sheet,) = sheets_of(workbook, "All")
    rows: list[tuple[object, ...]] = [("All engines of the club",)]
    for page, (railway, first, owner) in enumerate(_DEPOTS, 1):
        rows += [(f"Page {page} of 4",), ("Engine", None, None, "Control", None, "Keeper")]
        rows += [("Railway", "Number", "Type", "DCC addr.", "Decoder", "Owner")]
        for n in range(1, 51):
            rows.append((railway, first + n, _TYPES[n % 4], first + n, "plain" if n % 3 else None, owner))
        rows += [("Subtotal", 50), ()]
    rows.append(("Total", 200))
    put(sheet, rows)
    workbook.save(path)


TWO_HUNDRED = OwnList(
    "two_hundred.ods",
    by_gnumeric(_two_hundred, "ods"),
    "two hundred engines on four pages, each with its title, two heading rows and subtotal; saved by Gnumeric",
    columns("All", A="railway", B=["number", "loco"], C="model", D="address", E="decoder", F="owner"),
    {
        key: engine
        for page, (railway, first, owner) in enumerate(_DEPOTS)
        for key, engine in engines(
            "All",
            "railway number model address decoder owner",
            {
                4 + page * 55 + n: (railway, str(first + n), _TYPES[n % 4], first + n, "plain" if n % 3 else None, owner)
                for n in range(1, 51)
            },
        ).items()
    },
)  # fmt: skip

ODD_CELLS = (FUNCTIONS, WORKBENCH, TWO_HUNDRED)

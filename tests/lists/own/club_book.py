"""A club's whole workbook: engines among turnouts, decoders in stock, wishes, homes and what was once."""

from datetime import date
from pathlib import Path

from openpyxl import Workbook

from tests.lists.own.own_list import OwnList, columns, engines
from tests.lists.own.sheets import put, sheets_of


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

"""A workshop's book: engines, decoders in stock and turnouts beside each other, and a log of work done."""

from datetime import date
from pathlib import Path

from openpyxl import Workbook

from tests.lists.own.own_list import OwnList, columns, engines
from tests.lists.own.sheets import put, sheets_of


def _workshop(path: Path) -> None:
    workbook = Workbook()
    shop, log = sheets_of(workbook, "Shop", "Log")
    put(shop, [
        ("Loco", "Addr", "Decoder", "Owner", "Weight g"),
        ("PF 301", 301, "sound B", "M01", 410),
        ("PF 302", 302, "sound B", "M01", 405),
        ("PF 18", 18, "plain A", "M06", 212),
        ("LM 4", 4, "plain A", "M06", 188),
        ("LM 1140", 1140, None, "M06", 265),
    ])  # fmt: skip
    put(
        shop,
        [("Decoder", "In stock", "Each"), ("sound B", 2, 79.5), ("plain A", 14, 22), ("micro", 3, 31)],
        left=7,
    )
    put(shop, [("Turnout", "Addr"), ("A1", 1), ("A2", 2), ("A3", 18)], left=11)
    put(log, [
        ("Date", "Engine", "Work done", "By"),
        (date(2022, 1, 8), "PF 301", "decoder fitted, address 301", "M01"),
        (date(2022, 1, 8), "LM 4", "wheels cleaned", "M06"),
        (date(2022, 2, 19), "PF 301", "reset, address was 3 again, set to 301", "M01"),
        (date(2022, 3, 5), "PF 18", "headlamp", "M06"),
        (date(2022, 3, 5), "LM 4", "CV3=6", "M06"),
    ])  # fmt: skip
    workbook.save(path)


WORKSHOP = OwnList(
    "workshop.xlsx",
    _workshop,
    "engines, a stock of decoders and turnouts side by side; a log in which engines come up again and again",
    {
        **columns(
            "Shop", A=["loco", "engine"], B="address", C="decoder", D="owner", E="own", G=["decoder", "own"], H="own",
            I="own", K=["accessory", "own"], L=["accessory address", "own"],
        ),
        **columns("Log", A="own", B=["loco", "engine", "own"], C=["notes", "own"], D="own"),
    },
    engines(
        "Shop",
        "loco address decoder owner acceleration",
        {
            "2/A": ("PF 301", 301, "sound B", "M01", None),
            "3/A": ("PF 302", 302, "sound B", "M01", None),
            "4/A": ("PF 18", 18, "plain A", "M06", None),
            "5/A": ("LM 4", 4, "plain A", "M06", [None, 6]),
            "6/A": ("LM 1140", 1140, None, "M06", None),
        },
    ),
)  # fmt: skip

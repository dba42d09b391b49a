"""Lists with one oddity each: a line for the spreadsheet program, a web page called .xls, a letterhead, two addresses."""

from datetime import date
from pathlib import Path

from openpyxl import Workbook

from tests.lists.own.own_list import OwnList, columns, engines, or_blank, text_file
from tests.lists.own.sheets import put, sheets_of

DAMPF = OwnList(
    "dampf.csv",
    text_file(
        """
sep=;
Bahn;Nr;Adresse;Decoder;Länge;Eigner;Beleuchtung
Torfkanal-Bahn;5201;L5201;gross;18,2 cm;M02;ja
Torfkanal-Bahn;5203;5.203;gross;18,2 cm;M02;ja
Torfkanal-Bahn;12;K12;klein;9,6 cm;M05;nein
Torfkanal-Bahn;88;lang 88;klein;9,6 cm;M05;nein
Torfkanal-Bahn;14 II;3 (Werk);klein;;M05;
Torfkanal-Bahn;4E2;402;klein;;M07;
""",
        "cp1252",
    ),
    "a first line that only the spreadsheet program reads; a thousands dot, kinds before and behind the number",
    columns(
        "dampf", A="railway", B=["number", "loco"], C="address", D="decoder", E=["length", "own"], F="owner", G="own",
    ),
    engines(
        "engine",  # not the keys of records: whether the first line counts as a row is the reader's affair
        "number address address_kind decoder owner length",
        {
            "5201": ("5201", 5201, "long", "gross", "M02", or_blank(182)),
            "5203": ("5203", or_blank(5203), None, "gross", "M02", or_blank(182)),
            "12": ("12", or_blank(12), or_blank("short"), "klein", "M05", or_blank(96)),
            "88": ("88", 88, "long", "klein", "M05", or_blank(96)),
            "14 II": ("14 II", or_blank(3), None, "klein", "M05", None),
            "4E2": ("4E2", 402, None, "klein", "M07", None),
        },
        railway="Torfkanal-Bahn",
    ),
)  # fmt: skip

LUETTELO = OwnList(
    "luettelo.csv",
    text_file(
        """
Rautatie;Numero;Osoite;Dekooderi;Omistaja;Huomautus
Suovaaran Rata;1201;1201;pieni;M03;
Suovaaran Rata;1202;1202;pieni;M03;uusi moottori
Suovaaran Rata;5;5;iso;M03;
Kivilahden Rata;44;44;iso;M12;
Kivilahden Rata;D 3;103;iso;M12;myydään
""",
        "utf-8",
    ),
    "Finnish, which the reader may not know: then it says so, and guesses nothing",
    columns(
        "luettelo", A=["railway", "own"], B=["number", "loco", "own"], C=["address", "own"], D=["decoder", "own"],
        E=["owner", "own"], F=["notes", "own"],
    ),
    engines(
        "luettelo",
        "railway number address decoder owner notes",
        {
            2: (or_blank("Suovaaran Rata"), or_blank("1201"), or_blank(1201), or_blank("pieni"), or_blank("M03"), None),
            3: (or_blank("Suovaaran Rata"), or_blank("1202"), or_blank(1202), or_blank("pieni"), or_blank("M03"), or_blank("uusi moottori")),
            4: (or_blank("Suovaaran Rata"), or_blank("5"), or_blank(5), or_blank("iso"), or_blank("M03"), None),
            5: (or_blank("Kivilahden Rata"), or_blank("44"), or_blank(44), or_blank("iso"), or_blank("M12"), None),
            6: (or_blank("Kivilahden Rata"), or_blank("D 3"), or_blank(103), or_blank("iso"), or_blank("M12"), or_blank("myydään")),
        },
    ),
    optional=True,
)  # fmt: skip

_WEB_ROWS = (
    ("Road name", "Road number", "DCC address", "Decoder", "Owner", "Remarks"),
    ("Cinder &amp; Pine", "0071", "71", "plain", "M02", "&nbsp;"),
    ("Cinder &amp; Pine", "72", "72", "plain", "M02", "runs&nbsp;hot"),
    ("Tallow Bay", "604", "604", "sound", "M08", ""),
)
WEB_PAGE = OwnList(
    "web_page.xls",
    text_file(
        '\n<html><head><meta charset="utf-8"><title>Export</title></head><body><table border=1>\n'
        + "\n".join("<tr>" + "".join(f"<td>{cell}</td>" for cell in row) + "</tr>" for row in _WEB_ROWS)
        + "\n</table></body></html>\n",
        "utf-8",
    ),
    "a web page with a table, called .xls, as programs export it: read, or refused in a sentence that says what it is",
    columns(
        "web_page", A="railway", B=["number", "loco"], C="address", D="decoder", E="owner", F="notes",
    ),
    engines(
        "web_page",
        "railway number address decoder owner notes",
        {
            2: ("Cinder & Pine", "0071", 71, "plain", "M02", None),
            3: ("Cinder & Pine", "72", 72, "plain", "M02", "runs hot"),
            4: ("Tallow Bay", "604", 604, "sound", "M08", None),
        },
    ),
    optional=True,
)  # fmt: skip


def _letterhead(path: Path) -> None:
    workbook = Workbook()
    (sheet,) = sheets_of(workbook, "Sheet1")
    put(sheet, [
        ("The Fernside Model Railway Society",),
        ("Address:", "Old Pump House, 9 Weir Lane"),
        ("Owner of this list:", "M04"),
        ("Date:", date(2024, 10, 5)),
    ], top=2, left=3)  # fmt: skip
    put(sheet, [
        ("Railway", "Running No.", "Class", "Addr", "Chip", "Member", "Tested", "Tested by"),
        ("Weir Valley", 33, "saddle tank", 33, "6-pin", "M04", date(2024, 9, 1), "M02"),
        ("Weir Valley", 34, "saddle tank", 34, "6-pin", "M04", date(2024, 9, 1), "M02"),
        ("Fernside Light", 8, "railbus", 108, "21-pin", "M11", None, None),
        ("Fernside Light", "D14", "shunter", 14, "none yet", "M11", None, None),
    ], top=9, left=3)  # fmt: skip
    put(
        sheet, [("Please report mistakes to M04",), ("Next meeting: 7 pm at the Pump House",)], top=16, left=3
    )
    workbook.save(path)


LETTERHEAD = OwnList(
    "letterhead.xlsx",
    _letterhead,
    "a letterhead with an address and an owner of its own above the list, which begins in column C; greetings below",
    columns(
        "Sheet1", C="railway", D=["number", "loco"], E="model", F="address", G="decoder", H="owner", I="checked_on",
        J="checked_by",
    ),
    engines(
        "Sheet1",
        "railway number model address decoder owner checked_on checked_by",
        {
            10: ("Weir Valley", "33", "saddle tank", 33, "6-pin", "M04", "2024-09-01", "M02"),
            11: ("Weir Valley", "34", "saddle tank", 34, "6-pin", "M04", "2024-09-01", "M02"),
            12: ("Fernside Light", "8", "railbus", 108, "21-pin", "M11", None, None),
            13: ("Fernside Light", "D14", "shunter", 14, ["none yet", None], "M11", None, None),
        },
    ),
)  # fmt: skip


def _two_addresses(path: Path) -> None:
    workbook = Workbook()
    kinds, twins = sheets_of(workbook, "Kinds", "Twins")
    put(kinds, [
        ("Engine", "Short addr", "Long addr", "Owner"),
        ("OH 21", 21, None, "M01"),
        ("OH 1450", None, 1450, "M01"),
        ("OH 1451", 3, 1451, "M01"),
    ])  # fmt: skip
    put(twins, [
        ("Engine", "Address", "Sound addr", "Owner"),
        ("OH 70", 70, 71, "M05"),
        ("OH 80", 80, None, "M05"),
    ])  # fmt: skip
    workbook.save(path)


TWO_ADDRESSES = OwnList(
    "two_addresses.xlsx",
    _two_addresses,
    "short and long addresses in two columns, one of them in use; the address of a second decoder beside the first",
    {
        **columns("Kinds", A=["loco", "engine"], B=["address", "cv:1", "own"], C=["address", "own"], D="owner"),
        **columns("Twins", A=["loco", "engine"], B="address", C="own", D="owner"),
    },
    {
        **engines(
            "Kinds",
            "loco address address_kind owner",
            {
                2: ("OH 21", or_blank(21), or_blank("short"), "M01"),
                3: ("OH 1450", or_blank(1450), or_blank("long"), "M01"),
                4: ("OH 1451", or_blank(1451), or_blank("long"), "M01"),
            },
        ),
        **engines(
            "Twins",
            "loco address owner",
            {2: ("OH 70", 70, "M05"), 3: ("OH 80", 80, "M05")},
        ),
    },
)  # fmt: skip

ODDITIES = (DAMPF, LUETTELO, WEB_PAGE, LETTERHEAD, TWO_ADDRESSES)

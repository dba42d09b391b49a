"""Forms and grids: cards stacked or two abreast, and CVs down with engines across."""

from datetime import date
from pathlib import Path
from typing import Any

from openpyxl import Workbook

from tests.lists.own.own_list import OwnList, engines, labels, or_blank
from tests.lists.own.sheets import by_libreoffice, put, sheets_of


def _fiche(*values: Any) -> list[tuple[Any, ...]]:
    names = (
        "Réseau :", "Numéro :", "Type :", "Adresse DCC :", "Décodeur :", "Propriétaire :", "Longueur (mm) :",
        "Sens de marche :", "CV 3 :", "CV 4 :", "CV 61 :", "Acheté le :", "Remarques :",
    )  # fmt: skip
    return [("FICHE MACHINE",), *zip(names, values, strict=True), (), ()]


def _fiches(path: Path) -> None:
    workbook = Workbook()
    (sheet,) = sheets_of(workbook, "Fiches")
    lande = "Chemin de fer de la Lande"
    put(sheet, [
        *_fiche(lande, "B-204", "locotracteur", 204, "mini", "M08", 121, "normal", 12, 9, 4, date(2016, 6, 1), None),
        *_fiche(lande, "B-205", "locotracteur", 205, "mini", "M08", 121, "inversé", 12, 9, None, date(2016, 6, 1),
                "à régler"),
        *_fiche("Tramway des Brumes", "3", "automotrice", 3, "gros", "M10", 188.5, "normal", None, None, None, None,
                "adresse d'usine"),
    ])  # fmt: skip
    workbook.save(path)


FICHES = OwnList(
    "fiches.xlsx",
    _fiches,
    "French forms stacked in one sheet, each under the same title, some fields blank",
    {
        "Fiches!Réseau": "railway",
        "Fiches!Numéro": ["number", "loco"],
        "Fiches!Type": "model",
        "Fiches!Adresse DCC": "address",
        "Fiches!Décodeur": "decoder",
        "Fiches!Propriétaire": "owner",
        "Fiches!Longueur (mm)": "length",
        "Fiches!Sens de marche": "direction",
        "Fiches!CV 3": "acceleration",
        "Fiches!CV 4": "deceleration",
        "Fiches!CV 61": "cv:61",
        "Fiches!Acheté le": "own",
        "Fiches!Remarques": "notes",
    },
    engines(
        "Fiches",
        "railway number model address decoder owner length direction acceleration deceleration notes",
        {
            1: ("Chemin de fer de la Lande", "B-204", "locotracteur", 204, "mini", "M08", 121, "normal", 12, 9, None),
            17: ("Chemin de fer de la Lande", "B-205", "locotracteur", 205, "mini", "M08", 121, "reversed", 12, 9, "à régler"),
            33: ("Tramway des Brumes", "3", "automotrice", 3, "gros", "M10", 188.5, "normal", None, None, "adresse d'usine"),
        },
    ),
    extras=[("B-204", 61, 4)],
)  # fmt: skip


def _karte(
    bahn: str, nummer: str, adresse: Any, decoder: str, besitzer: str, bemerkung: str | None
) -> list[Any]:
    return [
        ("Bahn", bahn), ("Loknummer", nummer), ("Digitaladresse", adresse), ("Decoder", decoder),
        ("Besitzer", besitzer), ("Bemerkung", bemerkung),
    ]  # fmt: skip


def _karten(path: Path) -> None:
    workbook = Workbook()
    (sheet,) = sheets_of(workbook, "Karten")
    nebel, moor = "Nebelhorner Bahn", "Moorbahn Süd"
    put(sheet, _karte(nebel, "41", 41, "einfach", "M02", None), top=2)
    put(sheet, _karte(nebel, "42", 42, "einfach", "M02", "Puffer fehlt"), top=2, left=4)
    put(sheet, _karte(moor, "T 3", "3", "klein", "M09", None), top=10)
    put(sheet, _karte(moor, "1205", "1205 lang", "klein", "M09", None), top=10, left=4)
    workbook.save(path)


KARTEN = OwnList(
    "karten.ods",
    by_libreoffice(_karten, "ods"),
    "German cards two abreast and two below each other, without titles, saved by LibreOffice",
    {
        "Karten!Bahn": "railway",
        "Karten!Loknummer": ["number", "loco"],
        "Karten!Digitaladresse": "address",
        "Karten!Decoder": "decoder",
        "Karten!Besitzer": "owner",
        "Karten!Bemerkung": "notes",
    },
    {
        "Nebelhorner Bahn 41": {
            "loco": labels("Nebelhorner Bahn", "41"), "railway": "Nebelhorner Bahn", "number": "41", "address": 41,
            "decoder": "einfach", "owner": "M02", "notes": None,
        },
        "Nebelhorner Bahn 42": {
            "loco": labels("Nebelhorner Bahn", "42"), "railway": "Nebelhorner Bahn", "number": "42", "address": 42,
            "decoder": "einfach", "owner": "M02", "notes": "Puffer fehlt",
        },
        "Moorbahn Süd T 3": {
            "loco": labels("Moorbahn Süd", "T 3"), "railway": "Moorbahn Süd", "number": "T 3", "address": 3,
            "decoder": "klein", "owner": "M09", "notes": None,
        },
        "Moorbahn Süd 1205": {
            "loco": labels("Moorbahn Süd", "1205"), "railway": "Moorbahn Süd", "number": "1205", "address": 1205,
            "address_kind": "long", "decoder": "klein", "owner": "M09", "notes": None,
        },
    },
)  # fmt: skip

_TABLE = [4, 10, 17, 24, 31, 39, 47, 55, 63, 71, 80, 89, 98, 107, 116, 126, 135, 145, 155, 165, 175, 185, 195, 206,
          216, 227, 238, 249]  # fmt: skip


def _grid(path: Path) -> None:
    workbook = Workbook()
    (sheet,) = sheets_of(workbook, "Log")
    put(sheet, [
        ("Programming log",),
        ("CV", "what", "NE 5301", "NE 5302", "JV 61", "KC 22"),
        (1, "primary address", 3, 3, 61, 22),
        (2, "start", 4, 4, 9, 18),
        (3, "speeding up", 10, 10, 6, 1),
        (4, "slowing down", 8, 8, 6, 1),
        (5, "top", 210, 210, None, 120),
        (6, "middle", 100, 100, None, 55),
        ("read on", None, date(2020, 2, 8), date(2020, 2, 8), date(2020, 3, 1), None),
        (17, "long address", 212, 212, None, None),
        (18, "long address", 181, 182, None, None),
        (19, "consist", 40, 168, 0, None),
        (29, "configuration", 34, 34, 2, 22),
        ("who keyed it in", None, "M04", "M04", "M02", None),
        (33, "front light", 1, 1, None, None),
        (49, None, None, None, 16, None),
        *((67 + n, f"step {n + 1}", None, None, None, value) for n, value in enumerate(_TABLE)),
        ("bench notes", None, None, "leads backwards", None, "wheel slips"),
    ])  # fmt: skip
    workbook.save(path)


_GRID_CVS = {
    3: "cv:1", 4: "cv:2", 5: "cv:3", 6: "cv:4", 7: "cv:5", 8: "cv:6", 10: "cv:17", 11: "cv:18", 12: "cv:19",
    13: "cv:29", 15: "cv:33", 16: "cv:49", 17: "cv:67", 30: "cv:80", 44: "cv:94",
}  # fmt: skip
GRID = OwnList(
    "cv_grid.xlsx",
    _grid,
    "CV numbers down, what they do beside, engines across; rows of dates and notes between; a speed table",
    {
        "Log!2": ["loco", "engine"],
        **{f"Log!{row}": cv for row, cv in _GRID_CVS.items()},
        "Log!9": "own",
        "Log!14": ["own"],
        "Log!45": ["notes", "own"],
    },
    engines(
        "Log",
        "loco railway number address address_kind vstart acceleration deceleration vhigh vmid speed_curve",
        {
            "C": ("NE 5301", or_blank("NE"), or_blank("5301"), 5301, "long", 4, 10, 8, 210, 100, "3-point"),
            "D": ("NE 5302", or_blank("NE"), or_blank("5302"), 5302, "long", 4, 10, 8, 210, 100, "3-point"),
            "E": ("JV 61", or_blank("JV"), or_blank("61"), 61, "short", 9, 6, 6, None, None, "3-point"),
            "F": ("KC 22", or_blank("KC"), or_blank("22"), 22, "short", 18, 1, 1, 120, 55, "table"),
        },
        direction="normal",
        speed_steps="28/128",
        bidi="off",
    ),
    extras=[("NE 5301", 33, 1), ("NE 5302", 33, 1), ("JV 61", 49, 16)],
    consists=[("NE 5301", 40, "forward"), ("NE 5302", 40, "reverse")],
    speed_tables=[_TABLE],
)  # fmt: skip

FORMS = (FICHES, KARTEN, GRID)

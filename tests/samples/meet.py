"""Three members' workbooks for a meet, with eight kinds of clashes between them; all invented."""

from collections.abc import Mapping, Sequence

Cell = str | int | float | None
Records = dict[str, Sequence[Mapping[str, Cell]]]

_LAYOUT: Mapping[str, Cell] = {
    "event": "Autumn meet at the old goods shed",
    "scale": "HO",
    "short_range": "1-99",
    "long_range": "128-9999",
    "address_rule": "last four digits",
    "closing_date": "2026-09-20",
    "engines_per_member": 12,
    "club_owner": "M00",
}
_RANGES: tuple[tuple[Cell, ...], ...] = (
    ("short", 1, 79, "engines", None, None),
    ("short", 3, 3, "new decoders", None, "Most new decoders answer 3"),
    ("consist", 80, 99, "consists", None, None),
    ("long", 128, 9999, "engines", None, None),
    ("long", 2110, 2134, "engines", "M01", "Block of 25"),
    ("long", 5200, 5224, "engines", "M02", "Block of 25"),
    ("long", 9900, 9999, "meet only", None, "Lent to guests"),
)
_DECODERS: Sequence[Mapping[str, Cell]] = (
    {"decoder": "Plain", "manufacturer_id": 13},
    {"decoder": "Sound", "manufacturer_id": 13, "lock": "yes"},
    {"decoder": "Old", "manufacturer_id": 13, "long_address": "no", "speed_table": "no"},
)
_COLUMNS = ("loco", "owner", "railway", "number", "address", "decoder", "registered_on", "checked_by")
_JV, _NE, _KC, _SM = "Juniper Valley", "Northmarsh & Eastern", "Kettle Creek Lumber", "Saltmeadow Light"

_M01: tuple[tuple[Cell, ...], ...] = (
    ("JV 12", "M01", _JV, "12", 12, "Old", "2026-08-20", "M02"),
    ("JV 41", "M01", _JV, "41", 84, "Plain", "2026-08-30", "M02"),
    ("JV 2107", "M00", _JV, "2107", 2107, "Sound", "2026-09-05", "M02"),
    ("JV 2108", "M00", _JV, "2108", 2108, "Sound", "2026-09-05", "M02"),
    ("JV 600", "M01", _JV, "600", 600, "Plain", "2026-08-30", "M02"),
    ("JV 2111", "M01", _JV, "2111", 2111, "Plain", "2026-08-30", "M02"),
)
_M02: tuple[tuple[Cell, ...], ...] = (
    ("NE 12", "M02", _NE, "5212", 12, "Plain", "2026-08-20", "M01"),
    ("NE 5201", "M02", _NE, "5201", 5201, "Sound", "2026-08-20", "M01"),
    ("NE 5204", "M02", _NE, "5204", 5204, "Plain", "2026-08-20", "M01"),
    ("NE 5205", "M02", _NE, "5205", 5205, "Plain", "2026-08-20", "M01"),
    ("NE 600", "M02", _NE, "5222", 600, "Plain", "2026-08-20", "M01"),
    ("Unit 66 motor", "M02", _NE, "6640", 6640, "Sound", "2026-08-20", "M01"),
    ("Unit 66 sound", "M02", _NE, "6640", 6640, "Sound", "2026-08-20", "M01"),
)
_M03: tuple[tuple[Cell, ...], ...] = (
    ("KC 2107", "M03", _KC, "2107", 2107, "Plain", "2026-08-10", "M01"),
    ("KC 600", "M03", _KC, "600", 600, "Plain", "2026-08-10", "M01"),
    ("KC 50", "M03", _KC, "50", 2120, "Plain", "2026-08-10", "M01"),
    ("KC 14", "M03", _KC, "14", 3, "Plain", "2026-08-10", "M01"),
    ("SM 6640", "M03", _SM, "6640", 6640, "Plain", "2026-08-10", "M01"),
    ("NE 5201 again", "M03", _NE, "5201", 5201, "Plain", "2026-09-11", "M01"),
    ("KC 77", "M03", _KC, "77", 77, "Plain", "2026-09-22", "M01"),
)
_FURTHER: Mapping[str, Mapping[str, Cell]] = {
    "Unit 66 motor": {"lock": 1},
    "Unit 66 sound": {"lock": 2},
    "JV 2107": {"drivers": "owner"},
    "KC 77": {"fault": "Rear truck derails on curves"},
}
_CONSIST: Sequence[Mapping[str, Cell]] = (
    {"consist": "Coal", "address": 84, "position": 1, "loco": "NE 5204", "facing": "forward"},
    {"consist": "Coal", "address": 84, "position": 2, "loco": "NE 5205", "facing": "reverse"},
)


def meet_books() -> dict[str, Records]:
    """Return the records of each member's workbook by file name."""
    return {
        "M01.xlsx": _book(_M01),
        "M02.xlsx": {**_book(_M02), "Consists": _CONSIST},
        "M03.xlsx": _book(_M03),
    }


def _book(engines: Sequence[Sequence[Cell]]) -> Records:
    names = ("kind", "first", "last", "use", "member", "notes")
    return {
        "Layout": [_LAYOUT],
        "Address ranges": [dict(zip(names, row, strict=True)) for row in _RANGES],
        "Decoder types": _DECODERS,
        "Locomotives": [_engine(row) for row in engines],
    }


def _engine(row: Sequence[Cell]) -> dict[str, Cell]:
    engine = dict(zip(_COLUMNS, row, strict=True))
    engine |= {"at_meet": "yes", "checked_on": "2026-09-19"}
    return engine | dict(_FURTHER.get(str(engine["loco"]), {}))

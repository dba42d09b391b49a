"""The demo club: invented railways, members M01 to M06, and a handful of faults of different kinds."""

from collections.abc import Mapping, Sequence

from rosterkit.commands.new.demo.speed import TIMED, demo_speed
from rosterkit.commands.new.demo.track import DRIVEN_BY_TABLE, demo_track
from rosterkit.commands.new.template import NewValue

_LAYOUT: Mapping[str, NewValue] = {
    "event": "Spring meet of the demo club",
    "scale": "HO",
    "length_unit": "mm",
    "track_length": 420,
    "clearance": 25,
    "short_range": "1-99",
    "long_range": "128-9999",
    "long_from": 128,
    "speed_steps": "28/128",
    "address_rule": "last four digits",
    "service_mode": "direct",
    "speed_unit": "km/h",
    "line_speed": 100,
    "longest_stopping_distance": 1500,
    "accessory_offset": "0",
}

_RANGES: tuple[tuple[NewValue, ...], ...] = (
    ("short", 1, 79, "engines", None, "Switchers and railcars"),
    ("short", 3, 3, "new decoders", None, "Every new decoder answers 3"),
    ("consist", 80, 99, "consists", None, None),
    ("long", 128, 9999, "engines", None, None),
    ("long", 7000, 7099, "engines", "M05", "Given to M05 for the Saltmeadow fleet"),
    ("long", 9900, 9999, "meet only", None, "Lent to guests"),
    ("accessory", 1, 200, "devices", None, "Turnouts and signals of the layout"),
)
_RANGE_COLUMNS = ("kind", "first", "last", "use", "member", "notes")

_DECODERS: tuple[tuple[NewValue, ...], ...] = (
    ("Plain 4-function", 13, 4, "yes", "yes", "no", "28/128", 1.0, 2.0, "no", None),
    ("Sound 8-ohm", 13, 21, "yes", "yes", "yes", "28/128", 1.2, 2.5, "yes", None),
    ("Small N", 13, 7, "yes", "no", "no", "28/128", 0.5, 0.8, "no", None),
    ("Old 14-step", 13, 1, "no", "no", "no", "14", 1.0, 1.5, "no", "Short addresses only"),
)
_DECODER_COLUMNS = (
    "decoder",
    "manufacturer_id",
    "version",
    "long_address",
    "speed_table",
    "bidi",
    "steps",
    "continuous",
    "peak",
    "lock",
    "notes",
)

_JV, _NE, _KC = "Juniper Valley", "Northmarsh & Eastern", "Kettle Creek Lumber"
_HB, _SM = "Harbour Belt", "Saltmeadow Light"
_PLAIN, _SOUND, _SMALL, _OLD = "Plain 4-function", "Sound 8-ohm", "Small N", "Old 14-step"

# In the order of _ENGINE_COLUMNS.
_ENGINES: tuple[tuple[NewValue, ...], ...] = (
    ("JV 2101", "M01", _JV, "2101", "Freight diesel", 195, 1.2, _PLAIN, 2101, 8, 6, 4, 200, 90),
    ("JV 2102", "M01", _JV, "2102", "Freight diesel", 195, 1.2, _PLAIN, 2102, 8, 6, 4, 200, 90),
    ("JV 2107", "M01", _JV, "2107", "Freight diesel", 195, 1.3, _SOUND, 2107, 10, 8, 5, 190, 85),
    ("JV 0418", "M01", _JV, "0418", "Ten-wheeler", 230, 0.9, _SOUND, 418, 6, 10, 6, 170, 70),
    ("JV 0422", "M01", _JV, "0422", "Ten-wheeler", 230, 0.9, _SOUND, 422, 6, 10, 6, 170, 70),
    ("JV 31", "M01", _JV, "31", "Yard switcher", 140, 0.6, _SMALL, 31, 12, 2, 2, 110, 55),
    ("JV 32", "M01", _JV, "32", "Yard switcher", 140, 0.6, _SMALL, 32, 12, 2, 2, 110, 55),
    ("NE 5201", "M02", _NE, "5201", "Express diesel", 215, 1.4, _SOUND, 5201, 9, 9, 7, 230, 110),
    ("NE 5202", "M02", _NE, "5202", "Express diesel", 215, 1.4, _SOUND, 5202, 9, 9, 7, 230, 110),
    ("NE 5203", "M02", _NE, "5203", "Express diesel", 215, 1.4, _SOUND, 5201, 9, 9, 7, 230, 110),
    ("NE 814", "M02", _NE, "814", "Mixed-traffic electric", 190, 1.1, _PLAIN, 814, 7, 5, 4, 180, 80),
    ("NE 815", "M02", _NE, "815", "Mixed-traffic electric", 190, 1.1, _PLAIN, 815, 7, 5, 4, 180, 80),
    ("NE 9", "M02", _NE, "9", "Shunting tank", 105, 0.5, _SMALL, 3, 14, 1, 1, 90, 45),
    ("NE 6640", "M02", _NE, "6640", "Articulated freight", 398, 1.9, _SOUND, 6640, 5, 12, 7, 160, 70),
    ("KC 12", "M03", _KC, "12", "Geared engine", 150, 0.7, _SMALL, 12, 10, 1, 1, 80, 40),
    ("KC 14", "M03", _KC, "14", "Geared engine", 150, 0.7, _SMALL, 14, 10, 1, 1, 80, 40),
    ("KC 15", "M03", _KC, "15", "Geared engine", 150, 0.7, _SMALL, 15, 60, 1, 1, 80, 40),
    ("KC 501", "M03", _KC, "501", "Log hauler", 180, 0.8, _PLAIN, 501, 8, 4, 3, 130, 60),
    ("KC 502", "M03", _KC, "502", "Log hauler", 180, 0.8, _PLAIN, 502, 8, 4, 3, 130, 60),
    ("KC railcar", "M03", _KC, "M-7", "Gas railcar", 160, 0.4, _SMALL, 7, 11, 3, 2, 120, 60),
    ("HB 1001", "M04", _HB, "1001", "Harbour diesel", 165, 1.0, _PLAIN, 1001, 9, 3, 2, 140, 65),
    ("HB 1002", "M04", _HB, "1002", "Harbour diesel", 165, 1.0, _PLAIN, 1002, 9, 3, 2, 140, 65),
    ("HB 1003", "M04", _HB, "1003", "Harbour diesel", 165, 2.9, _PLAIN, 1003, 9, 3, 2, 140, 65),
    ("HB 1004", "M04", _HB, "1004", "Harbour diesel", 165, 1.0, _OLD, 1004, 9, 3, 2, 140, 65),
    ("HB 44", "M04", _HB, "44", "Dock switcher", 120, 0.5, _SMALL, 44, 12, 1, 1, 100, 50),
    ("HB 45", "M04", _HB, "45", "Dock switcher", 120, 0.5, _SMALL, 45, 12, 1, 1, 100, 50),
    ("SM 7001", "M05", _SM, "7001", "Branch-line diesel", 175, 0.9, _PLAIN, 7001, 8, 5, 3, 150, 70),
    ("SM 7002", "M05", _SM, "7002", "Branch-line diesel", 175, 0.9, _PLAIN, 7002, 8, 5, 3, 150, 70),
    ("SM 7003", "M05", _SM, "7003", "Branch-line diesel", 175, 0.9, _PLAIN, 7003, 8, 5, 18, 150, 70),
    ("SM 60", "M05", _SM, "60", "Railbus", 130, 0.4, _SMALL, 60, 10, 3, 2, 120, 60),
    ("SM 61", "M05", _SM, "61", "Railbus", 130, 0.4, _SMALL, 61, 10, 3, 2, 120, 60),
    ("JV 7012", "M06", _JV, "7012", "Rebuilt diesel", 195, 1.2, _PLAIN, 7012, 8, 6, 4, 200, 90),
    ("JV 2111", "M06", _JV, "2111", "Freight diesel", 195, 1.2, _PLAIN, None, 8, 6, 4, 200, 90),
    ("NE 4E2", "M06", _NE, "4E2", "Battery electric", 150, 0.6, _SMALL, 42, 10, 2, 2, 110, 50),
    ("KC 77", "M06", _KC, "77", "Snow plough unit", 170, 0.8, _PLAIN, 77, 8, 3, 2, 120, 55),
    ("HB 21", "M06", _HB, "21", "Fireless engine", 110, 0.5, _SMALL, 21, 12, 1, 1, 90, 45),
)
_ENGINE_COLUMNS = (
    "loco",
    "owner",
    "railway",
    "number",
    "model",
    "length",
    "stall",
    "decoder",
    "address",
    "vstart",
    "acceleration",
    "deceleration",
    "vhigh",
    "vmid",
)
_AT_MEET = ("JV", "NE", "SM")
"""Engines of these railways come to the meet."""
_FURTHER: Mapping[str, Mapping[str, NewValue]] = {
    "JV 2102": {"direction": "reversed", "notes": "Runs long hood first"},
    "JV 2107": {"bidi": "on"},
    "KC 501": {"dc_operation": "on", "notes": "Also runs on the display track"},
    "KC 77": {"direction": "sideways"},
    "HB 21": {"fault": "Front coupler hangs low"},
    "NE 4E2": {"notes": "The number stays as it is typed: the column is text"},
}
_CHECKERS = {"M01": "M02", "M02": "M01", "M05": "M01", "M06": "M05"}


def demo_club() -> dict[str, Sequence[Mapping[str, NewValue]]]:
    """Return the records of the demo club by sheet title and column name."""
    return {
        "Layout": [_LAYOUT],
        "Address ranges": [dict(zip(_RANGE_COLUMNS, row, strict=True)) for row in _RANGES],
        "Decoder types": [dict(zip(_DECODER_COLUMNS, row, strict=True)) for row in _DECODERS],
        "Locomotives": [_engine(row) for row in _ENGINES],
        **demo_track(),
        **demo_speed(),
    }


def _engine(row: tuple[NewValue, ...]) -> dict[str, NewValue]:
    engine = dict(zip(_ENGINE_COLUMNS, row, strict=True))
    owner = str(engine["owner"])
    if str(engine["loco"]).startswith(_AT_MEET):
        engine |= {"at_meet": "yes", "checked_by": _CHECKERS[owner], "checked_on": "2026-04-11"}
    loco = str(engine["loco"])
    return (
        engine
        | dict(_FURTHER.get(loco, {}))
        | dict(DRIVEN_BY_TABLE.get(loco, {}))
        | dict(TIMED.get(loco, {}))
    )

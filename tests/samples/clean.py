"""A small club without a fault: what every faulty sample starts from."""

from typing import Any

Records = dict[str, list[dict[str, Any]]]

_COLUMNS = (
    "loco",
    "owner",
    "railway",
    "number",
    "length",
    "stall",
    "decoder",
    "address",
    "vstart",
    "vhigh",
    "vmid",
)
_ENGINES = (
    ("JV 2101", "M01", "Juniper Valley", "2101", 195, 1.2, "Plain", 2101, 8, 200, 90),
    ("JV 2102", "M01", "Juniper Valley", "2102", 195, 1.2, "Plain", 2102, 8, 200, 90),
    ("JV 31", "M01", "Juniper Valley", "31", 140, 0.6, "Small", 31, 12, 110, 55),
    ("NE 5201", "M02", "Northmarsh & Eastern", "5201", 215, 1.4, "Sound", 5201, 9, 230, 110),
    ("NE 0814", "M02", "Northmarsh & Eastern", "0814", 190, 1.1, "Plain", 814, 7, 180, 80),
    ("KC 12", "M03", "Kettle Creek Lumber", "12", 150, 0.7, "Small", 12, 10, 80, 40),
    ("SM 7001", "M05", "Saltmeadow Light", "7001", 175, 0.9, "Plain", 7001, 8, 150, 70),
    ("SM 60", "M05", "Saltmeadow Light", "60", 130, 0.4, "Small", 60, 10, 120, 60),
)


def clean_club() -> Records:
    """Return the records by sheet title and column name, fresh for each caller."""
    engines: list[dict[str, Any]] = [dict(zip(_COLUMNS, row, strict=True)) for row in _ENGINES]
    for engine in engines:
        engine |= {"acceleration": 4, "deceleration": 3, "checked_by": "M04", "checked_on": "2026-04-11"}
    return {
        "Layout": [
            {
                "event": "Club evening",
                "scale": "HO",
                "track_length": 420,
                "clearance": 25,
                "short_range": "1-99",
                "long_range": "128-9999",
                "address_rule": "last four digits",
                "longest_stopping_distance": 1500,
            }
        ],
        "Address ranges": [
            _range("short", 1, 79, "engines"),
            _range("short", 3, 3, "new decoders"),
            _range("consist", 80, 99, "consists"),
            _range("long", 128, 9999, "engines"),
            _range("long", 7000, 7099, "engines", member="M05"),
            _range("long", 9900, 9999, "meet only"),
        ],
        "Decoder types": [
            _decoder("Plain", continuous=1.5, peak=2.0),
            _decoder("Sound", continuous=1.5, peak=2.5, bidi="yes", lock="yes"),
            _decoder("Small", continuous=0.7, peak=0.8, speed_table="no"),
            _decoder("Old", continuous=1.0, peak=1.5, long_address="no", steps="14"),
        ],
        "Locomotives": engines,
        "Consists": [
            {"consist": "Freight", "address": 85, "position": 1, "loco": "JV 2101", "functions": "F0f F1"},
            {"consist": "Freight", "address": 85, "position": 2, "loco": "JV 2102", "facing": "reverse"},
        ],
        "Accessories": [
            {"accessory": "Yard throat", "address": 1, "method": "decoder"},
            {"accessory": "Junction", "address": 17, "method": "output"},
        ],
        "Extra values": [
            {"loco": "NE 5201", "cv": 49, "value": 12},
            {"loco": "NE 5201", "cv": 259, "value": 128, "index_high": 16, "index_low": 1},
        ],
        "Speed tables": [{"label": "Even"} | {f"step{step}": 9 * step for step in range(1, 29)}],
        "Readings": [
            {"date": "2026-04-18", "loco": "SM 7001", "cv": cv, "value": value}
            for cv, value in ((8, 13), (17, 219), (18, 89), (19, 0), (15, 0), (16, 0))
        ],
    }


def _range(kind: str, first: int, last: int, use: str, *, member: str | None = None) -> dict[str, Any]:
    return {"kind": kind, "first": first, "last": last, "use": use, "member": member}


def _decoder(label: str, **features: Any) -> dict[str, Any]:
    return {
        "decoder": label,
        "manufacturer_id": 13,
        "cv20": "no",
        "table_scaled": "no",
    } | features

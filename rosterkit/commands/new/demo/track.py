"""The demo club at its programming track: consists, accessories, extra values, a speed table, readings."""

from collections.abc import Iterator, Mapping, Sequence

from rosterkit.commands.new.template import NewValue

_CONSIST_COLUMNS = ("consist", "address", "position", "loco", "facing", "functions")
_CONSISTS: tuple[tuple[NewValue, ...], ...] = (
    ("Valley freight", 85, 1, "JV 2101", "forward", "F0f F1 F2"),
    ("Valley freight", 85, 2, "JV 2102", "reverse", "F0r"),
    ("Marsh express", 91, 1, "NE 814", None, None),
    ("Marsh express", 91, 2, "NE 815", None, None),
)

_ACCESSORY_COLUMNS = ("accessory", "kind", "address", "method", "bidi")
_ACCESSORIES: tuple[tuple[NewValue, ...], ...] = (
    ("Yard throat", "turnout", 1, "decoder", None),
    ("Yard track 2", "turnout", 2, "decoder", None),
    ("Station crossover", "turnout", 9, "decoder", None),
    ("Junction east", "turnout", 17, "output", None),
    ("Junction west", "turnout", 18, "output", None),
    ("Home signal", "signal", 21, "output", "on"),
)

_EXTRA_COLUMNS = ("loco", "cv", "value", "index_high", "index_low", "notes")
_EXTRAS: tuple[tuple[NewValue, ...], ...] = (
    ("JV 0418", 49, 12, None, None, "Firebox flicker"),
    ("JV 0418", 259, 128, 16, 1, "Whistle, loudness"),
    ("JV 0418", 260, 96, 16, 1, "Bell, loudness"),
    ("NE 5202", 35, 4, None, None, "F1 switches the cab light"),
    ("NE 5202", 265, 40, 16, 1, "Loudness of everything"),
    ("NE 5202", 259, 110, 16, 1, "Horn, loudness"),
)

_TABLE = "Express diesel"
_STEPS = (
    *(9, 13, 17, 22, 27, 32, 38, 44, 50, 57, 64, 71, 79, 87),
    *(95, 104, 113, 122, 131, 141, 151, 161, 171, 182, 193, 205, 217, 230),
)

_EARLIER, _SESSION = "2026-04-10", "2026-04-18"
_READINGS: tuple[tuple[str, str, str], ...] = (
    (_EARLIER, "JV 0418", "29=38"),
    (_SESSION, "JV 2101", "8=13 7=4 17=200 18=53 29=34 19=85 21=3 22=1 2=8 3=6 4=4 5=200 6=90"),
    (_SESSION, "JV 0418", "8=13 7=21 17=193 18=162 29=34 19=0 2=6 3=10 4=6 5=170 6=70 49=12 259=128 260=96"),
    (_SESSION, "NE 815", "8=13 7=4 17=195 18=47 29=34 19=91 2=7 3=5 4=4 5=180 6=80"),
    (_SESSION, "SM 7001", "8=13 7=4 17=219 18=89 29=34 19=0 2=8 3=5 4=3 5=150 6=70"),
    (_SESSION, "SM 60", "8=13 7=7 1=60 29=2 19=0 2=10 3=3 4=2 5=120 6=60"),
    # Wrong, each in its own way: half of a pair, DC operation, an address that is not active.
    (_SESSION, "NE 814", "8=13 7=4 17=195 18=232 29=34 19=91 2=7 3=5 4=4 5=180 6=80"),
    (_SESSION, "HB 1001", "8=13 7=4 17=195 18=233 29=38 19=0 2=9 3=3 4=2 5=140 6=65"),
    (_SESSION, "KC 502", "8=13 7=4 17=193 18=246 29=2 19=0 2=8 3=4 4=3 5=130 6=60"),
    # Left in a consist of an earlier meet, in reverse.
    (_SESSION, "JV 31", "8=13 7=7 1=31 29=2 19=216 2=12 3=2 4=2 5=110 6=55"),
)
_PAGED = range(257, 513)

READ_ENGINES = tuple(dict.fromkeys(loco for _, loco, _ in _READINGS))
"""The engines of the track session: five are right, three wrong, one has an old consist address."""

DRIVEN_BY_TABLE: Mapping[str, Mapping[str, NewValue]] = {
    "NE 5202": {"speed_curve": "table", "speed_table": _TABLE}
}
"""Columns of engines that run by the speed table."""


def demo_track() -> dict[str, Sequence[Mapping[str, NewValue]]]:
    """Return the records of the sheets for the programming track, by sheet title and column name."""
    return {
        "Consists": [dict(zip(_CONSIST_COLUMNS, row, strict=True)) for row in _CONSISTS],
        "Accessories": [dict(zip(_ACCESSORY_COLUMNS, row, strict=True)) for row in _ACCESSORIES],
        "Extra values": [dict(zip(_EXTRA_COLUMNS, row, strict=True)) for row in _EXTRAS],
        "Speed tables": [{"label": _TABLE} | {f"step{step}": value for step, value in enumerate(_STEPS, 1)}],
        "Readings": list(_readings()),
    }


def _readings() -> Iterator[dict[str, NewValue]]:
    for day, loco, pairs in _READINGS:
        for pair in pairs.split():
            cv, value = (int(number) for number in pair.split("="))
            reading: dict[str, NewValue] = {"date": day, "loco": loco, "cv": cv, "value": value}
            yield reading | ({"index_high": 16, "index_low": 1} if cv in _PAGED else {})

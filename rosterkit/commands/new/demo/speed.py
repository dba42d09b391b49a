"""The demo club's timed runs and speed goals: four engines of different character, two of them a pair.

The times are those of an invented afternoon with a tape measure, a loop of 6.4 m and a stopwatch.
"""

from collections.abc import Iterator, Mapping, Sequence

from rosterkit.commands.new.template import NewValue

Times = Mapping[int, tuple[int, int, tuple[float, ...]]]
"""By drive: distance in millimetres, laps, and the seconds of each pass; none where it stood still."""

_RUNS: Mapping[str, Mapping[str, Times]] = {
    "JV 2101": {
        "forward": {
            15: (0, 1, ()),
            18: (500, 1, (60.9, 59.7, 60.9)),
            21: (500, 1, (29.2, 29.4, 29.1)),
            26: (500, 1, (15.7, 15.8, 15.5)),
            35: (1000, 1, (17.5, 17.5, 17.6)),
            55: (6400, 1, (57.9, 57.5, 58.8)),
            85: (6400, 1, (35.3, 35.3, 35.1)),
            120: (6400, 1, (24.1, 24.4, 24.8)),
            170: (6400, 1, (18.3, 18.1, 18.1)),
            215: (6400, 1, (15.0, 15.2, 15.1)),
            255: (6400, 1, (13.4, 13.5, 13.5)),
        },
        "reverse": {
            15: (0, 1, ()),
            18: (0, 1, ()),
            21: (500, 1, (46.4, 46.0, 46.5)),
            26: (500, 1, (20.3, 20.2, 20.4)),
            35: (1000, 1, (20.4, 20.3, 20.3)),
            55: (6400, 1, (63.7, 62.8, 64.3)),
            85: (6400, 1, (37.6, 37.2, 37.0)),
            120: (6400, 1, (26.4, 26.3, 26.4)),
            170: (6400, 1, (19.3, 19.5, 19.6)),
            215: (6400, 1, (16.0, 16.3, 16.2)),
            255: (6400, 1, (14.1, 14.4, 14.1)),
        },
    },
    "JV 2102": {
        "forward": {
            21: (0, 1, ()),
            26: (500, 1, (47.9, 47.5, 48.1)),
            29: (500, 1, (24.3, 24.8, 24.9)),
            35: (500, 1, (12.8, 12.8, 12.7)),
            45: (1000, 1, (14.6, 14.5, 14.4)),
            65: (6400, 1, (51.9, 52.4, 52.1)),
            95: (6400, 1, (33.9, 34.3, 33.4)),
            130: (6400, 1, (25.5, 15.8, 25.1)),
            175: (6400, 1, (20.6, 20.5, 21.0)),
            215: (6400, 1, (19.0, 18.3, 18.2)),
            255: (6400, 1, (16.9, 16.7, 17.3)),
        },
        "reverse": {
            21: (0, 1, ()),
            26: (500, 1, (27.7, 28.6, 27.9)),
            29: (500, 1, (18.0, 18.1, 17.9)),
            35: (1000, 1, (20.8, 21.1, 21.0)),
            45: (1000, 1, (13.1, 12.8, 12.7)),
            65: (6400, 1, (48.4, 48.2, 48.6)),
            95: (6400, 1, (31.7, 32.0, 31.7)),
            130: (6400, 1, (23.8, 24.6, 24.4)),
            175: (6400, 1, (19.7, 19.3, 19.4)),
            215: (6400, 1, (17.6, 17.5, 17.2)),
            255: (6400, 1, (16.0, 16.3, 16.3)),
        },
    },
    "NE 5201": {
        "forward": {
            19: (0, 1, ()),
            22: (500, 1, (34.4, 34.5)),
            25: (500, 1, (14.2, 13.8)),
            30: (1000, 1, (14.3, 14.3)),
            40: (6400, 1, (48.2, 48.6)),
            60: (6400, 1, (26.4, 26.6)),
            90: (6400, 1, (17.3, 17.4)),
            130: (6400, 1, (13.2, 13.2)),
            180: (6400, 1, (10.7, 11.0)),
            255: (6400, 1, (9.8, 9.7)),
        },
        "reverse": {
            19: (0, 1, ()),
            22: (500, 1, (35.9, 36.1)),
            25: (500, 1, (14.5, 14.6)),
            30: (1000, 1, (15.3, 14.9)),
            40: (6400, 1, (49.7, 50.2)),
            60: (6400, 1, (27.9, 28.1)),
            90: (6400, 1, (17.9, 18.0)),
            130: (6400, 1, (13.8, 13.6)),
            180: (6400, 1, (11.5, 11.7)),
            255: (6400, 1, (10.0, 10.3)),
        },
    },
    "KC 12": {
        "forward": {
            33: (0, 1, ()),
            36: (500, 1, (85.7, 84.4, 84.3)),
            44: (500, 1, (42.9, 42.4, 42.3)),
            60: (500, 1, (21.2, 21.6, 21.3)),
            90: (1000, 1, (22.7, 22.1, 22.2)),
            130: (1000, 1, (13.9, 14.1, 14.2)),
            180: (6400, 1, (62.4, 61.6, 62.3)),
            220: (6400, 1, (49.8, 50.4, 49.9)),
            255: (6400, 1, (43.8, 44.0, 43.7)),
        },
    },
}


_GOAL_COLUMNS = ("loco", "top", "shape", "match", "prototype", "seconds", "stops", "siding", "notes")
_GOALS: tuple[tuple[NewValue, ...], ...] = (
    ("JV 2101", 110, "straight", None, None, None, None, None, "Leads the Valley freight"),
    ("JV 2102", None, None, "JV 2101", None, 5.4, 760, None, "Runs with it"),
    ("NE 5201", 160, "gentle start", None, 140, None, None, 1800, "Express"),
    ("KC 12", 30, "straight", None, None, None, None, None, "Its decoder has no table"),
)

TIMED: Mapping[str, Mapping[str, NewValue]] = {
    "JV 2102": {"acceleration": None, "deceleration": None},
    "KC 12": {"vstart": None, "vmid": None, "vhigh": None},
}
"""Columns of engines that are left for their timed runs to fill."""


def demo_speed() -> dict[str, Sequence[Mapping[str, NewValue]]]:
    """Return the records of the sheets about speed, by sheet title and column name."""
    return {
        "Speed runs": list(_runs()),
        "Speed goals": [dict(zip(_GOAL_COLUMNS, row, strict=True)) for row in _GOALS],
    }


def _runs() -> Iterator[dict[str, NewValue]]:
    for loco, ways in _RUNS.items():
        for way, drives in ways.items():
            for drive, (distance, laps, times) in drives.items():
                run: dict[str, NewValue] = {"loco": loco, "way": way, "drive": drive, "distance": distance}
                if not times:
                    yield run | {"notes": "stands"}
                yield from (run | {"laps": laps, "time": seconds} for seconds in times)

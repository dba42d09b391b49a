"""Rows of Speed runs for tests, each pass of 12 seconds over the length that makes the speed wanted."""

from collections.abc import Iterable, Mapping

from rosterkit.standards.scales import SCALES

Curve = Mapping[int, float]
"""Scale km/h by drive; 0 where it stands."""

GOOD: Curve = {12: 0.0, 15: 2.0, 30: 12.0, 60: 31.0, 110: 60.0, 170: 85.0, 220: 95.0, 255: 105.0}
BOTH = ("forward", "reverse")


def timed_runs(
    loco: str,
    curve: Curve = GOOD,
    *,
    ways: Iterable[str] = BOTH,
    times: int = 2,
    seconds: float = 12.0,
    factor: float = 1.0,
) -> list[dict[str, object]]:
    """Return rows by the names of their columns."""
    rows: list[dict[str, object]] = []
    for way in ways:
        for drive, kmh in curve.items():
            length = round(kmh * factor / 3.6 / SCALES["HO"].ratio * 1000 * seconds, 2)
            row: dict[str, object] = {"loco": loco, "way": way, "drive": drive, "distance": length}
            rows += [row | {"time": seconds} for _ in range(times)] if length else [row]
    return rows


def sheet_rows(*timed_runs: Mapping[str, object]) -> list[dict[str, object]]:
    """Return rows by the headings of their columns."""
    headings = {"loco": "Loco", "way": "Way", "drive": "Drive level", "distance": "Distance", "time": "Time"}
    return [{heading: each.get(name, "") for name, heading in headings.items()} for each in timed_runs]

"""A chart on a sheet of our own: lines and points over the numbers in the sheet's own cells."""

from dataclasses import dataclass

Block = tuple[int, int, int, int]
"""Cells of the chart's own sheet: top, left, bottom, right, from 1."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Series:
    """One line, or a set of single points, in a chart."""

    name: str
    across: Block
    """The cells with the places from left to right: one column."""
    upward: Block
    """The cells with the heights: one column of as many cells."""
    colour: str
    """Red, green and blue as six hexadecimal digits."""
    points: bool = False
    """Single points in place of a line."""
    dashed: bool = False
    margin: Block | None = None
    """Cells with what each height may be off by, either way, drawn as error bars."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Chart:
    """A chart with its place on the sheet."""

    title: str
    series: tuple[Series, ...]
    across: str
    """What the places from left to right are."""
    upward: str
    """What the heights are."""
    at: Block
    """The cells that it covers."""
    rightmost: float
    """Where the axis from left to right ends; it begins at 0."""
    description: str
    """What it shows, for those who cannot see it."""

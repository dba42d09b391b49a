"""Verifies that our own charts show their sheet's cells."""

from lxml import etree

from rosterkit.xlsx.changes import OwnSheet
from rosterkit.xlsx.chart import Chart
from rosterkit.xlsx.own_sheets.chart_xml import block_values
from rosterkit.xlsx.verify.remainder import VerificationError
from rosterkit.xlsx.xml.areas import area
from rosterkit.xlsx.xml.nodes import parsed


def verify_chart(_old: bytes, new: bytes, shown: tuple[Chart, OwnSheet, str]) -> None:
    """Read a chart back: each of its rows of numbers lies in our sheet and is what the cells hold.

    Raises:
        VerificationError: it shows something else.
    """
    chart, own_sheet, reference = shown
    root = parsed(new)
    wanted = [
        block for one in chart.series for block in (one.margin, one.margin, one.across, one.upward) if block
    ]
    numbered = list(root.iter(str(root.tag).replace("chartSpace", "numRef")))
    if len(numbered) != len(wanted):
        raise VerificationError(f"the chart '{chart.title}' does not show what it should")
    held = {block: _filled(block, own_sheet) for block in set(wanted)}
    for numbers in numbered:
        formula = numbers[0].text or ""
        title, _, cells = formula.rpartition("!")
        covered = area(cells)
        block = (covered.top, covered.left, covered.bottom, covered.right)
        copied = len(numbers) == 1 or _cached(numbers) == held.get(block)
        if title != reference or block not in wanted or not copied:
            raise VerificationError(f"the chart '{chart.title}' does not show the cells {cells[:40]}")


def _cached(numbers: etree._Element) -> list[tuple[int, float]]:
    """Return the copied numbers with their places: all that stands behind the format and the count."""
    points = numbers[1][2:]
    return [(int(point.get("idx", "-1")), float(point[0].text or "nan")) for point in points]


def _filled(block: tuple[int, int, int, int], own_sheet: OwnSheet) -> list[tuple[int, float]]:
    return [(n, value) for n, value in enumerate(block_values(block, own_sheet)) if value is not None]

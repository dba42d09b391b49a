"""Charts of a workbook as openpyxl reads them back."""

from pathlib import Path
from typing import Any

from openpyxl import load_workbook


def charts_of(path: Path, title: str) -> list[Any]:
    """Return the charts of a sheet."""
    sheet: Any = load_workbook(path)[title]
    return list(sheet._charts)


def formulas(chart: Any) -> list[tuple[str, str]]:
    """Return the references of a chart's series, across and upward."""
    return [(series.xVal.numRef.f, series.yVal.numRef.f) for series in chart.series]

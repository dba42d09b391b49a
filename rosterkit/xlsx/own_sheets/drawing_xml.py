"""Writes the drawing part that places charts on a sheet, and lists of relationships."""

from collections.abc import Iterable, Sequence

from rosterkit.xlsx.chart import Chart
from rosterkit.xlsx.own_sheets.chart_xml import Spaces
from rosterkit.xlsx.xml.tags import quoted

_HEAD = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'
_PACKAGE = "http://schemas.openxmlformats.org/package/2006/relationships"


def drawing_markup(charts: Sequence[Chart], names: Spaces, relations: str) -> bytes:
    """Return the drawing part of a sheet's charts; the chart n has the relationship rIdn, from 1.

    ``relations`` is the namespace of relationship attributes.
    """
    frames = "".join(_frame(number, chart, names) for number, chart in enumerate(charts, start=1))
    return (
        f'{_HEAD}<xdr:wsDr xmlns:xdr="{names.sheet}" xmlns:a="{names.drawing}" xmlns:r="{relations}" '
        f'xmlns:c="{names.chart}">{frames}</xdr:wsDr>'
    ).encode()


def _frame(number: int, chart: Chart, names: Spaces) -> str:
    top, left, bottom, right = chart.at
    title, description = (quoted(text).decode() for text in (chart.title, chart.description))
    return (
        '<xdr:twoCellAnchor editAs="oneCell">'
        f"{_corner('from', top - 1, left - 1)}{_corner('to', bottom, right)}"
        f'<xdr:graphicFrame macro=""><xdr:nvGraphicFramePr><xdr:cNvPr id="{number + 1}" name="{title}" '
        f'descr="{description}"/><xdr:cNvGraphicFramePr/></xdr:nvGraphicFramePr>'
        '<xdr:xfrm><a:off x="0" y="0"/><a:ext cx="0" cy="0"/></xdr:xfrm>'
        f'<a:graphic><a:graphicData uri="{names.chart}"><c:chart r:id="rId{number}"/></a:graphicData>'
        "</a:graphic></xdr:graphicFrame><xdr:clientData/></xdr:twoCellAnchor>"
    )


def _corner(name: str, row: int, column: int) -> str:
    return (
        f"<xdr:{name}><xdr:col>{column}</xdr:col><xdr:colOff>0</xdr:colOff>"
        f"<xdr:row>{row}</xdr:row><xdr:rowOff>0</xdr:rowOff></xdr:{name}>"
    )


def links_markup(kind: str, targets: Iterable[str]) -> bytes:
    """Return a list of relationships of one kind (a whole URI) to parts, rId1 being the first."""
    entries = "".join(
        f'<Relationship Id="rId{number}" Type="{kind}" Target="/{quoted(target).decode()}"/>'
        for number, target in enumerate(targets, start=1)
    )
    return f'{_HEAD}<Relationships xmlns="{_PACKAGE}">{entries}</Relationships>'.encode()

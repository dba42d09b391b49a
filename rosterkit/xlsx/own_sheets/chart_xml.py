"""Writes charts of lines and points as parts: each chart, and the drawing that places them on a sheet."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import NamedTuple

from rosterkit.xlsx.changes import OwnSheet
from rosterkit.xlsx.chart import Block, Chart, Series
from rosterkit.xlsx.xml.areas import Area
from rosterkit.xlsx.xml.tags import quoted

_HEAD = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'
_TRANSITIONAL = "http://schemas.openxmlformats.org/drawingml/2006/"
_PACKAGE = "http://schemas.openxmlformats.org/package/2006/relationships"
_STRICT = "http://purl.oclc.org/ooxml/drawingml/"
_ACROSS, _UPWARD = 111, 222
"""Numbers by which the axes of one chart know each other."""


class Spaces(NamedTuple):
    """The namespaces of charts and drawings."""

    chart: str
    drawing: str
    sheet: str
    """Of a drawing on a worksheet."""


def spaces(*, strict: bool) -> Spaces:
    """Return the namespaces for a transitional or a Strict package."""
    begin = _STRICT if strict else _TRANSITIONAL
    return Spaces(f"{begin}chart", f"{begin}main", f"{begin}spreadsheetDrawing")


def chart_markup(chart: Chart, own_sheet: OwnSheet, reference: str, names: Spaces) -> bytes:
    """Return the chart part of a chart; the numbers of its sheet are copied into it as programs do.

    The reference is the sheet's title as references begin with it.
    """
    blocks = {block for one in chart.series for block in (one.across, one.upward)}
    numbers = {block: _numbers(block, own_sheet, reference) for block in blocks}
    series = "".join(_series(number, one, numbers, reference) for number, one in enumerate(chart.series))
    return "".join(
        (
            f'{_HEAD}<c:chartSpace xmlns:c="{names.chart}" xmlns:a="{names.drawing}">',
            f'<c:roundedCorners val="0"/><c:chart>{_title(chart.title, 1200)}<c:autoTitleDeleted val="0"/>',
            '<c:plotArea><c:layout/><c:scatterChart><c:scatterStyle val="lineMarker"/>',
            f'<c:varyColors val="0"/>{series}<c:axId val="{_ACROSS}"/><c:axId val="{_UPWARD}"/>',
            "</c:scatterChart>",
            _axis((_ACROSS, _UPWARD), "b", chart.across, chart.rightmost),
            _axis((_UPWARD, _ACROSS), "l", chart.upward, None),
            '</c:plotArea><c:legend><c:legendPos val="b"/><c:overlay val="0"/></c:legend>',
            '<c:plotVisOnly val="1"/><c:dispBlanksAs val="gap"/></c:chart></c:chartSpace>',
        )
    ).encode()


def _title(text: str, size: int) -> str:
    return (
        f'<c:title><c:tx><c:rich><a:bodyPr/><a:p><a:pPr><a:defRPr sz="{size}" b="1"/></a:pPr>'
        f'<a:r><a:rPr sz="{size}" b="1"/><a:t>{_text(text)}</a:t></a:r></a:p></c:rich></c:tx>'
        '<c:overlay val="0"/></c:title>'
    )


def _axis(ids: tuple[int, int], side: str, title: str, end: float | None) -> str:
    most = "" if end is None else f'<c:max val="{end:g}"/>'
    return (
        f'<c:valAx><c:axId val="{ids[0]}"/><c:scaling><c:orientation val="minMax"/>{most}<c:min val="0"/>'
        f'</c:scaling><c:delete val="0"/><c:axPos val="{side}"/><c:majorGridlines>'
        f"<c:spPr>{_line('D9D9D9', 6350)}</c:spPr></c:majorGridlines>{_title(title, 900)}"
        '<c:numFmt formatCode="General" sourceLinked="0"/><c:majorTickMark val="out"/>'
        f'<c:minorTickMark val="none"/><c:tickLblPos val="nextTo"/><c:crossAx val="{ids[1]}"/>'
        '<c:crosses val="autoZero"/><c:crossBetween val="midCat"/></c:valAx>'
    )


def _series(number: int, series: Series, numbers: Mapping[Block, str], reference: str) -> str:
    return "".join(
        (
            f'<c:ser><c:idx val="{number}"/><c:order val="{number}"/>',
            f"<c:tx><c:v>{_text(series.name)}</c:v></c:tx>",
            *_drawn(series),
            _bars(series, reference),
            f"<c:xVal>{numbers[series.across]}</c:xVal>",
            f"<c:yVal>{numbers[series.upward]}</c:yVal>",
            '<c:smooth val="0"/></c:ser>',
        )
    )


def _drawn(series: Series) -> Iterator[str]:
    if not series.points:
        yield f"<c:spPr>{_line(series.colour, 19050, dashed=series.dashed)}</c:spPr>"
        yield '<c:marker><c:symbol val="none"/></c:marker>'
        return
    fill = f'<a:solidFill><a:srgbClr val="{series.colour}"/></a:solidFill>'
    yield '<c:spPr><a:ln w="19050"><a:noFill/></a:ln></c:spPr>'
    yield (
        f'<c:marker><c:symbol val="{"diamond" if series.dashed else "circle"}"/><c:size val="6"/>'
        f"<c:spPr>{fill}</c:spPr></c:marker>"
    )


def _line(colour: str, width: int, *, dashed: bool = False) -> str:
    dash = '<a:prstDash val="dash"/>' if dashed else ""
    return f'<a:ln w="{width}"><a:solidFill><a:srgbClr val="{colour}"/></a:solidFill>{dash}</a:ln>'


def _bars(series: Series, reference: str) -> str:
    if series.margin is None:
        return ""
    either = f"<c:numRef>{_formula(series.margin, reference)}</c:numRef>"
    return (
        '<c:errBars><c:errDir val="y"/><c:errBarType val="both"/><c:errValType val="cust"/>'
        f'<c:noEndCap val="1"/><c:plus>{either}</c:plus><c:minus>{either}</c:minus>'
        f"<c:spPr>{_line(series.colour, 6350)}</c:spPr></c:errBars>"
    )


def _numbers(block: Block, own_sheet: OwnSheet, reference: str) -> str:
    values = list(block_values(block, own_sheet))
    points = "".join(
        f'<c:pt idx="{n}"><c:v>{value!r}</c:v></c:pt>' for n, value in enumerate(values) if value is not None
    )
    return (
        f"<c:numRef>{_formula(block, reference)}"
        f'<c:numCache><c:formatCode>General</c:formatCode><c:ptCount val="{len(values)}"/>{points}'
        "</c:numCache></c:numRef>"
    )


def _formula(block: Block, reference: str) -> str:
    return f"<c:f>{_text(f'{reference}!{Area(*block).absolute}')}</c:f>"


def block_values(block: Block, own_sheet: OwnSheet) -> Iterator[int | float | None]:
    """Return the numbers in the cells of a page, row by row; None for a cell that holds none."""
    top, left, bottom, right = block
    for row in own_sheet.rows[top - 1 : bottom]:
        for column in range(left - 1, right):
            value = row[column].value if column < len(row) else None
            yield value if isinstance(value, int | float) else None


def _text(text: str) -> str:
    return quoted(text).decode()


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
    title, description = _text(chart.title), _text(chart.description)
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
        f'<Relationship Id="rId{number}" Type="{kind}" Target="/{_text(target)}"/>'
        for number, target in enumerate(targets, start=1)
    )
    return f'{_HEAD}<Relationships xmlns="{_PACKAGE}">{entries}</Relationships>'.encode()

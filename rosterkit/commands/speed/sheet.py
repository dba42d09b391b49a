"""The sheet Speed: for each timed engine a chart of timed, wanted and expected speeds, and its figures."""

from collections.abc import Iterator, Sequence

from rosterkit.commands.speed.figures import SHOWN_STEPS, EngineFigures, SpeedReport, Sure
from rosterkit.commands.speed.report import details, headline
from rosterkit.planning.speed.timed_run import Way
from rosterkit.printable import printable
from rosterkit.standards.speed_curve import TABLE_STEPS
from rosterkit.xlsx.changes import LINE, CellStyle, OwnCell, OwnSheet, lines_of
from rosterkit.xlsx.chart import Chart, Series

TITLE = "Speed"
_HEADINGS = ("Step", "Drive level", "Wanted", "Forward", "±", "Reverse", "±")
_TIMED = ("Drive level", "as step", "Forward", "Reverse")
_COLUMNS = len(_HEADINGS) + 1 + len(_TIMED)
_WIDTHS = (7, 8, 9, 10, 8, 10, 8, 4, 10, 9, 11, 11)
_HEADING_CELLS = [
    *(OwnCell(text, CellStyle.HEADING) for text in _HEADINGS),
    OwnCell(),
    *(OwnCell(text, CellStyle.HEADING) for text in _TIMED),
]
_WIDTH = sum(_WIDTHS)
_CHART_ROWS = 26
_COLOURS = {Way.FORWARD: "1F6FB2", Way.REVERSE: "C55A11"}
_GREY = "404040"
_STEP, _WANTED = 1, 3
_WAYS = tuple(Way)
_BLANK = OwnCell()
_EXPECTED = {Way.FORWARD: 4, Way.REVERSE: 6}
_TIMED_STEP = 10
_TIMED_SPEED = {Way.FORWARD: 11, Way.REVERSE: 12}


def speed_sheet(report: SpeedReport) -> OwnSheet:
    """Make the sheet: a block an engine, each on a printed page of its own."""
    rows: list[list[OwnCell]] = []
    charts: list[Chart] = []
    merges: list[tuple[int, int, int, int]] = []
    breaks: list[int] = []
    heights: dict[int, float] = {}
    for figures in report.engines:
        if rows:
            breaks.append(len(rows))
        rows.append([OwnCell(figures.loco, CellStyle.ENGINE)])
        merges.append((len(rows), 1, len(rows), _COLUMNS))
        next_steps = (f"Next: {sentence}" for sentence in figures.next)
        for line in (headline(figures, report.unit), *details(figures, report.length_unit), *next_steps):
            rows.append([OwnCell(line, CellStyle.WRAPPED)])
            merges.append((len(rows), 1, len(rows), _COLUMNS))
            heights[len(rows)] = LINE * (1 if len(line) < _WIDTH else lines_of(line, _WIDTH))
        chart_top = len(rows) + 1
        rows += [[] for _ in range(_CHART_ROWS)]
        first = len(rows) + 2
        heights[first - 1] = LINE
        rows += _numbers(figures)
        chart = _chart(figures, report.unit, first, (chart_top, 1, chart_top + _CHART_ROWS - 2, _COLUMNS))
        charts += [chart] if chart else []
    return OwnSheet(
        title=TITLE,
        rows=rows,
        widths=_WIDTHS,
        landscape=False,
        breaks=tuple(breaks),
        merges=tuple(merges),
        heights=heights,
        charts=tuple(charts),
    )


def _numbers(figures: EngineFigures) -> Iterator[list[OwnCell]]:
    yield _HEADING_CELLS
    steps, timed = list(_step_cells(figures)), list(_timed_cells(figures))
    blank = [_BLANK] * len(_HEADINGS)
    for n in range(max(len(steps), len(timed))):
        left = steps[n] if n < len(steps) else blank
        yield [*left, _BLANK, *(timed[n] if n < len(timed) else [])]


def _step_cells(figures: EngineFigures) -> Iterator[list[OwnCell]]:
    for each in figures.steps:
        if each.step not in SHOWN_STEPS:
            continue
        plain = [OwnCell(each.step), OwnCell(each.drive), OwnCell(each.wanted)]
        yield [*plain, *_pair(each.expected.get(Way.FORWARD)), *_pair(each.expected.get(Way.REVERSE))]


def _timed_cells(figures: EngineFigures) -> Iterator[list[OwnCell]]:
    by_drive: dict[int, dict[Way, Sure]] = {}
    for point in figures.points:
        by_drive.setdefault(point.drive, {})[point.way] = point.speed
    steps = {point.drive: point.step for point in figures.points}
    for drive, speeds in sorted(by_drive.items()):
        pairs = (_pair(speeds.get(way))[0] for way in _WAYS)
        yield [OwnCell(drive), OwnCell(steps[drive]), *pairs]


def _pair(sure: Sure | None) -> Sequence[OwnCell]:
    return (_BLANK, _BLANK) if sure is None else (OwnCell(sure.speed), OwnCell(sure.within))


def _chart(figures: EngineFigures, unit: str, first: int, at: tuple[int, int, int, int]) -> Chart | None:
    series = tuple(_series(figures, first))
    if not series:
        return None
    loco = printable(figures.loco)  # a drawing has no escapes for controls, as cells have
    return Chart(
        title=loco,
        series=series,
        across="speed step of 28",
        upward=unit,
        at=at,
        rightmost=len(TABLE_STEPS),
        description=f"{loco}: {headline(figures, unit)}",
    )


def _series(figures: EngineFigures, first: int) -> Iterator[Series]:
    last = first + len(SHOWN_STEPS) - 1
    timed_last = first + len({point.drive for point in figures.points}) - 1
    for way in Way:
        if any(point.way is way for point in figures.points):
            column = _TIMED_SPEED[way]
            yield Series(
                name=f"timed {way.value}, straight table",
                across=(first, _TIMED_STEP, timed_last, _TIMED_STEP),
                upward=(first, column, timed_last, column),
                colour=_COLOURS[way],
                points=True,
                dashed=way is Way.REVERSE,
            )
    across = (first, _STEP, last, _STEP)
    for way in figures.steps[0].expected if figures.steps else ():
        column = _EXPECTED[way]
        yield Series(
            name=f"expected {way.value}",
            across=across,
            upward=(first, column, last, column),
            colour=_COLOURS[way],
            margin=(first, column + 1, last, column + 1),
        )
    if figures.steps:
        wanted = (first, _WANTED, last, _WANTED)
        yield Series(name="wanted", across=across, upward=wanted, colour=_GREY, dashed=True)

"""What holds for every sheet: nothing on it vanishes, and nothing is said twice."""

from collections import Counter

from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from rosterkit.lists.plain import PlainArea, PlainCell, PlainSheet
from rosterkit.lists.tables import Layout, Origin
from tests.lists.layout.drawing import layout

WORDS = st.sampled_from(
    [
        "Engine",
        "Address",
        "Owner",
        "CV",
        "Value",
        "Road:",
        "Number:",
        "CV2",
        "CV29",
        "NE",
        "JV",
        "5201",
        "12",
        "3",
        "29",
        "Total",
        "M01",
        "plain",
        "2-8-0",
        "Notes",
        "Decoder",
        "Type:",
        "x",
        "NE 5201",
        "red = needs work",
        "Owner: M02",
        "it runs well on the branch but not uphill",
        "CV 3",
        "Page 2",
    ]
)
NO_SHRINKING = [Phase.explicit, Phase.reuse, Phase.generate]
"""The sheets are small as they are; shrinking them takes minutes."""
FILLS = st.sampled_from(["", "", "", "FF9999", "FFFF99"])


@st.composite
def sheets(draw: st.DrawFn) -> PlainSheet:
    """Draw a small sheet of words of lists: dense or sparse, with merged areas and colours."""
    rows, columns = draw(st.integers(1, 12)), draw(st.integers(1, 7))
    share = draw(st.integers(1, 10))
    cells = {}
    for row in range(1, rows + 1):
        for column in range(1, columns + 1):
            if draw(st.integers(1, 10)) <= share:
                text = draw(WORDS)
                cells[row, column] = PlainCell(
                    text, int(text) if text.isdecimal() else text, fill=draw(FILLS)
                )
    merged: list[PlainArea] = []
    for _ in range(draw(st.integers(0, 2))):
        top, left = draw(st.integers(1, rows)), draw(st.integers(1, columns))
        bottom, right = draw(st.integers(top, rows)), draw(st.integers(left, columns))
        spots = {(r, c) for r in range(top, bottom + 1) for c in range(left, right + 1)}
        if not any(_meet(one, spots) for one in merged):
            merged.append(PlainArea(top, left, bottom, right))
            for spot in spots - {(top, left)}:
                cells.pop(spot, None)
    return PlainSheet("List", cells, tuple(merged))


def _meet(area: PlainArea, spots: set[tuple[int, int]]) -> bool:
    return any(area.top <= r <= area.bottom and area.left <= c <= area.right for r, c in spots)


def told(found: Layout) -> tuple[Counter[tuple[int, int]], set[tuple[int, int]]]:
    """Return how often each cell is told of, and which are told of for several records."""
    counted: Counter[tuple[int, int]] = Counter()
    shared: set[tuple[int, int]] = set()
    for table in found.tables:
        headings: set[tuple[int, int]] = set()
        values: Counter[tuple[int, int]] = Counter()
        for heading in table.headings:
            headings |= {(one.place.row, one.place.column) for one in heading.at}
        for record in table.records:
            cells = [*record.cells.items(), *((-1, one) for pair in record.pairs for one in pair)]
            for number, one in cells:
                if number >= 0 and table.headings[number].origin is Origin.SHEET_TITLE:
                    continue
                values[one.place.row, one.place.column] += 1
                if number >= 0 and table.headings[number].origin is Origin.TABLE_TITLE:
                    shared.add((one.place.row, one.place.column))  # of tables beside each other
        shared |= {spot for spot, count in values.items() if count > 1} | headings
        counted.update(headings)
        counted.update(values)
    return counted, shared


def filled_in_skipped(found: Layout, sheet: PlainSheet) -> Counter[tuple[int, int]]:
    """Return how often each filled cell stands within something skipped."""
    counted: Counter[tuple[int, int]] = Counter()
    for one in found.skipped:
        for (row, column), cell in sheet.cells.items():
            inside = one.place.row <= row <= one.last.row and one.place.column <= column <= one.last.column
            if inside and cell.text:
                counted[row, column] += 1
    return counted


@given(sheets())
@settings(max_examples=150, deadline=None, phases=NO_SHRINKING)
def test_every_filled_cell_is_told_of(sheet: PlainSheet) -> None:
    found = layout(sheet)

    counted, _ = told(found)
    skipped = filled_in_skipped(found, sheet)
    filled = {spot for spot, cell in sheet.cells.items() if cell.text}
    assert filled - counted.keys() - skipped.keys() == set()


@given(sheets())
@settings(max_examples=150, deadline=None, phases=NO_SHRINKING)
def test_nothing_is_told_of_twice_but_what_holds_for_several_engines(sheet: PlainSheet) -> None:
    found = layout(sheet)

    counted, shared = told(found)
    skipped = filled_in_skipped(found, sheet)
    merged_down = {(one.top, one.left) for one in sheet.merged if one.bottom > one.top}
    assert {spot for spot in counted if counted[spot] > 1} <= shared
    assert set(counted) & set(skipped) <= merged_down  # such a cell may also go on in the row above
    assert {spot for spot, count in skipped.items() if count > 1} == set()


@given(sheets())
@settings(max_examples=150, deadline=None, phases=NO_SHRINKING)
def test_keys_name_one_record_and_one_heading_each(sheet: PlainSheet) -> None:
    found = layout(sheet)

    keys = [record.key for table in found.tables for record in table.records]
    assert len(keys) == len(set(keys))
    for table in found.tables:
        headings = [one.key for one in table.headings]
        assert len(headings) == len(set(headings))
        for record in table.records:
            assert all(0 <= number < len(table.headings) for number in record.cells)

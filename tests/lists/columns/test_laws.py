"""What holds for every table, whatever it says."""

from hypothesis import given
from hypothesis import strategies as st

from rosterkit.lists.columns.given import understood
from rosterkit.lists.reading import ENGINES, NOTHING, OWN
from rosterkit.roster.schema import schema_file
from tests.lists.columns.layouts import read

_VOCABULARY = schema_file("lists/headings.json")
_WORDS = sorted(
    {word for some in _VOCABULARY["fields"].values() for words in some.values() for word in words}
)
_HEADINGS = st.sampled_from([*_WORDS, *_VOCABULARY["ambiguous"], "", "CV29", "CV 2", "x"]) | st.text(
    max_size=12
)
_CELLS = st.sampled_from(
    ["", "5201", "NE 5201", "M01", "x", "2020-01-01", "28/128", "12 or 45", "normal", "3.5"]
)
_REPEATED = {OWN, NOTHING, "notes"}


@st.composite
def _lists(draw: st.DrawFn) -> list[list[str]]:
    columns = draw(st.integers(1, 9))
    rows = draw(st.integers(0, 6))
    cells = _CELLS | st.text(max_size=8)
    headings = draw(st.lists(_HEADINGS, min_size=columns, max_size=columns))
    return [headings, *(draw(st.lists(cells, min_size=columns, max_size=columns)) for _ in range(rows))]


@given(_lists())
def test_every_heading_is_read_once_and_every_field_from_one_heading_at_most(lines: list[list[str]]) -> None:
    reading = read(lines)

    fields = [one.read_as for one in reading.columns if one.read_as not in _REPEATED]
    assert [one.heading for one in reading.columns] == list(range(len(lines[0])))
    assert len(fields) == len(set(fields))
    assert reading.subject or set(fields) == set()
    assert all(one.why for one in reading.columns)


@given(_lists())
def test_what_a_heading_is_read_as_can_be_said_of_it(lines: list[list[str]]) -> None:
    reading = read(lines)

    assert [understood(one.read_as, ENGINES, "") for one in reading.columns] == [
        one.read_as for one in reading.columns
    ] or reading.subject not in {ENGINES, ""}


@given(_lists())
def test_the_order_of_the_rows_changes_no_reading_that_no_count_decides(lines: list[list[str]]) -> None:
    top, *rows = lines
    first, *others = rows or [[""] * len(top)]
    turned = [top, *others, first]

    plain = [one.read_as for one in read([top, first, *others]).columns]

    if not any(text.isdigit() for row in rows for text in row):
        assert [one.read_as for one in read(turned).columns] == plain

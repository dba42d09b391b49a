"""Whatever stands in the cells of our sheets, every command has an answer."""

import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rosterkit.cards.card import cards_of
from rosterkit.cards.report import CARD_FORMATS
from rosterkit.checks import CHECKS
from rosterkit.checks.brief import brief_lines
from rosterkit.checks.grouping import grouped
from rosterkit.checks.report import CHECK_FORMATS, check_text
from rosterkit.checks.result import CheckReport
from rosterkit.findings import Severity
from rosterkit.roster.schema import sheet
from rosterkit.writeback.sheets import sheet_changes
from rosterkit.xlsx.grid import BadDate, CellError, NoStoredValue, ScientificNumber
from tests.rosters import Rows, findings, roster

pytestmark = pytest.mark.slow

_NUMBERS = st.floats(allow_nan=False, allow_infinity=False)
_TEXTS = st.text(max_size=8) | st.sampled_from(
    [
        "",
        " ",
        "\u200b",
        "１２",
        "1-99",
        "99-1",
        "0-5",
        "short",
        "long",
        "yes",
        "table",
        "28/128",
        "engines",
        "M01",
        "9" * 400,
        "9" * 400 + ".5",
        "9" * 5000,
        "1-" + "9" * 5000,
    ]
)
_CONTENT = st.one_of(
    _TEXTS,
    st.integers(-3, 11000),
    st.integers(),
    _NUMBERS,
    st.booleans(),
    st.datetimes(),
    st.dates(),
    st.times(),
    st.timedeltas(),
    st.builds(CellError, st.just("#REF!")),
    st.builds(NoStoredValue, st.text(max_size=3)),
    st.builds(ScientificNumber, _NUMBERS),
    st.builds(BadDate, st.just("-1")),
)


def _rows(title: str) -> st.SearchStrategy[Rows]:
    headings = [column.heading for column in sheet(title).columns]
    return st.lists(st.dictionaries(st.sampled_from(headings), _CONTENT, min_size=2, max_size=10), max_size=3)


_SETTINGS = st.dictionaries(st.sampled_from([column.heading for column in sheet("Layout").columns]), _CONTENT)


@settings(deadline=None, max_examples=150)
@given(_rows("Locomotives"), _SETTINGS, _rows("Address ranges"), _rows("Decoder types"), st.booleans())
def test_every_content_is_answered(
    engines: Rows, layout: dict[str, object], ranges: Rows, decoders: Rows, meet: bool
) -> None:
    sure = {"Loco": "A", "Address": 12}
    made = roster([sure, *engines], layout=layout, ranges=ranges, decoders=decoders)
    found = findings(made, meet=meet)
    report = CheckReport(version="1", workbooks=[("club.xlsx", len(made.engines))], findings=found)
    cards = cards_of(made)
    printed = {name: form(report) for name, form in CHECK_FORMATS.items()}
    brief = check_text(report, brief=True)
    keyed = {name: form(cards) for name, form in CARD_FORMATS.items()}

    assert {finding.rule for finding in found} <= {check.slug for check in CHECKS}
    assert {finding.severity for finding in found} <= set(Severity)
    assert len(printed["text"].splitlines()) == 2 * len(grouped(found)) + 1
    said = json.loads(printed["json"])["findings"]
    assert len(said) + sum("rule" in one for first in said for one in first["related"]) == len(found)
    assert len(brief.splitlines()) == len(brief_lines(report)) + 1
    assert len(json.loads(keyed["json"])["cards"]) == len(made.engines)
    assert sheet_changes(made, found)[0].title == "Locomotives"

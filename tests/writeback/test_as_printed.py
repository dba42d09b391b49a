"""What was read back as a card has it: all of it, or all but what is named; and what is left for a meet."""

from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook

from rosterkit.cards.card import CardOptions, cards_of
from rosterkit.errors import CannotRunError
from rosterkit.template.new_workbook import new_workbook
from rosterkit.writeback.as_printed import as_printed, parse_recorded
from rosterkit.writeback.typed_pairs import ReadBack, parse_read_back
from tests.command_line import run
from tests.rosters import roster

EXTRAS = [
    {"Loco": "A", "CV": 300, "Value": 5, "Index high": 16, "Index low": 0},
    {"Loco": "A", "CV": 300, "Value": 6, "Index high": 16, "Index low": 1},
    {"Loco": "A", "CV": 301, "Value": 7, "Index high": 16, "Index low": 1},
]


def _read(texts: str) -> list[tuple[int, int | None]]:
    """Return the readings of the card of an engine whose CV19 was read as wanted already."""
    made = roster(
        [{"Loco": "A", "Address": 12, "Decoder": "D", "Vstart": 8}],
        decoders=[{"Decoder": "D", "Manufacturer ID": 13}],
        readings=[{"Loco": "A", "CV": 19, "Value": 0}],
    )
    everything, given = parse_recorded([texts])
    assert everything
    return [(one.cv, one.value) for one in as_printed(cards_of(made)[0], given)]


@pytest.mark.parametrize(
    ("texts", "read"),
    [
        pytest.param(
            "all", [(19, 0), (8, 13), (1, 12), (29, 2), (2, 8)], id="all that has a value and a blank"
        ),
        pytest.param("ALL 29=6", [(19, 0), (8, 13), (1, 12), (29, 6), (2, 8)], id="all but one CV"),
        pytest.param(
            "all, 29=6, 2=-", [(19, 0), (8, 13), (1, 12), (29, 6), (2, None)], id="one without acknowledgment"
        ),
        pytest.param(
            "all 49=3", [(19, 0), (8, 13), (1, 12), (29, 2), (2, 8), (49, 3)], id="one more than is printed"
        ),
    ],
)
def test_what_was_read_as_printed_is(texts: str, read: list[tuple[int, int | None]]) -> None:
    assert sorted(_read(texts)) == sorted(read)


@pytest.mark.parametrize(
    ("changes", "read"),
    [
        pytest.param(False, [(19, 0), (1, 12), (29, 2)], id="where its line is printed"),
        pytest.param(True, [(29, 2)], id="not where only changes are"),
    ],
)
def test_what_is_already_so_is_read_again(read: list[tuple[int, int]], *, changes: bool) -> None:
    made = roster(
        [{"Loco": "A", "Address": 12}],
        readings=[{"Loco": "A", "CV": cv, "Value": value} for cv, value in ((1, 12), (19, 0))],
    )

    (card,) = cards_of(made, options=CardOptions(changes=changes))

    assert [(one.cv, one.value) for one in as_printed(card, [])] == read


def test_cvs_of_an_index_keep_it_and_the_index_reads_as_it_is_left() -> None:
    made = roster([{"Loco": "A", "Address": 12}], extras=EXTRAS)

    found = as_printed(cards_of(made)[0], parse_read_back(["301=9"]))

    assert [one for one in found if one.cv in (31, 32, 300, 301)] == [
        ReadBack(cv=300, value=5, index=(16, 0)),
        ReadBack(cv=31, value=16),
        ReadBack(cv=32, value=1),
        ReadBack(cv=300, value=6, index=(16, 1)),
        ReadBack(cv=301, value=9, index=(16, 1)),
    ]


@pytest.mark.parametrize(
    ("engine", "texts", "message"),
    [
        pytest.param({"Address": 12}, "300=9", "CV300 under 2 indexes", id="a CV of several indexes"),
        pytest.param({"Address": 20000}, "1=3", "nothing that is read back as it is printed", id="no lines"),
    ],
)
def test_what_is_not_clear_is_refused(engine: dict[str, Any], texts: str, message: str) -> None:
    made = roster([{"Loco": "A", **engine}], extras=EXTRAS)

    with pytest.raises(CannotRunError, match=message):
        as_printed(cards_of(made)[0], parse_read_back([texts]))


def test_pairs_without_all_are_pairs() -> None:
    assert parse_recorded(["1=3"]) == (False, [ReadBack(cv=1, value=3)])


@pytest.fixture
def path(tmp_path: Path) -> Path:
    path = tmp_path / "club.xlsx"
    engine: dict[str, str | int | float | None]
    engine = {"loco": "A", "address": 12, "at_meet": "yes", "meet_address": 2102, "vstart": 8}
    path.write_bytes(new_workbook({"Locomotives": [engine]}))
    return path


def test_all_is_recorded_and_what_differs_is_left(path: Path) -> None:
    ran = run("cards", path, "--loco", "A", "--record", "all 2=7")

    rows = [
        row[2:5] for row in load_workbook(path)["Readings"].iter_rows(min_row=2, max_col=5, values_only=True)
    ]
    assert [row for row in rows if row[0]] == [("A", 19, 0), ("A", 1, 12), ("A", 29, 2), ("A", 2, 7)]
    assert "A: CV19 read 0, CV1 read 12, CV29 read 2, CV2 read 7" in ran.err
    assert "[ ] CV2 " in ran.out
    assert "[ ] CV1 " not in ran.out


def test_all_of_the_card_for_the_meet_leaves_nothing_of_it_and_so_does_the_one_after(path: Path) -> None:
    before = run("cards", path, "--loco", "A", "--meet", "before", "--record", "all")
    after = run("cards", path, "--loco", "A", "--meet", "after", "--record", "all 1=3")

    assert (before.out, "CV17 read 200, CV18 read 54" in before.err) == ("Nothing to do: A\n", True)
    assert "CV1 read 3" in after.err
    assert "[ ] CV1 " in after.out
    assert "[ ] CV18" not in after.out


@pytest.mark.parametrize(
    ("read", "at_meet"),
    [
        pytest.param("17=200 18=54", True, id="the address for the meet"),
        pytest.param("18=54 2=8", True, id="half of it, and another CV"),
        pytest.param("17=200 18=55", False, id="not quite that address"),
        pytest.param("1=12", False, id="the address at home"),
        pytest.param("2=8", False, id="no address"),
    ],
)
def test_where_the_address_for_the_meet_was_read_the_rest_of_its_card_is_printed(
    path: Path, read: str, *, at_meet: bool
) -> None:
    ran = run("cards", path, "--loco", "A", "--record", read)

    assert ("what is left of the card for the meet is printed" in ran.err) is at_meet
    assert ("long 2102" in ran.out) is at_meet
    assert ("[ ] CV2 " in ran.out) is ("2=8" not in read and not at_meet)

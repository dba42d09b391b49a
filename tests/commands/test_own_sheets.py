"""The sheets Findings and Cards."""

from itertools import pairwise

from rosterkit.cards.card import CardOptions, cards_of
from rosterkit.cards.sheet import cards_sheet
from rosterkit.checks import findings_in
from rosterkit.checks.framework import scope_of
from rosterkit.checks.sheet import findings_sheet
from rosterkit.findings import Hit, Place
from rosterkit.xlsx.changes import CellStyle, OwnCell
from tests.reports import CARDS, REPORT
from tests.rosters import brief, roster


def test_findings_stand_the_graver_first_each_with_a_link_to_its_cell() -> None:
    page = findings_sheet(REPORT.findings)

    assert [cell.value for cell in page.rows[0]] == [
        "Severity",
        "Place",
        "Loco",
        "Column",
        "What is wrong",
        "What to do",
        "Check",
    ]
    assert [(row[0].value, row[0].look, row[1].link, row[6].value) for row in page.rows[1:]] == [
        ("error", CellStyle.ERROR, ("Locomotives", "B2"), "address-shared"),
        ("error", CellStyle.ERROR, ("Locomotives", "B3"), "address-shared"),
        ("error", CellStyle.ERROR, ("Locomotives", "B4"), "value-not-allowed"),
        ("warning", CellStyle.WARNING, ("Locomotives", "D2"), "number-repeated"),
        ("warning", CellStyle.WARNING, ("Locomotives", "D3"), "number-repeated"),
        ("warning", CellStyle.WARNING, ("Locomotives", "H3"), "dc-operation-on"),
        ("note", CellStyle.NOTE, ("Locomotives", "F2"), "tag-open"),
        ("note", CellStyle.NOTE, ("Locomotives", "F4"), "tag-open"),
    ]
    assert (page.title, page.frozen_rows, page.filtered) == ("Findings", 1, True)


def test_the_page_has_the_findings_of_the_report() -> None:
    page = findings_sheet(REPORT.findings)

    on_page = sorted(
        (str(row[6].value), (row[1].link or ("", ""))[1], str(row[0].value)) for row in page.rows[1:]
    )

    assert on_page == sorted((rule, cell or "", severity) for rule, cell, severity in brief(REPORT.findings))


def test_a_finding_about_a_whole_sheet_or_workbook_has_no_link() -> None:
    unread = findings_in(scope_of([], unread=[Hit(place=Place("b.xlsx"), message="m", fix="Mend it.")]))

    assert findings_sheet(unread).rows[1][1] == OwnCell("the workbook")


def test_where_nothing_is_found_the_sheet_says_so() -> None:
    page = findings_sheet([])

    assert [cell.value for cell in page.rows[1]] == [None, None, None, None, "Nothing found."]
    assert not page.filtered


def test_cards_begin_with_the_cautions_across_the_page() -> None:
    page = cards_sheet(CARDS)

    cautions = CARDS[0].before

    last = 2 + len(cautions)
    assert [row[0].value for row in page.rows[2:last]] == list(cautions)
    assert {row[0].look for row in page.rows[2:last]} == {CellStyle.CAUTION}
    assert page.merges[: last - 1] == tuple((row, 1, row, 7) for row in range(2, last + 1))
    assert not page.landscape


def test_an_engine_s_block_has_a_box_a_cv_and_room_for_what_is_read_back() -> None:
    page = cards_sheet(cards_of(roster([{"Loco": "A", "Address": 12, "Owner": "M01"}])))
    begin = next(n for n, row in enumerate(page.rows) if row and row[0].look is CellStyle.ENGINE)

    block = page.rows[begin:]

    assert (block[0][0].value, [cell.value for cell in block[0] if cell.value][-1]) == ("A", "short 12")
    assert [cell.value for cell in block[1]][:1] == ["owner M01"]
    assert page.frozen_rows == 1
    assert [cell.value for cell in page.rows[0]] == [
        "Done",
        "CV",
        "Value",
        "Bits",
        "What it means",
        "Last read",
        "Read back",
    ]
    assert [(cell.value, cell.look) for cell in block[6]] == [
        (None, CellStyle.BOX),
        ("CV1", CellStyle.PLAIN),
        (12, CellStyle.VALUE),
        ("0000 1100", CellStyle.FIXED),
        ("short address 12", CellStyle.WRAPPED),
        (None, CellStyle.PLAIN),
        (None, CellStyle.BOX),
    ]


def test_no_page_break_falls_into_an_engine_s_block() -> None:
    page = cards_sheet(
        cards_of(roster([{"Loco": f"E{n}", "Address": 200 + n, "Vstart": 5} for n in range(60)]))
    )
    blocks = [n for n, row in enumerate(page.rows, 1) if not row]

    assert len(page.breaks) >= 7
    assert set(page.breaks) <= {blank - 1 for blank in blocks}


def test_no_two_page_breaks_are_further_apart_than_a_page() -> None:
    """Letter, 11 inches of 72 points less margins of 1.3, at the 0.85 at which the columns fill its width."""
    page = cards_sheet(cards_of(roster([{"Loco": f"E{n}", "Address": 200 + n} for n in range(60)])))
    ends = [1, *page.breaks, len(page.rows)]

    tall = [sum(page.heights[row] for row in range(begin + 1, end + 1)) for begin, end in pairwise(ends)]

    assert [points for points in tall if points > 790] == []


def test_an_engine_longer_than_a_page_goes_on_with_its_name_once_more() -> None:
    extras = [{"Loco": "A", "CV": cv, "Value": 1} for cv in range(112, 172)]
    page = cards_sheet(cards_of(roster([{"Loco": "A", "Address": 12}], extras=extras)))

    after = page.rows[page.breaks[-1]]

    assert (len(page.breaks), after[0].value) == (2, "A, continued")


def test_an_engine_with_nothing_to_do_is_named_above_and_has_no_block() -> None:
    made = roster(
        [{"Loco": "A", "Address": 12}],
        readings=[{"Loco": "A", "CV": cv, "Value": value} for cv, value in ((1, 12), (29, 2), (19, 0))],
    )

    page = cards_sheet(cards_of(made, options=CardOptions(changes=True)))

    assert [row[0].value for row in page.rows[1:]] == ["Cards for the programming track", "Nothing to do: A"]

"""Rows of the sheet Findings are as high as their text needs."""

from rosterkit.checks.sheet import findings_sheet
from rosterkit.findings import Finding, Place, Severity


def _finding(message: str, fix: str) -> Finding:
    place = Place("club.xlsx", "Locomotives", 2, 1)
    return Finding(severity=Severity.ERROR, rule="tag-open", place=place, message=message, fix=fix)


def test_a_row_is_as_high_as_the_longer_of_message_and_fix() -> None:
    """Of a word of nine letters with a blank behind it, six fit into 62 signs and five into 52."""
    word = "abcdefghi "
    page = findings_sheet(
        [
            _finding("1", "Mend it."),
            _finding("2" + word * 7, "Mend it."),
            _finding("3", word * 11),
            _finding("4" + word * 7, word * 16),
        ]
    )

    assert page.widths[4:6] == (62, 52)
    assert [str(row[4].value)[:1] for row in page.rows[1:]] == ["1", "2", "3", "4"]
    assert page.heights == {3: 30.0, 4: 45.0, 5: 60.0}

"""What the checks of sheets that are not read find."""

from collections.abc import Sequence

from rosterkit.xlsx.grid import Workbook
from tests.checks.cases import Table
from tests.rosters import sheet_of, workbook_of

_ELSEWHERE = Table("engines-elsewhere")
_NOTE = [("A1", "note")]


def _beside(*rows: Sequence[str]) -> list[Workbook]:
    """Make a workbook of one engine, and a sheet of a member's own that begins with these rows."""
    engines = sheet_of("Locomotives", [{"Loco": "NE 5201", "Number": "5201", "Address": 12}])
    return [workbook_of(engines, beginnings={"Diesels": rows})]


CASES = (
    _ELSEWHERE.across("no sheet of a member's own", [workbook_of(*_beside()[0].grids.values())]),
    _ELSEWHERE.across(
        "headings of engines, and one that Locomotives lacks",
        _beside(("Loco", "Colour", "Address"), ("NE 5201", "green", "12"), ("NE 7", "red", "7")),
        _NOTE,
    ),
    _ELSEWHERE.across(
        "headings below a title, in another spelling",
        _beside(("Our diesels",), (), ("number", "ADDRESS"), ("7", "7")),
        [("A3", "note")],
    ),
    _ELSEWHERE.across(
        "engines that Locomotives has, whatever their letter case",
        _beside(("Loco", "Address", "Done"), ("ne 5201", "12", "yes")),
    ),
    _ELSEWHERE.across(
        "engines by a number that Locomotives has", _beside(("Number", "Address"), ("5201", "12"))
    ),
    _ELSEWHERE.across("headings without any engine below", _beside(("Loco", "Address"), ("", ""))),
    _ELSEWHERE.across(
        "labels without addresses, as in a log", _beside(("Date", "Loco", "Notes"), ("1", "NE 9", "oiled"))
    ),
    _ELSEWHERE.across(
        "addresses without labels", _beside(("Address", "Kind", "Notes"), ("7", "short", "free"))
    ),
    _ELSEWHERE.across("a sheet of anything else", _beside(("Shopping", "Price"), ("Couplers", "12.50"))),
)

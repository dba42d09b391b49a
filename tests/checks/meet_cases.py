"""What the checks of a meet's own rules find. Each of them is a club setting; see the checks for sources."""

from rosterkit.roster.rows import hit_at
from tests.checks.cases import Case, Table
from tests.rosters import enrolled, workbook

_LATE = Table("registered-late")
_MANY = Table("too-many-engines")
_OWNER_ONLY = Table("driven-by-owner-only")
_SPELT = Table("owner-spelt-otherwise")

_GUEST = {"Loco": "A", "Address": 12, "Owner": "M01", "At meet": "yes", "Registered on": "2026-09-21"}
_ROWS = [{"Loco": f"E{n}", "Address": n, "Owner": "M01", "At meet": "yes"} for n in (11, 12, 13)]
_MINE = workbook(_ROWS[:2], layout={"Engines per member": 2}, name="a.xlsx")
_MORE = workbook([{**_ROWS[2], "Owner": "m 01"}], name="b.xlsx")
_OTHER_SCALE = workbook([_ROWS[2]], layout={"Scale": "N"}, name="b.xlsx")

CASES = (
    _SPELT.line(
        "alike everywhere",
        [{"Loco": "A", "Address": 12, "Owner": "M01", "Checked by": "M02"}],
        ranges=[{"Kind": "short", "From": 1, "To": 99, "Use": "engines", "Member": "M01"}],
        layout={"Owner code of club engines": "M02"},
    ),
    _SPELT.line(
        "otherwise than in most cells, whatever the sheet",
        [
            {"Loco": "A", "Address": 12, "Owner": "M01", "Checked by": "m02"},
            {"Loco": "B", "Address": 13, "Owner": "M 01", "Checked by": "M02"},
        ],
        [("B2", "note"), ("C3", "note"), ("D3", "note")],
        ranges=[{"Kind": "short", "From": 1, "To": 99, "Use": "engines", "Member": "M01"}],
        layout={"Owner code of club engines": "m01"},
    ),
    _SPELT.across(
        "across workbooks at a meet",
        [_MINE, _MORE],
        [("C2", "note")],
        meet=True,
    ),
    _SPELT.across("each workbook by itself otherwise", [_MINE], meet=False),
    _LATE.line("a day late", [_GUEST], [("E2", "warning")], layout={"Closing date": "2026-09-20"}),
    _LATE.line("on the last day", [_GUEST], layout={"Closing date": "2026-09-21"}),
    _LATE.line("no closing date", [_GUEST]),
    _LATE.line(
        "an engine that stays at home", [{**_GUEST, "At meet": "no"}], layout={"Closing date": "2026-09-20"}
    ),
    _MANY.line("as many as allowed", _ROWS, layout={"Engines per member": 3}),
    _MANY.line("one too many", _ROWS, [("D4", "warning")], layout={"Engines per member": 2}),
    _MANY.line("no limit", _ROWS),
    _MANY.across("counted over workbooks", [_MINE, _MORE], [("D2", "warning")], meet=True),
    _MANY.across("not over layouts of another gauge", [_MINE, _OTHER_SCALE], meet=True),
    _OWNER_ONLY.line(
        "where anyone drives",
        [{"Loco": "A", "Address": 12, "At meet": "yes", "Drivers": "owner"}],
        [("D2", "warning")],
        layout={"Who may drive": "anyone"},
    ),
    _OWNER_ONLY.line(
        "where the engine says", [{"Loco": "A", "Address": 12, "At meet": "yes", "Drivers": "owner"}]
    ),
    _OWNER_ONLY.line(
        "an engine for anyone",
        [{"Loco": "A", "Address": 12, "At meet": "yes"}],
        layout={"Who may drive": "anyone"},
    ),
    Case(check="address-not-found", says="a plan that places all", workbooks=[_MINE], found=(), meet=True),
    Case(
        check="address-not-found",
        says="an engine that the plan leaves over",
        workbooks=[_MINE],
        found=[("B2", "error")],
        meet=True,
        unplaced=[
            hit_at(enrolled(_MINE).engines[0], "address", "no address was found for E11", "Leave it home.")
        ],
    ),
)

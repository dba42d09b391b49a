"""What the checks of the engine itself find.

Deceleration: 0.896 s a unit from top to stop (NMRA S-9.2.2 (Jul 2012), CV4) at an even rate (common practice,
no source). 100 km/h at 1:87.1 is 0.3189 m/s: CV4 = 10 stops in 1429 mm (56.3 in), 11 in 1572 mm (61.9 in).
60 mph at 1:87.1: 10 in 1380 mm, 11 in 1518 mm. 100 km/h at 1:160: 19 in 1478 mm, 20 in 1556 mm. Derived.

A worked example: the seconds of CV4 are from the top speed. An engine timed at 105 km/h comes from 105 to 0
in CV4 times 0.896 s, from 100 to 0 in 100/105 of them, so CV4 = 11 stops it in 1572 mm x 100/105 = 1497 mm,
12 in 1633 mm. One that runs 60 km/h at most (0.1914 m/s) stops from there: 17 in 1458 mm, 18 in 1543 mm.
With a top speed of 200 km/h the time from 100 is half: 20 in 1429 mm, 21 in 1500.4 mm. CV24 is added to
CV4, and taken from it where bit 7 is set: 6 with 5 is 11, 15 with 133 is 10 (NMRA S-9.2.2 (Jul 2012), CV23
and CV24).
"""

from tests.checks.cases import Table
from tests.planning.speed.runs import sheet_rows, timed_runs
from tests.rosters import workbook

_REPEATED = Table("number-repeated")
_INCOMPLETE = Table("card-incomplete")
_TAG = Table("tag-open")
_BRAKING = Table("braking-too-long")
_TOO_LONG = Table("engine-too-long")

_GUEST = {"Loco": "A", "Address": 12, "Railway": "Elm", "Number": "7", "At meet": "yes"}
_LIMIT = {"Longest stopping distance": 1500}
_RUNS_OF_A = sheet_rows(*timed_runs("A"))
_BY_TABLE = {"Loco": "", "Address": 12, "Deceleration": "", "Speed curve": "table", "Speed table": "Slow"}
_TRACK = {"Programming track length": 420, "Clearance at each end": 25}


CASES = (
    _REPEATED.line(
        "another railway, another number, or none",
        [
            {"Loco": "A", "Address": 12, "Railway": "Elm", "Number": "7"},
            {"Loco": "B", "Address": 13, "Railway": "Oak", "Number": "7"},
            {"Loco": "C", "Address": 14, "Railway": "Elm", "Number": "07"},
            {"Loco": "D", "Address": 15, "Railway": "Elm"},
            {"Loco": "E", "Address": 16, "Railway": "Elm"},
            {"Loco": "F", "Address": 17, "Number": "8"},
            {"Loco": "G", "Address": 18, "Number": "8"},
        ],
    ),
    _REPEATED.line(
        "the same, whatever the letter case",
        [
            {"Loco": "A", "Address": 12, "Railway": "Elm Line", "Number": "7a"},
            {"Loco": "B", "Address": 13, "Railway": "elm  line", "Number": "7 A"},
        ],
        [("D2", "warning"), ("D3", "warning")],
    ),
    _REPEATED.line(
        "decoders of one engine",
        [
            {"Loco": "A", "Address": 12, "Railway": "Elm", "Number": "7", "Lock": 1},
            {"Loco": "B", "Address": 12, "Railway": "Elm", "Number": "7", "Lock": 2},
        ],
    ),
    _REPEATED.across(
        "at a meet across workbooks, locks or not",
        [
            workbook([{**_GUEST, "Lock": 1}], name="a.xlsx"),
            workbook([{**_GUEST, "Loco": "B", "Address": 13, "Lock": 2}], name="b.xlsx"),
        ],
        [("D2", "warning"), ("D2", "warning")],
        meet=True,
    ),
    _INCOMPLETE.line("an engine that stays at home", [{"Loco": "A", "Address": 12, "At meet": "no"}]),
    _INCOMPLETE.line(
        "owner, checker and date",
        [
            {
                "Loco": "A",
                "Address": 12,
                "At meet": "x",
                "Owner": "M01",
                "Checked by": "M02",
                "Checked on": "2026-04-11",
            }
        ],
    ),
    _INCOMPLETE.line(
        "each that is missing",
        [{"Loco": "A", "Address": 12, "At meet": "yes", "Owner": "", "Checked by": "", "Checked on": ""}],
        [("D2", "warning"), ("E2", "warning"), ("F2", "warning")],
    ),
    _INCOMPLETE.line(
        "checked by the owner",
        [
            {
                "Loco": "A",
                "Address": 12,
                "At meet": "yes",
                "Owner": "M01",
                "Checked by": "m01",
                "Checked on": "2026-04-11",
            }
        ],
        [("E2", "warning")],
    ),
    _INCOMPLETE.line(
        "a date that cannot be read is another fault",
        [
            {
                "Loco": "A",
                "Address": 12,
                "At meet": "yes",
                "Owner": "M01",
                "Checked by": "M02",
                "Checked on": "in spring",
            }
        ],
    ),
    _TAG.line("blank", [{"Loco": "A", "Address": 12, "Fault": " "}]),
    _TAG.line("at home", [{"Loco": "A", "Address": 12, "Fault": "Coupler hangs low"}], [("C2", "note")]),
    _TAG.line(
        "at the meet",
        [{"Loco": "A", "Address": 12, "Fault": "Coupler", "At meet": "yes"}],
        [("C2", "warning")],
    ),
    _BRAKING.line("no limit", [{"Loco": "A", "Address": 12, "Deceleration": 255}], layout={"Scale": "HO"}),
    _BRAKING.line(
        "10 within 1500 mm, 11 beyond",
        [
            {"Loco": "A", "Address": 12, "Deceleration": 10},
            {"Loco": "B", "Address": 13, "Deceleration": 11},
            {"Loco": "C", "Address": 14, "Deceleration": ""},
        ],
        [("C3", "warning")],
        layout={"Longest stopping distance": 1500},
    ),
    _BRAKING.line(
        "10 within 59 in, 11 beyond",
        [{"Loco": "A", "Address": 12, "Deceleration": 10}, {"Loco": "B", "Address": 13, "Deceleration": 11}],
        [("C3", "warning")],
        layout={"Longest stopping distance": 59, "Length unit": "inches", "Line speed": 100},
    ),
    _BRAKING.line(
        "10 within 1500 mm from 60 mph, 11 beyond",
        [{"Loco": "A", "Address": 12, "Deceleration": 10}, {"Loco": "B", "Address": 13, "Deceleration": 11}],
        [("C3", "warning")],
        layout={"Longest stopping distance": 1500, "Speed unit": "mph", "Line speed": 60},
    ),
    _BRAKING.line(
        "19 within 1500 mm at 1:160, 20 beyond",
        [{"Loco": "A", "Address": 12, "Deceleration": 19}, {"Loco": "B", "Address": 13, "Deceleration": 20}],
        [("C3", "warning")],
        layout={"Longest stopping distance": 1500, "Scale": "N"},
    ),
    _BRAKING.line(
        "timed at 105 km/h at most: 11 within 1500 mm from 100 km/h, 12 beyond",
        [{"Loco": "A", "Address": 12, "Deceleration": 11}, {"Loco": "B", "Address": 13, "Deceleration": 12}],
        [("C3", "warning")],
        layout=_LIMIT,
        runs=[*_RUNS_OF_A, *sheet_rows(*timed_runs("B"))],
    ),
    _BRAKING.line(
        "timed at 105 km/h at most and a line speed of 120 km/h: 9 within 1500 mm, 10 beyond",
        [{"Loco": "A", "Address": 12, "Deceleration": 9}, {"Loco": "B", "Address": 13, "Deceleration": 10}],
        [("C3", "warning")],
        layout=_LIMIT | {"Line speed": 120},
        runs=[*_RUNS_OF_A, *sheet_rows(*timed_runs("B"))],
    ),
    _BRAKING.line(
        "Vhigh 110 and timed at 60 km/h there: 17 within 1500 mm, 18 beyond",
        [
            {"Loco": "A", "Address": 12, "Deceleration": 17, "Vhigh": 110},
            {"Loco": "B", "Address": 13, "Deceleration": 18, "Vhigh": 110},
        ],
        [("C3", "warning")],
        layout=_LIMIT,
        runs=[*_RUNS_OF_A, *sheet_rows(*timed_runs("B"))],
    ),
    _BRAKING.line(
        "a table that ends at 110 and 60 km/h there, another that is not there: full drive",
        [
            _BY_TABLE | {"Loco": "A", "Deceleration": 17},
            _BY_TABLE | {"Loco": "B", "Address": 13, "Deceleration": 18},
            _BY_TABLE | {"Loco": "C", "Address": 14, "Deceleration": 11, "Speed table": "Gone"},
        ],
        [("C3", "warning")],
        layout=_LIMIT,
        runs=[*_RUNS_OF_A, *sheet_rows(*timed_runs("B"), *timed_runs("C"))],
        tables=[{"Table": "Slow"} | {str(step): 110 * step // 28 for step in range(1, 29)}],
    ),
    _BRAKING.line(
        "a goal of 200 km/h that nothing was timed for: 20 within 1500 mm from 100 km/h, 21 beyond",
        [{"Loco": "A", "Address": 12, "Deceleration": 20}, {"Loco": "B", "Address": 13, "Deceleration": 21}],
        [("C3", "warning")],
        layout=_LIMIT,
        goals=[{"Loco": "A", "Top speed": 200}, {"Loco": "B", "Top speed": 200}],
    ),
    _BRAKING.line(
        "a goal of 60 km/h and runs: 17 within 1500 mm from there, 18 beyond",
        [{"Loco": "A", "Address": 12, "Deceleration": 17}, {"Loco": "B", "Address": 13, "Deceleration": 18}],
        [("C3", "warning")],
        layout=_LIMIT,
        runs=[*_RUNS_OF_A, *sheet_rows(*timed_runs("B"))],
        goals=[{"Loco": "A", "Top speed": 60}, {"Loco": "B", "Top speed": 60}],
    ),
    _BRAKING.line(
        "neither runs nor a top speed say anything: the line speed counts",
        [{"Loco": "A", "Address": 12, "Deceleration": 11}, {"Loco": "B", "Address": 13, "Deceleration": 11}],
        [("C2", "warning"), ("C3", "warning")],
        layout=_LIMIT,
        runs=_RUNS_OF_A[:2],
        goals=[{"Loco": "B", "Stops within": 300}],
    ),
    _BRAKING.line(
        "CV24 of 5 more makes 11 of 6, and 5 less 10 of 15",
        [{"Loco": "A", "Address": 12, "Deceleration": 6}, {"Loco": "B", "Address": 13, "Deceleration": 15}],
        [("C2", "warning")],
        layout=_LIMIT,
        extras=[{"Loco": "A", "CV": 24, "Value": 5}, {"Loco": "B", "CV": 24, "Value": 133}],
    ),
    _BRAKING.line(
        "CV24 alone is more than the layout allows",
        [{"Loco": "A", "Address": 12, "Deceleration": 0}],
        [("C2", "warning")],
        layout=_LIMIT,
        extras=[{"Loco": "A", "CV": 24, "Value": 20}],
    ),
    _BRAKING.line(
        "at a meet the same counts",
        [
            {"Loco": "A", "Address": 12, "Deceleration": 11, "At meet": "yes"},
            {"Loco": "B", "Address": 13, "Deceleration": 12, "At meet": "yes"},
        ],
        [("C3", "warning")],
        layout=_LIMIT,
        runs=[*_RUNS_OF_A, *sheet_rows(*timed_runs("B"))],
        meet=True,
    ),
    _TOO_LONG.line("no programming track", [{"Loco": "A", "Address": 12, "Length": 9000}], layout={}),
    _TOO_LONG.line(
        "370 fits between 25 and 25 on 420, 370.5 does not",
        [
            {"Loco": "A", "Address": 12, "Length": 370},
            {"Loco": "B", "Address": 13, "Length": 370.5},
            {"Loco": "C", "Address": 14, "Length": ""},
        ],
        [("C3", "error")],
        layout=_TRACK,
    ),
    _TOO_LONG.line(
        "no clearance is none",
        [{"Loco": "A", "Address": 12, "Length": 420}, {"Loco": "B", "Address": 13, "Length": 421}],
        [("C3", "error")],
        layout={"Programming track length": "420"},
    ),
)

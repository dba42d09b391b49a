"""What the checks of the engine itself find.

Deceleration: 0.896 s a unit from top to stop (NMRA S-9.2.2 (Jul 2012), CV4) at an even rate (common practice,
no source). 100 km/h at 1:87.1 is 0.3189 m/s: CV4 = 10 stops in 1429 mm (56.3 in), 11 in 1572 mm (61.9 in).
60 mph at 1:87.1: 10 in 1380 mm, 11 in 1518 mm. 100 km/h at 1:160: 19 in 1478 mm, 20 in 1556 mm. Derived.
"""

from tests.checks.cases import Table
from tests.rosters import workbook

_REPEATED = Table("number-repeated")
_INCOMPLETE = Table("card-incomplete")
_TAG = Table("tag-open")
_BRAKING = Table("braking-too-long")
_TOO_LONG = Table("engine-too-long")

_GUEST = {"Loco": "A", "Address": 12, "Railway": "Elm", "Number": "7", "At meet": "yes"}
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

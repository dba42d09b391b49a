"""What the checks of the sheets themselves find."""

from datetime import date, datetime, time

from rosterkit.findings import Hit, Place
from rosterkit.xlsx.grid import BadDate, CellError, MergedRange, NoStoredValue, ScientificNumber
from tests.checks.cases import Case, Table
from tests.rosters import grid, workbook, workbook_of

_NOT_ALLOWED = Table("value-not-allowed")
_MISSING = Table("value-missing")
_ERROR = Table("value-is-error")
_DATE = Table("number-became-date")
_FLOAT = Table("number-became-float")
_FORMULA = Table("formula-without-value")
_LOCO = Table("loco-repeated")
_DECODER = Table("decoder-repeated")
_HEADING = Table("heading-missing")
_MISSPELT = Table("heading-unknown")
_MERGED = Table("cells-merged")
_STALE = Table("computed-stale")
_NOT_OURS = Table("computed-not-ours")

_TWO = [{"Loco": "A", "Address": 12}, {"Loco": "B", "Address": 500}]
_HEADINGS = ("Loco", "Address", "Mine", "Notes", "CV1")


CASES = (
    _NOT_ALLOWED.line(
        "values that their columns take",
        [
            {
                "Loco": 7,
                "Address": "12",
                "Direction": "REVERSE",
                "Length": "3,5",
                "Checked on": date(2026, 4, 11),
            },
            {"Loco": "B", "Address": 13.0, "Direction": "", "Length": 3, "Checked on": "2026-04-11"},
        ],
    ),
    _NOT_ALLOWED.line(
        "values that they do not take",
        [
            {
                "Loco": "A" * 41,
                "Address": "twelve",
                "Direction": "sideways",
                "Length": 0,
                "Vstart": 256,
                "Vhigh": -1,
                "Checked on": "11/4/2026",
            },
            {
                "Loco": "B",
                "Address": 12.5,
                "Direction": 1,
                "Length": "long",
                "Vstart": True,
                "Vhigh": "1e2",
                "Checked on": 46000,
            },
        ],
        [(f"{column}{row}", "error") for row in (2, 3) for column in "ABCDEFG" if (column, row) != ("A", 3)],
    ),
    _NOT_ALLOWED.line(
        "settings and other sheets",
        [{"Loco": "A", "Address": 12}],
        [("A2", "error"), ("B2", "error"), ("B3", "error")],
        layout={"Short address range": "all", "Long addresses from": 129},
        ranges=[{"Kind": "tall", "From": 1, "To": 9, "Use": "engines"}],
    ),
    _NOT_ALLOWED.line(
        "at a meet only those of engines that come, or that may",
        [
            {"Loco": "A", "Address": 12, "Vstart": 256, "At meet": "yes"},
            {"Loco": "B", "Address": 13, "Vstart": 256, "At meet": "no"},
            {"Loco": "C", "Address": 14, "Vstart": 256, "At meet": "perhaps"},
        ],
        [("C2", "error"), ("C4", "error"), ("D4", "error")],
        meet=True,
    ),
    _MISSING.line("all there", _TWO),
    _MISSING.line("no Loco", [{"Loco": "", "Address": 12}], [("A2", "error")]),
    _MISSING.line(
        "an incomplete range and a decoder without label",
        _TWO,
        [("A2", "error"), ("B2", "error"), ("A2", "error")],
        ranges=[{"Kind": "", "From": "", "To": 9, "Use": "engines"}],
        decoders=[{"Decoder": "", "Notes": "which?"}],
    ),
    _MISSING.line(
        "a cell whose content is spoiled is not blank", [{"Loco": CellError("#N/A"), "Address": 12}]
    ),
    _ERROR.line("none", _TWO),
    _ERROR.line("in a column of members", [{"Loco": "A", "Address": CellError("#REF!")}], [("B2", "error")]),
    _ERROR.line(
        "in a member's own column or in a computed one",
        [{"Loco": "A", "Address": 12, "Mine": CellError("#REF!"), "CV1": CellError("#REF!")}],
    ),
    _ERROR.line("in a setting", _TWO, [("B2", "error")], layout={"Scale": CellError("#NAME?")}),
    _DATE.line(
        "dates where a date, or prose, may stand",
        [{"Loco": "A", "Address": 12, "Checked on": datetime(2026, 4, 11), "Notes": date(2026, 4, 11)}],
    ),
    _DATE.line(
        "a date as label, number, address, choice and length",
        [
            {
                "Loco": date(2026, 2, 1),
                "Address": datetime(1900, 1, 12),
                "Number": date(2026, 4, 3),
                "Speed steps": time(14, 0),
                "Length": BadDate("-3"),
            }
        ],
        [(f"{column}2", "error") for column in "ABCDE"],
    ),
    _FLOAT.line(
        "numbers that nothing is lost of", [{"Loco": 2101.0, "Address": 12, "Number": 123456789012345}]
    ),
    _FLOAT.line(
        "scientific and very long numbers in columns of text",
        [{"Loco": 1e15, "Address": 12, "Number": ScientificNumber(400.0)}],
        [("A2", "error"), ("C2", "error")],
    ),
    _FLOAT.line(
        "a scientific number is a number where one is wanted",
        [{"Loco": "A", "Address": ScientificNumber(400.0), "Length": ScientificNumber(1.5)}],
    ),
    _FORMULA.line("none", _TWO),
    _FORMULA.line(
        "in a column of members", [{"Loco": "A", "Address": NoStoredValue("A1+1")}], [("B2", "error")]
    ),
    _FORMULA.line("in a member's own column", [{"Loco": "A", "Address": 12, "Mine": NoStoredValue("A1+1")}]),
    _LOCO.line("labels that differ, and none", [*_TWO, {"Address": 13}, {"Address": 14}]),
    _LOCO.line(
        "the same label, whatever the letter case and blanks",
        [{"Loco": "JV 31", "Address": 12}, {"Loco": "B", "Address": 13}, {"Loco": "jv31", "Address": 14}],
        [("A2", "error"), ("A4", "error")],
    ),
    _DECODER.line("labels that differ", _TWO, decoders=[{"Decoder": "One"}, {"Decoder": "Two"}]),
    _DECODER.line(
        "the same label",
        _TWO,
        [("A2", "error"), ("A3", "error")],
        decoders=[{"Decoder": "One"}, {"Decoder": "ONE", "Lock": "yes"}],
    ),
    _HEADING.line(
        "all that are needed", _TWO, ranges=[{"Kind": "short", "From": 1, "To": 9, "Use": "engines"}]
    ),
    _HEADING.across(
        "no Address column",
        [workbook_of(grid("Locomotives", ("Loco", "Owner"), ("A", "M01"), ("B", "M02")))],
        [("A1", "error")],
    ),
    _HEADING.across(
        "a heading that is misspelt",
        [workbook_of(grid("Locomotives", ("Loco", "Adress", "Owner"), ("A", 12, "M01")))],
        [("A1", "error")],
    ),
    _HEADING.line(
        "each that a further sheet lacks",
        _TWO,
        [("A1", "error"), ("A1", "error")],
        ranges=[{"Kind": "short", "From": 1}],
    ),
    _HEADING.across(
        "a sheet titled like one of ours without any heading of ours",
        [
            workbook_of(
                grid("Locomotives", ("Loco", "Address"), ("A", 12)),
                grid("Layout", ("A drawing of our layout",), ("to come",)),
            )
        ],
        [(None, "warning")],
    ),
    _HEADING.across(
        "an empty sheet titled like one of ours",
        [workbook_of(grid("Locomotives", ("Loco", "Address"), ("A", 12)), grid("Layout", ("", ""), ()))],
    ),
    _MISSPELT.line(
        "a member's own headings", [{"Loco": "A", "Address": 12, "Bought at": "a fair", "CV19": 0, "CV8": 13}]
    ),
    _MISSPELT.line(
        "one letter off", [{"Loco": "A", "Address": 12, "Directon": "reversed"}], [("C1", "note")]
    ),
    _MISSPELT.line(
        "like a heading that is there",
        [{"Loco": "A", "Address": 12, "Direction": "", "Directions": "see book"}],
    ),
    _MISSPELT.line("a setting", _TWO, [("A2", "note")], layout={"Scalle": "N", "Long addresses from": 100}),
    _MISSPELT.across(
        "a sheet's title",
        [
            workbook_of(
                grid("Locomotives", ("Loco", "Address"), ("A", 12)),
                titles=("Locomotives", "Adress ranges", "Photos"),
            )
        ],
        [(None, "note")],
    ),
    _MERGED.across(
        "above the engines, beside our columns, or in computed ones",
        [
            workbook_of(
                grid(
                    "Locomotives",
                    ("Our engines",),
                    _HEADINGS,
                    ("A", 12),
                    ("B", 13),
                    merged=(MergedRange(1, 1, 1, 5), MergedRange(3, 3, 4, 3), MergedRange(3, 5, 4, 5)),
                )
            )
        ],
    ),
    _MERGED.across(
        "one of our columns with a member's own beside it",
        [workbook_of(grid("Locomotives", _HEADINGS, ("A", 12), merged=(MergedRange(2, 2, 2, 3),)))],
    ),
    _MERGED.across(
        "down over engines, and across our columns",
        [
            workbook_of(
                grid(
                    "Locomotives",
                    _HEADINGS,
                    ("A", 12),
                    ("B", ""),
                    ("C", 14),
                    merged=(MergedRange(2, 2, 3, 2), MergedRange(4, 2, 4, 4)),
                )
            )
        ],
        [("B2", "warning"), ("B4", "warning")],
    ),
    Case(check="workbook-unread", says="all of them were read", workbooks=[workbook(_TWO)], found=[]),
    Case(
        check="workbook-unread",
        says="one was not",
        workbooks=[workbook(_TWO)],
        found=[(None, "error")],
        unread=[Hit(place=Place("b.xlsx"), message="b.xlsx: it is damaged", fix="Fetch it again.")],
    ),
    _STALE.line(
        "as computed, or never computed",
        [
            {"Loco": "A", "Address": 12, "CV1": 12.0, "CV17": "", "CV18": "", "CV29": "2"},
            {"Loco": "B", "Address": 500, "CV1": "", "CV17": 193, "CV18": 244, "CV29": 34},
            {"Loco": "C", "Address": 13, "CV1": "", "CV17": "", "CV18": "", "CV29": ""},
        ],
    ),
    _STALE.line(
        "of an earlier address, kind or setting",
        [
            {"Loco": "A", "Address": 13, "CV1": 12, "CV17": "", "CV18": "", "CV29": 2},
            {"Loco": "B", "Address": 13, "CV1": 13, "CV17": 193, "CV18": 244, "CV29": 34},
        ],
        [("C2", "warning"), ("D3", "warning"), ("E3", "warning"), ("F3", "warning")],
        filled=True,
    ),
    _STALE.line(
        "not in a workbook that was never filled",
        [{"Loco": "A", "Address": 13, "CV1": 12}],
    ),
    _STALE.line(
        "in an engine whose CVs cannot be computed",
        [{"Loco": "A", "Address": "none yet", "CV1": 12}],
        [("C2", "warning")],
        filled=True,
    ),
    _STALE.line(
        "something that is not ours is another check's",
        [{"Loco": "A", "Address": 500, "CV1": CellError("#REF!"), "CV17": "see card"}],
    ),
    _NOT_OURS.line("what we write", [{"Loco": "A", "Address": 12, "CV1": 12, "CV29": 2, "Check": ""}]),
    _NOT_OURS.line("an earlier value of ours", [{"Loco": "A", "Address": 13, "CV1": 12}], filled=True),
    _NOT_OURS.line(
        "an earlier value of ours, beside a text of ours",
        [{"Loco": "A", "Address": 13, "CV1": 12, "Check": "note [Address] of old"}],
    ),
    _NOT_OURS.line(
        "another value in a workbook that was never filled",
        [{"Loco": "A", "Address": 13, "CV1": 12, "CV17": 195, "CV29": 2, "Check": ""}],
        [("C2", "warning"), ("D2", "warning")],
    ),
    _NOT_OURS.line(
        "another speed and another consist in a workbook that was never filled",
        [{"Loco": "A", "Address": 13}],
        [("C2", "warning")],
        consists=[{"Consist": "X", "Address": 85, "CV19": 84, "Position": 1, "Loco": "A"}],
    ),
    _NOT_OURS.line(
        "an error value, a formula, a text and a truth value",
        [
            {"Loco": "A", "Address": 500, "CV1": CellError("#REF!"), "CV17": NoStoredValue("B2")},
            {"Loco": "B", "Address": 501, "CV1": "see card", "CV17": True},
        ],
        [("C2", "warning"), ("D2", "warning"), ("C3", "warning"), ("D3", "warning")],
    ),
    _NOT_OURS.line(
        "a number that no CV holds, such as a total",
        [{"Loco": "A", "Address": 12, "CV1": 1200, "CV29": 2.5}],
        [("C2", "warning"), ("D2", "warning")],
    ),
    _NOT_OURS.line(
        "a text of thousands of digits, beside a number of ours kept as text",
        [{"Loco": "A", "Address": 12, "CV1": "9" * 5000, "CV29": "2"}],
        [("C2", "warning")],
    ),
    _NOT_OURS.line(
        "in a row with nothing else: a total, or left by an engine that is gone",
        [{"Loco": "A", "Address": 12, "CV1": 12}, {"Loco": "", "Address": "", "CV1": 13}],
        [("C3", "warning")],
    ),
    _NOT_OURS.line(
        "a verdict in words of somebody's own",
        [{"Loco": "A", "Address": 12}],
        [("D2", "warning")],
        readings=[{"Loco": "A", "CV": 1, "Value": 12, "Verdict": "good"}],
    ),
)

"""What the checks of formulas under computed headings find."""

from collections.abc import Mapping

from rosterkit.xlsx.grid import Calculated, CellError, NoStoredValue
from tests.checks.cases import Case, Found
from tests.live.carrying import Change, carrying
from tests.rosters import workbook

_ENGINES = [
    {"Loco": "A", "Address": 12},
    {"Loco": "B", "Address": 500},
    {"Loco": "C", "Address": 1600},
    {"Loco": "D", "Address": 44},
]
"""Answers stands in column C, CV1 to CV29 in D to H, CV29 read in I, Alert in J."""
_COMPUTED = ("Answers", "CV1", "CV17", "CV18", "CV19", "CV29", "CV29 read", "Alert")
_CONSISTS = [{"Consist": "X", "Address": 85, "Position": 1, "Loco": "A", "Functions": "F1"}]
_DEVICES = [{"Accessory": "T1", "Address": 5}]


def _case(
    check: str, says: str, changes: Mapping[str, Change], found: Found = (), *, filled: bool = True
) -> Case:
    source = workbook(_ENGINES, consists=_CONSISTS, accessories=_DEVICES, filled=filled)
    return Case(check=check, says=says, workbooks=[carrying(source, changes)], found=found)


def _row(row: int, *values: Change) -> dict[str, Change]:
    return {f"{heading} {row}": value for heading, value in zip(_COMPUTED, values, strict=True)}


def _to(old: str, new: str) -> Change:
    return lambda formula: formula.replace(old, new)


_BLANK_ROW = _row(3, *[""] * 8)
_MISSING, _DAMAGED, _STALE, _NOT_OURS = (
    "formula-missing",
    "formula-damaged",
    "computed-stale",
    "computed-not-ours",
)

CASES = (
    _case(_MISSING, "every formula is there", {}),
    _case(_MISSING, "a blank cell", {"CV17 3": ""}, [("E3", "warning")]),
    _case(_MISSING, "a value in place of the formula", {"CV1 2": 12.0}, [("D2", "warning")]),
    _case(_MISSING, "an alert in place of the formula", {"Alert 2": "note [Fault] x"}, [("J2", "warning")]),
    _case(
        _MISSING,
        "values pasted over some rows, named once a column",
        {"CV18 3": 244, "CV18 4": 64, "CV29 3": 34, "CV29 4": 34},
        [("F3", "warning"), ("H3", "warning")],
    ),
    _case(
        _MISSING,
        "blanks in rows that are not next to each other",
        {"CV18 3": "", "CV18 5": ""},
        [("F3", "warning"), ("F5", "warning")],
    ),
    _case(_MISSING, "a row without any formula, named once", _BLANK_ROW, [("C3", "warning")]),
    _case(
        _MISSING,
        "a row of values without any formula, named once",
        _row(3, -500, "", 193, 244, 0, 34, "", ""),
        [("C3", "warning")],
    ),
    _case(
        _MISSING,
        "rows without any formula, named once",
        _BLANK_ROW | _row(4, *[""] * 8),
        [("C3", "warning")],
    ),
    _case(
        _MISSING,
        "every row was pasted over, and spare rows alone tell",
        {f"CV1 {row}": value for row, value in ((2, 12), (3, ""), (4, ""), (5, 44))},
        [("D2", "warning")],
    ),
    _case(_MISSING, "a blank spare row is no engine", _row(6, *[""] * 8)),
    _case(_MISSING, "another value than the row comes to is another check's", {"CV1 2": 13}),
    _case(_MISSING, "what is nothing of ours is another check's", {"CV1 2": "see card"}),
    _case(
        _MISSING,
        "in a consist and a device",
        {"Consists!CV21 2": "", "Accessories!CV9 2": 0},
        [("D2", "warning"), ("H2", "warning")],
    ),
    Case(
        check=_MISSING,
        says="a workbook of values alone carries none",
        workbooks=[workbook([{**_ENGINES[0], "CV1": 12, "CV29": ""}], filled=True)],
        found=[],
    ),
    Case(
        check=_MISSING,
        says="at a meet the values alone count",
        workbooks=[carrying(workbook([{**_ENGINES[0], "At meet": "yes"}]), {"CV1 2": 12})],
        found=[],
        meet=True,
    ),
    _case(_DAMAGED, "every formula is ours", {}),
    _case(_DAMAGED, "a missing one is another check's", {"CV1 2": ""}),
    _case(
        _DAMAGED,
        "spelt as another program does",
        {"CV1 2": lambda formula: formula.lower().replace(",", " , "), "Answers 3": _to("Live!", "'LIVE'!")},
    ),
    _case(_DAMAGED, "what it read is gone", {"CV17 3": _to("$C3", "#REF!")}, [("E3", "warning")]),
    _case(
        _DAMAGED,
        "the sheet Live is gone",
        {f"Answers {row}": _to("Live!", "#REF!") for row in range(2, 8)},
        [("C2", "warning")],
    ),
    _case(
        _DAMAGED,
        "it reads another workbook",
        {"Answers 4": _to("Live!", "[1]Live!")},
        [("C4", "warning")],
    ),
    _case(
        _DAMAGED,
        "its ranges end above the last row",
        {"Alert 4": _to("$C$1:$C$8", "$C$1:$C$4")},
        [("J4", "warning")],
    ),
    _case(
        _DAMAGED,
        "its ranges end at the last row, and where they ended with more spare rows",
        {"Alert 4": _to("$C$1:$C$8", "$C$1:$C$5"), "Alert 5": _to("$C$1:$C$8", "$C$1:$C$99")},
    ),
    _case(
        _DAMAGED,
        "it was changed, and still reads the sheet Live",
        {"CV29 3": _to("16", "15"), "CV29 4": _to("$B4", "$B5")},
        [("H3", "warning")],
    ),
    _case(
        _DAMAGED,
        "a formula of somebody's own is another check's",
        {"CV29 5": "=2+4", "CV1 3": _to("$C3", "$C4"), "Accessories!CV1 2": "=B2"},
    ),
    Case(
        check=_DAMAGED,
        says="formulas of another edition, which read the sheet Live",
        workbooks=[
            carrying(
                workbook(_ENGINES),
                {f"{name} {row}": "=IF(Live!$N$2=1,$B2,9)" for name in _COMPUTED for row in range(2, 8)},
            )
        ],
        found=[(f"{column}2", "warning") for column in "CDEFGHIJ"],
    ),
    Case(
        check=_DAMAGED,
        says="a renamed sheet Live",
        workbooks=[carrying(workbook(_ENGINES), live="Numbers at work")],
        found=[],
    ),
    Case(
        check=_DAMAGED,
        says="in a workbook that never carried any they are another check's",
        workbooks=[workbook([{**_ENGINES[0], "CV1": NoStoredValue("B2")}], filled=True)],
        found=[],
    ),
    _case(_STALE, "results of our formulas as they should be", {}),
    _case(
        _STALE,
        "results of our formulas that were not calculated anew, also in a workbook that was never filled",
        {"CV1 2": Calculated(13.0), "CV17 3": Calculated(""), "Consists!CV19 2": Calculated(84.0)},
        [("F2", "warning"), ("D2", "warning"), ("E3", "warning")],
        filled=False,
    ),
    _case(
        _STALE,
        "a result that is an error, or is not stored",
        {"CV1 2": CellError("#NAME?"), "CV17 3": NoStoredValue("x"), "CV29 4": CellError("#REF!")},
        [("D2", "warning"), ("E3", "warning"), ("H4", "warning")],
    ),
    _case(
        _STALE,
        "a value typed over a formula",
        {"CV1 2": 13, "CV1 5": 12},
        [("D2", "warning"), ("D5", "warning")],
    ),
    _case(_STALE, "a damaged formula is another check's", {"CV1 2": "=B3", "CV17 3": _to("$C3", "#REF!")}),
    _case(_NOT_OURS, "our formulas, with and without a result", {}),
    _case(
        _NOT_OURS,
        "among our formulas one of somebody's own, and a text",
        {"CV29 5": "=2+4", "CV29 3": "=34", "CV1 3": "see card"},
        [("D3", "warning"), ("H3", "warning"), ("H5", "warning")],
    ),
    _case(
        _NOT_OURS,
        "a row in which nothing stands but our formulas is no engine, whatever they come to",
        {"CV1 6": Calculated(13.0)},
    ),
    _case(
        _NOT_OURS,
        "a total in a row that waits for an engine",
        {"CV1 7": "=SUM(D2:D5)", "CV17 7": Calculated(4.0)},
        [("C7", "warning")],
    ),
)

"""What the findings of formulas under computed headings say, word for word."""

_FILL = "Run 'rosterkit fill'."

SAID = (
    ("formula-missing", "a blank cell", "the formula is gone from this cell", _FILL),
    ("formula-missing", "a value in place of the formula", "12 stands in place of the formula", _FILL),
    (
        "formula-missing",
        "values pasted over some rows, named once a column",
        "the formula is gone from this cell, and likewise down to F4",
        _FILL,
    ),
    (
        "formula-missing",
        "a row without any formula, named once",
        "no formula stands in this row, so nothing in it computes while one types",
        _FILL,
    ),
    (
        "formula-missing",
        "rows without any formula, named once",
        "no formula stands in this row, so nothing in it computes while one types, and likewise down to C4",
        _FILL,
    ),
    ("formula-damaged", "what it read is gone", "the formula has lost cells that it read (#REF!)", _FILL),
    (
        "formula-damaged",
        "the sheet Live is gone",
        "the formula has lost cells that it read (#REF!), and likewise down to C5",
        _FILL,
    ),
    (
        "formula-damaged",
        "it reads another workbook",
        "the formula reads cells of another workbook",
        _FILL,
    ),
    (
        "formula-damaged",
        "its ranges end above the last row",
        "the formula does not read all rows of the list",
        _FILL,
    ),
    (
        "formula-damaged",
        "formulas of another edition, which read the sheet Live",
        "the formula is not, or no longer, the one that rosterkit writes here, and likewise down to C5",
        _FILL,
    ),
    (
        "computed-not-ours",
        "among our formulas one of somebody's own, and a text",
        "the result 34 of a formula is nothing that rosterkit writes here, and was left",
        "Move it to a column of your own, or empty the cell; then run 'rosterkit fill'.",
    ),
)

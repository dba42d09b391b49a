"""Drop-downs and limits of a new workbook's columns, made from the schema."""

from typing import Any

from openpyxl.worksheet.datavalidation import DataValidation

from rosterkit.roster.schema import Column, Kind, sheet

_LAST_REFERRED_ROW = 1000


def limits_of(column: Column) -> DataValidation | None:
    """Return what a spreadsheet program lets a member type in a column; None where anything goes."""
    title = column.heading
    if column.computed:
        words = "rosterkit fills this cell; type in the blue columns."
        return _refusing("Computed", words, type="custom", formula1="FALSE")
    if "refers" in column.schema:
        # Only a warning: another label may be typed, and the check then says so.
        target = sheet(column.schema["refers"]).title
        cells = f"'{target}'!$A$2:$A${_LAST_REFERRED_ROW}"
        words = f"It is not in the sheet {target} yet."
        return _refusing(title, words, type="list", formula1=cells, errorStyle="warning")
    if column.kind is Kind.CHOICE:
        choices = f'"{",".join(column.choices)}"'
        return _refusing(title, f"Choose one of: {column.limits}.", type="list", formula1=choices)
    if column.kind is Kind.DATE:
        # Serial 36526 is 1 January 2000: an earlier day is a slip of the finger.
        words = "Enter a date, such as 2026-05-31."
        return _refusing(title, words, type="date", operator="greaterThan", formula1="36526")
    if column.kind is Kind.TIME:
        # A time of day is stored as a part of a day: 0.99999 is 23:59:59.
        words = "Enter a time of day, such as 20:15."
        return _refusing(title, words, type="time", operator="between", formula1="0", formula2="0.99999")
    if column.kind is Kind.WHOLE:
        return _refusing(title, f"Enter a whole number, {column.limits}.", type="whole", **_bounds(column))
    if column.kind is Kind.NUMBER:
        return _refusing(title, f"Enter a number, {column.limits}.", type="decimal", **_bounds(column))
    return None


def _bounds(column: Column) -> dict[str, str]:
    low = str(column.schema.get("minimum", column.schema.get("exclusiveMinimum")))
    if "maximum" in column.schema:
        return {"operator": "between", "formula1": low, "formula2": str(column.schema["maximum"])}
    above = "greaterThan" if "exclusiveMinimum" in column.schema else "greaterThanOrEqual"
    return {"operator": above, "formula1": low}


def _refusing(title: str, message: str, **limits: Any) -> DataValidation:
    return DataValidation(
        allow_blank=True, showErrorMessage=True, errorTitle=title[:32], error=message[:255], **limits
    )

"""Drop-downs and limits of a new workbook's columns, made from the schema."""

from typing import Literal

from openpyxl.worksheet.datavalidation import DataValidation

from rosterkit.roster.schema import Column, Kind, sheet

_LAST_REFERRED_ROW = 1000


def limits_of(column: Column) -> DataValidation | None:
    """Return what a spreadsheet program lets a member type in a column; None where anything goes."""
    if column.computed:
        return _computed()
    if "refers" in column.schema:
        return _reference(column)
    made = {Kind.CHOICE: _choice, Kind.WHOLE: _number, Kind.NUMBER: _number, Kind.DATE: _date}
    return made[column.kind](column) if column.kind in made else None


def _choice(column: Column) -> DataValidation:
    return _refusing(
        DataValidation(type="list", formula1=f'"{",".join(column.choices)}"', allow_blank=True),
        column.heading,
        f"Choose one of: {column.limits}.",
    )


def _number(column: Column) -> DataValidation:
    low = column.schema.get("minimum", column.schema.get("exclusiveMinimum"))
    high = column.schema.get("maximum")
    kind: Literal["whole", "decimal"] = "whole" if column.kind is Kind.WHOLE else "decimal"
    if high is None:
        operator: Literal["greaterThan", "greaterThanOrEqual"]
        operator = "greaterThan" if "exclusiveMinimum" in column.schema else "greaterThanOrEqual"
        validation = DataValidation(type=kind, operator=operator, formula1=str(low), allow_blank=True)
    else:
        validation = DataValidation(
            type=kind, operator="between", formula1=str(low), formula2=str(high), allow_blank=True
        )
    number = "a whole number" if column.kind is Kind.WHOLE else "a number"
    return _refusing(validation, column.heading, f"Enter {number}, {column.limits}.")


def _date(column: Column) -> DataValidation:
    # Serial 36526 is 1 January 2000: an earlier day is a slip of the finger.
    validation = DataValidation(type="date", operator="greaterThan", formula1="36526", allow_blank=True)
    return _refusing(validation, column.heading, "Enter a date, such as 2026-05-31.")


def _reference(column: Column) -> DataValidation:
    """Offer the labels of another sheet; another one may be typed, and the check then says so."""
    target = sheet(column.schema["refers"])
    cells = f"'{target.title}'!$A$2:$A${_LAST_REFERRED_ROW}"
    validation = DataValidation(type="list", formula1=cells, allow_blank=True, errorStyle="warning")
    return _refusing(validation, column.heading, f"It is not in the sheet {target.title} yet.")


def _computed() -> DataValidation:
    validation = DataValidation(type="custom", formula1="FALSE", allow_blank=True)
    return _refusing(validation, "Computed", "rosterkit fills this cell; type in the blue columns.")


def _refusing(validation: DataValidation, title: str, message: str) -> DataValidation:
    validation.showErrorMessage = True
    validation.errorTitle = title[:32]
    validation.error = message[:255]
    return validation

"""The checks that a cell's own content can fail, whatever the other cells hold."""

from enum import StrEnum


class CellRule(StrEnum):
    """The check, by its slug, that a fault of a cell belongs to; some are ``rules`` of the schema files."""

    ADDRESS_MISSING = "address-missing"
    ADDRESS_OUT_OF_RANGE = "address-out-of-range"
    VALUE_MISSING = "value-missing"
    VALUE_NOT_ALLOWED = "value-not-allowed"
    VALUE_IS_ERROR = "value-is-error"
    NUMBER_BECAME_DATE = "number-became-date"
    NUMBER_BECAME_FLOAT = "number-became-float"
    FORMULA_WITHOUT_VALUE = "formula-without-value"

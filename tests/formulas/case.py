"""A case: a sentence, a formula, and what it comes to."""

from collections.abc import Iterable

import pytest

from rosterkit.formulas.values import (
    BAD_REFERENCE,
    DIVISION_BY_ZERO,
    NOT_AVAILABLE,
    VALUE,
    Content,
    FormulaError,
)

Case = tuple[str, str, Content]

AN_ERROR = VALUE
"""An error of which programs do not agree which it is."""
A_DIVISION_BY_ZERO, NOT_FOUND, A_LOST_REFERENCE = DIVISION_BY_ZERO, NOT_AVAILABLE, BAD_REFERENCE


def parameters(cases: Iterable[Case]) -> list[object]:
    """Return the cases as pytest takes them, each named by its sentence."""
    return [pytest.param(text, wanted, id=sentence) for sentence, text, wanted in cases]


def alike(one: Content, other: Content) -> bool:
    """Tell whether two results are the same; errors of which programs do not agree are alike."""
    if isinstance(one, FormulaError) and isinstance(other, FormulaError):
        return AN_ERROR in {one, other} or one == other
    if isinstance(one, bool) or isinstance(other, bool):
        return one is other
    if isinstance(one, int | float) and isinstance(other, int | float):
        # Programs write 15 digits.
        return abs(one - other) <= 1e-14 * abs(one)
    return one == other

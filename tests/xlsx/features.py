"""All workbooks with one feature each, made once for all tests of a run."""

from collections.abc import Callable
from pathlib import Path

from tests.xlsx.features_drawn import DRAWN
from tests.xlsx.features_kept import KEPT
from tests.xlsx.features_patched import PATCHED
from tests.xlsx.features_spelt import SPELT

FEATURES: dict[str, Callable[[Path], None]] = {**DRAWN, **KEPT, **PATCHED, **SPELT}
"""What makes a workbook with a feature, by the feature."""


def made(folder: Path, feature: str) -> Path:
    """Make the workbook with a feature."""
    path = (
        folder
        / f"{feature.replace(' ', '_').replace(chr(39), '')}{'.xlsm' if feature == 'macros' else '.xlsx'}"
    )
    FEATURES[feature](path)
    return path

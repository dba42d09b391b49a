"""Every case as LibreOffice and as Gnumeric calculate it, from a workbook without stored results."""

from collections.abc import Callable, Sequence
from pathlib import Path

import pytest

from rosterkit.formulas.values import UNSURE, Content, FormulaError
from tests.formulas.case import AN_ERROR, alike
from tests.formulas.programs import by_gnumeric, by_libreoffice
from tests.formulas.random_formulas import random_formulas
from tests.formulas.sheets import result, written
from tests.formulas.test_cases import SURE

pytestmark = pytest.mark.external

Program = Callable[[Path, Path], list[Content]]
PROGRAMS = [pytest.param(by_libreoffice, id="LibreOffice"), pytest.param(by_gnumeric, id="Gnumeric")]


def _differences(texts: Sequence[str], wanted: Sequence[Content], theirs: Sequence[Content]) -> list[object]:
    return [
        (text, ours, other)
        for text, ours, other in zip(texts, wanted, theirs, strict=True)
        if ours != UNSURE and not alike(ours, other)
    ]


@pytest.mark.parametrize("program", PROGRAMS)
def test_a_program_calculates_what_the_cases_say(program: Program, tmp_path: Path) -> None:
    texts = [text for _, text, _ in SURE]
    written(tmp_path / "cases.xlsx", texts)

    theirs = program(tmp_path / "cases.xlsx", tmp_path)

    assert _differences(texts, [wanted for _, _, wanted in SURE], theirs) == []
    assert len(theirs) > 350


@pytest.mark.slow
@pytest.mark.parametrize("program", PROGRAMS)
def test_a_program_calculates_random_formulas_as_we_do(program: Program, tmp_path: Path) -> None:
    texts = random_formulas(seed=20261126, count=1000)
    ours = [result(text, row) for row, text in enumerate(texts, 1)]
    written(tmp_path / "random.xlsx", texts)

    theirs = program(tmp_path / "random.xlsx", tmp_path)

    # Which of several errors comes first, programs see differently.
    wanted = [AN_ERROR if isinstance(one, FormulaError) and one != UNSURE else one for one in ours]
    assert _differences(texts, wanted, theirs) == []
    assert len(texts) - wanted.count(UNSURE) > 650

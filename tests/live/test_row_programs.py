"""CV19 to CV22 and the CVs of accessories as LibreOffice and Gnumeric calculate them, cell by cell.

What both make of the formulas is compared with the tool's own code, whose values ``test_consists`` and
``test_accessories`` hold against the standards.
"""

from collections.abc import Sequence
from itertools import product
from pathlib import Path

import pytest

from tests.live.row_cases import (
    ADDRESSES,
    ASPECTS_STATES,
    BIDI_STATES,
    COMBINATIONS,
    ENDS_OF_ADDRESSES,
    ENDS_OF_NUMBERS,
    FACINGS,
    METHODS,
    NAMES_BY_TWO,
    NUMBERS,
    OFFSETS,
    SOME_READINGS,
    below_other_rows,
    consist,
    consists,
    device,
    devices,
    every_number,
    every_reading,
    read,
    shared_decoders,
)
from tests.live.row_programs import PROGRAMS, Program, by_libreoffice
from tests.live.row_sheets import RowSheets, differing

pytestmark = [pytest.mark.external, pytest.mark.xdist_group("formulas of consists and accessories")]


def wrong(program: Program, sheets: Sequence[RowSheets], folder: Path, *, or_nothing: bool = False) -> object:
    """Return the cells, sheet by sheet, in which a program differs from the tool."""
    found = program(sheets, folder)
    return [
        differing(theirs, one.wanted(), or_nothing=or_nothing)
        for one, theirs in zip(sheets, found, strict=True)
    ]


@PROGRAMS
def test_a_sample(program: Program, tmp_path: Path) -> None:
    rows = [consist(*both) for both in product(ENDS_OF_ADDRESSES, FACINGS)]
    rows += [consist(functions=text) for text in NAMES_BY_TWO]
    rows += [consist(functions=text) for text in (*COMBINATIONS[::1000], "none", "F1, F2;F3+F4", "F13 - F20")]
    sheets = [
        consists(rows),
        *(every_number(ENDS_OF_NUMBERS, offset, "on", "") for offset in OFFSETS),
        *(every_reading(SOME_READINGS, method) for method in METHODS),
        *map(shared_decoders, range(8)),
        *below_other_rows(),
    ]

    assert wrong(program, sheets, tmp_path) == [[]] * len(sheets)


ODD_NUMBERS = (
    *("10.0", "+10", "1 0", "\uff11\uff10", "10\u00a0", "1e1", "$10", "10:00", "1/2", "12a", "-10", 10.5),
    *("010", "1,0", "10%", "0x10", "'10", "10-"),
)
ODD_WORDS = (
    *("reverse:", "\uff4fn", "on\u00a0", "decoder;output", "normal;forward", "*", "?everse", "off:", 1, 7),
    True,
)
ODD_TEXTS = (
    *("F1\nF2", "F1\u00a0F2", "F1/F2", "F13-\u00a0F20", "<none>", "\uff26\uff11", "F1 F0x", ",", "- "),
    *("none;", 5),
)


@PROGRAMS
def test_what_is_spelt_oddly_gives_no_wrong_value(program: Program, tmp_path: Path) -> None:
    rows = [consist(number, "reverse", "F1") for number in ODD_NUMBERS]
    rows += [consist(10, word, "F1") for word in ODD_WORDS]
    rows += [consist(10, "", text) for text in ODD_TEXTS]
    rows += [consist(10, "", "", label) for label in ("\u00a0", " ", "x" * 41, 7)]
    sheets = [consists(rows)]
    for odd in ODD_NUMBERS:
        said = [device(odd, "", "on", 3, "T1"), device(10, "", "", odd, "T2"), device(9, label="T3")]
        sheets.append(devices([*said, device(9, "output", "", odd)], [read(151, "T2"), read(200, "T3")]))
    for odd in ODD_WORDS:
        said = [device(10, odd, "on", 3, "T1"), device(10, "", odd, "", "T2"), device(9, label="T3")]
        sheets.append(devices([*said, device(9, "output", odd)], [read(151, "T2"), read(200, "T3")]))
    sheets.append(devices([device(5), device(6, bidi="on")], offset="4:"))

    assert wrong(program, sheets, tmp_path, or_nothing=True) == [[]] * len(sheets)


def test_a_truth_value_is_the_number_1_to_libreoffice(tmp_path: Path) -> None:
    """The one cell of which it makes a wrong value: no function that all programs have tells it from 1."""
    (found,) = by_libreoffice([consists([consist(True)])], tmp_path)

    assert found == [(1, "", "", "")]


@pytest.mark.domain
@PROGRAMS
@pytest.mark.parametrize("facing", FACINGS)
def test_every_address_of_consists(program: Program, facing: str, tmp_path: Path) -> None:
    rows = [{"Address": number, "Loco": "E1", "Facing": facing} for number in ADDRESSES]

    assert wrong(program, [consists(rows)], tmp_path) == [[]]


@pytest.mark.domain
@PROGRAMS
@pytest.mark.parametrize("first", range(0, len(COMBINATIONS), 8192))
def test_all_functions_of_consists(program: Program, first: int, tmp_path: Path) -> None:
    texts = COMBINATIONS[first : first + 8192]
    rows = [{"Address": 10, "Loco": "E1", "Functions": text} for text in texts]

    assert wrong(program, [consists(rows)], tmp_path) == [[]]


@pytest.mark.domain
@PROGRAMS
@pytest.mark.parametrize("offset", OFFSETS)
@pytest.mark.parametrize("bidi", BIDI_STATES)
def test_every_number_of_accessories(program: Program, bidi: str, offset: int, tmp_path: Path) -> None:
    parts = [NUMBERS[first : first + 512] for first in range(0, len(NUMBERS), 512)]
    sheets = [every_number(part, offset, bidi, aspects) for aspects in ASPECTS_STATES for part in parts]

    assert wrong(program, sheets, tmp_path) == [[]] * 12


@pytest.mark.domain
@PROGRAMS
def test_every_reading_of_accessories(program: Program, tmp_path: Path) -> None:
    sheets = [
        every_reading(range(first, first + 32), method) for method in METHODS for first in range(0, 256, 32)
    ]

    assert wrong(program, sheets, tmp_path) == [[]] * 24

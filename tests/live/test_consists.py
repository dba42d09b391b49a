"""CV19 to CV22 by formulas: what the standards print, and the tool's own code over the whole domain."""

from itertools import product
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rosterkit.live.consists import consist_formulas
from rosterkit.standards.function_notation import NAMES
from tests.live.row_cases import (
    ADDRESSES,
    COMBINATIONS,
    ENDS_OF_ADDRESSES,
    FACINGS,
    NAMES_BY_TWO,
    consist,
    consists,
)
from tests.live.row_sheets import Cvs, agree, claims_nothing_wrong, differing

NMRA = "NMRA S-9.2.2 (Jul 2012), CV19, CV21, CV22"
RCN = "RCN-225 (27.07.2025), CV19/20, CV22"
NOTHING: Cvs = ("", "", "", "")


@pytest.mark.parametrize(
    ("source", "cells", "cvs"),
    [
        pytest.param(NMRA, consist(10), (10, "", "", ""), id="a consist of 7 bits has no CV20"),
        pytest.param(NMRA, consist(10, "reverse"), (138, "", "", ""), id="bit 7 for an engine in reverse"),
        pytest.param(NMRA, consist(127, " Backwards "), (255, "", "", ""), id="another word for reverse"),
        pytest.param(RCN, consist(1234), (34, 12, "", ""), id="two decimal digits from 128 up"),
        pytest.param(RCN, consist(128, "b"), (156, 1, "", ""), id="the least long one in reverse"),
        pytest.param(RCN, consist(10239), (39, 102, "", ""), id="the highest"),
        pytest.param(NMRA, consist("0010"), (10, "", "", ""), id="a number typed as text"),
        pytest.param(NMRA, consist(10, "", "F0f F0r F1 F8"), (10, "", 129, 3), id="functions"),
        pytest.param(NMRA, consist(10, "", "f1,F12; f9+F0"), (10, "", 1, 39), id="other signs between them"),
        pytest.param(NMRA, consist(10, "", "F1 f1 F01"), (10, "", "", ""), id="a function without a bit"),
        pytest.param(NMRA, consist(10, "", "F1 F1"), (10, "", 1, 0), id="a function twice"),
        pytest.param(RCN, consist(10, "", "F13 - F20 f21\u201328"), (10, "", 0, 192), id="the groups"),
        pytest.param(
            NMRA, consist(10, "", "F13 ,- F20"), (10, "", "", ""), id="a comma parts what a dash joins"
        ),
        pytest.param(NMRA, consist(10, "", "None"), (10, "", 0, 0), id="no function"),
        pytest.param(NMRA, consist(10, "", "none F1"), (10, "", "", ""), id="none beside a function"),
        pytest.param(NMRA, consist(10, "", "F1/F2"), (10, "", "", ""), id="a sign that does not part"),
        pytest.param(NMRA, consist(10, "", "x" * 121), (10, "", "", ""), id="a text that is too long"),
        pytest.param(NMRA, consist(0, "", "F1"), NOTHING, id="address 0"),
        pytest.param(NMRA, consist(10240), NOTHING, id="an address that is too high"),
        pytest.param(NMRA, consist(12.5), NOTHING, id="a fraction"),
        pytest.param(NMRA, consist("$10005"), NOTHING, id="a sum of money"),
        pytest.param(NMRA, consist("twelve"), NOTHING, id="a word"),
        pytest.param(NMRA, consist(""), NOTHING, id="no address"),
        pytest.param(NMRA, consist(10, "sideways", "F1"), NOTHING, id="a facing that is none"),
        pytest.param(NMRA, consist(10, "normal;forward", "F1"), NOTHING, id="two words for one facing"),
        pytest.param(NMRA, consist(10, "", "F1", loco=" "), NOTHING, id="no engine"),
        pytest.param(NMRA, consist(10, "", "F1", loco="x" * 41), NOTHING, id="a label that is too long"),
        pytest.param(NMRA, consist(10, "", "", loco=7), (10, "", "", ""), id="a label that is a number"),
    ],
)
def test_the_cvs_of_a_row(source: str, cells: dict[str, Any], cvs: Cvs) -> None:
    made = consists([cells])

    assert made.evaluated() == [cvs], source
    assert made.wanted() == [cvs], source


@pytest.mark.parametrize(
    "cells",
    [
        pytest.param(consist("10.0"), id="a whole number with a point"),
        pytest.param(consist("+10"), id="a sign before it"),
        pytest.param(consist("1 234"), id="digits in threes"),
        pytest.param(consist("\uff11\uff12"), id="digits of full width"),
        pytest.param(consist("10\u00a0"), id="a blank that does not break"),
        pytest.param(consist(10, "reverse:"), id="a colon behind a word"),
        pytest.param(consist(10, "", "F1\u00a0F2"), id="a blank that does not break between functions"),
        pytest.param(consist(10, "", "F1" + " " * 119), id="a long text of blanks"),
    ],
)
def test_what_only_the_tool_understands_gives_nothing(cells: dict[str, Any]) -> None:
    made = consists([cells])

    (found,), (wanted,) = made.evaluated(), made.wanted()

    assert wanted != NOTHING
    assert found != wanted
    assert differing([found], [wanted], or_nothing=True) == []


def test_every_spelling_of_facing_at_the_ends_of_each_run_of_addresses() -> None:
    assert agree(consists([consist(*both) for both in product(ENDS_OF_ADDRESSES, FACINGS)]))


@pytest.mark.domain
@pytest.mark.parametrize("facing", FACINGS)
def test_every_address(facing: str) -> None:
    assert agree(consists([consist(number, facing) for number in ADDRESSES]))


def test_every_name_of_functions_alone_and_every_two() -> None:
    assert agree(consists([consist(functions=one) for one in NAMES_BY_TWO]))


@pytest.mark.domain
def test_all_combinations_of_functions() -> None:
    assert len(COMBINATIONS) == 65536
    assert agree(consists([consist(functions=one) for one in COMBINATIONS]))


WORDS = st.sampled_from([*NAMES, *(name.upper() for name in NAMES), "none", "None"])
PARTED = st.sampled_from([" ", ",", ";", "+", ", ", " ; ", "  "])


@st.composite
def texts(draw: st.DrawFn, words: st.SearchStrategy[str], between: st.SearchStrategy[str]) -> str:
    some = draw(st.lists(words, min_size=1, max_size=8))
    return "".join(part for word in some for part in (draw(between), word))


@settings(max_examples=30, deadline=None)
@given(st.lists(texts(WORDS, PARTED), min_size=1, max_size=20))
def test_functions_are_read_as_the_tool_reads_them(some: list[str]) -> None:
    assert agree(consists([consist(functions=one) for one in some]))


ODD_WORDS = WORDS | st.sampled_from(["F13", "F29", "f", "F1F2", "-", "\u2013", "20", "", "<", "F0x"])
ODD_PARTS = PARTED | st.sampled_from(["-", " - ", "/", "\n", "\u00a0", "", ".", "\u2013", ";;", "\t"])
ANYTHING = (
    st.text(max_size=12)
    | st.sampled_from(["", "10", " 7 ", "1e3", "1/2", "#N/A", "TRUE", "=1", "12,5", "-3", "10:30"])
    | st.integers(-5, 20000)
    | st.floats(-5, 20000).map(lambda one: round(one, 3))
)


@settings(max_examples=40, deadline=None)
@given(st.lists(texts(ODD_WORDS, ODD_PARTS), min_size=1, max_size=20))
def test_functions_are_read_as_the_tool_reads_them_or_not_at_all(some: list[str]) -> None:
    made = consists([consist(functions=one) for one in some])

    assert claims_nothing_wrong(made)


@settings(max_examples=40, deadline=None)
@given(st.lists(st.tuples(ANYTHING, ANYTHING | st.sampled_from(FACINGS), ANYTHING), min_size=1, max_size=20))
def test_no_cell_makes_a_wrong_value(some: list[tuple[object, object, object]]) -> None:
    made = consists([consist(address, facing, "F1", loco) for address, facing, loco in some])

    assert claims_nothing_wrong(made)


def test_without_their_columns_there_are_no_formulas() -> None:
    without_functions = [{"Address": 10, "Loco": "E1"}]

    made = consists(without_functions)

    assert consist_formulas(made.places, made.machinery).keys() == {"cv19", "cv20"}
    assert made.evaluated()[0][:2] == made.wanted()[0][:2] == (10, "")
    without_address = consists([{"Consist": "C", "Loco": "E1"}])
    assert consist_formulas(without_address.places, without_address.machinery) == {}

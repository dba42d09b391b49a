"""Functions written in one cell."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rosterkit.standards.function_notation import functions_in
from rosterkit.standards.functions import CONSIST_HIGH_FUNCTIONS, LOW_FUNCTIONS

NMRA = "NMRA S-9.2.2 (Jul 2012), CV21 and CV22; the notation is common practice, no source"
RCN = "RCN-225 (27.07.2025), CV22, bits 6 and 7"


@pytest.mark.parametrize(
    ("source", "text", "functions"),
    [
        pytest.param(NMRA, "F0f F0r F1 F8", ("F0f", "F0r", "F1", "F8"), id="names apart by blanks"),
        pytest.param(NMRA, "f1,F12;f9", ("F1", "F12", "F9"), id="commas, semicolons and letter case"),
        pytest.param(NMRA, "F0", ("F0f", "F0r"), id="F0 is both directions"),
        pytest.param(NMRA, "F1 F1 F0 F0r", ("F1", "F0f", "F0r"), id="each once"),
        pytest.param(RCN, "F13-F20 F21 - F28", ("F13-F20", "F21-F28"), id="the groups"),
        pytest.param(RCN, "f13\u201320 F21-28", ("F13-F20", "F21-F28"), id="the groups, short"),
        pytest.param(NMRA, "None", (), id="none"),
        pytest.param(NMRA, " ", (), id="blank"),
    ],
)
def test_a_cell_of_functions_names(source: str, text: str, functions: tuple[str, ...]) -> None:
    assert functions_in(text) == functions, source


@pytest.mark.parametrize("text", ["F15", "F1 F29", "F0x", "1", "F1-F8", "none F1"])
def test_a_function_without_a_bit_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match=r"is not one of F0f, F0r, F1 to F12, F13-F20, F21-F28"):
        functions_in(text)


def test_what_is_refused_is_shown_as_it_was_typed() -> None:
    with pytest.raises(ValueError, match=r"^function 'Light' is not one of F0f"):
        functions_in("F0f Light")


@given(st.lists(st.sampled_from((*LOW_FUNCTIONS, *CONSIST_HIGH_FUNCTIONS)), unique=True))
def test_names_come_back_as_they_were_written(names: list[str]) -> None:
    assert functions_in(" ".join(names)) == tuple(names)

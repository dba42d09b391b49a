"""Function mapping, and functions on DC and in a consist."""

from collections.abc import Callable

import pytest

from rosterkit.standards import functions

MAPPING = "NMRA S-9.2.2 (Jul 2012), CV33-46; RCN-225 (27.07.2025), CV33-46"
CV13 = "NMRA S-9.2.2 (Jul 2012), CV13; RCN-225 (27.07.2025), CV13"
CV14 = "NMRA S-9.2.2 (Jul 2012), CV14; RCN-225 (27.07.2025), CV14"
CV21 = "NMRA S-9.2.2 (Jul 2012), CV21; derived"
CV22 = "NMRA S-9.2.2 (Jul 2012), CV22; derived"
CV22_RCN = "RCN-225 (27.07.2025), CV22; derived"
ALL_HIGH = ("F0f", "F0r", "F9", "F10", "F11", "F12")


@pytest.mark.parametrize(
    ("source", "cv", "function", "outputs", "default"),
    [
        pytest.param(
            f"{MAPPING}; default derived", 33, "F0f", range(1, 9), 1, id="CV33 maps the light forward"
        ),
        pytest.param(
            f"{MAPPING}; default derived", 34, "F0r", range(1, 9), 2, id="CV34 maps the light in reverse"
        ),
        pytest.param(f"{MAPPING}; default derived", 35, "F1", range(1, 9), 4, id="CV35 maps F1"),
        pytest.param(f"{MAPPING}; default derived", 36, "F2", range(1, 9), 8, id="CV36 maps F2"),
        pytest.param(
            f"{MAPPING}; default derived", 37, "F3", range(1, 9), 16, id="CV37 is the last of outputs 1-8"
        ),
        pytest.param(
            f"{MAPPING}; default derived", 38, "F4", range(4, 12), 4, id="CV38 is the first of 4-11"
        ),
        pytest.param(f"{MAPPING}; default derived", 39, "F5", range(4, 12), 8, id="CV39 maps F5"),
        pytest.param(f"{MAPPING}; default derived", 40, "F6", range(4, 12), 16, id="CV40 maps F6"),
        pytest.param(f"{MAPPING}; default derived", 41, "F7", range(4, 12), 32, id="CV41 maps F7"),
        pytest.param(
            f"{MAPPING}; default derived", 42, "F8", range(4, 12), 64, id="CV42 is the last of 4-11"
        ),
        pytest.param(
            f"{MAPPING}; default derived", 43, "F9", range(7, 15), 16, id="CV43 is the first of 7-14"
        ),
        pytest.param(f"{MAPPING}; default derived", 44, "F10", range(7, 15), 32, id="CV44 maps F10"),
        pytest.param(f"{MAPPING}; default derived", 45, "F11", range(7, 15), 64, id="CV45 maps F11"),
        pytest.param(f"{MAPPING}; default derived", 46, "F12", range(7, 15), 128, id="CV46 maps F12"),
    ],
)
def test_a_function_has_its_cv_window_and_default(
    source: str, cv: int, function: str, outputs: range, default: int
) -> None:
    assert functions.function_of_mapping_cv(cv) == function, source
    assert functions.output_window(cv) == outputs, source


@pytest.mark.parametrize(
    ("source", "cv", "value", "outputs"),
    [
        pytest.param(MAPPING, 33, 0, (), id="0 switches nothing"),
        pytest.param(MAPPING, 33, 3, (1, 2), id="3 in CV33 switches outputs 1 and 2"),
        pytest.param(MAPPING, 38, 3, (4, 5), id="3 in CV38 switches outputs 4 and 5"),
        pytest.param(MAPPING, 46, 129, (7, 14), id="129 in CV46 switches outputs 7 and 14"),
        pytest.param(MAPPING, 42, 255, (4, 5, 6, 7, 8, 9, 10, 11), id="255 in CV42 switches all it can"),
    ],
)
def test_a_mapping_value_is_a_set_of_outputs(
    source: str, cv: int, value: int, outputs: tuple[int, ...]
) -> None:
    assert functions.mapped_outputs(cv, value) == outputs, source


@pytest.mark.parametrize(
    "read",
    [
        pytest.param(functions.function_of_mapping_cv, id="its function"),
        pytest.param(functions.output_window, id="its window"),
    ],
)
def test_a_cv_that_maps_nothing_is_refused(read: Callable[[int], object]) -> None:
    with pytest.raises(ValueError, match=r"^function mapping CV 47 is outside 33 to 46$"):
        read(47)


@pytest.mark.parametrize(
    ("source", "named", "value"),
    [
        pytest.param(CV21, (), 0, id="no function is 0"),
        pytest.param(CV21, ("F1",), 1, id="F1 is bit 0"),
        pytest.param(CV21, ("F8",), 128, id="F8 is bit 7"),
        pytest.param(CV21, ("F1", "F2", "F3", "F4", "F5", "F6", "F7", "F8"), 255, id="F1 to F8 are 255"),
    ],
)
def test_f1_to_f8_in_cv21_and_cv13(source: str, named: tuple[str, ...], value: int) -> None:
    assert functions.cv21_of(named) == value, source
    assert functions.functions_of_cv21(value) == named, source
    assert functions.functions_of_cv13(value) == named, CV13


@pytest.mark.parametrize(
    ("source", "named", "value"),
    [
        pytest.param(CV22, ("F0f",), 1, id="the light forward is bit 0"),
        pytest.param(CV22, ("F0r",), 2, id="the light in reverse is bit 1"),
        pytest.param(CV22, ("F9",), 4, id="F9 is bit 2"),
        pytest.param(CV22, ("F12",), 32, id="F12 is bit 5"),
        pytest.param(CV22, ALL_HIGH, 63, id="all of them are 63"),
    ],
)
def test_the_light_and_f9_to_f12_in_cv22_and_cv14(source: str, named: tuple[str, ...], value: int) -> None:
    assert functions.cv22_of(named) == value, source
    assert functions.functions_of_cv22(value) == named, source
    assert functions.functions_of_cv14(value) == named, CV14


@pytest.mark.parametrize(
    ("source", "named", "value"),
    [
        pytest.param(CV22_RCN, ("F13-F20",), 64, id="F13 to F20 are bit 6"),
        pytest.param(CV22_RCN, ("F21-F28",), 128, id="F21 to F28 are bit 7"),
        pytest.param(CV22_RCN, (*ALL_HIGH, "F13-F20", "F21-F28"), 255, id="everything is 255"),
    ],
)
def test_two_groups_in_cv22(source: str, named: tuple[str, ...], value: int) -> None:
    assert functions.cv22_of(named) == value, source
    assert functions.functions_of_cv22(value) == named, source


@pytest.mark.parametrize(
    ("source", "named", "cvs"),
    [
        pytest.param(f"{CV21}; {CV22}", ("F0f", "F0r", "F1", "F2"), (3, 3), id="lights, bell and horn"),
        pytest.param(f"{CV21}; {CV22}", ("F8", "F9"), (128, 4), id="F8 and F9 lie in two CVs"),
        pytest.param(CV22_RCN, ("F0f", "F1", "F12", "F13-F20", "F21-F28"), (1, 225), id="one of each part"),
        pytest.param(CV21, (), (0, 0), id="none"),
    ],
)
def test_functions_that_answer_the_consist_address(
    source: str, named: tuple[str, ...], cvs: tuple[int, int]
) -> None:
    assert functions.consist_function_cvs(named) == cvs, source
    assert functions.consist_functions(*cvs) == named, source


def test_every_pair_of_consist_function_cvs_comes_back() -> None:
    for value in range(256):
        for pair in ((value, 0), (0, value), (value, 255 - value)):
            assert functions.consist_function_cvs(functions.consist_functions(*pair)) == pair


@pytest.mark.parametrize(
    ("write", "named", "message"),
    [
        pytest.param(functions.cv21_of, "F9", "^function 'F9' is not one of F1, F2", id="F9 is not in CV21"),
        pytest.param(
            functions.cv22_of, "F1", "^function 'F1' is not one of F0f, F0r, F9", id="F1 is not in CV22"
        ),
        pytest.param(
            functions.consist_function_cvs,
            "F13",
            "^function 'F13' is not one of",
            id="F13 has no bit alone",
        ),
    ],
)
def test_functions_without_a_bit_are_refused(
    write: Callable[[list[str]], object], named: str, message: str
) -> None:
    with pytest.raises(ValueError, match=message):
        write([named])


@pytest.mark.parametrize(
    ("read", "value", "message"),
    [
        pytest.param(functions.functions_of_cv14, 64, "^CV14 64 is outside 0 to 63$", id="CV14 has six bits"),
        pytest.param(functions.functions_of_cv13, 256, "^CV13 256 is outside 0 to 255$", id="CV13 is a byte"),
        pytest.param(functions.functions_of_cv21, -1, "^CV21 -1 is outside 0 to 255$", id="CV21 is a byte"),
        pytest.param(functions.functions_of_cv22, 256, "^CV22 256 is outside 0 to 255$", id="CV22 is a byte"),
    ],
)
def test_values_without_a_meaning_are_refused(
    read: Callable[[int], object], value: int, message: str
) -> None:
    with pytest.raises(ValueError, match=message):
        read(value)

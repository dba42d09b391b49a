"""Copies merged beyond rows of ours: settings, formulas, own sheets, sheets that are missing."""

from dataclasses import replace

import pytest

from rosterkit.versions.changes import rows_in
from rosterkit.versions.merged import Merged
from rosterkit.versions.three_way import merge
from rosterkit.versions.version import Version
from rosterkit.xlsx.grid import CellError, Grid
from tests.rosters import grid, sheet_of
from tests.versions.workbooks import A, B, engines, version

_LOG = (("Day", "What"), ("Monday", "track"), ("Friday", "trains"), ("", ""), ("Sum", 2))


def cells(found: Merged) -> list[tuple[str, int | None, str, object]]:
    return [(one.row.sheet, one.row.row, one.column, one.new.value) for one in found.taken]


def not_merged(found: Merged) -> list[tuple[str, str, str, object, str]]:
    return [(one.source, one.sheet, one.cell, one.value, one.reason) for one in found.not_merged]


def with_log(
    name: str, *rows: tuple[object, ...], formulas: dict[tuple[int, int], str] | None = None
) -> Version:
    return engines(name, A, Log=replace(grid("Log", *rows), formulas=formulas or {}))


def layout(name: str, *settings: tuple[object, ...]) -> Version:
    return engines(name, A, Layout=grid("Layout", ("Setting", "Value"), *settings))


def test_a_setting_is_taken_by_its_name() -> None:
    base = layout("base", ("Event", "Spring"), ("Scale", "HO"))
    copy = layout("c1", ("Scale", "N"), ("Event", "Spring"))

    found = merge(base, base, [copy])

    assert cells(found) == [("Layout", 3, "Scale", "N")]
    assert found.taken[0].row.label == "Scale"
    assert found.taken[0].new.place == "B2"


def test_a_setting_that_two_changed_is_a_conflict() -> None:
    base = layout("base", ("Scale", "HO"))

    found = merge(base, base, [layout("c1", ("Scale", "N")), layout("c2", ("Scale", "O"))])

    (one,) = found.conflicts
    assert (one.row.sheet, one.row.row, one.column, one.base) == ("Layout", 2, "Scale", "HO")


def test_a_setting_that_the_master_lacks_has_no_row_yet() -> None:
    found = merge(engines("base", A), engines("base", A), [layout("c1", ("Scale", "N"))])

    assert cells(found) == [("Layout", None, "Scale", "N")]


def test_rows_of_a_sheet_that_the_master_lacks_are_added() -> None:
    base = engines("base", A)
    run = {"Loco": "A", "Drive level": 40, "Time": 21.5}

    found = merge(base, base, [engines("c1", A, Speed_runs=[run])])

    (one,) = found.added
    assert (one.row.sheet, one.row.label) == ("Speed runs", "A, Drive level 40")
    assert {name: cell.value for name, cell in one.cells.items()} == run
    assert found.new_columns == ()


def test_a_sheet_that_is_missing_in_a_copy_is_said_and_removes_nothing() -> None:
    base = engines("base", A, Consists=[{"Consist": "Hill", "Loco": "A"}], Log=grid("Log", *_LOG))

    found = merge(base, base, [engines("c1", A)])

    reason = "this sheet is missing in the copy; nothing of it was removed"
    assert not_merged(found) == [("c1", "Consists", "", "", reason), ("c1", "Log", "", "", reason)]
    assert (found.taken, found.removed) == ((), ())


def test_a_cell_of_a_sheet_of_their_own_is_taken() -> None:
    base = with_log("base", *_LOG)

    found = merge(base, base, [with_log("c1", _LOG[0], ("Monday", "snow"), *_LOG[2:])])

    assert cells(found) == [("Log", 2, "B", "snow")]


@pytest.mark.parametrize(
    ("rows", "taken", "unplaced"),
    [
        pytest.param((_LOG[0], _LOG[2], _LOG[1], *_LOG[3:]), [], [], id="sorted, nothing"),
        pytest.param(
            (*_LOG, ("Late", "bar")), [(6, "A", "Late"), (6, "B", "bar")], [], id="below all, a row"
        ),
        pytest.param((*_LOG[:3], ("x", ""), _LOG[4]), [(4, "A", "x")], [], id="in a blank row, a cell"),
        pytest.param(
            (*_LOG[:1], ("", ""), *_LOG[2:]), [(2, "A", ""), (2, "B", "")], [], id="emptied, blanks"
        ),
        pytest.param((*_LOG[:1], ("New", "x"), *_LOG[1:]), [], ["A2", "B2"], id="in between, not merged"),
        pytest.param((*_LOG[:1], *_LOG[2:]), [], ["A2"], id="deleted, not merged"),
        pytest.param(
            (_LOG[0], ("New", "x"), ("Monday", "snow"), *_LOG[2:]),
            [(2, "B", "snow")],
            ["A2", "B2"],
            id="changed below one in between, the cell of that row",
        ),
    ],
)
def test_rows_of_a_sheet_of_their_own(
    rows: tuple[tuple[object, ...], ...], taken: list[tuple[int, str, object]], unplaced: list[str]
) -> None:
    base = with_log("base", *_LOG)

    found = merge(base, base, [with_log("c1", *rows)])

    assert [(row, column, value) for _, row, column, value in cells(found)] == taken
    assert [one.cell for one in found.not_merged] == unplaced


def test_what_two_typed_into_one_cell_of_their_own_sheet_is_a_conflict() -> None:
    base = with_log("base", *_LOG)

    found = merge(base, base, [with_log("c1", *_LOG, ("Late", "")), with_log("c2", *_LOG, ("Early", ""))])

    (one,) = found.conflicts
    assert (one.row.row, one.column, one.base, one.row.label) == (6, "A", "", "row 6")


def test_a_new_sheet_is_taken_cell_by_cell() -> None:
    base = engines("base", A)

    found = merge(base, base, [with_log("c1", *_LOG), with_log("c2", *_LOG[:4], ("Sum", 3))])

    assert len(found.taken) == 7
    assert cells(found)[-1] == ("Log", 5, "A", "Sum")
    assert [(one.row.row, one.column, one.base) for one in found.conflicts] == [(5, "B", "")]
    reason = "a new sheet; what stands in its cells is taken, how it looks is not"
    assert not_merged(found) == [("c1", "Log", "", "", reason), ("c2", "Log", "", "", reason)]


def test_a_cell_of_a_sheet_that_the_master_took_out_is_named() -> None:
    base = with_log("base", *_LOG)

    found = merge(base, engines("master", A), [with_log("c1", _LOG[0], ("Monday", "snow"), *_LOG[2:])])

    assert not_merged(found) == [("c1", "Log", "B2", "snow", "the master has no such sheet any more")]


def _with_formulas(name: str, rows: list[dict[str, object]], texts: dict[int, str]) -> Version:
    """Return engines with formulas under Twice, in sheet column F."""
    columns = {"Owner": "", **A, "Twice": ""}
    sheet = sheet_of("Locomotives", [columns, *rows])
    shown: Grid = replace(sheet, formulas={(row + 1, 6): text for row, text in texts.items()})
    return version(name, {"Locomotives": replace(shown, rows=[shown.rows[0], *shown.rows[2:]])})


def test_a_formula_that_was_sorted_filled_along_or_respelt_is_no_change() -> None:
    base = _with_formulas("base", [A | {"Twice": 24}, B | {"Twice": 26}], {1: "E2*2", 2: "E3*2"})
    other = _with_formulas("c1", [B | {"Twice": 0}, A | {"Twice": 1}], {1: "e2 *2", 2: "E3*2.0"})

    assert merge(base, base, [other]).changes_nothing


@pytest.mark.parametrize(
    ("held", "text", "shown"),
    [
        pytest.param(True, "TRUE()", True, id="a checkbox"),
        pytest.param(False, "FALSE()", False, id="one that is not ticked"),
        pytest.param("", "#VALUE!", CellError("#VALUE!"), id="a photo in a cell"),
    ],
)
def test_what_a_program_stores_as_a_formula_is_no_change(held: object, text: str, shown: object) -> None:
    base = _with_formulas("base", [A | {"Twice": held}], {})

    assert merge(base, base, [_with_formulas("c1", [A | {"Twice": shown}], {1: text})]).changes_nothing


def test_a_formula_is_named_and_neither_taken_nor_written_over() -> None:
    base = _with_formulas("base", [A | {"Twice": 24}, B], {1: "E2*2"})
    copy = _with_formulas("c1", [A | {"Twice": 36}, B | {"Twice": 39, "Address": 3}], {1: "E2*3", 2: "E3*3"})
    typed = _with_formulas("c2", [A | {"Twice": 7}, B], {})

    found = merge(base, base, [copy, typed])

    assert not_merged(found) == [
        ("c1", "Locomotives", "F2", 36, "the formula =E2*3; formulas are not merged"),
        ("c1", "Locomotives", "F3", 39, "the formula =E3*3; formulas are not merged"),
        ("c2", "Locomotives", "F2", 7, "a value in place of a formula; formulas are kept"),
    ]
    assert cells(found) == [("Locomotives", 3, "Address", 3)]


def test_a_formula_of_the_master_is_not_written_over_by_what_a_copy_typed() -> None:
    base = _with_formulas("base", [A | {"Twice": 1}], {})
    master = _with_formulas("master", [A | {"Twice": 24}], {1: "E2*2"})

    found = merge(base, master, [_with_formulas("c1", [A | {"Twice": 5}], {})])
    same = merge(base, master, [_with_formulas("c1", [A | {"Twice": 24}], {1: "E2*2"})])

    assert not_merged(found) == [
        ("c1", "Locomotives", "F2", 5, "the master has a formula there, which is kept")
    ]
    assert same.changes_nothing


def test_a_row_in_which_somebody_typed_a_formula_is_not_removed_in_silence() -> None:
    base = _with_formulas("base", [A, B], {})

    found = merge(
        base,
        base,
        [_with_formulas("c1", [A], {}), _with_formulas("c2", [A, B | {"Twice": 26}], {2: "E3*2"})],
    )

    assert found.removed == ()
    assert [side.sources for side in found.conflicts[0].sides] == [("c1",), ("c2",)]


def test_a_formula_follows_rows_that_were_put_in_between() -> None:
    rows = [A | {"Twice": 12}, B | {"Twice": 25}]
    base = _with_formulas("base", rows, {2: "F2+E3"})
    copy = _with_formulas("c1", [rows[0], {"Loco": "D"}, rows[1]], {3: "F2+E4"})

    assert merge(base, base, [copy]).not_merged == ()


def test_what_cannot_be_written_is_named() -> None:
    base = engines("base", A | {"Mine": 1})

    found = merge(base, base, [engines("c1", A | {"Mine": CellError("#REF!")})])

    reason = "an error value or a date that is none; it cannot be written"
    assert not_merged(found) == [("c1", "Locomotives", "F2", CellError("#REF!"), reason)]


def test_a_decoder_type_under_a_new_label_is_followed() -> None:
    kinds = [{"Decoder": "Plain", "Manufacturer ID": 13, "Version": 4}]
    base = engines("base", A | {"Decoder": "Plain"}, B | {"Decoder": "other"}, Decoder_types=kinds)
    copy = engines(
        "c1",
        A | {"Decoder": "Plain"},
        B | {"Decoder": "other"},
        Decoder_types=[kinds[0] | {"Decoder": "Plain v4"}],
    )

    found = merge(base, base, [copy])

    assert cells(found) == [
        ("Decoder types", 2, "Decoder", "Plain v4"),
        ("Locomotives", 2, "Decoder", "Plain v4"),
    ]


def test_rows_of_a_sheet_of_their_own_are_known_by_place_and_content() -> None:
    copy = with_log("c1", _LOG[0], ("New", ""), *_LOG[1:])

    assert rows_in(with_log("base", *_LOG), copy)["Log"] == {1: 1, 3: 2, 4: 3, 6: 5}

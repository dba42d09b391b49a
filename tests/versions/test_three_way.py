"""Copies merged: cells, rows, labels and what refers to them, each case written down by hand."""

from collections.abc import Sequence
from itertools import permutations

import pytest

from rosterkit.versions.changes import rows_in
from rosterkit.versions.merged import Conflict, ConflictKind, Merged, TakenCell
from rosterkit.versions.three_way import merge
from rosterkit.versions.version import Version
from tests.versions.workbooks import A, B, C, engines

_HILL = [{"Consist": "Hill", "Loco": "A", "Position": 1}, {"Consist": "Hill", "Loco": "B", "Position": 2}]
BASE = engines("base", A, B, C)


def taken(found: Merged) -> list[tuple[str, str, object, object, str]]:
    """Return the cells taken as sheet, label, column, value and sources."""
    return [
        (one.row.sheet, one.row.label, one.column, one.new.value, " ".join(one.new.sources))
        for one in found.taken
    ]


def conflicts(found: Merged) -> list[tuple[str, str | None, object, dict[object, str]]]:
    """Return the conflicts as label, column, base, and the sources by value."""
    return [
        (one.row.label, one.column, one.base, {side.value: " ".join(side.sources) for side in one.sides})
        for one in found.conflicts
    ]


def added(found: Merged) -> list[dict[str, object]]:
    return [{column: cell.value for column, cell in one.cells.items()} for one in found.added]


def test_identical_copies_change_nothing() -> None:
    assert merge(BASE, BASE, [engines("c1", A, B, C), engines("c2", C, A, B)]).changes_nothing


def test_a_new_value_is_taken_with_its_place_and_the_row_of_the_master() -> None:
    found = merge(BASE, BASE, [engines("c1", C, B, {**A, "Address": 99})])

    (one,) = found.taken
    assert isinstance(one, TakenCell)
    assert (one.row.sheet, one.row.row, one.row.label) == ("Locomotives", 2, "A")
    assert (one.column, one.old, one.new.value, one.new.sources) == ("Address", 12, 99, ("c1",))
    assert one.new.place == "E4"


@pytest.mark.parametrize(
    ("values", "expected", "split"),
    [
        pytest.param((99, 99), [99], [], id="the same value from two is taken once"),
        pytest.param((99, 12), [99], [], id="one that left it as it was says nothing"),
        pytest.param((99, 98), [], [12], id="two values are a conflict, and the base's stays"),
        pytest.param(("", 12), [""], [], id="emptying is a change"),
        pytest.param(("", 98), [], [12], id="emptying against another value is a conflict"),
    ],
)
def test_a_cell(values: Sequence[object], expected: list[object], split: list[object]) -> None:
    copies = [engines(f"c{n}", {**A, "Address": value}, B, C) for n, value in enumerate(values)]

    found = merge(BASE, BASE, copies)

    assert [one.new.value for one in found.taken] == expected
    assert [one.base for one in found.conflicts] == split


def test_the_master_that_moved_on_is_one_more_side() -> None:
    master = engines("master", {**A, "Address": 50}, B, C)

    alone = merge(BASE, master, [engines("c1", A, B, C)])
    agreed = merge(BASE, master, [engines("c1", {**A, "Address": 50}, B, C)])
    split = merge(BASE, master, [engines("c1", {**A, "Address": 99}, B, C)])

    assert alone.changes_nothing
    assert agreed.changes_nothing
    assert conflicts(split) == [("A", "Address", 12, {50: "master", 99: "c1"})]


@pytest.mark.parametrize(
    ("old", "new"),
    [
        pytest.param({"Direction": "normal"}, {"Direction": "Normal "}, id="another spelling of a choice"),
        pytest.param({"Address": 12}, {"Address": "12"}, id="digits as text"),
        pytest.param({"Length": 0.1 + 0.2}, {"Length": 0.3}, id="the last digit of a number"),
        pytest.param({"Notes": "a\r\nb"}, {"Notes": "a\nb"}, id="ends of lines"),
        pytest.param({"My own": "x"}, {"My own": " x "}, id="blanks around a text of their own"),
    ],
)
def test_it_is_no_change_that_a_program_spells_a_cell_otherwise(
    old: dict[str, object], new: dict[str, object]
) -> None:
    base = engines("base", A | old)

    assert merge(base, base, [engines("c1", A | new)]).changes_nothing


def test_a_row_that_one_removed_is_removed() -> None:
    found = merge(BASE, BASE, [engines("c1", A, C), engines("c2", A, B, C)])

    assert [(one.row.row, one.row.label, one.sources) for one in found.removed] == [(3, "B", ("c1",))]
    assert found.conflicts == ()


def test_a_row_that_one_removed_and_another_changed_stays_with_the_change() -> None:
    found = merge(BASE, BASE, [engines("c1", A, C), engines("c2", A, {**B, "Address": 99}, C)])

    assert found.removed == ()
    assert taken(found) == [("Locomotives", "B", "Address", 99, "c2")]
    (one,) = found.conflicts
    assert isinstance(one, Conflict)
    assert one.kind is ConflictKind.ROW
    assert [(side.value, side.sources) for side in one.sides] == [("removed", ("c1",)), ("changed", ("c2",))]


def test_a_row_that_the_master_removed_and_a_copy_changed_comes_back() -> None:
    found = merge(BASE, engines("master", A, C), [engines("c1", A, {**B, "Address": 99}, C)])

    assert added(found) == [{**B, "Address": 99}]
    assert [one.kind for one in found.conflicts] == [ConflictKind.ROW]


def test_a_row_that_the_master_removed_and_nobody_changed_stays_away() -> None:
    assert merge(BASE, engines("master", A, C), [engines("c1", A, B, C)]).changes_nothing


def test_a_row_that_two_added_is_one_and_what_differs_is_blank_and_listed() -> None:
    new = {"Loco": "D", "Owner": "M03", "Railway": "Oak", "Number": "10", "Address": 5}

    found = merge(BASE, BASE, [engines("c1", A, B, C, new), engines("c2", A, B, C, {**new, "Address": 6})])

    assert added(found) == [{key: value for key, value in new.items() if key != "Address"}]
    assert conflicts(found) == [("D", "Address", "", {5: "c1", 6: "c2"})]


def test_engines_of_one_label_and_two_owners_are_two() -> None:
    ours, theirs = {"Loco": "D", "Owner": "M03"}, {"Loco": "D", "Owner": "M04"}

    found = merge(BASE, BASE, [engines("c1", A, B, C, ours), engines("c2", A, B, C, theirs)])

    assert added(found) == [ours, theirs]


def test_an_engine_that_the_master_added_too_is_that_engine() -> None:
    new = {"Loco": "D", "Owner": "M03", "Address": 5}
    master = engines("master", A, B, C, {**new, "Address": ""})

    found = merge(BASE, master, [engines("c1", A, B, C, new)])

    assert found.added == ()
    assert [(one.row.row, one.column, one.new.value) for one in found.taken] == [(5, "Address", 5)]


def test_a_new_label_is_followed_wherever_the_engine_is_named() -> None:
    base = engines("base", A, B, Consists=_HILL)
    renamer = engines("c1", {**A, "Loco": "Lady"}, B, Consists=_HILL)
    other = engines("c2", A, B, Consists=[*_HILL, {"Consist": "Low", "Loco": "A"}])

    found = merge(base, base, [renamer, other])

    assert taken(found) == [
        ("Locomotives", "Lady", "Loco", "Lady", "c1"),
        ("Consists", "Hill, Lady", "Loco", "Lady", "c1"),
    ]
    assert added(found) == [{"Consist": "Low", "Loco": "Lady"}]
    assert found.conflicts == ()


def test_two_new_labels_are_a_conflict_and_what_names_the_engine_stays() -> None:
    base = engines("base", A, B, Consists=_HILL)
    lady = [{**_HILL[0], "Loco": "Lady"}, _HILL[1]]
    copies = [
        engines("c1", {**A, "Loco": "Lady"}, B, Consists=lady),
        engines("c2", {**A, "Loco": "Gent"}, B, Consists=_HILL),
    ]

    found = merge(base, base, copies)

    assert found.taken == ()
    assert conflicts(found) == [("A", "Loco", "A", {"Lady": "c1", "Gent": "c2"})]


def test_a_column_of_their_own_is_found_by_its_heading() -> None:
    base = engines("base", {**A, "Colour": "red"}, B)
    copy = engines("c1", {"Colour": "blue", **A}, {"Shed": "North", **B})

    found = merge(base, base, [copy])

    assert taken(found) == [
        ("Locomotives", "A", "Colour", "blue", "c1"),
        ("Locomotives", "B", "Shed", "North", "c1"),
    ]
    assert found.new_columns == (("Locomotives", "Shed"),)


def test_a_heading_that_is_missing_says_nothing() -> None:
    without = {key: value for key, value in A.items() if key != "Address"}

    assert merge(engines("base", A), engines("base", A), [engines("c1", without)]).changes_nothing


def test_without_a_base_every_difference_is_a_conflict_and_nothing_is_removed() -> None:
    master = engines("master", A, B)

    found = merge(None, master, [engines("c1", {**A, "Address": 99}, C)])

    assert conflicts(found) == [("A", "Address", "", {12: "master", 99: "c1"})]
    assert added(found) == [C]
    assert found.removed == ()


def test_rows_of_a_copy_are_known_by_those_of_the_base() -> None:
    copy: Version = engines("c1", C, {**A, "Loco": "Lady"}, {"Loco": "D"})

    assert rows_in(BASE, copy) == {"Locomotives": {2: 4, 3: 2}}


@pytest.mark.parametrize("order", list(permutations(("a", "b", "c"))))
def test_which_rows_are_one_does_not_hang_on_the_order_of_copies(order: Sequence[str]) -> None:
    new = {
        "a": {"Loco": "A1", "Owner": "M05", "Railway": "Ash", "Number": "1"},
        "b": {"Loco": "B1", "Owner": "M05", "Railway": "Ash", "Number": "1"},
        "c": {"Loco": "B1", "Owner": "M05", "Railway": "Fir", "Number": "2"},
    }

    found = merge(BASE, BASE, [engines(name, A, B, C, new[name]) for name in order])

    assert sorted(sorted(one.sources) for one in found.added) == [["a", "b", "c"]]
    assert len(found.conflicts) == 3


@pytest.mark.parametrize("order", [("Reversed", "reversed"), ("reversed", "Reversed")])
def test_which_spelling_is_written_does_not_hang_on_the_order_of_copies(order: Sequence[str]) -> None:
    copies = [engines(f"c{n}", A | {"Direction": word}, B, C) for n, word in enumerate(order)]

    assert [one.new.value for one in merge(BASE, BASE, copies).taken] == ["Reversed"]


def test_a_copy_that_followed_its_own_new_label_says_nothing_more_than_the_label() -> None:
    base = engines("base", A, B, Consists=_HILL)
    copy = engines("c1", {**A, "Loco": "Lady"}, B, Consists=[_HILL[1], {**_HILL[0], "Loco": "Lady"}])

    found = merge(base, base, [copy])

    assert [(one.row.sheet, one.old, one.new.value) for one in found.taken] == [
        ("Locomotives", "A", "Lady"),
        ("Consists", "A", "Lady"),
    ]
    assert found.added == ()


def test_references_go_back_where_the_masters_new_label_is_in_conflict() -> None:
    base = engines("base", A, B, Consists=_HILL)
    master = engines("master", {**A, "Loco": "Gent"}, B, Consists=[{**_HILL[0], "Loco": "Gent"}, _HILL[1]])

    found = merge(base, master, [engines("c1", {**A, "Loco": "Lady"}, B, Consists=_HILL)])

    assert conflicts(found) == [("Gent", "Loco", "A", {"Gent": "master", "Lady": "c1"})]
    assert taken(found) == [("Consists", "Hill, A", "Loco", "A", "base")]


def test_what_a_copy_adds_under_a_label_that_the_master_changed_gets_the_new_one() -> None:
    base = engines("base", A, B, Consists=_HILL)
    master = engines("master", {**A, "Loco": "Gent"}, B, Consists=_HILL)

    found = merge(base, master, [engines("c1", A, B, Consists=[*_HILL, {"Consist": "Low", "Loco": "a"}])])

    assert added(found) == [{"Consist": "Low", "Loco": "Gent"}]
    assert found.taken == ()


def test_labels_that_were_swapped_are_no_new_labels() -> None:
    base = engines("base", A, B, Consists=_HILL)
    copy = engines("c1", {**A, "Loco": "B"}, {**B, "Loco": "A"}, Consists=_HILL)

    found = merge(base, base, [copy])

    assert {one.row.sheet for one in found.taken} == {"Locomotives"}


def test_a_match_of_speeds_follows_a_new_label() -> None:
    goals = [{"Loco": "B", "Match": "A"}]
    base = engines("base", A, B, Speed_goals=goals)

    found = merge(base, base, [engines("c1", {**A, "Loco": "Lady"}, B, Speed_goals=goals)])

    assert taken(found)[1:] == [("Speed goals", "B", "Match", "Lady", "c1")]


def test_without_a_base_an_engine_that_one_copy_renamed_keeps_a_label_and_what_names_it_leads_there() -> None:
    master = engines("master", A, B, Consists=_HILL)
    lady = [{**_HILL[0], "Loco": "Lady"}, _HILL[1]]

    found = merge(None, master, [engines("c1", {**A, "Loco": "Lady"}, B, Consists=lady)])

    assert conflicts(found) == [("A", "Loco", "A", {"A": "master", "Lady": "c1"})]
    assert (found.taken, found.added) == ((), ())


def test_a_new_engine_to_which_two_gave_other_labels_keeps_one_of_them() -> None:
    new = {"Loco": "D1", "Owner": "M03", "Railway": "Fir", "Number": "5"}
    copies = [
        engines("c2", A, B, C, {**new, "Loco": "D2"}, Consists=[{"Consist": "Low", "Loco": "D2"}]),
        engines("c1", A, B, C, new, Consists=[{"Consist": "Low", "Loco": "D1"}]),
    ]

    found = merge(BASE, BASE, copies)

    assert added(found) == [
        {"Owner": "M03", "Railway": "Fir", "Number": "5", "Loco": "D1"},
        {"Consist": "Low", "Loco": "D1"},
    ]
    assert conflicts(found) == [("D1", "Loco", "D1", {"D2": "c2", "D1": "c1"})]


def test_letter_case_and_blanks_of_what_a_new_row_is_recognised_by_are_no_conflict() -> None:
    new = {"Loco": "jv  9", "Owner": "m03", "Address": 5}
    copies = [engines("c1", A, B, C, new), engines("c2", A, B, C, new | {"Loco": "JV 9", "Owner": "M03"})]

    found = merge(BASE, BASE, copies)

    assert added(found) == [{"Loco": "JV 9", "Owner": "M03", "Address": 5}]
    assert found.conflicts == ()

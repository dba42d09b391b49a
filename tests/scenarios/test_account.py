"""The account can fail: of edits done in memory one is left out, or done wrongly, and it says so."""

import copy
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from tests.scenarios.account import Tables, Verdict, account, renames
from tests.scenarios.edits import Edit, Kind, Member
from tests.scenarios.merge_sheet import MergeSheet, merge_sheet
from tests.scenarios.tables import Table
from tests.scenarios.unexplained import invented, stale_references

M01, M02 = Member("M01"), Member("M02")
ENGINES = "Locomotives"


def _base() -> dict[str, Table]:
    return {
        ENGINES: Table(
            [
                ["Loco", "Owner", "Address", "Checked on", "Notes", "CV1", "Check"],
                ["A 1", "M01", "1", "", "old", "1", ""],
                ["B 2", "M02", "2002", "'2026-04-11", "", "", ""],
                ["C 3", "M02", "3", "", "", "3", ""],
                ["D 4", "M03", "4", "", "", "4", ""],
            ]
        ),
        "Speed runs": Table(
            [
                ["Loco", "Way", "Drive level", "Time"],
                ["B 2", "forward", "18", "9"],
                ["B 2", "forward", "18", "8"],
                ["A 1", "forward", "18", "7"],
            ]
        ),
    }


EDITS: tuple[Edit, ...] = (
    M01.cell(ENGINES, "A 1", "Notes", ""),
    M01.cell(ENGINES, "B 2", "Checked on", "2026-05-02"),
    *M01.column(ENGINES, "Shed", {"C 3": "Yard", "A 1": "=C{row}*2"}),
    *M01.new_row(ENGINES, "E 5", Address="5"),
    *M01.own_sheet("Plan", {"B2": "x"}),
    M02.cell(ENGINES, "B 2", "Loco", "B 2 Annie"),
    M02.delete(ENGINES, "D 4"),
    M02.cell("Speed runs", {"Loco": "A 1", "Way": "forward"}, "Time", "7.5"),
)


def _result(edits: tuple[Edit, ...]) -> dict[str, Table]:
    """Return what comes of edits that are all done, and followed in the other sheet."""
    sheets = copy.deepcopy(_base())
    for edit in edits:
        if edit.kind is Kind.OWN_SHEET:
            sheets[edit.sheet] = Table([["Track", "Engine"], ["1", edit.text]])
        elif edit.kind is Kind.GONE_ROW:
            number = sheets[edit.sheet].row(edit.key, {})
            assert number is not None
            del sheets[edit.sheet].rows[number - 1]
        else:
            sheets[edit.sheet].place(edit)
    for row in sheets["Speed runs"].rows:
        row[0] = renames(edits).get(row[0], row[0])
    return sheets


def _verdicts(result: Tables, merge: MergeSheet | None = None) -> dict[str, Verdict]:
    found = account(EDITS, result, merge or MergeSheet(), {"M01": _result(EDITS)})
    return {str(edit): verdict for edit, verdict in found.entries}


def test_what_is_done_is_in_the_result_and_nothing_else_is() -> None:
    result = _result(EDITS)
    assert set(_verdicts(result).values()) == {Verdict.IN_THE_RESULT}
    assert invented(_base(), result, EDITS) == []
    assert stale_references(_base(), result, renames(EDITS)) == []


@pytest.mark.parametrize("dropped", EDITS, ids=str)
def test_an_edit_that_is_left_out_is_lost(dropped: Edit) -> None:
    done = tuple(
        edit
        for edit in EDITS
        if edit != dropped and not (dropped.kind is Kind.NEW_ROW and edit.key == dropped.key)
    )
    assert _verdicts(_result(done))[str(dropped)] is Verdict.LOST


def _at(row: int, column: int, text: str, sheet: str = ENGINES) -> Callable[[dict[str, Table]], None]:
    def change(sheets: dict[str, Table]) -> None:
        sheets[sheet].rows[row - 1][column] = text

    return change


@pytest.mark.parametrize(
    ("change", "said"),
    [
        pytest.param(_at(4, 2, "33"), "Address was '3' and is '33'", id="a value that nobody typed"),
        pytest.param(lambda sheets: sheets[ENGINES].rows.pop(3), "the row is gone", id="a row that is gone"),
        pytest.param(
            lambda sheets: sheets[ENGINES].rows.append(["F 6"]), "a row that nobody added", id="a further row"
        ),
        pytest.param(
            lambda sheets: sheets["Speed runs"].rows.append(["A 1", "forward", "18", "7"]),
            "a row that nobody added",
            id="a row twice",
        ),
        pytest.param(_at(2, 4, "old"), None, id="a cell that is still as it was"),
        pytest.param(_at(4, 5, "99"), None, id="a computed column"),
    ],
)
def test_what_nobody_did_is_named(change: Callable[[dict[str, Table]], None], said: str | None) -> None:
    result = _result(EDITS)
    change(result)
    found = invented(_base(), result, EDITS)
    assert [line for line in found if said and said in line] == found[: 1 if said else 0], found
    assert bool(found) == bool(said)


def test_a_formula_that_looks_at_another_row_is_lost() -> None:
    result = _result(EDITS)
    _at(2, 7, "=C3*2")(result)
    assert _verdicts(result)["M01: cell Locomotives / A 1 / Shed = '=C{row}*2'"] is Verdict.LOST


def test_a_day_that_became_a_text_is_lost() -> None:
    result = _result(EDITS)
    _at(3, 3, "'2026-05-02")(result)
    assert _verdicts(result)["M01: cell Locomotives / B 2 / Checked on = '2026-05-02'"] is Verdict.LOST


def test_a_reference_with_the_old_name_is_named() -> None:
    result = _result(EDITS)
    _at(2, 0, "B 2", "Speed runs")(result)
    assert stale_references(_base(), result, renames(EDITS)) == [
        "Speed runs: 1 rows still have B 2 under Loco",
        "Speed runs: 1 rows have B 2 Annie under Loco, not 2",
    ]


@pytest.mark.parametrize(
    ("said", "verdict"),
    [
        pytest.param("Yard", Verdict.CONFLICT, id="the value of the member"),
        pytest.param("Dock", Verdict.LOST, id="another value"),
    ],
)
def test_a_conflict_counts_where_it_shows_what_the_member_typed(said: str, verdict: Verdict) -> None:
    result = _result(EDITS)
    _at(4, 7, "")(result)
    merge = merge_sheet(
        Table(
            [
                ["What", "Place", "Row", "Column", "", "Keep", "Before", "M01", "M02", "Remark"],
                ["conflict", f"{ENGINES} H4", "C 3", "Shed", "kept", "", "", said, "Siding", ""],
            ]
        )
    )
    assert _verdicts(result, merge)["M01: cell Locomotives / C 3 / Shed = 'Yard'"] is verdict


@pytest.mark.parametrize(
    ("place", "said", "verdict"),
    [
        pytest.param("Plan B2", "x", Verdict.NOT_MERGED, id="the cell in the copy"),
        pytest.param("Plan", "(see Remark)", Verdict.LOST, id="the whole sheet, which stands for no cell"),
    ],
)
def test_what_is_listed_as_not_merged_counts_by_its_place(place: str, said: str, verdict: Verdict) -> None:
    result = _result(EDITS)
    del result["Plan"]
    headings = ["What", "Place", "Row", "Column", "Keep", "Before", "M01", "Remark"]
    merge = merge_sheet(
        Table([headings, ["not merged", place, "", "", "", "", said, "a sheet of their own"]])
    )
    assert _verdicts(result, merge)["M01: cell of a sheet of their own Plan / B2 /  = 'x'"] is verdict


def test_the_story_and_its_account_import_nothing_of_the_project() -> None:
    code = "import sys, tests.scenarios.spring; print([n for n in sys.modules if n.startswith('rosterkit')])"
    done = subprocess.run(
        [sys.executable, "-c", code],
        capture_output=True,
        text=True,
        check=True,
        cwd=Path(__file__).parents[2],
    )
    assert done.stdout == "[]\n"

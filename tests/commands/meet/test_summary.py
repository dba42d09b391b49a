"""The plan member by member: what the text says on one screen, and what each member's sheet says."""

import re
from collections.abc import Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rosterkit.commands.meet.attendance import attendance_of
from rosterkit.commands.meet.by_owner import ordered_by_owner
from rosterkit.commands.meet.meet import Meet
from rosterkit.commands.meet.sheets import meet_sheets
from rosterkit.commands.meet.summary import meet_text
from rosterkit.planning.addresses import plan_moves
from tests.rosters import Rows, roster


def meet_of(engines: Rows, consists: Rows = (), ranges: Rows = ()) -> Meet:
    club = roster([one | {"At meet": "yes"} for one in engines], consists=consists, ranges=ranges)  # type: ignore[operator]
    attendance = attendance_of([club])
    plan = plan_moves(attendance.engines, attendance.consists, attendance.rules_by_layout)
    return Meet(
        version="1",
        workbooks=[("club.xlsx", len(engines))],
        event=None,
        attendance=attendance,
        plan=ordered_by_owner(plan, attendance),
        findings=(),
    )


def _engine(loco: str, owner: str, address: int) -> dict[str, object]:
    return {"Loco": loco, "Owner": owner, "Address": address, "Meet address": ""}


def height(text: str) -> int:
    """Return the lines of a text, none of which is too long for a terminal of 80 columns."""
    assert [line for line in text.splitlines() if len(line) > 80] == []
    return len(text.splitlines())


def test_a_small_plan_has_its_reasons() -> None:
    text = meet_text(meet_of([_engine("A", "M02", 12), _engine("B", "m01", 12), _engine("C", "M03", 14)]))

    assert text.splitlines() == [
        "m01: 1 of 1 engine changes",
        "    B: short 12 -> short 13",
        "        short 12 is also the address of M02: A; 13 is the nearest free one",
        "M02: 1 engine, nothing changes",
        "M03: 1 engine, nothing changes",
        "3 engines from 1 workbook: 1 clash, 1 engine to readdress, 0 left over",
        "0 errors, 0 warnings, 0 notes",
    ]


def test_a_larger_plan_leaves_the_reasons_to_the_meet_workbook() -> None:
    engines = [_engine(f"{owner} {n}", owner, 200 + n) for owner in ("M01", "M02") for n in range(11)]

    lines = meet_text(meet_of(engines)).splitlines()

    assert lines[:3] == [
        "M01: 11 engines, nothing changes",
        "M02: 11 of 11 engines change",
        "    M02 0: long 200 -> long 195",
    ]
    assert lines[-3] == "reasons, clashes and what to key in: in the meet workbook that -o makes"
    assert len(lines) == 16


def test_many_clashes_are_one_line_each_as_the_sheet_has_them() -> None:
    owners = [f"M{n:02}" for n in range(1, 9)]
    engines = [
        _engine(f"{owner} {n}", owner, 200 + n) for n in range(14) for owner in owners[n % 4 : n % 4 + 4]
    ]

    meet = meet_of(engines)
    text = meet_text(meet)

    assert height(text) <= 24
    assert "M05: 10 of 10 engines change" in text
    clashes = [line for line in text.splitlines() if line.startswith("long ")]
    assert clashes[0] == "long 200: M01: M01 0 stays; M02: M02 0 -> long 179 and 2 more move"
    assert len(clashes) == 14
    sheet = next(one for one in meet_sheets(meet) if one.title == "Clashes")
    assert len(sheet.rows) == 1 + 14


def test_no_new_address_of_a_clash_is_cut_off_by_long_names() -> None:
    owners = ["A member of a long name", "Another member of a long name", "M03"]
    engines = [_engine(f"Heavy freight engine {n}", owner, 200 + n) for n in range(20) for owner in owners]

    text = meet_text(meet_of([*engines, *engines]))

    assert height(text) <= 24
    clashes = [line for line in text.splitlines() if line.startswith("long ")]
    assert clashes
    for line in clashes:
        assert re.search(r" stays; .+ -> long [0-9]+ and [0-9]+ more move$", line), line
        assert line.count("(") == line.count(")")


def test_those_for_whom_nothing_changes_are_named_on_one_line_of_a_large_plan() -> None:
    engines = [_engine(f"{owner} {n}", owner, 200 + n) for owner in ("M01", "M02") for n in range(30)]
    engines += [_engine(f"X {n}", f"X{n}", 1000 + n) for n in range(40)]

    lines = meet_text(meet_of(engines)).splitlines()

    assert lines[0] == "M02: 30 of 30 engines change"
    assert lines[1].startswith("nothing changes for M01, X0, X1, X10, ")
    assert lines[1].endswith(" more")
    assert len(lines[1]) <= 80
    assert lines[-4] == "and 12 more addresses that several want"


@settings(max_examples=60, deadline=None)
@given(
    owners=st.lists(st.sampled_from(["M01", "m01", "M02", "", "A member of a long name"]), min_size=1),
    numbers=st.lists(st.sampled_from([3, 12, 13, 84, 2107, 2108]), min_size=1, max_size=60),
    tight=st.booleans(),
)
def test_a_plan_fits_a_screen_and_names_or_counts_everybody(
    owners: Sequence[str], numbers: Sequence[int], tight: bool
) -> None:
    engines = [
        _engine(f"Engine of number {n}", owners[n % len(owners)], number) for n, number in enumerate(numbers)
    ]
    ranges = [{"Kind": kind, "From": 12, "To": 14, "Use": "engines"} for kind in ("short", "long")]

    text = meet_text(meet_of(engines, ranges=ranges if tight else ()))

    assert height(text) <= 24
    codes = {owner.upper() for n, owner in enumerate(owners) if n < len(numbers)}
    assert [code for code in codes if (code or "No owner").upper() not in text.upper()] == []


def test_a_consist_moves_as_one_line() -> None:
    consists = [
        {"Consist": "Coal", "Address": 84, "Position": n, "Loco": loco} for n, loco in enumerate("AB", 1)
    ]
    rivals = [_engine(f"R{n}", "M02", 84) | {"Number": "7", "Lock": n} for n in (1, 2, 3)]
    engines = [_engine("A", "M01", 2101), _engine("B", "M01", 2102), *rivals]
    meet = meet_of([{"Number": "", "Lock": "", **one} for one in engines], consists)

    sheet = next(one for one in meet_sheets(meet) if one.title == "Moves")

    assert meet_text(meet).splitlines()[:2] == [
        "M01: 2 of 2 engines change",
        "    consist Coal: short 84 -> short 85",
    ]
    assert [[cell.value for cell in row][:5] for row in sheet.rows[1:]] == [
        ["M01", "consist Coal", "A, B", "short 84", "short 85"]
    ]


@pytest.mark.parametrize(
    ("meet_address", "said"),
    [
        pytest.param(
            "", "Nothing changes: your engines keep the addresses that they have at home.", id="home"
        ),
        pytest.param(
            45, "Nothing new: your engines keep the addresses that were agreed for the meet.", id="agreed"
        ),
    ],
)
def test_a_member_for_whom_nothing_changes_is_told_so_on_their_sheet(meet_address: object, said: str) -> None:
    engines = [
        _engine("A", "M01", 12) | {"Meet address": meet_address},
        _engine("B", "M02", 12 if meet_address == "" else 45),
    ]

    sheets = {one.title: one.rows for one in meet_sheets(meet_of(engines))}

    assert [cell.value for cell in sheets["M01"][1]] == [said]
    assert sheets["M02"][1] == []
    front = {row[0].value: row[1].value for row in sheets["Meet"] if len(row) > 1}
    assert (front["M01"], front["M02"]) == ("1 engine, nothing changes", "1 of 1 engine changes")


def test_a_member_is_one_however_the_code_is_spelt_and_by_owner_lists_engines_by_label() -> None:
    meet = meet_of([_engine("B", "M01", 12), _engine("A", "m01", 13), _engine("C", "M 01", 14)])

    sheet = next(one for one in meet_sheets(meet) if one.title == "By owner")

    assert meet_text(meet).splitlines()[0] == "M01: 3 engines, nothing changes"
    assert [row[1].value for row in sheet.rows[1:]] == ["A", "B", "C"]


def test_a_consist_with_an_agreed_address_has_cards_for_both_ways() -> None:
    consists = [{"Consist": "Coal", "Address": 84, "Position": 1, "Loco": "A", "Meet address": 86}]
    meet = meet_of([_engine("A", "M01", 2101)], consists)

    rows = next(one for one in meet_sheets(meet) if one.title == "M01").rows

    assert meet.plan.moves == ()
    assert [row[2].value for row in rows if len(row) > 2 and row[1].value == "CV19"][::-1][0] == 84
    assert [row[2].value for row in rows if len(row) > 2 and row[1].value == "CV19" and row[2].value == 86]

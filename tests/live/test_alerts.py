"""Alert says what the checks find, in their words, of all that it covers."""

import re
from collections.abc import Mapping

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from rosterkit.findings import Finding, Severity
from rosterkit.formulas.formula import compiled
from rosterkit.live.alerts import COVERED as CHECKS
from rosterkit.live.writing import filled
from rosterkit.xlsx.grid import Workbook
from tests.live.workbooks import Live, live
from tests.rosters import workbook

COVERED = {
    "address-missing": ("address",),
    "address-out-of-range": ("address",),
    "address-shared": ("address",),
    "address-default": ("address",),
    "address-not-for-engines": ("address",),
    "address-in-another-range": ("address",),
    "decoder-unknown": ("decoder",),
    "value-not-allowed": (
        *("address", "address_kind", "direction", "speed_steps", "dc_operation", "bidi", "speed_curve"),
        "lock",
    ),
}
"""The checks that Alert covers, with the columns of which it speaks."""
_ROW = re.compile(r"the engine in row [0-9]+")
assert COVERED.keys() == CHECKS
_IN_LIVE = re.compile(r"Live!\$[A-Z]+\$[0-9]+(?::\$[A-Z]+\$[0-9]+)?")
"""What a spreadsheet program replaces by #REF! when the sheet is deleted."""
_CELL = re.compile(r" \([A-Z]+[0-9]+\)")


def covered(made: Live, index: int) -> set[str]:
    """Return what the checks find in the row of an engine and Alert should say, as Check has it."""
    table = made.roster.book.tables["Locomotives"]
    headings = {table.heading(name): name for name in table.headings.columns}
    return {
        f"{one.severity.value} [{_heading(made, headings.get(one.column or '', ''))}] {_without_cells(one)}"
        for one in made.found
        if one.place.row == table.rows[index]
        and one.place.sheet == table.title
        and headings.get(one.column or "") in COVERED.get(one.rule, ())
        and one.severity is not Severity.NOTE
    }


def _heading(made: Live, name: str) -> str:
    return made.roster.book.tables["Locomotives"].heading(name)


def _without_cells(finding: Finding) -> str:
    if finding.rule != "address-shared":
        return finding.message
    # Formulas name neither the cell nor the row of the other engine.
    return _ROW.sub("another engine", _CELL.sub("", finding.message, 1))


def said(made: Live, index: int) -> set[str]:
    """Return the parts of an alert, without those that no check has at the row of the engine."""
    alert = str(made.value("alert", index))
    return {part for part in alert.split("; ") if part and "address of the consist" not in part}


def _disagreements(source: Workbook) -> list[tuple[int, set[str], set[str]]]:
    made = live(source)
    rows = range(len(made.roster.engines))
    return [
        (index, covered(made, index), said(made, index))
        for index in rows
        if covered(made, index) != said(made, index)
    ]


_RANGES = [
    {"Kind": "short", "From": 3, "To": 3, "Use": "new decoders", "Member": ""},
    {"Kind": "short", "From": 1, "To": 99, "Use": "engines"},
    {"Kind": "short", "From": 90, "To": 95, "Use": "consists"},
    {"Kind": "consist", "From": 96, "To": 99, "Use": "engines"},
    {"Kind": "long", "From": 1000, "To": 9999, "Use": "engines"},
    {"Kind": "long", "From": 5000, "To": 5099, "Use": "engines", "Member": "M01"},
    {"Kind": "long", "From": 5050, "To": 5050, "Use": "never"},
    {"Kind": "long", "From": 6000, "To": 6099, "Use": "meet only"},
    {"Kind": "accessory", "From": 1, "To": 99, "Use": "devices"},
    {"Kind": "long", "From": 99, "To": 1, "Use": "never"},
    {"Kind": "wide", "From": 1, "To": 9999, "Use": "never"},
]


@pytest.mark.parametrize(
    ("engine", "words"),
    [
        pytest.param({"Address": 44}, "", id="an engine in order has no alert"),
        pytest.param({"Address": ""}, "error [Address] Address is blank", id="without an address"),
        pytest.param({"Address": "x1"}, "error [Address] 'x1' is not a whole number", id="no number"),
        pytest.param(
            {"Address": 0}, "error [Address] 0 is too small: Address takes 1 to 10239", id="the number 0"
        ),
        pytest.param(
            {"Address": 10240},
            "error [Address] 10240 is too large: Address takes 1 to 10239",
            id="a number that no CVs hold",
        ),
        pytest.param(
            {"Address": 128, "Address kind": "short"},
            "error [Address] 128 is not a short address (1 to 127)",
            id="too large for its kind",
        ),
        pytest.param({"Address": 127, "Address kind": "s"}, "", id="the highest short address"),
        pytest.param(
            {"Address": 3},
            "error [Address] short 3 is reserved for new decoders (short 3); "
            "warning [Address] 3 is the address of most new decoders",
            id="the address of new decoders",
        ),
        pytest.param(
            {"Address": 92}, "error [Address] short 92 is reserved for consists (short 90 to 95)", id="kept"
        ),
        pytest.param(
            {"Address": 97},
            "error [Address] short 97 is reserved for consists (consist 96 to 99)",
            id="in a range of the kind consist",
        ),
        pytest.param(
            {"Address": 5050}, "error [Address] long 5050 is never used (long 5050)", id="never used"
        ),
        pytest.param({"Address": 6001}, "", id="in a range for meets only"),
        pytest.param(
            {"Address": 5001, "Owner": "M02"},
            "warning [Address] long 5001 is in M01's range long 5000 to 5099, not M02's",
            id="in another member's range",
        ),
        pytest.param({"Address": 5001, "Owner": "m 01"}, "", id="in the owner's own range"),
        pytest.param(
            {"Address": 5001},
            "warning [Address] long 5001 is in M01's range long 5000 to 5099, and the engine has no owner",
            id="in a member's range without an owner",
        ),
        pytest.param(
            {"Address": 10000},
            "error [Address] long 10000 is outside the long addresses of this layout, 128 to 9999",
            id="outside the layout",
        ),
        pytest.param(
            {"Address": 44, "Direction": "sideways", "BiDi": "perhaps", "Address kind": "wide"},
            "error [Address kind] 'wide' is not one of short, long; "
            "error [Direction] 'sideways' is not one of normal, reversed; "
            "error [BiDi] 'perhaps' is not one of off, on",
            id="settings that are none",
        ),
        pytest.param(
            {"Address": 44, "Lock": 0}, "error [Lock] 0 is too small: Lock takes 1 to 239", id="lock 0"
        ),
        pytest.param({"Address": 44, "Lock": "x"}, "error [Lock] 'x' is not a whole number", id="no lock"),
        pytest.param(
            {"Address": 44, "Decoder": "odd"},
            "warning [Decoder] 'odd' is not in the sheet Decoder types",
            id="a decoder that nobody knows",
        ),
        pytest.param({"Address": 44, "Decoder": "PLAIN ?"}, "", id="a known decoder in other letters"),
    ],
)
def test_alert_says_in_the_words_of_the_findings_what_is_wrong(engine: dict[str, object], words: str) -> None:
    columns = dict.fromkeys(("Owner", "Decoder", "Address", "Address kind", "Direction", "BiDi", "Lock"), "")
    source = workbook(
        [{"Loco": "A"} | columns | engine],
        ranges=_RANGES,
        layout={"Long address range": "128-9999"},
        decoders=[{"Decoder": "plain ?", "Version": 1}],
    )

    assert live(source).value("alert", 0) == words
    assert _disagreements(source) == []


def test_engines_that_share_an_address_name_each_other() -> None:
    source = workbook(
        [
            {"Loco": "A", "Address": 25, "Address kind": ""},
            {"Loco": "", "Address": 7, "Address kind": ""},
            {"Loco": "B", "Address": "25", "Address kind": "short"},
            {"Loco": "C", "Address": 25, "Address kind": "long"},
            {"Loco": "D", "Address": 25, "Address kind": ""},
        ]
    )
    made = live(source)

    assert [made.value("alert", n) for n in range(5)] == [
        "error [Address] short 25 is also the address of 'B' and 1 more",
        "",
        "error [Address] short 25 is also the address of 'A' and 1 more",
        "",
        "error [Address] short 25 is also the address of 'B' and 1 more",
    ]
    assert _disagreements(source) == []


def test_an_engine_without_a_label_is_another_engine() -> None:
    made = live(
        workbook([{"Loco": "A", "Address": 25, "Number": ""}, {"Loco": "", "Address": 25, "Number": 1}])
    )

    assert made.value("alert", 0) == "error [Address] short 25 is also the address of another engine"


def test_what_is_shared_on_purpose_is_no_alert_until_another_engine_joins() -> None:
    engines = [
        {"Loco": "A", "Address": 25, "Lock": 1, "Railway": "NE", "Number": "7"},
        {"Loco": "B", "Address": 25, "Lock": 2, "Railway": "NE", "Number": "7"},
    ]
    consists = [{"Consist": "Pair", "Address": 44, "Loco": loco} for loco in ("C", "D")]
    pair = [{"Loco": loco, "Address": 50} for loco in ("C", "D")]

    assert _disagreements(workbook([*engines, *pair], consists=consists)) == []
    assert [live(workbook([*engines, *pair], consists=consists)).value("alert", n) for n in range(4)] == [
        ""
    ] * 4
    assert _disagreements(workbook([*engines, {"Loco": "E", "Address": 25}])) == []


def test_an_engine_outside_a_consist_with_its_address_names_the_consist() -> None:
    made = live(
        workbook(
            [{"Loco": "A", "Address": 44}, {"Loco": "B", "Address": 44}, {"Loco": "C", "Address": 444}],
            consists=[
                {"Consist": "Coal", "Address": 44, "Loco": "B"},
                {"Consist": "Ore", "Address": 444, "Loco": "A"},
            ],
        )
    )

    assert "error [Address] short 44 is also the address of the consist 'Coal'" in str(made.value("alert", 0))
    assert "consist" not in str(made.value("alert", 1))
    assert made.value("alert", 2) == "error [Address] long 444 is also the address of the consist 'Ore'"
    rules = {(one.rule, one.place.cell, one.severity.value) for one in made.found}
    assert {("consist-address-shared", "B2", "error"), ("consist-address-shared", "B3", "error")} <= rules


def test_without_the_sheet_live_alert_says_that_it_cannot_be_computed() -> None:
    made = live(workbook([{"Loco": "A", "Address": 44}]))
    place = made.places["Locomotives"]

    def shown(name: str) -> object:
        text = _IN_LIVE.sub("#REF!", filled(made.formulas[name], 2))
        return compiled(text, place.title, 2).value(made.calculation, 2)

    assert shown("alert") == "error [alert] this cannot be computed; run 'rosterkit fill'"
    assert [shown(name) for name in ("answers", "cv29")] == ["", ""]


def test_beyond_the_count_alert_looks_among_the_addresses_of_the_last_fill(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("rosterkit.live.facts.MOST_COUNTED", 1)
    rows = [{"Loco": "A", "Address": 25}, {"Loco": "B", "Address": 25}, {"Loco": "C", "Address": 26}]
    made = live(workbook(rows), counted=False)

    assert [made.value("alert", n) for n in range(3)] == [
        "error [Address] short 25 is also the address of another engine",
        "error [Address] short 25 is also the address of 'A'",
        "",
    ]


_LABELS = st.sampled_from(["A", "b", "C 1", "c1", "D?", "E*", "", "~F", "'G'"])
_ADDRESSES = st.sampled_from(
    [1, 2, 3, 25, 92, 97, 99, 100, 127, 128, 150, 5001, 5050, 6001, 10239, "25", "", "x", 0]
)


def _record(**columns: st.SearchStrategy[object]) -> st.SearchStrategy[dict[str, object]]:
    return st.fixed_dictionaries({name.replace("_", " "): values for name, values in columns.items()})


ENGINE = _record(
    Loco=_LABELS,
    Owner=st.sampled_from(["", "M01", "m01", "M02"]),
    Decoder=st.sampled_from(["", "plain", "Plain", "odd"]),
    Address=_ADDRESSES,
    Address_kind=st.sampled_from(["", "", "short", "long", "L", "wide"]),
    Direction=st.sampled_from(["", "normal", "Reversed", "up"]),
    Speed_curve=st.sampled_from(["", "table", "3 point"]),
    Lock=st.sampled_from(["", "", 5, 400]),
)
RANGE = _record(
    Kind=st.sampled_from(["short", "long", "consist", "accessory", "L", "", "wide"]),
    From=st.sampled_from([1, 3, 50, 90, 128, 5000, ""]),
    To=st.sampled_from([3, 99, 127, 5050, 9999, "99"]),
    Use=st.sampled_from(["engines", "meet only", "consists", "devices", "bench", "never", ""]),
    Member=st.sampled_from(["", "M01", "M02"]),
)
CONSIST = _record(
    Consist=st.sampled_from(["Coal", "coal", "Ore", ""]),
    Address=st.sampled_from([25, 99, 150, "", "x"]),
    Loco=_LABELS,
)
LAYOUT: st.SearchStrategy[Mapping[str, object]] = st.fixed_dictionaries(
    {},
    optional={
        "Short address range": st.sampled_from(["1-99", "1 to 127", "99-1", "x", ""]),
        "Long addresses": st.sampled_from(["128-9999", "1\u201310239", ""]),
        "Long addresses from": st.sampled_from([100, 1, 128, "", "x", 200]),
        "Speed steps": st.sampled_from(["14", "128", "?"]),
    },
)


@settings(max_examples=60, deadline=None)
@given(
    engines=st.lists(ENGINE, min_size=1, max_size=8),
    ranges=st.lists(RANGE, max_size=5),
    consists=st.lists(CONSIST, max_size=4),
    layout=LAYOUT,
    known=st.booleans(),
)
def test_in_any_club_alerts_are_what_the_checks_find_and_cvs_are_the_tools_own(
    engines: list[dict[str, object]],
    ranges: list[dict[str, object]],
    consists: list[dict[str, object]],
    layout: Mapping[str, object],
    known: bool,
) -> None:
    blank = dict.fromkeys(engines[0], "")
    source = workbook(
        [blank | {"Loco": "first", "Address": 44}, *engines],
        ranges=ranges,
        consists=consists,
        layout=layout,
        decoders=[{"Decoder": "plain", "Version": 1}] if known else (),
    )
    made = live(source)

    assert _disagreements(source) == []
    for index, wanted in enumerate(made.wanted()):
        for name, value in wanted.items():
            if name in made.formulas and name != "cv19":
                assert made.value(name, index) == value, (index, name)

"""LibreOffice and Gnumeric make of the formulas of Locomotives what the evaluator makes of them."""

from itertools import product
from pathlib import Path

import pytest

from rosterkit.roster.schema import sheet
from tests.live.row_programs import PROGRAMS, Program
from tests.live.workbooks import EngineSheets, live
from tests.rosters import workbook

pytestmark = pytest.mark.external
_ENGINES = sheet("Locomotives")
_SETTINGS = ("direction", "speed_steps", "dc_operation", "bidi", "speed_curve")
_STEPS = {str(step): 8 * step for step in range(1, 29)}
_RANGES = [
    {"Kind": "short", "From": 3, "To": 3, "Use": "new decoders", "Member": ""},
    {"Kind": "short", "From": 1, "To": 99, "Use": "engines"},
    {"Kind": "consist", "From": 96, "To": 99, "Use": "engines"},
    {"Kind": "long", "From": 1000, "To": 9999, "Use": "engines"},
    {"Kind": "l", "From": "5000", "To": 5099, "Use": "Engines", "Member": "M01"},
    {"Kind": "long", "From": 5050, "To": 5050, "Use": "never"},
    {"Kind": "wide", "From": 1, "To": 9999, "Use": "never"},
]


def _agree(program: Program, sheets: list[EngineSheets], folder: Path) -> None:
    """Demand in each cell what the evaluator gives, and of CVs what the tool's own code gives."""
    for one, found in zip(sheets, program(sheets, folder), strict=True):
        assert found == one.evaluated()
        names = list(one.made.formulas)
        for row, wanted in zip(found, one.made.wanted(), strict=True):
            ours = dict(zip(names, row, strict=True))
            assert ours == ours | {name: value for name, value in wanted.items() if name in ours}


def _addresses(numbers: list[int], kinds: list[str]) -> EngineSheets:
    rows = [
        {"Loco": f"E{n}", "Address": number, "Address kind": kind, "Owner": "M02" if n % 3 else "M01"}
        for n, (number, kind) in enumerate(product(numbers, kinds))
    ]
    # More than some thousand rows are too many for the count of clashes in Gnumeric.
    return EngineSheets(
        live(workbook(rows, ranges=_RANGES, layout={"Long from": 100}), counted=len(rows) < 500)
    )


def _settings(names: tuple[str, ...], *, every: bool) -> EngineSheets:
    columns = [_ENGINES[name] for name in names]
    spellings = [["", *(column.synonyms if every else column.choices), "sideways"] for column in columns]
    rows: list[dict[str, object]] = [
        {"Loco": f"E{n}", "Address": 100 + n}
        | {column.heading: typed for column, typed in zip(columns, some, strict=True)}
        for n, some in enumerate(product(*spellings))
    ]
    readings = [{"Loco": f"E{n}", "CV": 29, "Value": n % 128} for n in range(0, min(len(rows), 600), 2)]
    return EngineSheets(live(workbook(rows, readings=readings), counted=False))


@PROGRAMS
def test_a_sample_of_addresses_and_of_settings(program: Program, tmp_path: Path) -> None:
    numbers = [0, 1, 2, 3, 96, 99, 100, 127, 128, 255, 256, 999, 1000, 5000, 5050, 9999, 10239, 10240]
    sheets = [_addresses(numbers, ["", "short", "L"]), _settings(("direction", "speed_steps"), every=True)]

    _agree(program, sheets, tmp_path)


@PROGRAMS
def test_what_members_type_that_is_out_of_the_ordinary(program: Program, tmp_path: Path) -> None:
    labels = ["A", "a ", "B?", "B*", "~", "C 1", "c1", "", "'D'", "+E", '"', "007", "12"]
    addresses = ["25", " 26 ", "007", "x1", "3.5", "2 5", "1e3", "", 3.5, -4, 128, 25, 4444]
    rows = [
        {"Loco": loco, "Address": address, "Decoder": decoder, "Lock": lock, "Owner": owner}
        | {"Speed curve": "table", "Speed table": table}
        for loco, address, decoder, lock, owner, table in zip(
            labels,
            addresses,
            ["", "plain", "PLAIN", "odd", "~*?", "p*", "", "plain ", "x", "", "", "", ""],
            ["", 1, "17", 240, "x", 239, "", "", 0, "", "", "", ""],
            ["M01", "m 01", "M02", "", "M*", "M01", "M01", "", "", "", "", "M01", "M?"],
            ["", "good", "gap", "falls", "nowhere", "g?od", "GOOD", "", "", "", "", "", ""],
            strict=True,
        )
    ]
    tables = [
        {"Table": "good"} | _STEPS,
        {"Table": "gap"} | _STEPS | {"7": ""},
        {"Table": "falls"} | _STEPS | {"28": 3},
    ]
    consists = [
        {"Consist": "Coal", "Address": 25, "Loco": "B?"},
        {"Consist": "coal", "Address": 25, "Loco": "a"},
        {"Consist": "Ore", "Address": 4444, "Loco": "nobody"},
    ]
    source = workbook(
        rows,
        tables=tables,
        consists=consists,
        ranges=_RANGES,
        decoders=[{"Decoder": "plain", "Version": 1}, {"Decoder": "~*?", "Version": ""}],
        readings=[{"Loco": "B*", "CV": 29, "Value": 70}, {"Loco": "~", "CV": 29, "Value": 4}],
        layout={"Short addresses": "1 \u2013 99", "Long address range": "128 to 9999", "Speed steps": 14},
    )
    sheets = [EngineSheets(live(source)), EngineSheets(live(source, counted=False))]

    for one, found in zip(sheets, program(sheets, tmp_path), strict=True):
        assert found == one.evaluated()


@pytest.mark.domain
@PROGRAMS
def test_every_address_of_every_kind(program: Program, tmp_path: Path) -> None:
    _agree(program, [_addresses(list(range(10242)), [kind]) for kind in ("", "short", "long")], tmp_path)


@pytest.mark.domain
@PROGRAMS
def test_every_spelling_of_every_two_settings_and_every_choice_of_all(
    program: Program, tmp_path: Path
) -> None:
    pairs = [_settings((one, other), every=True) for one in _SETTINGS for other in _SETTINGS if one < other]

    _agree(program, [*pairs, _settings(_SETTINGS, every=False)], tmp_path)

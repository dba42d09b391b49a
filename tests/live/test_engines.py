"""The formulas of Locomotives give what the tool's own code gives, for every address and every setting."""

from itertools import product

import pytest

from rosterkit.roster.schema import sheet
from rosterkit.xlsx.grid import Workbook
from tests.live.workbooks import Live, live
from tests.rosters import workbook

_ENGINES = sheet("Locomotives")


def _differing(source: Workbook) -> list[tuple[int, str, object, object]]:
    """Return where a formula shows something else than the tool computes: row, column, both values."""
    made = live(source)
    return _differences(made)


def _differences(made: Live) -> list[tuple[int, str, object, object]]:
    return [
        (made.roster.engines[index].table.rows[index], name, value, made.value(name, index))
        for index, row in enumerate(made.wanted())
        for name, value in row.items()
        if name in made.formulas and made.value(name, index) != value
    ]


def _spellings(name: str) -> list[str]:
    column = _ENGINES[name]
    return ["", *column.synonyms, *(choice.upper() for choice in column.choices), "sideways"]


@pytest.mark.parametrize(
    "layout",
    [
        pytest.param({}, id="without a word of the layout"),
        pytest.param({"Long addresses from": 100}, id="long from 100"),
        pytest.param({"Short address range": "1 - 99"}, id="short addresses to 99"),
        pytest.param(
            {"Short addresses": "1\u201350"}, id="short addresses under another heading, with a dash"
        ),
        pytest.param(
            {"Short address range": "99-1"}, id="a range of short addresses that ends before it begins"
        ),
        pytest.param({"Short address range": "all", "Long from": "x"}, id="settings that nobody understands"),
    ],
)
def test_each_address_of_each_kind_gives_the_tools_own_values(layout: dict[str, object]) -> None:
    numbers = [*range(131), *range(250, 260), 1000, 5201, 9999, 10000, 10238, 10239, 10240, 99999]
    kinds = ["", "short", "long", "S", "L", "Long ", "middle"]
    rows = [
        {"Loco": f"E{n}", "Address": number, "Address kind": kind}
        for n, (number, kind) in enumerate(product(numbers, kinds))
    ]

    assert _differing(workbook(rows, layout=layout)) == []


@pytest.mark.parametrize("typed", ["25", " 25 ", "007", 25.0], ids=repr)
def test_a_whole_number_may_be_typed_as_its_digits(typed: str | float) -> None:
    made = live(workbook([{"Loco": "A", "Address": typed}]))

    assert made.value("answers", 0) == made.value("cv1", 0) == int(typed)


@pytest.mark.parametrize("typed", ["", "abc", "2 5", "3,5", 3.5, "1e3", -4, 0, "12a", "0x10"], ids=repr)
def test_what_is_no_address_leaves_all_cvs_blank(typed: str | float) -> None:
    made = live(workbook([{"Loco": "A", "Address": typed}]))

    assert {made.value(name, 0) for name in ("answers", "cv1", "cv17", "cv18", "cv19", "cv29")} == {""}


def test_each_spelling_of_each_setting_gives_the_tools_own_cv29() -> None:
    names = ("direction", "speed_steps", "dc_operation", "bidi", "speed_curve")
    each = [(name, spelling) for name in names for spelling in _spellings(name)]
    together = [dict(zip(names, some, strict=True)) for some in product(*(_some(name) for name in names))]
    rows = [{"Loco": f"A{n}", "Address": 5} | _headed({name: s}) for n, (name, s) in enumerate(each)]
    rows += [{"Loco": f"B{n}", "Address": 505} | _headed(some) for n, some in enumerate(together)]
    columns = {_ENGINES[name].heading: "" for name in names}

    assert _differing(workbook([rows[0] | columns | rows[0], *rows[1:]])) == []
    assert _differing(workbook(rows[:3], layout={"Speed steps": "14"})) == []


def _some(name: str) -> tuple[str, ...]:
    return ("", *_ENGINES[name].choices)


def _headed(settings: dict[str, str]) -> dict[str, object]:
    return {_ENGINES[name].heading: spelling for name, spelling in settings.items()}


@pytest.mark.parametrize("steps", ["14", "28/128"])
def test_blank_settings_keep_the_bits_of_every_last_reading(steps: str) -> None:
    readings = [{"Loco": f"E{read}", "CV": 29, "Value": read} for read in range(256)]
    names = ("direction", "speed_steps", "dc_operation", "bidi", "speed_curve")
    settings = [{}, {"direction": "normal"}, {"speed_steps": "14", "bidi": "on"}, {"speed_curve": "table"}]
    rows = [
        {"Loco": f"E{read}", "Address": address} | _headed(dict.fromkeys(names, "") | some)
        for read in range(256)
        for address in (25, 2500)
        for some in settings
    ]

    assert _differing(workbook(rows, layout={"Speed steps": steps}, readings=readings)) == []


def test_the_newest_reading_counts_by_a_label_in_any_spelling() -> None:
    made = live(
        workbook(
            [{"Loco": label, "Address": n} for n, label in enumerate(("NE 1", "ne2", "Q?", "Q*", "~"), 10)],
            readings=[
                {"Loco": "ne 1", "CV": 29, "Value": 6},
                {"Loco": "NE1", "CV": 29, "Value": 4},
                {"Loco": "Q?", "CV": 29, "Value": 1},
                {"Loco": "~", "CV": 29, "Value": 2},
            ],
        )
    )

    assert [made.value("cv29_read", index) for index in range(5)] == [4, "", 1, "", 2]
    assert _differences(made) == []


@pytest.mark.parametrize("lock", ["", 1, 239, "17", 0, 240, "x", 3.5], ids=repr)
def test_a_lock_that_is_none_leaves_all_cvs_blank(lock: object) -> None:
    assert _differing(workbook([{"Loco": "A", "Address": 5, "Lock": lock}])) == []


_STEPS = {str(step): 8 * step for step in range(1, 29)}


@pytest.mark.parametrize("named", ["", "good", "GOOD", "gap", "falls", "nowhere", "large"])
@pytest.mark.parametrize("curve", ["table", "3-point", ""])
def test_a_table_that_cannot_be_keyed_in_leaves_its_bit(named: str, curve: str) -> None:
    tables = [
        {"Table": "good"} | _STEPS,
        {"Table": "gap"} | _STEPS | {"7": ""},
        {"Table": "falls"} | _STEPS | {"28": 3},
        {"Table": "large"} | _STEPS | {"28": 256},
    ]
    engine = {"Loco": "A", "Address": 5, "Speed curve": curve, "Speed table": named}
    readings = [{"Loco": "A", "CV": 29, "Value": 16}]
    made = live(workbook([engine], tables=tables, readings=readings))

    if named == "large" and curve == "table":
        # What is no drive level may be typed in many ways: where it is not clear, nothing is shown.
        assert made.value("cv29", 0) == ""
    else:
        assert _differences(made) == []
    assert _differing(workbook([engine], tables=tables[:1])) == [] or named == "large"


def test_spare_rows_show_nothing() -> None:
    made = live(workbook([{"Loco": "A", "Address": 5}]))

    assert set(made.row(1).values()) | set(made.row(3).values()) == {""}


def test_columns_that_are_missing_are_left_out() -> None:
    made = live(workbook([{"Loco": "A", "Address": 300}]))

    assert "LOWER" not in made.formulas["cv29"]
    assert made.row(0) == dict.fromkeys(made.formulas, "") | {
        "answers": -300,
        "cv17": 193,
        "cv18": 44,
        "cv19": 0,
        "cv29": 34,
    }

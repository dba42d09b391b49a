"""Timed runs in a real workbook, speed and fill run on it, and the CVs of its cards keyed in."""

import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from jsonschema import Draft202012Validator
from openpyxl import load_workbook

from rosterkit.commands.new.demo_club import demo_club
from rosterkit.planning.speed.timed_run import Way
from rosterkit.roster.schema import schema_file
from rosterkit.standards.scales import SCALES
from rosterkit.template.new_workbook import new_workbook
from tests.command_line import Ran, run
from tests.planning.speed.runs import timed_runs
from tests.planning.speed.simulator import CHARACTERS, DRIVES, Motor, speeds, timed
from tests.xlsx.chart_reading import charts_of

PAIR = {"A": CHARACTERS["a fast one that saturates early"], "B": CHARACTERS["a stiff one, slower reverse"]}


def simulated_runs(loco: str, motor: Motor, noise: float = 0.0) -> list[dict[str, Any]]:
    ratio = SCALES["H0"].ratio
    return [
        {
            "loco": loco,
            "way": each.way.value,
            "drive": each.drive,
            "distance": round(each.kmh / 3.6 / ratio * 12_000, 2),
            **({"time": 12} if each.kmh else {}),
        }
        for each in timed(motor, DRIVES, noise=noise)
    ]


def club(path: Path, runs: list[dict[str, Any]], goals: list[dict[str, Any]], **others: Any) -> Path:
    engines = others.pop("engines", [{"loco": "A", "address": 12}, {"loco": "B", "address": 13}])
    records = {
        "Layout": [{"scale": "H0", **others.pop("layout", {})}],
        "Locomotives": engines,
        "Speed runs": runs,
        "Speed goals": goals,
        **others.pop("more", {}),
    }
    path.write_bytes(new_workbook(records))
    return path


def keyed_in(path: Path, loco: str) -> dict[int, int]:
    cards = json.loads(run("cards", path, "--loco", loco, "--format", "json").out)["cards"]
    return {step["cv"]: step["value"] for step in cards[0]["steps"] if step["value"] is not None}


def rows(path: Path, title: str) -> list[dict[str, Any]]:
    sheet = load_workbook(path)[title]
    lines: list[list[Any]] = [[cell.value for cell in row] for row in sheet.iter_rows()]
    return [dict(zip(lines[0], line, strict=True)) for line in lines[1:] if any(line)]


def row_of(path: Path, title: str, loco: str) -> Mapping[str, Any]:
    return next(row for row in rows(path, title) if loco in (row.get("Loco"), row.get("Table")))


@pytest.mark.parametrize(("noise", "most"), [(0.0, 0.03), (0.03, 0.06)], ids=["no noise", "3 % noise"])
@pytest.mark.parametrize("motor", CHARACTERS.values(), ids=CHARACTERS)
def test_the_cvs_on_the_card_bring_the_engine_to_its_goal(
    tmp_path: Path, motor: Motor, noise: float, most: float
) -> None:
    goal = {"loco": "A", "top": 100}
    path = club(tmp_path / "club.xlsx", simulated_runs("A", motor, noise), [goal])

    assert run("speed", path).status == 0
    assert run("fill", path).status == 0
    cvs = keyed_in(path, "A")

    wanted = np.linspace(100 / 28, 100, 28)
    runs = [np.array(speeds(motor, cvs, way)) for way in Way]
    assert cvs[29] & 16
    assert min(each[0] for each in runs) > 0
    # A step below the slowest speed that the engine can run is as slow as it can.
    floor = max(motor.kmh(next(d for d in DRIVES if motor.kmh(d, way) > 0), way) for way in Way)
    line = np.maximum(wanted, floor + (100 - floor) * np.arange(28) / 27)
    assert max(np.abs(each - line).max() for each in runs) / 100 < most


def test_a_matched_pair_runs_alike_by_the_cvs_on_its_cards(tmp_path: Path) -> None:
    runs = [row for loco, motor in PAIR.items() for row in simulated_runs(loco, motor)]
    path = club(tmp_path / "club.xlsx", runs, [{"loco": "A", "match": "B"}])

    run("speed", path)
    run("fill", path)

    keyed = {loco: keyed_in(path, loco) for loco in PAIR}
    each = np.array([speeds(motor, keyed[loco], way) for loco, motor in PAIR.items() for way in Way])
    assert (np.ptp(each, axis=0)[1:] / each.max()).max() < 0.03


def test_speed_writes_table_trims_and_what_the_engine_refers_to(tmp_path: Path) -> None:
    path = club(
        tmp_path / "club.xlsx", timed_runs("A"), [{"loco": "A", "top": 100, "seconds": 9, "stops": 800}]
    )

    ran = run("speed", path)

    engine, goal = row_of(path, "Locomotives", "A"), row_of(path, "Speed goals", "A")
    table = row_of(path, "Speed tables", "A timed")
    entries = [table[str(step)] for step in range(1, 29)]
    assert ran.status == 0
    assert (engine["Speed table"], engine["Speed curve"], engine["Acceleration"]) == ("A timed", "table", 10)
    assert entries == sorted(set(entries))
    assert goal["Table sum"] == sum(entries)
    assert goal["CV4"] == engine["Deceleration"]
    assert goal["Stopping distance"] <= 800
    assert {(row["CV"], row["Value"]) for row in rows(path, "Extra values")} == {(66, 128), (95, 128)}


def test_new_rows_pass_a_remark_over_and_come_under_the_filter(tmp_path: Path) -> None:
    path = club(tmp_path / "club.xlsx", timed_runs("A"), [{"loco": "A", "top": 100, "seconds": 9}])
    book = load_workbook(path)
    book["Extra values"]["J2"] = "trims, when the motors are run in"
    book.save(path)

    run("speed", path)

    sheet = load_workbook(path)["Extra values"]
    assert [cell.value for cell in sheet["B"][:5]] == ["CV", None, 66, 95, None]
    assert sheet["J2"].value == "trims, when the motors are run in"
    assert (sheet.auto_filter.ref or "").endswith("4")


def test_running_speed_again_writes_nothing(tmp_path: Path) -> None:
    path = club(tmp_path / "club.xlsx", timed_runs("A"), [{"loco": "A", "top": 100, "seconds": 9}])
    run("speed", path)
    before = path.read_bytes()

    again = run("speed", path)

    assert again.err.splitlines()[0] == f"{path} is filled already; nothing was written"
    assert path.read_bytes() == before


def test_other_runs_bring_other_values_over_what_speed_wrote(tmp_path: Path) -> None:
    path = club(tmp_path / "club.xlsx", timed_runs("A"), [{"loco": "A", "top": 100, "seconds": 9}])
    run("speed", path)
    book = load_workbook(path)
    top = next(cell for cell in book["Speed goals"][1] if cell.value == "Top speed").column
    seconds = next(cell for cell in book["Speed goals"][1] if cell.value == "Seconds to top").column
    book["Speed goals"].cell(2, top, 60)
    book["Speed goals"].cell(2, seconds, 18)
    book.save(path)

    run("speed", path)

    assert row_of(path, "Locomotives", "A")["Acceleration"] == 20
    assert row_of(path, "Speed goals", "A")["Reaches"] == pytest.approx(60, abs=1)
    assert [row["Table"] for row in rows(path, "Speed tables")] == ["A timed"]


def test_a_table_that_the_member_changed_is_left_alone(tmp_path: Path) -> None:
    path = club(tmp_path / "club.xlsx", timed_runs("A"), [{"loco": "A", "top": 100}])
    run("speed", path)
    book = load_workbook(path)
    book["Speed tables"].cell(2, 9, 99)
    book["Speed goals"].cell(2, 2, 60)
    book.save(path)
    before = rows(path, "Speed tables")

    ran = run("speed", path)

    assert "entry-in-the-way" in ran.out
    assert rows(path, "Speed tables") == before


def test_what_a_member_typed_stays(tmp_path: Path) -> None:
    engine = {"loco": "A", "address": 12, "acceleration": 3, "speed_table": "Mine", "speed_curve": "table"}
    table = {"label": "Mine"} | {f"step{step}": 8 * step for step in range(1, 29)}
    trim = {"loco": "A", "cv": 66, "value": 100}
    path = club(
        tmp_path / "club.xlsx",
        timed_runs("A"),
        [{"loco": "A", "top": 100, "seconds": 9}],
        engines=[engine],
        more={"Speed tables": [table], "Extra values": [trim]},
    )

    ran = run("speed", path)

    standing = row_of(path, "Locomotives", "A")
    assert (standing["Acceleration"], standing["Speed table"]) == (3, "Mine")
    assert rows(path, "Extra values")[0]["Value"] == 100
    assert row_of(path, "Speed tables", "Mine")["28"] == 224
    assert ran.out.count("warning entry-in-the-way") == 3


def test_a_decoder_without_a_table_gets_three_values(tmp_path: Path) -> None:
    kind = {"decoder": "Small", "manufacturer_id": 13, "speed_table": "no"}
    engine = {"loco": "A", "address": 12, "decoder": "Small"}
    path = club(
        tmp_path / "club.xlsx",
        timed_runs("A"),
        [{"loco": "A", "top": 100}],
        engines=[engine],
        more={"Decoder types": [kind]},
    )

    run("speed", path)

    standing, goal = row_of(path, "Locomotives", "A"), row_of(path, "Speed goals", "A")
    cvs = keyed_in(path, "A")
    assert 15 <= standing["Vstart"] < standing["Vmid"] < standing["Vhigh"] <= 255
    assert (goal["CV2"], goal["CV6"], goal["CV5"]) == (
        standing["Vstart"],
        standing["Vmid"],
        standing["Vhigh"],
    )
    assert cvs[29] & 16 == 0
    assert standing["Speed table"] is None


def test_runs_get_their_scale_speed_and_what_timing_leaves_open(tmp_path: Path) -> None:
    run_of_a_metre = {"loco": "A", "drive": 90, "distance": 100, "distance_unit": "cm", "time": 10}
    path = club(tmp_path / "club.xlsx", [run_of_a_metre], [])

    run("fill", path)

    # NEM 010 (2011): H0 is 1:87, so 1 m in 10 s is 31.32 km/h; 0.2 s of 10 s are 2 %.
    first = row_of(path, "Speed runs", "A")
    assert (first["Scale speed"], first["Timing error"]) == (31.3, 2)


@pytest.mark.parametrize(
    ("unit", "distance", "laps", "speed"),
    [
        pytest.param("mph", (72, "in", 5.9386), 1, 60, id="72 inches"),
        pytest.param("mph", (6, "ft", 5.9386), 1, 60, id="6 feet"),
        pytest.param("mph", (12, "in", 5.9386), 6, 60, id="6 laps of 1 foot"),
        pytest.param("km/h", (1, "m", 10), 1, 31.4, id="1 m in 10 s"),
    ],
)
def test_a_scale_speed_in_the_layout_s_unit(
    tmp_path: Path, unit: str, distance: tuple[float, str, float], laps: int, speed: float
) -> None:
    length, length_unit, seconds = distance
    row = {"loco": "A", "drive": 90, "laps": laps, "distance": length}
    row |= {"distance_unit": length_unit, "time": seconds}
    path = club(tmp_path / "club.xlsx", [row], [], layout={"scale": "HO", "speed_unit": unit})

    run("fill", path)

    # HO is 3.5 mm to the foot (NMRA, secondary source); the rest is arithmetic.
    assert row_of(path, "Speed runs", "A")["Scale speed"] == speed


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Ran, dict[str, Any]]:
    folder = tmp_path_factory.mktemp("demo")
    path = folder / "demo.xlsx"
    path.write_bytes(new_workbook(demo_club()))
    text = run("speed", path, "-o", folder / "text.xlsx")
    machine = json.loads(run("speed", path, "--format", "json", "-o", folder / "json.xlsx").out)
    return folder / "text.xlsx", text, machine


def test_the_json_fits_its_schema(demo: tuple[Path, Ran, dict[str, Any]]) -> None:
    Draft202012Validator(schema_file("outputs/speed.json")).validate(demo[2])


def test_the_demo_club_has_four_timed_engines_two_of_them_a_pair(
    demo: tuple[Path, Ran, dict[str, Any]],
) -> None:
    engines = {each["loco"]: each for each in demo[2]["engines"]}

    assert list(engines) == ["JV 2101", "JV 2102", "NE 5201", "KC 12"]
    assert engines["JV 2101"]["matches"] == ["JV 2102"]
    assert max(engines["JV 2101"]["mismatch_percent"][1:]) < 3
    assert engines["KC 12"]["entries"] == []
    assert all(each["worst_error_percent"] < 3 for each in engines.values())


def test_text_and_json_give_the_same_figures(demo: tuple[Path, Ran, dict[str, Any]]) -> None:
    _, text, machine = demo

    for engine in machine["engines"]:
        reached = engine["reached"]
        assert f"{engine['loco']}: {engine['shape']}, {reached['speed']} km/h at the top step" in text.out
        assert all(f"CV{cv} = {value}" in text.out for cv, value in engine["cvs"].items())
        shown = [each for each in engine["steps"] if each["step"] in (1, 12, 28)]
        for each in shown:
            forward = each["forward"]["speed"]
            line = f"{each['step']:4}  {each['drive']:5g}  {each['wanted']:6.1f}  {forward:8.1f}"
            assert line in text.out
    assert text.out.count(" warning ") == sum(f["severity"] == "warning" for f in machine["findings"])


def test_the_sheet_speed_has_a_chart_for_each_engine(demo: tuple[Path, Ran, dict[str, Any]]) -> None:
    charts = charts_of(demo[0], "Speed")

    assert [len(chart.series) for chart in charts] == [5, 5, 5, 3]


def test_without_runs_nothing_is_written(tmp_path: Path) -> None:
    path = club(tmp_path / "club.xlsx", [], [])
    before = path.read_bytes()

    ran = run("speed", path)

    assert ran.status == 2
    assert "there are no timed runs" in ran.err
    assert path.read_bytes() == before


def test_an_engine_timed_once_is_said_to_be_timed_at_one_point(tmp_path: Path) -> None:
    path = club(tmp_path / "club.xlsx", simulated_runs("A", PAIR["A"])[-1:], [{"loco": "A", "top": 100}])

    assert run("speed", path).out.splitlines()[0] == "A: timed at 1 point"


def test_a_workbook_without_the_sheets_for_tables_and_extra_values_gets_them(tmp_path: Path) -> None:
    path = club(tmp_path / "club.xlsx", timed_runs("A"), [{"loco": "A", "top": 100}])
    book = load_workbook(path)
    del book["Speed tables"], book["Extra values"]
    book.save(path)

    run("speed", path)
    cvs = keyed_in(path, "A")

    assert [cvs[cv] for cv in (66, 95)] == [128, 128]
    assert 67 in cvs
    assert 94 in cvs


def test_a_run_that_cannot_be_read_is_reported_by_speed_too(tmp_path: Path) -> None:
    unread = {"loco": "A", "way": "forward", "drive": 40, "distance": 1000, "time": "ten"}
    path = club(
        tmp_path / "club.xlsx", [*simulated_runs("A", PAIR["A"]), unread], [{"loco": "A", "top": 100}]
    )

    ran = run("speed", path)

    assert ran.status == 1
    assert "error value-not-allowed: [A, Time] 'ten' is not a number" in ran.out

"""Free addresses over workbooks, and the command that prints them."""

import json
from collections.abc import Mapping, Sequence
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from jsonschema import Draft202012Validator
from typer.testing import CliRunner

from rosterkit.cli.app import app
from rosterkit.commands.free.command import devices_of, free
from rosterkit.cv.accessory import devices_in
from rosterkit.errors import CannotRunError
from rosterkit.planning.addresses import Wanted, free_accessories
from rosterkit.planning.addresses.from_roster import layout_rules_of
from rosterkit.roster.model import Roster
from rosterkit.roster.schema import schema_file
from rosterkit.template.new_workbook import new_workbook
from tests.packets import basic_packet, decoder_of_packet
from tests.rosters import brief, findings, roster

Cell = str | int | float | None
Records = Mapping[str, Sequence[Mapping[str, Cell]]]


def book(path: Path, *, scale: str = "HO", **engine: str | int) -> Path:
    rows: Records = {
        "Layout": [{"scale": scale, "short_range": "1-9"}],
        "Locomotives": [{"loco": "A", **engine}],
    }
    path.write_bytes(new_workbook(rows))
    return path


def numbers(paths: list[Path], wanted: Wanted, most: int = 20) -> list[int]:
    return [one.number for one in free(paths, wanted, most).addresses]


def test_home_and_meet_addresses_of_all_workbooks_are_taken(tmp_path: Path) -> None:
    one = book(tmp_path / "a.xlsx", address=1, meet_address=4)
    other = book(tmp_path / "b.xlsx", address=5)

    assert numbers([one, other], Wanted(kind="short")) == [2, 6, 7, 8, 9]


def test_engines_of_another_gauge_take_nothing_away(tmp_path: Path) -> None:
    one = book(tmp_path / "a.xlsx", address=1)
    other = book(tmp_path / "b.xlsx", address=2, scale="N")

    assert numbers([one, other], Wanted(kind="short"), 2) == [2, 4]


def test_a_cell_that_cannot_be_understood_is_named_since_its_address_may_be_in_use(tmp_path: Path) -> None:
    one = book(tmp_path / "a.xlsx", address="short 4")
    other = book(tmp_path / "b.xlsx", address=5)

    ran = CliRunner().invoke(app, ["free", str(one), str(other), "--kind", "short", "--count", "2"])

    assert ran.exit_code == 0
    assert [line.split()[1] for line in ran.stdout.splitlines()] == ["1", "2"]
    assert ran.stderr == (
        f"rosterkit: a cell with an address cannot be understood ({one}!Locomotives!I2), and what it means "
        "may be called free. Run 'rosterkit check' first.\n"
    )


def test_an_engine_without_an_address_takes_nothing_and_is_no_doubt(tmp_path: Path) -> None:
    path = book(tmp_path / "a.xlsx", owner="M01")

    ran = CliRunner().invoke(app, ["free", str(path), "--kind", "short", "--count", "1"])

    assert (ran.stderr, ran.exit_code) == ("", 0)


def test_the_address_of_a_consist_is_taken(tmp_path: Path) -> None:
    path = tmp_path / "a.xlsx"
    consist: Mapping[str, Cell] = {
        "consist": "C",
        "address": 2,
        "position": 1,
        "loco": "A",
        "facing": "forward",
    }
    path.write_bytes(new_workbook({"Locomotives": [{"loco": "A", "address": 1}], "Consists": [consist]}))

    assert numbers([path], Wanted(kind="short"), 2) == [4, 5]


def test_a_workbook_that_cannot_be_read_stops_it_because_its_addresses_are_not_known(tmp_path: Path) -> None:
    one = book(tmp_path / "a.xlsx", address=1)
    broken = tmp_path / "b.xlsx"
    broken.write_bytes(b"PK\x03\x04 and no more")

    with pytest.raises(CannotRunError):
        free([one, broken], Wanted(), 5)


def test_the_json_form_is_as_its_schema_says(tmp_path: Path) -> None:
    path = book(tmp_path / "a.xlsx", address=1)

    result = CliRunner().invoke(
        app, ["free", str(path), "--near", "2107", "--count", "1", "--format", "json"]
    )

    document = json.loads(result.stdout)
    Draft202012Validator(schema_file("outputs/free.json")).validate(document)
    assert document == {"addresses": [{"kind": "long", "address": 2107, "because": "the number 2107 itself"}]}


def test_the_text_form_is_a_line_an_address(tmp_path: Path) -> None:
    path = book(tmp_path / "a.xlsx", address=1)

    result = CliRunner().invoke(app, ["free", str(path), "--kind", "short", "--near", "5", "--count", "2"])

    assert result.stdout.splitlines() == [
        "short        5  the number 5 itself",
        "short        4  the nearest free to 5",
    ]


def club(path: Path, *devices: tuple[int, str], offset: str = "0", scale: str = "HO") -> Path:
    rows: Records = {
        "Layout": [{"scale": scale, "accessory_offset": offset}],
        "Locomotives": [{"loco": "A", "address": 12}],
        "Accessories": [
            {"accessory": f"T{n}", "address": address, "method": method}
            for n, (address, method) in enumerate(devices)
        ],
    }
    path.write_bytes(new_workbook(rows))
    return path


@pytest.mark.parametrize(
    ("devices", "expected"),
    [
        pytest.param([(6, "decoder")], [1, 2, 3, 4, 9, 10], id="a decoder takes its four"),
        pytest.param([(6, "output")], [1, 2, 3, 4, 5, 7], id="an output takes its own number only"),
        pytest.param([(1, "output"), (2, "decoder")], [5, 6, 7, 8, 9, 10], id="both take all of both"),
    ],
)
def test_what_devices_take(tmp_path: Path, devices: list[tuple[int, str]], expected: list[int]) -> None:
    path = club(tmp_path / "a.xlsx", *devices)

    assert numbers([path], Wanted(kind="accessory"), 6) == expected


def test_devices_of_all_workbooks_on_the_same_rails_take_what_they_answer_there(tmp_path: Path) -> None:
    one = club(tmp_path / "a.xlsx", (1, "output"))
    lower = club(tmp_path / "b.xlsx", (6, "output"), offset="4")
    elsewhere = club(tmp_path / "c.xlsx", (3, "decoder"), scale="N")

    assert numbers([one, lower, elsewhere], Wanted(kind="accessory"), 4) == [3, 4, 5, 6]


def test_an_engine_takes_no_number_of_a_device_and_the_other_way_round(tmp_path: Path) -> None:
    path = club(tmp_path / "a.xlsx", (1, "output"))

    assert numbers([path], Wanted(kind="accessory", near="12"), 1) == [12]
    assert numbers([path], Wanted(kind="short", near="1"), 1) == [1]


def test_the_command_offers_numbers_of_devices_in_both_forms(tmp_path: Path) -> None:
    words = ["free", str(club(tmp_path / "a.xlsx", (1, "output"))), "--kind", "accessory", "--count", "1"]

    text = CliRunner().invoke(app, words)
    form = CliRunner().invoke(app, [*words, "--format", "json"])

    because = "the lowest free; with Method output only: another of its four is in use"
    assert text.stdout == f"accessory     2  {because}\n"
    Draft202012Validator(schema_file("outputs/free.json")).validate(json.loads(form.stdout))
    assert json.loads(form.stdout) == {"addresses": [{"kind": "accessory", "address": 2, "because": because}]}


_DEVICES = st.lists(st.tuples(st.integers(1, 2048), st.sampled_from(["decoder", "output"])), max_size=12)
_LOW = st.integers(1, 60)
_RANGES = st.lists(
    st.tuples(
        _LOW,
        st.integers(0, 60),
        st.sampled_from(["devices", "engines", "meet only", "consists", "new decoders", "never"]),
        st.sampled_from(["", "M01", "M02"]),
    ),
    max_size=4,
)


def _layout(
    devices: Sequence[tuple[int, str]], ranges: Sequence[tuple[int, int, str, str]], offset: str
) -> Roster:
    return roster(
        [{"Loco": "A", "Address": 12}],
        layout={"Accessory offset": offset},
        ranges=[
            {"Kind": "accessory", "From": first, "To": first + more, "Use": use, "Member": member}
            for first, more, use, member in ranges
        ],
        accessories=[
            {"Accessory": f"T{n}", "Address": address, "Method": method}
            for n, (address, method) in enumerate(devices)
        ],
    )


def _packets(club: Roster) -> list[tuple[bytes, int, str | None]]:
    """Return the packet that each device answers, its decoder by the packet's bits, and its method."""
    found = []
    for one in devices_in(club):
        packet = basic_packet(one.called, second_output=False)
        found.append((packet, decoder_of_packet(packet[0], packet[1]), one.row.method))
    return found


@given(_DEVICES, _RANGES, st.sampled_from(["0", "4"]), st.sampled_from([None, "M01"]), st.integers(1, 70))
def test_no_offered_number_sends_a_packet_that_a_device_answers(
    devices: list[tuple[int, str]],
    ranges: list[tuple[int, int, str, str]],
    offset: str,
    member: str | None,
    near: int,
) -> None:
    club = _layout([*devices, (near, "output")], ranges, offset)

    found = free_accessories(
        devices_of(club), layout_rules_of([club]), Wanted(kind="accessory", member=member, near=str(near)), 30
    )

    in_use = _packets(club)
    taken = {packet for packet, _, _ in in_use}
    whole = {decoder for _, decoder, method in in_use if method == "decoder"}
    offered = _packets(_layout([(one.number, "output") for one in found], (), offset))
    assert len(offered) == len({packet for packet, _, _ in offered}) == len(found)
    for packet, decoder, _ in offered:
        assert packet not in taken
        assert decoder not in whole
        assert decoder != 511, "NMRA S-9.2.1 (Jul 2012), section D: the broadcast"


_CHECKS = {"accessory-address-shared", "accessory-address-reserved", "accessory-outside-range"}


@given(_DEVICES, _RANGES, st.sampled_from(["0", "4"]), st.integers(1, 70), st.booleans())
def test_the_checks_have_nothing_to_say_of_what_is_offered(
    devices: list[tuple[int, str]],
    ranges: list[tuple[int, int, str, str]],
    offset: str,
    near: int,
    for_meet: bool,
) -> None:
    club = _layout(devices, ranges, offset)
    wanted = Wanted(kind="accessory", near=str(near), for_meet=for_meet)

    found = free_accessories(devices_of(club), layout_rules_of([club]), wanted, 4)

    for one in found:
        method = "output" if "Method output only" in one.because else "decoder"
        after = _layout([*devices, (one.number, method)], ranges, offset)
        cell = f"B{len(devices) + 2}"
        said = [
            rule
            for rule, place, _ in brief(findings(after, meet=for_meet))
            if rule in _CHECKS and place == cell
        ]
        assert said == []


def test_only_the_first_is_called_the_lowest_and_the_others_come_next(tmp_path: Path) -> None:
    path = book(tmp_path / "club.xlsx", address=5)

    found = free([path], Wanted(kind="short"), 3).addresses

    assert [(one.number, one.because) for one in found] == [
        (1, "the lowest free"),
        (2, "next free"),
        (4, "next free"),
    ]

"""Free numbers of turnouts and signals: what is offered first, and what never is.

Packet addresses and the four of a decoder: NMRA S-9.2.1 (Jul 2012), section D; turnout 1 is packet address 4:
RCN-225 (27.07.2025), section 3.1.
"""

import pytest

from rosterkit.planning.addresses import Devices, LayoutRules, NumberRange, Wanted, free_accessories


def rules(*ranges: tuple[int, int, str, str | None], kind: str = "accessory") -> LayoutRules:
    return LayoutRules(
        ranges=tuple(
            NumberRange(kind=kind, first=first, last=last, use=use, member=member)
            for first, last, use, member in ranges
        )
    )


def listed(
    wanted: Wanted, most: int = 3, on: LayoutRules | None = None, devices: Devices | None = None
) -> list[tuple[int, str]]:
    found = free_accessories(devices or Devices(), on or rules(), wanted, most)
    assert {one.kind for one in found} <= {"accessory"}
    return [(one.number, one.because) for one in found]


def test_the_lowest_comes_first_where_nothing_is_asked_for() -> None:
    assert listed(Wanted(), 2) == [(1, "the lowest free"), (2, "the lowest free")]


def test_the_number_asked_for_comes_first_and_then_the_nearest() -> None:
    assert listed(Wanted(near="17"), 3) == [
        (17, "the number 17 itself"),
        (16, "the nearest free to 17"),
        (18, "the nearest free to 17"),
    ]


@pytest.mark.parametrize(("near", "shown"), [("20000", 20000), ("0020000", 20000), ("9" * 5000, 999999)])
def test_the_last_numbers_are_the_nearest_to_one_beyond_them(near: str, shown: int) -> None:
    assert listed(Wanted(near=near), 2) == [
        (2040, f"the nearest free to {shown}"),
        (2039, f"the nearest free to {shown}"),
    ]


def test_a_number_in_use_is_passed_over_and_the_rest_of_its_four_suit_output_decoders_only() -> None:
    only = "; with Method output only: another of its four is in use"

    found = listed(Wanted(near="17"), 5, devices=Devices(taken=frozenset({20})))

    assert found == [
        (16, "the nearest free to 17"),
        (18, f"the nearest free to 17{only}"),
        (15, "the nearest free to 17"),
        (19, f"the nearest free to 17{only}"),
        (14, "the nearest free to 17"),
    ]


def test_with_an_offset_of_4_every_number_calls_the_packet_address_four_lower() -> None:
    devices = Devices(taken=frozenset({20, 21, 22, 23}), offset=4)

    assert [number for number, _ in listed(Wanted(near="23"), 2, devices=devices)] == [25, 20]


def test_a_members_own_range_comes_first_and_what_is_everybodys_after_it() -> None:
    ranges = rules((1, 40, "devices", None), (41, 42, "devices", "M01"), (43, 44, "devices", "M02"))
    only = "; with Method output only: not all of its four are given out"

    assert listed(Wanted(member="m01", near="44"), 4, ranges) == [
        (42, f"in m01's range accessory 41 to 42{only}"),
        (41, f"in m01's range accessory 41 to 42{only}"),
        (40, "the nearest free to 44, in accessory 1 to 40"),
        (39, "the nearest free to 44, in accessory 1 to 40"),
    ]


@pytest.mark.parametrize(
    ("use", "at_home", "for_meet"),
    [
        ("devices", [1, 2, 5], [1, 2, 5]),
        ("engines", [1, 2, 5], [1, 2, 5]),
        ("meet only", [5], [1, 2, 5]),
        ("consists", [5], [5]),
        ("new decoders", [5], [5]),
        ("never", [5], [5]),
    ],
)
def test_what_a_range_is_for_decides(use: str, at_home: list[int], for_meet: list[int]) -> None:
    ranges = rules((1, 2, use, None), (5, 5, "devices", None))

    assert [number for number, _ in listed(Wanted(), 9, ranges)] == at_home
    assert [number for number, _ in listed(Wanted(for_meet=True), 9, ranges)] == for_meet


def test_the_smallest_range_that_holds_a_number_rules() -> None:
    ranges = rules((1, 6, "devices", None), (2, 4, "never", None), (3, 3, "devices", None))

    assert [number for number, _ in listed(Wanted(), 9, ranges)] == [1, 3, 5, 6]


@pytest.mark.parametrize(
    ("ranges", "lowest"),
    [
        pytest.param(rules((5, 9, "devices", None)), 5, id="none where a range gives them out"),
        pytest.param(rules((5, 9, "devices", "M02")), None, id="none where they are given out to others"),
        pytest.param(rules((1, 9, "never", None)), 10, id="any where ranges only keep some back"),
        pytest.param(
            rules((5, 9, "devices", None), kind="short"), 1, id="any where ranges are of another kind"
        ),
    ],
)
def test_numbers_outside_the_ranges(ranges: LayoutRules, lowest: int | None) -> None:
    numbers = [number for number, _ in listed(Wanted(member="M01"), 1, ranges)]

    assert numbers == ([] if lowest is None else [lowest])


@pytest.mark.parametrize("offset", [0, 4])
def test_the_broadcast_and_what_comes_after_it_are_never_offered(offset: int) -> None:
    found = listed(Wanted(near="2048"), 5000, devices=Devices(offset=offset))

    assert found[0] == (2040, "the nearest free to 2048")
    assert sorted(number for number, _ in found) == list(range(1, 2041))

"""Free addresses: what is offered first, and what never is."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from rosterkit.cv.addresses import Address, Space
from rosterkit.planning.addresses import LayoutRules, NumberRange, Wanted, free_addresses

CLUB = LayoutRules(
    shorts=range(1, 100),
    longs=range(128, 10000),
    address_rule="last four digits",
    ranges=(
        NumberRange(kind="short", first=1, last=79, use="engines"),
        NumberRange(kind="consist", first=80, last=99, use="consists"),
        NumberRange(kind="long", first=128, last=9999, use="engines"),
        NumberRange(kind="long", first=2110, last=2119, use="engines", member="M01"),
        NumberRange(kind="long", first=200, last=299, use="devices"),
        NumberRange(kind="long", first=9900, last=9999, use="meet only"),
    ),
)


def long(number: int) -> Address:
    return Address(Space.LONG, number)


def short(number: int) -> Address:
    return Address(Space.SHORT, number)


def listed(
    used: set[Address], wanted: Wanted, most: int, rules: LayoutRules = CLUB
) -> list[tuple[str, int, str]]:
    return [(one.kind, one.number, one.because) for one in free_addresses(used, rules, wanted, most)]


def test_the_number_on_the_engine_comes_first_and_then_its_second_choices() -> None:
    found = listed(set(), Wanted(near="47022"), 4)

    assert found == [
        ("long", 7022, "the last four digits of 47022"),
        ("long", 4722, "4722: 47022 with one digit dropped"),
        ("long", 4702, "4702: 47022 with one digit dropped"),
        ("long", 4022, "4022: 47022 with one digit dropped"),
    ]


def test_nothing_is_made_of_the_number_0() -> None:
    assert listed(set(), Wanted(near="0", kind="short"), 1) == [
        ("short", 1, "the nearest free to 0, in short 1 to 79")
    ]


def test_what_is_taken_is_passed_over() -> None:
    used = {long(2107), long(217), long(207), long(210)}

    found = listed(used, Wanted(near="2107"), 2)

    assert found == [
        ("long", 1107, "107 with 1000 added"),
        ("long", 3107, "107 with 3000 added"),
    ]


def test_a_member_without_a_number_is_offered_their_own_range_first() -> None:
    found = listed({long(2110)}, Wanted(kind="long", member="M01"), 2)

    assert found == [
        ("long", 2111, "in M01's range long 2110 to 2119"),
        ("long", 2112, "in M01's range long 2110 to 2119"),
    ]


def test_a_short_address_is_the_nearest_and_never_3() -> None:
    found = listed({short(2), short(5)}, Wanted(kind="short", near="3"), 3)

    assert [number for _, number, _ in found] == [4, 1, 6]


def test_consists_are_offered_what_is_kept_for_them() -> None:
    found = listed({short(80)}, Wanted(kind="consist"), 2)

    assert [(kind, number) for kind, number, _ in found] == [("consist", 81), ("consist", 82)]


def test_doubtful_addresses_come_only_where_they_are_asked_for() -> None:
    rules = LayoutRules()

    without = listed(set(), Wanted(kind="short", near="110"), 1, rules)
    asked = listed(set(), Wanted(kind="short", near="110", ambiguous=True), 1, rules)

    assert without[0][1] == 11
    assert asked == [("short", 110, "the number 110 itself")]


def test_what_is_lent_for_a_meet_comes_only_for_a_meet() -> None:
    at_home = listed(set(), Wanted(near="9950"), 1)
    away = listed(set(), Wanted(near="9950", for_meet=True), 1)

    assert at_home[0][1] == 995
    assert away == [("long", 9950, "the number 9950 itself")]


def test_nothing_is_offered_where_nothing_is_free() -> None:
    rules = LayoutRules(shorts=range(1, 4), longs=range(128, 129))

    assert listed({short(1), short(2)}, Wanted(kind="short"), 5, rules) == []


def test_an_unknown_kind_is_refused() -> None:
    with pytest.raises(ValueError, match="kind medium"):
        free_addresses([], CLUB, Wanted(kind="medium"))


_ADDRESSES = st.builds(Address, st.sampled_from(Space), st.integers(1, 300))


@given(
    st.sets(_ADDRESSES, max_size=80),
    st.sampled_from([None, "short", "long", "consist"]),
    st.sampled_from([None, "M01", "M02"]),
    st.sampled_from([None, "3", "47022", "115", "85", "4E2", "0203"]),
)
def test_no_free_address_is_used_reserved_or_somebody_elses(
    used: set[Address], kind: str | None, member: str | None, near: str | None
) -> None:
    found = free_addresses(used, CLUB, Wanted(kind=kind, member=member, near=near), 40)

    space = {"short": Space.SHORT, "long": Space.LONG, "consist": Space.SHORT}
    numbers = [(one.kind, one.number) for one in found]
    assert len(numbers) == len(set(numbers))
    for one in found:
        assert Address(space[one.kind], one.number) not in used
        assert one.because
        if one.kind == "short":
            assert one.number in range(1, 80)
            assert one.number != 3
        elif one.kind == "consist":
            assert one.number in range(80, 100)
        else:
            assert 128 <= one.number < 9900
            assert one.number not in range(200, 300)
            assert member == "M01" or one.number not in range(2110, 2120)

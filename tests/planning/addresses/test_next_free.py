"""The free address for each of many engines is one that ``free_addresses`` offers too."""

from hypothesis import given
from hypothesis import strategies as st

from rosterkit.cv.addresses import Address, Space
from rosterkit.planning.addresses import Wanted, free_addresses
from rosterkit.planning.addresses.next_free import NextFree
from tests.planning.addresses.test_free import CLUB

USED = st.sets(st.builds(Address, st.sampled_from(Space), st.integers(1, 10239)), max_size=40)


@given(
    USED, st.sampled_from(Space), st.sampled_from(["M01", "M02", None]), st.integers(1, 9999), st.booleans()
)
def test_what_is_proposed_is_offered_by_free(
    used: set[Address], space: Space, member: str | None, near: int, at_home: bool
) -> None:
    wanted = Wanted(kind=space.value, member=member, for_meet=not at_home)
    offered = {one.number for one in free_addresses(used, CLUB, wanted, 20000)}
    free = NextFree(used, CLUB)

    found = free.best(space, member, near=near, at_home=at_home)

    assert found is not None
    assert found.number in offered
    assert abs(found.number - near) == min(abs(number - near) for number in offered)
    assert free.is_free(found, member, at_home=at_home)


def test_the_number_on_the_engine_goes_before_the_nearest() -> None:
    free = NextFree({Address(Space.LONG, 2107)}, CLUB)

    assert free.best(Space.LONG, "M01", near=500, number="4711") == Address(Space.LONG, 4711)
    assert free.best(Space.LONG, "M01", near=500, number="2107") != Address(Space.LONG, 2107)


def test_where_all_are_used_there_is_none() -> None:
    free = NextFree({Address(Space.SHORT, number) for number in range(1, 128)}, CLUB)

    assert free.best(Space.SHORT, "M01", near=12) is None
    assert free.nearest_for_consist("M01", near=85) is None


def test_a_consist_gets_an_address_that_is_kept_for_consists() -> None:
    assert NextFree({Address(Space.SHORT, 80)}, CLUB).nearest_for_consist("M01", near=70) == 81

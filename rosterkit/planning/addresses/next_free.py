"""The free address for each of many engines, quickly: the layout's rules are worked out once."""

from collections.abc import Iterable

import numpy as np

from rosterkit.cv.addresses import Address, Space
from rosterkit.cv.number_to_address import choices_of
from rosterkit.planning.addresses.allowed import SIZE, AllowedAddresses, Flags, ambiguous
from rosterkit.planning.addresses.model import LayoutRules


class NextFree:
    """The free addresses of one layout: those that ``free_addresses`` offers."""

    def __init__(self, used: Iterable[Address], rules: LayoutRules) -> None:
        self._permitted = AllowedAddresses(rules)
        self._plain = {space: ~ambiguous(space) for space in Space}
        self._unused = {space: np.ones(SIZE, dtype=np.bool_) for space in Space}
        for address in used:
            if address.encodable:
                self._unused[address.space][address.number] = False

    def is_free(self, address: Address, member: str | None, *, at_home: bool = True) -> bool:
        """Tell whether a member's engine may have an address that nothing uses, at home or for a meet."""
        return address.encodable and bool(self._free(address.space, member, at_home=at_home)[address.number])

    def best(
        self, space: Space, member: str | None, *, near: int, number: str | None = None, at_home: bool = True
    ) -> Address | None:
        """Return a free address of a kind for a member's engine; None where there is none.

        By the number on the engine where one can be made of it, else the nearest to ``near``.
        """
        free = self._free(space, member, at_home=at_home)
        choices = choices_of(number, self._permitted.rules.address_rule)
        guessed = [(one.grade, abs(one.number - near), one.number) for one in choices if free[one.number]]
        numbers = np.flatnonzero(free)
        if not guessed and not len(numbers):
            return None
        found = min(guessed)[2] if guessed else int(numbers[np.abs(numbers - near).argmin()])
        return Address(space, found)

    def nearest_for_consist(self, member: str | None, *, near: int) -> int | None:
        """Return the free 7-bit consist address nearest to a number; None where there is none."""
        numbers = np.flatnonzero(self._permitted.for_consists(member) & self._unused[Space.SHORT])
        if not len(numbers):
            return None
        return int(numbers[np.abs(numbers - near).argmin()])

    def _free(self, space: Space, member: str | None, *, at_home: bool) -> Flags:
        allowed = self._permitted.allowed(space, member, at_home=at_home)
        free: Flags = allowed & self._plain[space] & self._unused[space]
        return free

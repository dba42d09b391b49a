"""Damaged workbooks that once went wrong, by what went wrong with them."""

from collections.abc import Callable, Mapping

from tests.fuzz.cases import Case


def _case(seed: int, number: int) -> Callable[[], bytes]:
    return lambda: Case(seed, number).made()[2]


KEPT: Mapping[str, Callable[[], bytes]] = {}

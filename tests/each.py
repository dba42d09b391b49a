"""A law that holds for each of many things, in one test that names every one for which it does not."""

from collections.abc import Callable, Iterable
from typing import TypeVar

T = TypeVar("T")


def for_each(
    cases: Iterable[T], name: Callable[[T], object] = str
) -> Callable[[Callable[[T], None]], Callable[[], None]]:
    """Make a test of a function that judges one case; it goes through all of them before it fails.

    Args:
        cases: What is judged, at least one.
        name: What a case is called where it fails.
    """

    def test_of(judge: Callable[[T], None]) -> Callable[[], None]:
        def test() -> None:
            judged, failed = 0, []
            for case in cases:
                judged += 1
                try:
                    judge(case)
                except Exception as error:  # noqa: BLE001 - whatever is raised, the others are judged too
                    failed.append(f"{name(case)}: {error or type(error).__name__}")
            assert judged > 0
            assert not failed, "\n".join([f"{len(failed)} of {judged} fail", *failed])

        test.__name__, test.__doc__, test.__module__ = judge.__name__, judge.__doc__, judge.__module__
        return test

    return test_of

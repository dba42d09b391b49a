"""Remembers what small parts say: the workbooks of a club's members mostly have many parts in common."""

from collections.abc import Callable
from functools import lru_cache, wraps
from typing import TypeVar

Result = TypeVar("Result")

_PARTS = 64
_LARGEST = 64 * 1024
"""Bytes of a part that is worth keeping; so no more than 4 MB are kept for each kind of part."""


def cached(read: Callable[[bytes], Result]) -> Callable[[bytes], Result]:
    """Have a function of a part's bytes, whose result nobody changes, work only once on the same bytes."""
    known = lru_cache(maxsize=_PARTS)(read)

    @wraps(read)
    def reading(data: bytes) -> Result:
        return known(data) if len(data) <= _LARGEST else read(data)

    return reading

"""The known word that somebody probably meant who wrote another."""

from collections.abc import Iterable
from difflib import get_close_matches

_COMPARISONS = 100_000
"""So many words are compared at most. Whoever has more wrong ones has no slips of the pen, and every pair
would take a time that grows with the square of the workbook."""


class Spelling:
    """Words that are known, for a run of questions about others."""

    def __init__(self, known: Iterable[str], *, likeness: float = 0.6) -> None:
        self._known = list(known)
        self._likeness = likeness
        self._left = _COMPARISONS

    def nearest(self, word: str) -> str | None:
        """Return the known word that is most like one; None where none is, or after very many questions."""
        if self._left <= 0:
            return None
        self._left -= len(self._known)
        return next(iter(get_close_matches(word, self._known, n=1, cutoff=self._likeness)), None)

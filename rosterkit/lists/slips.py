"""Words that somebody wrote with a slip of the pen: a letter twice, one left out, two that changed places."""

from collections.abc import Iterable

from rosterkit.spelling import Spelling

_SHORTEST = 5
"""Shorter words differ by a letter from too many others."""
_LIKENESS = 0.8


class Slips:
    """Known words, folded, by the slips that may be made in them; asking is quick, however many they are."""

    def __init__(self, known: Iterable[str]) -> None:
        self._known: dict[str, set[str]] = {}
        for word in known:
            if len(word) >= _SHORTEST:
                for slip in (word, _in_order(word), *_less(word)):
                    self._known.setdefault(slip, set()).add(word)

    def nearest(self, word: str) -> str | None:
        """Return the known word that is meant by a folded one; None if there is none.

        Another letter in place of one makes another word (model, module), and so does another first letter.
        """
        if len(word) < _SHORTEST or not word.isalpha():
            return None
        found = {other for slip in (word, _in_order(word)) for other in self._known.get(slip, ())}
        found |= {less for less in _less(word) if less in self._known.get(less, ())}
        close = sorted(other for other in found if other[0] == word[0])
        return Spelling(close, likeness=_LIKENESS).nearest(word)


def _in_order(word: str) -> str:
    return "".join(sorted(word))


def _less(word: str) -> list[str]:
    return [word[:n] + word[n + 1 :] for n in range(len(word))]

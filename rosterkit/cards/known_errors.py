"""What is known to be wrong with an engine or with another row of it, before its card is made."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass

from rosterkit.roster.model import Locomotive, Roster
from rosterkit.roster.schema import folded


@dataclass(frozen=True, slots=True, kw_only=True)
class KnownError:
    """An error that checks found in what an engine's card is made of."""

    words: str
    blocks: bool = False
    """Nothing at all must be keyed in before it is put right."""
    cvs: Collection[int] = ()
    """CVs that are held back because of it."""
    reason: str = ""
    """Why, in the place of their values."""


class OtherRows:
    """The rows of engines that have several decoders, each behind a lock of its own."""

    def __init__(self, roster: Roster) -> None:
        self._rows: dict[tuple[str, str], list[Locomotive]] = {}
        for engine in roster.engines:
            if engine.lock is not None and engine.number:
                self._rows.setdefault(_body(engine), []).append(engine)

    def of(self, engine: Locomotive) -> list[Locomotive]:
        """Return the other rows of an engine; its railway and number tell."""
        rows = self._rows.get(_body(engine), ()) if engine.lock is not None else ()
        return [other for other in rows if other is not engine]


def _body(engine: Locomotive) -> tuple[str, str]:
    return folded(engine.railway or ""), folded(engine.number or "")


def row_of(engine: Locomotive) -> int:
    """Return the sheet row of an engine."""
    return engine.table.rows[engine.index]


def forbidden_by(others: Iterable[Locomotive], known: Mapping[int, Sequence[KnownError]]) -> list[str]:
    """Say what forbids to key in the other rows of an engine, and so forbids this one."""
    return [
        f"Decoder '{other.loco}' of the same engine: {one.words}"
        for other in others
        for one in known.get(row_of(other), ())
        if one.blocks
    ]

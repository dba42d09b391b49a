"""Which workbooks given for a meet are members', each once: no earlier file, no plan of ours, no copy."""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations
from pathlib import Path

from rosterkit.errors import CannotRunError
from rosterkit.roster.model import Locomotive, Roster
from rosterkit.roster.schema import folded
from rosterkit.xlsx.package.opening import Package
from rosterkit.xlsx.save.earlier import earlier_name, is_earlier_state

FRONT, MOVES = "Meet", "Moves"
"""Sheets that each meet workbook has."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LeftOut:
    """A workbook that is none of a member's."""

    path: str
    because: str


def as_earlier(path: Path) -> LeftOut | None:
    """Leave out what rosterkit kept of a workbook before it wrote into it; None for any other file."""
    if not path.is_file() or not is_earlier_state(path):
        return None
    return LeftOut(path=str(path), because="it is the earlier state of another workbook")


def as_plan(package: Package) -> LeftOut | None:
    """Leave out a meet workbook, known by the hidden marks of its sheets; None for any other workbook."""
    ours = {sheet.title for sheet in package.sheets if sheet.is_own}
    if not {FRONT, MOVES} <= ours:
        return None
    return LeftOut(path=package.name, because="it is a plan of a meet")


def without_earlier(rosters: Sequence[Roster]) -> tuple[list[Roster], list[LeftOut]]:
    """Leave out NAME.earlier.xlsx where NAME.xlsx is there too, and holds the same engines.

    A copy that lost its times is known in this way only.
    """
    by_path = {Path(roster.book.name): roster for roster in rosters}
    kept, left = list(rosters), []
    for path, roster in by_path.items():
        earlier = by_path.get(earlier_name(path))
        if earlier is not None and _number_of_same(_engines(roster), _engines(earlier)):
            kept.remove(earlier)
            left.append(LeftOut(path=earlier.book.name, because=f"it is the earlier state of {path}"))
    return kept, left


def require_no_copies(rosters: Sequence[Roster]) -> None:
    """See that no two workbooks hold the same engines, which would be planned twice.

    Raises:
        CannotRunError: if two do; both are named.
    """
    pairs = list(_copies(rosters))
    if pairs:
        one, other, count = pairs[0]
        more = f", and so do {len(pairs) - 1} more pairs" if len(pairs) > 1 else ""
        what = f"the same {count} engines" if count > 1 else "the same engine"
        raise CannotRunError(
            f"'{one.book.name}' and '{other.book.name}' hold {what}, as copies do{more}",
            "Give only the newer of the two.",
        )


def _copies(rosters: Sequence[Roster]) -> Iterator[tuple[Roster, Roster, int]]:
    """Return the pairs of workbooks most of whose engines are the same, with how many."""
    engines = [_engines(roster) for roster in rosters]
    holders: dict[tuple[str, ...], list[int]] = {}
    for at, found in enumerate(engines):
        for engine in found:
            holders.setdefault(engine, []).append(at)
    together = Counter(pair for some in holders.values() for pair in combinations(some, 2))
    for one, other in sorted(together):
        count = _number_of_same(engines[one], engines[other])
        if count:
            yield rosters[one], rosters[other], count


def _number_of_same(one: set[tuple[str, ...]], other: set[tuple[str, ...]]) -> int:
    """Return how many engines two workbooks share where they look like copies, else 0.

    One engine in two members' workbooks is none: it may be entered twice, which the plan says.
    """
    count, least = len(one & other), min(len(one), len(other))
    return count if one == other or (count > 1 and 2 * count > least) else 0


def _engines(roster: Roster) -> set[tuple[str, ...]]:
    coming = (engine for engine in roster.engines if engine.at_meet == "yes" and engine.loco)
    return {_identity(engine) for engine in coming}


def _identity(engine: Locomotive) -> tuple[str, ...]:
    """Return what an engine is in every copy of a workbook, whatever its member changed of it."""
    stated = [folded(text or "") for text in (engine.owner, engine.railway, engine.number)]
    # Labels such as A alone are not rare; then the address counts too.
    return (folded(engine.loco or ""), *(stated if any(stated) else [str(engine.address)]))

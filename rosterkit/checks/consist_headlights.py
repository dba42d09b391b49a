"""Checks of a consist's headlights: those that shine at another engine, and the one of the leading engine."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from rosterkit.checks.consists import ConsistRows, consists_in, engines_by_label
from rosterkit.checks.framework import Scope, check
from rosterkit.findings import Hit, Severity
from rosterkit.roster.model import ConsistMember
from rosterkit.roster.rows import hit_at
from rosterkit.roster.schema import folded
from rosterkit.standards.function_notation import functions_in

_FRONT, _REAR = "F0f", "F0r"


@dataclass(frozen=True, slots=True, kw_only=True)
class _Place:
    """A row of a consist with the ends of its engine at which other engines stand."""

    row: ConsistMember
    outward: frozenset[str]
    """Which of F0f and F0r light an end of the consist."""


@check(Severity.NOTE)
def headlight_within_consist(scope: Scope) -> Iterator[Hit]:
    """A headlight that answers the consist address shines at another engine of the consist.

    Why: the bits of F0f and F0r in CV22 are for the engine's own forward and reverse (NMRA S-9.2.2 (Jul
    2012), CV22 and CV19 bit 7, derived): in a leading engine that faces forward F0f lights the front of the
    train and F0r the coupling behind it; in one that faces the other way it is the reverse. That lights
    between engines stay dark is common practice, no source.
    Fix: Take that function out of Functions.
    """
    for place in _places(scope):
        inside = [name for name in _lit(place.row) if name not in place.outward]
        if inside:
            names = " and ".join(inside)
            message = (
                f"{names} of '{place.row.loco}' {'lights' if len(inside) == 1 else 'light'} another engine"
            )
            fix = f"Take {names} out of Functions; write none if nothing is left."
            yield hit_at(place.row, "functions", message, fix)


@check(Severity.WARNING)
def consist_without_headlight(scope: Scope) -> Iterator[Hit]:
    """The leading engine's headlight does not answer the consist address.

    Why: Functions names what answers it (CV21 and CV22), and the headlight is not among that, so the throttle
    that drives the consist does not switch it (NMRA S-9.2.2 (Jul 2012), CV22; RCN-225 (27.07.2025), CV22).
    Fix: Add F0f to Functions, or F0r where the engine leads in reverse.
    """
    for place in _places(scope):
        if place.row.position == 1 and place.row.functions is not None and place.outward:
            wanted = _REAR if place.row.facing == "reverse" else _FRONT
            if _is_readable(place.row) and wanted not in _lit(place.row):
                message = f"'{place.row.loco}' leads, and its headlight ({wanted}) is not in Functions"
                yield hit_at(place.row, "functions", message, f"Add {wanted} to Functions.")


def _is_readable(row: ConsistMember) -> bool:
    try:
        functions_in(row.functions or "")
    except ValueError:
        return False
    return True


def _lit(row: ConsistMember) -> list[str]:
    """Return which of F0f and F0r answer the consist address; none where nothing is said or readable."""
    if row.functions is None or not _is_readable(row):
        return []
    return [name for name in functions_in(row.functions) if name in (_FRONT, _REAR)]


def _places(scope: Scope) -> Iterator[_Place]:
    """Return the rows of consists of several engines whose order is known, from Position 1 on, and facing."""
    for consist in consists_in(scope):
        known = all(row.position is not None and not {"facing"} & row.unusable for row in consist.rows)
        units = _units(consist) if known else []
        positions = [_position(unit) for unit in units]
        if len(units) > 1 and positions[0] == 1 and len(set(positions)) == len(units):
            for unit in units:
                first, last = unit is units[0], unit is units[-1]
                for row in unit:
                    yield _Place(row=row, outward=frozenset(_outward(row, first=first, last=last)))


def _outward(row: ConsistMember, *, first: bool, last: bool) -> Iterable[str]:
    leading, trailing = (_REAR, _FRONT) if row.facing == "reverse" else (_FRONT, _REAR)
    return [name for name, at_end in ((leading, first), (trailing, last)) if at_end]


def _position(unit: Sequence[ConsistMember]) -> int:
    return min(row.position or 0 for row in unit)


def _units(consist: ConsistRows) -> list[list[ConsistMember]]:
    """Return the rows of each engine, the leading one first; decoders of one engine are one unit."""
    engines = engines_by_label(consist.roster)
    units: dict[tuple[str, ...], list[ConsistMember]] = {}
    for row in consist.rows:
        engine = engines.get(folded(row.loco or ""))
        several = engine is not None and engine.lock is not None and engine.number
        key: tuple[str, ...] = (folded(row.loco or ""),)
        if engine is not None and several:
            key = (folded(engine.railway or ""), folded(engine.number or ""), "locked")
        units.setdefault(key, []).append(row)
    return sorted(units.values(), key=_position)

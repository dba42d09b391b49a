"""The plan of a meet as text that fits a screen: member by member, as fully as there is room for."""

from collections.abc import Iterator, Sequence

from rosterkit.checks.report import number_of
from rosterkit.commands.meet.by_owner import ClashOutcome, OwnerPlan, clash_outcomes, label_of, owner_plans
from rosterkit.commands.meet.meet import Meet
from rosterkit.cv.addresses import Address
from rosterkit.findings import Severity, counts
from rosterkit.formats import as_lines

MOST_LINES = 24
"""Lines of an ordinary terminal."""
_WIDTH = 80
"""Its columns."""
_MOST_NAMES = 2
"""Of those who stay, or move, from one address: so many are named."""
_SEE = "reasons, clashes and what to key in: in the meet workbook that -o makes"


def meet_text(meet: Meet) -> str:
    """Return what changes, member by member, and the sums; 24 lines at most.

    With the reasons where there is room for them, else without; for a larger meet how many engines change of
    each member, and what becomes of each clash, as far as there is room. The rest is in the meet workbook.
    """
    owners = owner_plans(meet.plan, meet.attendance)
    last = sums(meet)
    for lines in ([*_listed(owners, reasons=True), last], [*_listed(owners, reasons=False), _SEE, last]):
        if _height(lines) <= MOST_LINES:
            return as_lines(lines)
    room = MOST_LINES - _height([_SEE, last])
    return as_lines([*_condensed(owners, clash_outcomes(meet.plan), room), _SEE, last])


def shown(address: Address | None) -> str:
    """Write an address in a list."""
    return str(address) if address else "no address"


def sums(meet: Meet) -> str:
    """Return the sums of a meet in one line."""
    plan, found = meet.plan, counts(meet.findings)
    engines = len(meet.attendance.engines)
    severities = ", ".join(number_of(found[severity.value], severity.value) for severity in Severity)
    clashes = len(plan.clashes)
    return (
        f"{number_of(engines, 'engine')} from {number_of(len(meet.workbooks), 'workbook')}: "
        f"{clashes} {'clash' if clashes == 1 else 'clashes'}, "
        f"{number_of(plan.cost.moved, 'engine')} to readdress, {plan.cost.unresolved} left over; {severities}"
    )


def _height(lines: Sequence[str]) -> int:
    """Return how many lines of a terminal some lines take."""
    return sum(-(-len(line) // _WIDTH) for line in lines)


def _listed(owners: Sequence[OwnerPlan], *, reasons: bool) -> Iterator[str]:
    for one in owners:
        yield f"{one.name}: {one.words}"
        for move in one.moves:
            yield f"    {label_of(move.party)}: {shown(move.before)} -> {move.after}"
            if reasons:
                yield f"        {move.because}"
        for left in one.unresolved:
            yield f"    {label_of(left.party)}: no address was found, {left.because}"
            if reasons:
                yield f"        {left.helps}"


def _condensed(owners: Sequence[OwnerPlan], clashes: Sequence[ClashOutcome], room: int) -> list[str]:
    """Return a line a member and a line a clash, and how many more there are where room ends."""
    changing = [one for one in owners if one.changing or one.unresolved]
    idle = list(_idle([one.name for one in owners if not one.changing and not one.unresolved]))
    left = [f"{one.party.name}: no address was found" for owner in changing for one in owner.unresolved]
    parts = (
        ([f"{one.name}: {one.words}" for one in changing], "members"),
        (left, "without an address"),
        ([_outcome(one) for one in clashes], "addresses that several want"),
    )
    shares = _shared_out(room - len(idle), [len(lines) for lines, _ in parts])
    listed = [_first(lines, most, what) for (lines, what), most in zip(parts, shares, strict=True)]
    return [_cut(line) for line in (*listed[0], *idle, *listed[1], *listed[2])]


def _idle(names: Sequence[str]) -> Iterator[str]:
    """Name those for whom nothing changes, as many as a line holds."""
    if names:
        line = f"nothing changes for {', '.join(names)}"
        most = next((n for n in range(len(names), 0, -1) if len(_idle_line(names, n)) <= _WIDTH), 1)
        yield line if len(line) <= _WIDTH else _idle_line(names, most)


def _idle_line(names: Sequence[str], most: int) -> str:
    return f"nothing changes for {', '.join(names[:most])} and {len(names) - most} more"


def _outcome(one: ClashOutcome) -> str:
    parts = []
    if one.stays:
        parts.append(f"{_names(one.stays)} stays")
    if one.moves:
        parts.append(f"{_names([name for name, _ in one.moves])} {_verb(one.moves, 'move')}")
    if one.left:
        parts.append(f"{_names(one.left)} {_verb(one.left, 'find')} none")
    return f"{one.address}: {'; '.join(parts)}"


def _verb(who: Sequence[object], verb: str) -> str:
    return verb if len(who) > 1 else f"{verb}s"


def _names(names: Sequence[str]) -> str:
    more = f" and {len(names) - _MOST_NAMES} more" if len(names) > _MOST_NAMES else ""
    return f"{', '.join(names[:_MOST_NAMES])}{more}"


def _shared_out(room: int, sizes: Sequence[int]) -> list[int]:
    """Give some lists lines in turn, until each has what it needs or there are no more."""
    given = [0] * len(sizes)
    while room > 0 and given != list(sizes):
        for at, size in enumerate(sizes):
            if given[at] < size and room > 0:
                given[at], room = given[at] + 1, room - 1
    return given


def _first(lines: Sequence[str], most: int, what: str) -> Sequence[str]:
    if len(lines) <= most:
        return lines
    return [*lines[: most - 1], f"and {len(lines) - most + 1} more {what}"]


def _cut(line: str) -> str:
    return line if len(line) <= _WIDTH else f"{line[: _WIDTH - 4]} ..."

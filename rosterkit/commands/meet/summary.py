"""The plan of a meet as text that fits a screen: member by member, as fully as there is room for."""

import re
import textwrap
from collections.abc import Iterator, Sequence

from rosterkit.commands.meet.by_owner import ClashOutcome, OwnerPlan, clash_outcomes, label_of, owner_plans
from rosterkit.commands.meet.meet import Meet
from rosterkit.cv.addresses import Address
from rosterkit.findings import Severity, counts
from rosterkit.formats import as_lines, number_of

MOST_LINES = 24
"""Lines of an ordinary terminal."""
_WIDTH = 80
"""Its columns."""
_MOST_NAMES = 2
"""Of those who stay, or move, from one address: so many are named."""
_NAME_WIDTHS = (_WIDTH, 30, 20, 12)
"""Characters of a name in a line, tried one after the other until the line fits."""
_PLACE = re.compile(r" \([^()]+, row [0-9]+\)$")
"""What tells engines of one label apart: the workbook, and the row in it."""
_SEE = "reasons, clashes and what to key in: in the meet workbook that -o makes"


def meet_text(meet: Meet) -> str:
    """Return what changes, member by member, and the sums; 24 lines at most.

    With the reasons where there is room for them, else without; for a larger meet how many engines change of
    each member, and what becomes of each clash, as far as there is room. The rest is in the meet workbook.
    """
    owners = owner_plans(meet.plan, meet.attendance)
    last = [line for part in sums(meet) for line in _wrapped(part)]
    for lines in (
        [*_listed(owners, reasons=True), *last],
        [*_listed(owners, reasons=False), _SEE, *last],
    ):
        if len(lines) <= MOST_LINES:
            return as_lines(lines)
    room = MOST_LINES - 1 - len(last)
    return as_lines([*_condensed(owners, clash_outcomes(meet.plan), room), _SEE, *last])


def shown(address: Address | None) -> str:
    """Write an address in a list."""
    return str(address) if address else "no address"


def sums(meet: Meet) -> tuple[str, str]:
    """Return the sums of a meet: of the plan, and of the findings."""
    plan, found = meet.plan, counts(meet.findings)
    engines = len(meet.attendance.engines)
    severities = ", ".join(number_of(found[severity.value], severity.value) for severity in Severity)
    clashes = len(plan.clashes)
    return (
        f"{number_of(engines, 'engine')} from {number_of(len(meet.workbooks), 'workbook')}: "
        f"{clashes} {'clash' if clashes == 1 else 'clashes'}, "
        f"{number_of(plan.cost.moved, 'engine')} to readdress, {plan.cost.unresolved} left over",
        severities,
    )


def _wrapped(line: str) -> list[str]:
    """Return a line as lines of a terminal; what does not fit goes on further in."""
    indent = " " * (len(line) - len(line.lstrip()) + 4)
    return textwrap.wrap(line, _WIDTH, subsequent_indent=indent, break_on_hyphens=False)


def _listed(owners: Sequence[OwnerPlan], *, reasons: bool) -> Iterator[str]:
    for one in owners:
        yield from _wrapped(f"{one.name}: {one.words}")
        for move in one.moves:
            yield from _wrapped(f"    {label_of(move.party)}: {shown(move.before)} -> {move.after}")
            if reasons:
                yield from _wrapped(f"        {move.because}")
        for left in one.unresolved:
            yield from _wrapped(f"    {label_of(left.party)}: no address was found, {left.because}")
            if reasons:
                yield from _wrapped(f"        {left.helps}")


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
    """Say on one line what becomes of a clash: fewer and shorter names before any new address is cut off."""
    lines = [_outcome_of(one, most, wide) for wide in _NAME_WIDTHS for most in range(_MOST_NAMES, 0, -1)]
    return next((line for line in lines if len(line) <= _WIDTH), lines[-1])


def _outcome_of(one: ClashOutcome, most: int, wide: int) -> str:
    parts = []
    if one.stays:
        parts.append(f"{_names([_brief(name, wide) for name in one.stays], most)} stays")
    if one.moves:
        moves = [f"{_brief(name, wide)} -> {address}" for name, address in one.moves]
        parts.append(_names(moves, most) + (" move" if len(moves) > most else ""))
    if one.left:
        names = _names([_brief(name, wide) for name in one.left], most)
        parts.append(f"{names} {'find' if len(one.left) > 1 else 'finds'} none")
    return f"{one.address}: {'; '.join(parts)}"


def _names(names: Sequence[str], most: int) -> str:
    more = f" and {len(names) - most} more" if len(names) > most else ""
    return f"{', '.join(names[:most])}{more}"


def _brief(name: str, wide: int) -> str:
    """Return a name that is too long without the place it stands at, else cut after a word."""
    if len(name) > wide:
        name = _PLACE.sub("", name)
    if len(name) <= wide:
        return name
    words = textwrap.wrap(name, wide - 4)
    return f"{words[0]} ..." if words else name


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
    """Return a line that fits, cut after a word."""
    return line if len(line) <= _WIDTH else f"{textwrap.wrap(line, _WIDTH - 4)[0].rstrip(' ,;:(')} ..."

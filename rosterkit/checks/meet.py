"""Checks of what a meet asks: come in time, not too many, free for all to drive; give lent addresses back."""

from collections.abc import Iterable, Iterator

from rosterkit.checks.address_ranges import ends_of, ruled_addresses
from rosterkit.checks.clashes import grouped
from rosterkit.checks.framework import Scope, ScopedEngine, check, check_each, engines, named
from rosterkit.findings import Hit, Severity
from rosterkit.roster.rows import hit_at
from rosterkit.roster.schema import folded


@check(Severity.WARNING, across=True)
def meet_address_kept(scope: Scope) -> Iterator[Hit]:
    """An engine has a meet-only address as its home address.

    Why: such an address is lent for one meet and will be given to somebody else at the next (FREMO
    H0-Europa, "Short DCC addresses 1..127", undated).
    Fix: Give the engine a home address, and enter this one as its Meet address.
    """
    for entry, column, address, ranges in ruled_addresses(scope):
        ruling = ranges.ruling(address)
        if column == "address" and ruling and ruling.use == "meet only":
            message = f"{address} is lent for a meet only ({ends_of(ruling)})"
            fix = "Give the engine a home address, and enter this one as its Meet address."
            yield hit_at(entry.engine, column, message, fix, related=[ruling.place("first")])


@check_each(engines, Severity.WARNING)
def registered_late(entry: ScopedEngine) -> Iterator[Hit]:
    """An engine was registered after the closing date.

    Why: the list of engines and addresses is made on that date; late ones come only by arrangement (IG Spur 1
    Nordhessen, "Circular to participants", 16 Feb 2008).
    Fix: Agree with the organiser, or leave the engine at home.
    """
    engine, closing = entry.engine, entry.layout.closing_date
    if engine.at_meet == "yes" and closing and engine.registered_on and engine.registered_on > closing:
        message = f"registered on {engine.registered_on}, after the closing date {closing}"
        fix = "Agree with the organiser, or set At meet to no."
        yield hit_at(engine, "registered_on", message, fix)


@check(Severity.WARNING, across=True)
def too_many_engines(scope: Scope) -> Iterator[Hit]:
    """A member brings more engines to the meet than each may.

    Why: the layout has room for so many (MIT-Nord module group, "Operating rules", undated, has such a limit;
    the number is a club setting).
    Fix: Leave some at home.
    """
    coming = [entry for entry in scope.entries if entry.engine.owner and entry.engine.at_meet == "yes"]
    for entries in grouped(coming, lambda one: (one.rails, folded(one.engine.owner or ""))).values():
        limits = [entry.layout.engines_per_member for entry in entries]
        most = min((limit for limit in limits if limit is not None), default=len(entries))
        for entry in entries[most : most + 1]:
            engine = entry.engine
            message = f"{engine.owner} brings {len(entries)} engines, and each may bring {most}"
            fix = f"Set At meet to no for {len(entries) - most} of them, such as {named(engine)}."
            yield hit_at(engine, "at_meet", message, fix)


@check_each(engines, Severity.WARNING)
def driven_by_owner_only(entry: ScopedEngine) -> Iterator[Hit]:
    """An engine that only its owner may drive comes to a meet where anyone drives.

    Why: at that meet trains go from hand to hand, and the owner cannot always be there (a club setting).
    Fix: Let anyone drive it, or leave it at home.
    """
    engine = entry.engine
    if entry.layout.who_drives == "anyone" and engine.at_meet == "yes" and engine.drivers == "owner":
        message = f"only {engine.owner or 'its owner'} may drive {named(engine)}, and here anyone drives"
        yield hit_at(engine, "drivers", message, "Set Drivers to anyone, or At meet to no.")


@check(Severity.ERROR, across=True)
def address_not_found(scope: Scope) -> Iterable[Hit]:
    """The plan of a meet has no address for an engine.

    Why: all that the layout drives and the ranges allow is taken, so it cannot run beside the others.
    Fix: Do what is proposed, and plan again; until then the engine stays off the rails.
    """
    return scope.unplaced

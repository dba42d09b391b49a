"""Checks of the addresses that engines answer."""

from collections.abc import Iterator, Sequence

from rosterkit.checks.cells import faults_as_hits
from rosterkit.checks.clashes import are_locked_apart, cell_seen_from, clashes, grouped
from rosterkit.checks.framework import Scope, ScopedEngine, check, named
from rosterkit.checks.proposals import another_address, next_free
from rosterkit.cv import address_sentences as said
from rosterkit.cv.addresses import Address, Space, kind_doubt, kind_is_settled, space_by_number
from rosterkit.cv.meanings import NEW_DECODERS
from rosterkit.cv.number_to_address import RULES, digits_of
from rosterkit.findings import Hit, Place, Severity
from rosterkit.roster.cell_rules import CellRule
from rosterkit.roster.rows import hit_at
from rosterkit.roster.schema import folded
from rosterkit.standards.addresses import (
    DEFAULT_SHORT_ADDRESS,
    LONG_ADDRESSES,
    SERVICE_MODE_LOOKALIKES,
    SHORT_ADDRESSES,
)

_MOST_NAMED = 5
"""Engines that share an address and are named one by one."""


@check(Severity.ERROR)
def address_missing(scope: Scope) -> Iterator[Hit]:
    """An engine has no address.

    Why: without an address none of its CVs can be computed.
    Fix: Enter the address; 'rosterkit check' then says whether it is free.
    """
    return faults_as_hits(scope, CellRule.ADDRESS_MISSING)


@check(Severity.ERROR)
def address_out_of_range(scope: Scope) -> Iterator[Hit]:
    """An address is outside what its kind or the layout can call.

    Why: short addresses are 1 to 127 and long ones 1 to 10239 (NMRA S-9.2.2, CV1 and CV17/18); the
    layout's command station may stop earlier, and then cannot call the engine.
    Fix: Choose an address within the range, or change its kind.
    """
    yield from faults_as_hits(scope, CellRule.ADDRESS_OUT_OF_RANGE)
    for entry in scope.entries:
        for column, address in entry.addresses:
            short = address.space is Space.SHORT
            legal = SHORT_ADDRESSES if short else LONG_ADDRESSES
            driven = entry.layout.shorts if short else entry.layout.longs
            if address.number not in legal:
                message = said.NOT_OF_KIND.format(
                    number=address.number, kind=address.space.value, last=legal[-1]
                )
                fix = _long_instead(scope, entry, column, address)
                yield hit_at(entry.engine, column, message, fix)
            elif address.number not in driven and driven:
                message = said.OUTSIDE_LAYOUT.format(
                    address=address, kind=address.space.value, first=driven[0], last=driven[-1]
                )
                fix = another_address(scope, entry, column, instead_of=address)
                yield hit_at(entry.engine, column, message, fix)


def _long_instead(scope: Scope, entry: ScopedEngine, column: str, address: Address) -> str:
    """Propose to make a number that is no short address a long one where that is free to the engine."""
    as_long, owner = Address(Space.LONG, address.number), entry.engine.owner
    takes_long = entry.decoder_type is None or entry.decoder_type.long_address != "no"
    if takes_long and next_free(scope, entry.roster).is_free(as_long, owner, at_home=column == "address"):
        return f"Make it {as_long}."
    return another_address(scope, entry, column, instead_of=address)


@check(Severity.ERROR, also=(Severity.NOTE,), across=True)
def address_shared(scope: Scope) -> Iterator[Hit]:
    """Engines answer the same address.

    Why: they all move together, and neither driver is told. Short and long addresses of the same number
    are different ones (NMRA S-9.2.1, section A). Several decoders in one engine share on purpose, each
    with its own Lock, and so may the engines of one consist.
    Fix: Give all but one of them another address.
    """
    encodable = (entry for entry in scope.entries if entry.answers and entry.answers.encodable)
    for sharing in grouped(encodable, lambda entry: (entry.answers, entry.rails)).values():
        purpose = _purpose(sharing) if len(sharing) > 1 else None
        beyond = said.MORE.format(count=len(sharing) - 2) if len(sharing) > 2 else ""
        for entry, other, where in clashes([sharing], _answering_cell):
            cell = cell_seen_from(entry.engine.table.workbook, _answering_cell(other))
            whose = f"{named(other.engine)} ({cell}){beyond}"
            message = said.ALSO_OF.format(address=entry.answers, other=whose)
            fix = _apart(entry, other, sharing)
            severity = None
            if purpose:
                message, fix, severity = message + purpose[0], purpose[1], Severity.NOTE
            yield hit_at(entry.engine, entry.answers_by, message, fix, related=where, severity=severity)


def _answering_cell(entry: ScopedEngine) -> Place:
    return entry.engine.place(entry.answers_by)


def _apart(entry: ScopedEngine, other: ScopedEngine, sharing: Sequence[ScopedEngine]) -> str:
    """Say which of the engines that share an address should get another one: all but one of them."""
    one, another = named(entry.engine), named(other.engine)
    if len(sharing) == 2:
        pair = f"{one} or {another}" if one != another else "one of the two"
        return f"Give {pair} another address."
    names = list(dict.fromkeys([one, another, *(named(each.engine) for each in sharing[:_MOST_NAMED])]))
    if len(sharing) > _MOST_NAMED or len(names) < len(sharing):
        return f"Give all but one of the {len(sharing)} another address."
    return f"Give all but one of {', '.join(names[:-1])} and {names[-1]} another address."


def _purpose(sharing: list[ScopedEngine]) -> tuple[str, str] | None:
    """Say why rows share an address on purpose, and what is to be minded; None where they do not."""
    if _one_engine(sharing):
        return ", another decoder of the same engine", "Nothing, as long as each decoder has its own Lock."
    members = [e.roster.consist_of.get(folded(e.engine.loco or "")) for e in sharing]
    labels = {folded(member.consist or "") if member else None for member in members}
    if len(labels) == 1 and None not in labels and len({id(e.roster) for e in sharing}) == 1:
        return ", in the same consist", "Nothing, as long as they never run apart."
    return None


def _one_engine(sharing: list[ScopedEngine]) -> bool:
    """Whether rows are the decoders of one engine: one workbook, railway and number, a lock each."""
    numbers = {(folded(e.engine.railway or ""), folded(e.engine.number or "")) for e in sharing}
    return len(numbers) == 1 and all(e.engine.number for e in sharing) and are_locked_apart(sharing)


@check(Severity.WARNING, also=(Severity.ERROR,))
def address_default(scope: Scope) -> Iterator[Hit]:
    """An engine still has short address 3.

    Why: most new decoders answer 3 (NMRA S-9.2.2, CV1), so the next new engine may move with it.
    Fix: Give the engine an address of its own; keep 3 for the engine on the bench.
    """
    for entry in scope.entries:
        if entry.answers == Address(Space.SHORT, DEFAULT_SHORT_ADDRESS):
            message = said.STILL_DEFAULT.format(number=DEFAULT_SHORT_ADDRESS, decoders=NEW_DECODERS)
            fix = another_address(scope, entry, entry.answers_by, instead_of=entry.answers)
            severity = Severity.ERROR if scope.meet else None
            yield hit_at(entry.engine, entry.answers_by, message, fix, severity=severity)


@check(Severity.WARNING)
def address_kind_doubtful(scope: Scope) -> Iterator[Hit]:
    """An address is short on some command stations and long on others.

    Why: short 100 to 127 and long 1 to 127 are legal, but stations differ in which of the two they send
    for such a number (common practice, no source), and the engine then does not answer elsewhere. Where
    Long addresses from is filled in for the layout, that settles it.
    Fix: Use short 1 to 99 or long 128 to 9999, or fill in Long addresses from.
    """
    for entry, column, address in _all_addresses(scope):
        doubt = kind_doubt(address)
        if doubt and not kind_is_settled(address, entry.layout) and not _is_reserved(entry, address):
            fix = another_address(scope, entry, column, instead_of=address)
            yield hit_at(entry.engine, column, doubt[0], fix)


def _all_addresses(scope: Scope) -> Iterator[tuple[ScopedEngine, str, Address]]:
    for entry in scope.entries:
        for column, address in entry.addresses:
            yield entry, column, address


@check(Severity.WARNING)
def address_reserved(scope: Scope) -> Iterator[Hit]:
    """An old decoder has a short address from 112 to 127.

    Why: packets to these look like service-mode packets to old decoders, which may then reprogram
    themselves (NMRA S-9.2, footnote 11; S-9.2.3, section C).
    Fix: Use a short address up to 99.
    """
    for entry, column, address in _all_addresses(scope):
        if _is_reserved(entry, address):
            message = f"{address} can make an old decoder such as '{entry.engine.decoder}' reprogram itself"
            fix = another_address(scope, entry, column, instead_of=address)
            yield hit_at(entry.engine, column, message, fix)


def _is_reserved(entry: ScopedEngine, address: Address) -> bool:
    kind = entry.decoder_type
    old = kind is not None and (kind.steps == "14" or kind.long_address == "no")
    return old and address.space is Space.SHORT and address.number in SERVICE_MODE_LOOKALIKES


@check(Severity.NOTE)
def address_off_rule(scope: Scope) -> Iterator[Hit]:
    """An address is not what the layout's address rule makes of the engine's number.

    Why: drivers guess the address from the number on the engine.
    Fix: Use the address that the rule gives where it is free; else leave it.
    """
    for entry in () if scope.meet else scope.entries:
        wanted = address_by_rule(entry.engine.number, entry.layout.address_rule)
        if wanted is not None and entry.home and entry.home.number not in (wanted, DEFAULT_SHORT_ADDRESS):
            rule = entry.layout.address_rule
            message = f"{entry.home} is not {wanted}, the {rule} of '{entry.engine.number}'"
            yield hit_at(entry.engine, "address", message, _by_rule_if_free(scope, entry, wanted))


def _by_rule_if_free(scope: Scope, entry: ScopedEngine, wanted: int) -> str:
    layout, decoder = entry.layout, entry.decoder_type
    kind = entry.engine.address_kind
    address = Address(
        Space(kind) if kind else space_by_number(wanted, layout.shorts, layout.long_from), wanted
    )
    can = decoder is None or decoder.long_address != "no" or address.space is Space.SHORT
    if can and next_free(scope, entry.roster).is_free(address, entry.engine.owner):
        return f"Use {address}, which is free."
    return f"Leave it: {address} is not free for this engine."


def address_by_rule(number: str | None, rule: str) -> int | None:
    """Make an address out of the number on an engine by a layout's address rule.

    The digits of the last word count, so 'Class 4 No. 4012A' gives 4012 by its last four digits (common
    practice, no source). None where the rule is none, where the word's digits do not stand together, as
    in '4E2', and where they come to nothing that can be an address.
    """
    digits = digits_of(number)
    if rule not in RULES or digits is None:
        return None
    address = int(digits[-RULES[rule] :])
    return address if address in LONG_ADDRESSES else None

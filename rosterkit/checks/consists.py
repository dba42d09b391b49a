"""Checks of consists: their addresses, who leads, who is in them twice or only in part."""

from collections.abc import Iterator
from dataclasses import dataclass

from rosterkit.checks.framework import Check, Scope, ScopedEngine, named, others
from rosterkit.cv.address_ranges import SPACES, Holder, gives_to, ruling_of, smallest_first, usable_ranges
from rosterkit.cv.addresses import Address, Space, layout_key
from rosterkit.findings import Hit, Place, Severity
from rosterkit.roster.model import ConsistMember, Roster
from rosterkit.roster.rows import hit_at
from rosterkit.roster.schema import folded
from rosterkit.standards.consists import CONSIST_ADDRESSES
from rosterkit.standards.function_notation import functions_in


@dataclass(frozen=True, slots=True, kw_only=True)
class ConsistRows:
    """The rows of one consist, in the order of the sheet; at least one."""

    roster: Roster
    rows: list[ConsistMember]

    @property
    def label(self) -> str | None:
        """What the club calls it."""
        return self.rows[0].consist

    @property
    def address(self) -> int | None:
        """The address of its first row that has one."""
        return next((row.address for row in self.rows if row.address is not None), None)


def consists_in(scope: Scope) -> list[ConsistRows]:
    """Return the consists of a scope; for a meet only those of which an engine comes to it."""
    some = any(roster.consist_members for roster in scope.rosters)
    entries = scope.entries if scope.meet and some else ()
    coming = {(id(entry.roster), folded(entry.engine.loco or "")) for entry in entries}
    found: list[ConsistRows] = []
    for roster in scope.rosters:
        groups: dict[str, list[ConsistMember]] = {}
        for row in roster.consist_members:
            if row.consist is not None:
                groups.setdefault(folded(row.consist), []).append(row)
        found += [
            ConsistRows(roster=roster, rows=rows)
            for rows in groups.values()
            if not scope.meet or any((id(roster), folded(row.loco or "")) in coming for row in rows)
        ]
    return found


def _on_the_rails(number: int) -> Address:
    return Address(Space.SHORT if number in CONSIST_ADDRESSES else Space.LONG, number)


def consist_address_shared(scope: Scope) -> Iterator[Hit]:
    """A consist has the address of an engine outside it, or of another consist.

    Why: consist addresses 1 to 127 are short addresses on the rails, and those from 128 up are long ones
    (NMRA S-9.2.2 (Jul 2012), CV19; RCN-225 (27.07.2025), CV19/20), so both move at one throttle.
    Fix: Give the consist an address that nothing else answers.
    """
    rails = {id(roster): layout_key(roster.layout) for roster in scope.rosters}
    engines: dict[tuple[Address, str], list[ScopedEngine]] = {}
    for entry in scope.entries:
        if entry.answers:
            engines.setdefault((entry.answers, rails[id(entry.roster)]), []).append(entry)
    consists: dict[tuple[str, int], list[ConsistRows]] = {}
    for consist in consists_in(scope):
        if consist.address is not None:
            consists.setdefault((rails[id(consist.roster)], consist.address), []).append(consist)
    for (where_at, number), same in consists.items():
        for n, consist in enumerate(same):
            yield from _with_engines(consist, number, engines.get((_on_the_rails(number), where_at), []))
            if len(same) > 1:
                other = same[n - 1] if n else same[1]
                where = other.rows[0].place("address")
                cell = _named_cell(where, consist)
                message = f"{number} is also the address of the consist '{other.label}' ({cell})"
                fix = f"Give '{consist.label}' or '{other.label}' another address."
                yield hit_at(consist.rows[0], "address", message, fix, related=[where])


def _with_engines(consist: ConsistRows, number: int, engines: list[ScopedEngine]) -> Iterator[Hit]:
    members = {folded(row.loco or "") for row in consist.rows}
    for entry in engines:
        inside = entry.roster is consist.roster and folded(entry.engine.loco or "") in members
        where = entry.engine.place(entry.answers_by)
        yield hit_at(
            consist.rows[0],
            "address",
            f"{number} is also the address of {named(entry.engine)} ({_named_cell(where, consist)})"
            + (", which is in the consist: it cannot be driven alone" if inside else ""),
            f"Give the consist '{consist.label}' or {named(entry.engine)} another address.",
            related=[where],
            severity=Severity.NOTE if inside else None,
        )


def _named_cell(place: Place, consist: ConsistRows) -> str:
    foreign = place.workbook != consist.roster.book.name
    return f"{place.workbook} {place.cell}" if foreign else str(place.cell)


def consist_addresses_differ(scope: Scope) -> Iterator[Hit]:
    """The rows of one consist have different addresses.

    Why: its engines would not move together.
    Fix: Give all rows of the consist the same address.
    """
    for consist in consists_in(scope):
        for row in consist.rows:
            if row.address is not None and row.address != consist.address:
                message = f"'{row.consist}' has {row.address} here and {consist.address} above"
                fix = "Give all rows of the consist the same address."
                first = consist.rows[0].place("address")
                yield hit_at(row, "address", message, fix, related=[first])


def consist_outside_range(scope: Scope) -> Iterator[Hit]:
    """A consist has an address from no range for consists.

    Why: the club keeps a range for consists so that none meets a short address.
    Fix: Choose an address from a range for consists.
    """
    for consist in consists_in(scope):
        ranges = [one for one in usable_ranges(consist.roster) if one.kind in SPACES]
        kept = [one for one in ranges if gives_to(one, Holder.CONSIST)]
        number = consist.address
        if kept and number is not None:
            space = Space.SHORT if number in CONSIST_ADDRESSES else Space.LONG
            ruling = ruling_of(
                number, smallest_first(one for one in ranges if SPACES[str(one.kind)] is space)
            )
            if ruling is None or not gives_to(ruling, Holder.CONSIST):
                ends = " or ".join(f"{one.first} to {one.last}" for one in kept[:3])
                message = f"{number} is in no range for consists"
                yield hit_at(consist.rows[0], "address", message, f"Choose from {ends}.")


def loco_in_two_consists(scope: Scope) -> Iterator[Hit]:
    """An engine stands in more than one row of Consists.

    Why: a decoder holds one consist address (NMRA S-9.2.2 (Jul 2012), CV19); only the first row counts.
    Fix: Remove all rows of the engine but one.
    """
    for roster in scope.rosters:
        rows: dict[str, list[ConsistMember]] = {}
        for row in roster.consist_members:
            if row.loco is not None:
                rows.setdefault(folded(row.loco), []).append(row)
        for same in rows.values():
            places = [row.place("loco") for row in same]
            for n, row in enumerate(same if len(same) > 1 else ()):
                where = others(places, n)
                message = f"'{row.loco}' stands in {len(same)} rows of consists (also in {where[0].cell})"
                yield hit_at(row, "loco", message, "Remove all of them but one.", related=where)


def consist_without_lead(scope: Scope) -> Iterator[Hit]:
    """A consist has no engine at Position 1, or two.

    Why: the leading engine shows the headlight and gives the direction by which the others face.
    Fix: Enter Position 1 at the engine that leads, and at no other.
    """
    for consist in consists_in(scope):
        leads = [row for row in consist.rows if row.position == 1]
        if not leads and not any("position" in row.unusable for row in consist.rows):
            message = f"no engine of '{consist.label}' has Position 1"
            yield hit_at(consist.rows[0], "position", message, "Enter Position 1 at the one that leads.")
        for row in leads[1:]:
            message = f"'{row.loco}' and '{leads[0].loco}' both have Position 1 in '{consist.label}'"
            fix = "Enter Position 1 at the one that leads only."
            yield hit_at(row, "position", message, fix, related=[leads[0].place("position")])


def consist_decoder_left_out(scope: Scope) -> Iterator[Hit]:
    """One decoder of an engine is in a consist, and another of the same engine is not.

    Why: the decoder outside listens to the engine's own address: sound or lights then do not follow.
    Fix: Enter the other decoder in the consist too, with the same address and facing.
    """
    for entry in scope.entries:
        engine, home = entry.engine, entry.roster
        if engine.lock is None or not engine.number or not engine.loco:
            continue
        for other in home.engines:
            same = (other.railway, other.number) == (engine.railway, engine.number) and other is not engine
            member = home.consist_of.get(folded(other.loco or "")) if same and other.lock else None
            if member and folded(engine.loco) not in home.consist_of:
                message = f"'{other.loco}' is in consist '{member.consist}', its other decoder is not"
                fix = f"Enter '{engine.loco}' in Consists as well, with the same address and facing."
                yield hit_at(engine, "loco", message, fix, related=[member.place("loco")])


def function_unknown(scope: Scope) -> Iterator[Hit]:
    """Functions holds a name that no bit stands for.

    Why: CV21 has F1 to F8, CV22 has F0f, F0r, F9 to F12 (NMRA S-9.2.2 (Jul 2012)) and the groups F13-F20
    and F21-F28 (RCN-225 (27.07.2025)); nothing of the cell is keyed in.
    Fix: Write the functions as in F0f F0r F1 F8, or none.
    """
    for roster in scope.rosters:
        for row in roster.consist_members:
            try:
                functions_in(row.functions or "")
            except ValueError as wrong:
                yield hit_at(row, "functions", str(wrong), "Write them as in F0f F0r F1 F8, or none.")


CHECKS = (
    Check(slug="consist-address-shared", severity=Severity.ERROR, hits=consist_address_shared, across=True),
    Check(slug="consist-addresses-differ", severity=Severity.ERROR, hits=consist_addresses_differ),
    Check(slug="consist-outside-range", severity=Severity.WARNING, hits=consist_outside_range),
    Check(slug="loco-in-two-consists", severity=Severity.ERROR, hits=loco_in_two_consists),
    Check(slug="consist-without-lead", severity=Severity.WARNING, hits=consist_without_lead),
    Check(slug="consist-decoder-left-out", severity=Severity.WARNING, hits=consist_decoder_left_out),
    Check(slug="function-unknown", severity=Severity.ERROR, hits=function_unknown),
)

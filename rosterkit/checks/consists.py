"""Checks of consists: their addresses, who leads, who is in them twice or only in part."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from rosterkit.checks.clashes import cell_seen_from, clashes, grouped, same_label
from rosterkit.checks.framework import Scope, ScopedEngine, check, check_each, engines, named, rosters
from rosterkit.checks.proposals import next_free
from rosterkit.cv import address_sentences as said
from rosterkit.cv.address_ranges import SPACES, Holder, gives_to, ruling_of, usable_ranges
from rosterkit.cv.addresses import Space, consist_on_the_rails, layout_key
from rosterkit.cv.consist import consist_address, consist_column
from rosterkit.findings import Hit, Severity
from rosterkit.roster.model import ConsistMember, Locomotive, Roster
from rosterkit.roster.rows import hit_at
from rosterkit.roster.schema import folded
from rosterkit.standards.consists import LONG_CONSIST_ADDRESSES
from rosterkit.standards.function_notation import functions_in

_COLUMNS = ("address", "meet_address")


@dataclass(frozen=True, slots=True, kw_only=True)
class ConsistRows:
    """The rows of one consist, in the order of the sheet; at least one."""

    roster: Roster
    rows: list[ConsistMember]
    meet: bool = False
    """Its address at the meet counts."""

    @property
    def label(self) -> str | None:
        """What the club calls it."""
        return self.rows[0].consist

    @property
    def column(self) -> str:
        """The column of the address that counts: at a meet Meet address, if a row has one."""
        columns = {consist_column(row, meet=self.meet) for row in self.rows}
        return "meet_address" if "meet_address" in columns else "address"

    @property
    def address(self) -> int | None:
        """The address of its first row that has one."""
        return self.first_in(self.column)

    def first_in(self, column: str) -> int | None:
        """Return the first address in a column of addresses."""
        return next((one for row in self.rows if (one := getattr(row, column)) is not None), None)


def consists_in(scope: Scope) -> list[ConsistRows]:
    """Return the consists of a scope; for a meet only those of which an engine comes to it."""
    some = any(roster.consist_members for roster in scope.rosters)
    entries = scope.entries if scope.meet and some else ()
    coming = {(id(entry.roster), folded(entry.engine.loco or "")) for entry in entries}
    return [
        ConsistRows(roster=roster, rows=rows, meet=scope.meet)
        for roster in scope.rosters
        for rows in same_label(roster.consist_members, "consist").values()
        if not scope.meet or any((id(roster), folded(row.loco or "")) in coming for row in rows)
    ]


def engines_by_label(roster: Roster) -> Mapping[str, Locomotive]:
    """Return a roster's engines by their folded label, the first of each; worked out once."""
    if "engines by label" not in roster.kept:
        labelled = ((folded(one.loco), one) for one in reversed(roster.engines) if one.loco)
        roster.kept["engines by label"] = dict(labelled)
    found: Mapping[str, Locomotive] = roster.kept["engines by label"]
    return found


@check(Severity.ERROR, also=(Severity.NOTE,), across=True)
def consist_address_shared(scope: Scope) -> Iterator[Hit]:
    """A consist has the address of an engine outside it, or of another consist.

    Why: consist addresses 1 to 127 are short addresses on the rails, and those from 128 up are long ones
    (NMRA S-9.2.2 (Jul 2012), CV19; RCN-225 (27.07.2025), CV19/20), so both move at one throttle.
    Fix: Give the consist an address that nothing else answers.
    """
    by_address = grouped(scope.entries, lambda entry: (entry.answers, entry.rails))
    consists = [consist for consist in consists_in(scope) if consist.address is not None]
    for consist in consists:
        on_the_rails = consist_on_the_rails(consist.address or 0), layout_key(consist.roster.layout)
        for entry in by_address.get(on_the_rails, ()):
            yield _with_engine(consist, entry)
    same = grouped(consists, lambda consist: (layout_key(consist.roster.layout), consist.address))
    for consist, other, _ in clashes(same.values(), lambda one: one.rows[0].place(one.column)):
        where = other.rows[0].place(other.column)
        cell = cell_seen_from(consist.roster.book.name, where)
        other_consist = f"{said.CONSIST.format(label=other.label)} ({cell})"
        message = said.ALSO_OF.format(address=consist.address, other=other_consist)
        fix = f"Give '{consist.label}' or '{other.label}' another address."
        yield hit_at(consist.rows[0], consist.column, message, fix, related=[where])


def _with_engine(consist: ConsistRows, entry: ScopedEngine) -> Hit:
    members = {folded(row.loco or "") for row in consist.rows}
    inside = entry.roster is consist.roster and folded(entry.engine.loco or "") in members
    where = entry.engine.place(entry.answers_by)
    cell = cell_seen_from(consist.roster.book.name, where)
    message = said.ALSO_OF.format(address=consist.address, other=f"{named(entry.engine)} ({cell})")
    message += ", which is in the consist: it cannot be driven alone" if inside else ""
    fix = f"Give the consist '{consist.label}' or {named(entry.engine)} another address."
    severity = Severity.NOTE if inside else None
    return hit_at(consist.rows[0], consist.column, message, fix, related=[where], severity=severity)


@check(Severity.ERROR)
def consist_addresses_differ(scope: Scope) -> Iterator[Hit]:
    """The rows of one consist have different addresses.

    Why: its engines would not move together.
    Fix: Give all rows of the consist the same address.
    """
    for consist in consists_in(scope):
        for column in _COLUMNS:
            wanted = consist.first_in(column)
            for row in consist.rows if wanted is not None else ():
                message = _unlike(row, column, wanted)
                if message:
                    same = "address" if column == "address" else row.heading(column)
                    fix = f"Give all rows of the consist the same {same}."
                    first = consist.rows[0].place(column)
                    yield hit_at(row, column, message, fix, related=[first])


def _unlike(row: ConsistMember, column: str, wanted: int | None) -> str | None:
    """Say how a row differs from the first with an address in a column; None where it does not."""
    here: int | None = getattr(row, column)
    if here is None:
        # A blank Address has a finding of its own, as has what is unusable.
        lacks = column == "meet_address" and column not in row.unusable
        return f"'{row.consist}' has no Meet address here, and {wanted} in another row" if lacks else None
    return f"'{row.consist}' has {here} here and {wanted} above" if here != wanted else None


@check(Severity.WARNING)
def consist_outside_range(scope: Scope) -> Iterator[Hit]:
    """A consist has an address from no range for consists.

    Why: the club keeps a range for consists so that none meets a short address.
    Fix: Choose an address from a range for consists.
    """
    for consist in consists_in(scope):
        ranges = [one for one in usable_ranges(consist.roster) if one.kind in SPACES]
        kept = [one for one in ranges if gives_to(one, Holder.CONSIST)]
        for column in (consist.column,) if scope.meet else _COLUMNS:
            address = consist.first_in(column)
            if address is None or not kept:
                continue
            space, number = consist_on_the_rails(address)
            ruling = ruling_of(number, (one for one in ranges if SPACES[str(one.kind)] is space))
            if ruling is None or not gives_to(ruling, Holder.CONSIST):
                message = f"{number} is in no range for consists"
                short = any(SPACES[str(one.kind)] is Space.SHORT for one in kept)
                ends = " or ".join(f"{one.first} to {one.last}" for one in kept[:3])
                fix = _another_for(scope, consist, number) if short else f"Choose from {ends}."
                yield hit_at(consist.rows[0], column, message, fix)


def _another_for(scope: Scope, consist: ConsistRows, number: int) -> str:
    """Propose another address for all rows of a consist, one in a range of its own kind."""
    leading = engines_by_label(consist.roster).get(folded(consist.rows[0].loco or ""))
    owner = leading.owner if leading else None
    found = next_free(scope, consist.roster).nearest_for_consist(owner, near=number)
    if found is None:
        return "No consist address is free here: change Address ranges, or another consist's address."
    return f"Choose another for all its rows, such as {found}."


@check(Severity.WARNING, also=(Severity.ERROR,))
def consist_address_cut(scope: Scope) -> Iterator[Hit]:
    """A consist address above 127 is for a decoder that may not have CV20.

    Why: CV20 holds its high digits (RCN-225 (27.07.2025), CV19/20) and is reserved in NMRA S-9.2.2 (Jul
    2012); a decoder without it takes the last two digits alone for its consist: 1234 becomes 34.
    Fix: Say in CV20 of Decoder types whether it has it, or give the consist an address up to 127.
    """
    heard = {(entry.answers, entry.rails) for entry in scope.entries}
    heard |= {
        (consist_on_the_rails(one.address), layout_key(one.roster.layout))
        for one in consists_in(scope)
        if one.address is not None
    }
    for entry in scope.entries:
        member = entry.roster.consist_of.get(folded(entry.engine.loco or ""))
        has_cv20 = entry.decoder_type.cv20 if entry.decoder_type else None
        address = consist_address(member, meet=scope.meet) if member else None
        if member is None or address is None or has_cv20 == "yes":
            continue
        if address not in LONG_CONSIST_ADDRESSES:
            continue
        kind = f"a decoder '{entry.engine.decoder}'" if entry.engine.decoder else "its decoder"
        low = address % 100
        message = f"{address} needs CV20, which {kind} {'has not' if has_cv20 else 'may not have'}"
        taken = low and (consist_on_the_rails(low), entry.rails) in heard
        if low:
            message += f": without it the engine is in consist {low}"
            message += ", an address in use" if taken else ""
        else:
            message += ": without it the engine is in no consist"
        fix = "Give the consist an address from 1 to 127"
        fix += "." if has_cv20 else ", or enter yes at CV20 in Decoder types if its manual says so."
        severity = Severity.ERROR if has_cv20 or taken else None
        yield hit_at(member, consist_column(member, meet=scope.meet), message, fix, severity=severity)


@check_each(rosters, Severity.ERROR)
def loco_in_two_consists(roster: Roster) -> Iterator[Hit]:
    """An engine appears in more than one row of Consists.

    Why: a decoder holds one consist address (NMRA S-9.2.2 (Jul 2012), CV19); only the first row counts.
    Fix: Remove all rows of the engine but one.
    """
    for same in same_label(roster.consist_members, "loco").values():
        for row, _, where in clashes([same], lambda one: one.place("loco")):
            message = f"'{row.loco}' appears in {len(same)} rows of Consists (also in {where[0].cell})"
            yield hit_at(row, "loco", message, "Remove all of them but one.", related=where)


@check(Severity.WARNING)
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


@check_each(engines, Severity.WARNING)
def consist_decoder_left_out(entry: ScopedEngine) -> Iterator[Hit]:
    """One decoder of an engine is in a consist, and another of the same engine is not.

    Why: the decoder outside listens to the engine's own address: sound or lights then do not follow.
    Fix: Enter the other decoder in the consist too, with the same address and facing.
    """
    engine, home = entry.engine, entry.roster
    if engine.lock is None or not engine.number or not engine.loco:
        return
    for other in home.engines:
        same = (other.railway, other.number) == (engine.railway, engine.number) and other is not engine
        member = home.consist_of.get(folded(other.loco or "")) if same and other.lock else None
        if member and folded(engine.loco) not in home.consist_of:
            message = f"'{other.loco}' is in consist '{member.consist}', its other decoder is not"
            fix = f"Enter '{engine.loco}' in Consists as well, with the same address and facing."
            yield hit_at(engine, "loco", message, fix, related=[member.place("loco")])


@check_each(rosters, Severity.ERROR)
def function_unknown(roster: Roster) -> Iterator[Hit]:
    """Functions holds a name that no bit stands for.

    Why: CV21 has F1 to F8, CV22 has F0f, F0r, F9 to F12 (NMRA S-9.2.2 (Jul 2012)) and the groups F13-F20
    and F21-F28 (RCN-225 (27.07.2025)); nothing of the cell is keyed in.
    Fix: Write the functions as in F0f F0r F1 F8, or none.
    """
    for row in roster.consist_members:
        try:
            functions_in(row.functions or "")
        except ValueError as wrong:
            yield hit_at(row, "functions", str(wrong), "Write them as in F0f F0r F1 F8, or none.")

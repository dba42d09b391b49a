"""What the command about meets says: its plan in the forms that there are, what it wrote, and what not."""

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path

from rosterkit.checks.report import finding_record
from rosterkit.commands.meet.clear import ClearedWorkbook
from rosterkit.commands.meet.given import LeftOut
from rosterkit.commands.meet.meet import Meet
from rosterkit.commands.meet.summary import meet_text
from rosterkit.cv.addresses import Address
from rosterkit.findings import Severity
from rosterkit.formats import as_json, as_lines, number_of
from rosterkit.planning.addresses import Move
from rosterkit.planning.addresses.parties import PartyKind


def made_text(meet: Meet, out: Path | None, folder: Path | None) -> str:
    """Say what was written."""
    plan = [str(out)] if out else []
    if folder is None:
        return f"made {' and '.join(plan)}"
    entered = sum(meet.copies.values())
    copies = "1 copy" if len(meet.copies) == 1 else f"{len(meet.copies)} copies"
    addresses = "1 Meet address" if entered == 1 else f"{entered} Meet addresses"
    return f"made {' and '.join([*plan, f'{copies} in {folder}'])}: {addresses} entered"


def cleared_text(cleared: Sequence[ClearedWorkbook | LeftOut]) -> str:
    """Say of each workbook how many Meet addresses went out of it, and what stayed."""
    lines = []
    for one in cleared:
        if isinstance(one, LeftOut):
            lines.append(_left_out(one))
            continue
        lines.append(_cleared(one))
        lines += [f"left: {place} holds a formula" for place in one.formulas]
    return as_lines(lines)


def _left_out(one: LeftOut) -> str:
    return f"left out: {one.path}: {one.because}"


def _cleared(one: ClearedWorkbook) -> str:
    parts = [(one.engines, "engine"), (one.consists, "consist")]
    whose = " and ".join(number_of(count, word) for count, word in parts if count)
    if not whose:
        return f"{one.path} has no Meet address to empty; nothing was written"
    return f"emptied the Meet address of {whose} in {one.path}; the earlier file is {one.kept}"


def unread_text(meet: Meet) -> str | None:
    """Name the workbooks that are not in the plan, and why; None where all are."""
    unread = [finding for finding in meet.findings if finding.rule == "workbook-unread"]
    lines = [_left_out(one) for one in meet.left_out]
    return as_lines([*lines, *(f"left out: {one.message}. {one.fix}" for one in unread)]) or None


def meet_json(meet: Meet) -> str:
    """Return one object with the moves and the findings (schema/outputs/meet.json)."""
    return as_json(
        {
            "rosterkit": meet.version,
            "workbooks": [{"path": path, "locomotives": number} for path, number in meet.workbooks],
            "moves": [record for move in meet.plan.moves for record in _records(move, meet)],
            "unresolved": [
                {"engines": list(one.party.engines), "because": one.because, "helps": one.helps}
                for one in meet.plan.unresolved
            ],
            "findings": [finding_record(finding) for finding in meet.findings],
        }
    )


def _records(move: Move, meet: Meet) -> list[dict[str, object]]:
    """Return one record per engine; of a consist that moves too, named by its label."""
    consist = move.party.name if move.party.kind is PartyKind.CONSIST else None
    attendees = [meet.attendance.attendees[key] for key in move.party.engines]
    return [
        {
            "workbook": one.roster.book.name,
            "loco": one.engine.loco,
            "owner": one.engine.owner,
            "consist": consist,
            "from": _address_record(move.before),
            "to": _address_record(move.after),
            "because": move.because,
        }
        for one in attendees
    ]


def _address_record(address: Address | None) -> dict[str, object]:
    if address is None:
        return {"kind": None, "address": None}
    return {"kind": address.space.value, "address": address.number}


MEET_FORMATS: Mapping[str, Callable[[Meet], str]] = {"text": meet_text, "json": meet_json}


def has_error(meet: Meet) -> bool:
    """Tell whether an error was found; a clash is one until its moves are in the members' workbooks."""
    return any(finding.severity is Severity.ERROR for finding in meet.findings)

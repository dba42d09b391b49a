"""The sheets of a meet workbook: what to do, who brings what, the clashes, the moves, and what is wrong."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from typing import Any

from rosterkit.checks.clashes import file_name
from rosterkit.commands.meet.address_map import address_map
from rosterkit.commands.meet.attendance import Attendee
from rosterkit.commands.meet.by_owner import clash_outcomes, owner_plans
from rosterkit.commands.meet.given import FRONT, MOVES
from rosterkit.commands.meet.meet import Meet
from rosterkit.commands.meet.member_sheets import member_sheets, member_titles, owners_of
from rosterkit.commands.meet.summary import shown
from rosterkit.cv.addresses import Address, home_address
from rosterkit.findings import Severity, counts
from rosterkit.planning.addresses.parties import Party, PartyKind
from rosterkit.roster.schema import folded
from rosterkit.xlsx.changes import LINE, CellStyle, OwnCell, OwnSheet, lines_of

_LOOKS = {Severity.ERROR: CellStyle.ERROR, Severity.WARNING: CellStyle.WARNING, Severity.NOTE: CellStyle.NOTE}
_WRAPPED = {
    *("Engine", "Why, and why there", "Wanted by", "Stays", "Moves", "Left over"),
    *("What is wrong", "What to do", "Fault"),
}
"""Columns of lists whose texts may take several lines."""
ListRow = tuple[OwnCell | str | int | float | None, ...]
"""Cells of a list by column; one that is plain or wrapped as its whole column is a value alone."""
_SHEETS = {
    MOVES: "who changes an address, and why",
    "Clashes": "which addresses several want, who stays and who moves",
    "Findings": "what the checks say of the workbooks as they are",
    "By owner": "everything that comes, member by member",
    "By address": "everything that comes, in the order of addresses",
    "Address map": "which addresses are free, in use or kept",
}
_STEPS = (
    "Look at Findings: what is red there has to be put right by the engine's owner before the meet.",
    "Agree on Moves with the owners. If two rows are one engine entered twice, remove one of them, and plan "
    "again: then nothing has to move.",
    "Enter each new address as Meet address in the member's workbook; the home address stays beside it. "
    "'rosterkit meet --apply FOLDER' does so in copies of all workbooks.",
    "Give each member the sheet with their code. It has all that they key in before the meet, and all that "
    "puts their engines back afterwards.",
    "At the meet: By address and By owner go to the desk where engines are let on to the layout.",
    "After the meet: collect the second half of each member's sheet, with a tick for every engine. "
    "'rosterkit meet --clear' empties the Meet addresses of the workbooks.",
)


def meet_sheets(meet: Meet) -> Iterator[OwnSheet]:
    """Make all sheets of the meet workbook one by one; the members' own come last, by their codes."""
    owners = sorted(owners_of(meet.attendance.attendees.values()).values(), key=folded)
    titles = member_titles(owners, [FRONT, *_SHEETS])
    yield _front(meet, titles)
    yield _moves(meet)
    yield _clashes(meet)
    yield _findings(meet)
    yield _engines(meet, "By owner", _by_owner)
    yield _engines(meet, "By address", _by_address)
    yield address_map(meet)
    yield from member_sheets(meet, titles)


def number_of_sheets(meet: Meet) -> int:
    """Return how many sheets the meet workbook has."""
    return 1 + len(_SHEETS) + len(owners_of(meet.attendance.attendees.values()))


def _front(meet: Meet, members: Mapping[str, str]) -> OwnSheet:
    plan, found = meet.plan, counts(meet.findings)
    rows = [
        [OwnCell(f"Meet: {meet.event}" if meet.event else "Meet", CellStyle.TITLE)],
        [],
        *_pairs(
            ("Engines that come", len(meet.attendance.engines)),
            ("Workbooks", len(meet.workbooks)),
            ("Addresses wanted by several", len(plan.clashes)),
            ("Engines to readdress", plan.cost.moved),
            ("Engines without an address", plan.cost.unresolved),
            ("Errors, warnings, notes", " / ".join(str(found[severity.value]) for severity in Severity)),
        ),
        *_heading("What to do"),
        *([OwnCell(f"Step {n}"), OwnCell(text, CellStyle.WRAPPED)] for n, text in enumerate(_STEPS, 1)),
        *_heading("Sheets"),
        *([OwnCell(title, CellStyle.LINK, (title, "A1")), OwnCell(_SHEETS[title])] for title in _SHEETS),
        *_heading("Members"),
        *_member_links(meet, members),
    ]
    heights = {
        number: LINE * _tallest(cells[1:], (90,)) + 3
        for number, cells in enumerate(rows, 1)
        if len(cells) > 1
    }
    return OwnSheet(title=FRONT, rows=rows, widths=(28, 92), landscape=False, heights={1: 26.0, **heights})


def _heading(text: str) -> list[list[OwnCell]]:
    return [[], [OwnCell(text, CellStyle.HEADING), OwnCell(None, CellStyle.HEADING)]]


def _pairs(*pairs: tuple[str, str | int]) -> Iterator[list[OwnCell]]:
    for name, value in pairs:
        yield [OwnCell(name), OwnCell(str(value))]


def _member_links(meet: Meet, titles: Mapping[str, str]) -> Iterator[list[OwnCell]]:
    words = {folded(one.owner): one.words for one in owner_plans(meet.plan, meet.attendance)}
    for owner, title in titles.items():
        yield [OwnCell(title, CellStyle.LINK, (title, "A1")), OwnCell(words[owner])]


def _moves(meet: Meet) -> OwnSheet:
    attendees = meet.attendance.attendees
    rows = [
        _move_row([attendees[key] for key in some], move.party, move.before, move.after, move.because)
        for move in meet.plan.moves
        for some in _lines(move.party)
    ]
    rows += [
        _move_row(
            [attendees[key] for key in some],
            one.party,
            one.party.address,
            None,
            f"{one.because}. {one.helps}",
        )
        for one in meet.plan.unresolved
        for some in _lines(one.party)
    ]
    headings = ("Owner", "Loco", "Engine", "Address now", "At the meet", "Why, and why there")
    return _list(MOVES, headings, (9, 16, 30, 14, 14, 72), rows, "Nothing has to move.")


def _lines(party: Party) -> list[Sequence[str]]:
    """Return the engines that each line of a list of moves is about: a consist moves as one line."""
    return [party.engines] if party.kind is PartyKind.CONSIST else [[key] for key in party.engines]


def _move_row(
    some: Sequence[Attendee], party: Party, before: Address | None, after: Address | None, because: str
) -> ListRow:
    there = OwnCell(str(after), CellStyle.VALUE) if after else OwnCell("none found", CellStyle.ERROR)
    first = some[0].engine
    if party.kind is PartyKind.CONSIST:
        names = ", ".join(one.engine.loco or _name(one) for one in some)
        return first.owner, party.name, names, shown(before), there, because
    return first.owner, first.loco, _name(some[0]), shown(before), there, because


def _name(one: Attendee) -> str:
    return " ".join(part for part in (one.engine.railway, one.engine.number) if part)


def _clashes(meet: Meet) -> OwnSheet:
    rows: list[ListRow] = []
    for one in clash_outcomes(meet.plan):
        moves = [f"{name} to {address}" for name, address in one.moves]
        lists = one.wanted, one.stays or ["nobody"], moves or ["nobody"], one.left
        address = OwnCell(one.address, CellStyle.ERROR if one.left else CellStyle.NOTE)
        rows.append((address, *(", ".join(names) for names in lists)))
    headings = ("Address", "Wanted by", "Stays", "Moves", "Left over")
    return _list("Clashes", headings, (14, 50, 26, 40, 20), rows, "No address is wanted by several.")


def _findings(meet: Meet) -> OwnSheet:
    rows: list[ListRow] = [
        (
            OwnCell(finding.severity.value, _LOOKS[finding.severity]),
            file_name(finding.place.workbook),
            " ".join(part for part in (finding.place.sheet, finding.place.cell) if part),
            finding.loco,
            finding.message.replace(finding.place.workbook, file_name(finding.place.workbook)),
            finding.fix.replace(finding.place.workbook, file_name(finding.place.workbook)),
            finding.rule,
        )
        for severity in Severity
        for finding in meet.findings
        if finding.severity is severity
    ]
    headings = ("Severity", "Workbook", "Place", "Loco", "What is wrong", "What to do", "Check")
    return _list("Findings", headings, (10, 18, 18, 14, 60, 50, 24), rows, "Nothing found.")


def _by_owner(one: Attendee, _: Address | None) -> tuple[str, int, str, str]:
    return folded(one.engine.owner or ""), 0, folded(one.engine.loco or ""), one.key


def _by_address(one: Attendee, address: Address | None) -> tuple[str, int, str]:
    return (address.space.value, address.number, one.key) if address else ("", 0, one.key)


def _engines(meet: Meet, title: str, order: Callable[[Attendee, Address | None], Any]) -> OwnSheet:
    addresses = meet.addresses
    ordered = sorted(meet.attendance.attendees.values(), key=lambda one: order(one, addresses[one.key]))
    rows = [_engine_row(one, addresses[one.key]) for one in ordered]
    headings = ("Owner", "Loco", "Engine", "At the meet", "At home", "Drivers", "Checked by", "On", "Fault")
    return _list(title, headings, (9, 16, 30, 14, 14, 9, 11, 12, 26), rows, "Nobody comes.")


def _engine_row(one: Attendee, address: Address | None) -> ListRow:
    engine = one.engine
    home = home_address(engine, one.roster.layout)
    there = OwnCell(shown(address), CellStyle.VALUE if address != home else CellStyle.PLAIN)
    checked = engine.drivers, engine.checked_by, engine.checked_on
    return engine.owner, engine.loco, _name(one), there, shown(home), *checked, engine.fault


def _list(
    title: str, headings: Sequence[str], widths: tuple[float, ...], rows: Iterable[ListRow], none: str
) -> OwnSheet:
    looks = [CellStyle.WRAPPED if heading in _WRAPPED else CellStyle.PLAIN for heading in headings]
    filled = [
        [
            value if isinstance(value, OwnCell) else OwnCell(value, look)
            for value, look in zip(row, looks, strict=True)
        ]
        for row in rows
    ]
    heading = [OwnCell(text, CellStyle.HEADING) for text in headings]
    heights = {number: LINE * _tallest(cells, widths) + 3 for number, cells in enumerate(filled, 2)}
    return OwnSheet(
        title=title,
        rows=[heading, *(filled or [[OwnCell(none)]])],
        widths=widths,
        frozen_rows=1,
        filtered=bool(filled),
        heights=heights,
    )


def _tallest(cells: Sequence[OwnCell], widths: Sequence[float]) -> int:
    wrapped = [
        lines_of(str(cell.value), width - 1)
        for cell, width in zip(cells, widths, strict=False)
        if cell.look is CellStyle.WRAPPED and cell.value
    ]
    return max(wrapped, default=1)

"""A sheet for each member to print: their engines, what to key in before the meet, and what puts it back."""

from collections.abc import Iterable, Iterator, Mapping, Sequence

from rosterkit.cards.card import MeetPhase
from rosterkit.cards.sheet import cards_sheet
from rosterkit.commands.meet.attendance import Attendee
from rosterkit.commands.meet.by_owner import NO_OWNER
from rosterkit.commands.meet.meet import Meet, away_in, cards_for
from rosterkit.commands.meet.summary import shown
from rosterkit.cv.addresses import Address, home_address
from rosterkit.roster.schema import folded
from rosterkit.xlsx.changes import LINE, CellStyle, OwnCell, OwnSheet, lines_of
from rosterkit.xlsx.titles import free_title

_NOTHING = "Nothing changes: your engines keep the addresses that they have at home."
_NOTHING_NEW = "Nothing new: your engines keep the addresses that were agreed for the meet."
_WIDE = 54
"""Characters in the column of meanings."""


def owners_of(attendees: Iterable[Attendee]) -> dict[str, str]:
    """Return the owners as they are spelt first, by the folded code; "" for engines that have none."""
    found: dict[str, str] = {}
    for one in attendees:
        owner = one.engine.owner or ""
        found.setdefault(folded(owner), owner)
    return found


def member_titles(owners: Sequence[str], taken: Sequence[str]) -> dict[str, str]:
    """Assign each owner's sheet a title that no other sheet has; by the folded code."""
    titles: dict[str, str] = {}
    for owner in owners:
        titles[folded(owner)] = free_title(owner or NO_OWNER, [*taken, *titles.values()])
    return titles


def member_sheets(meet: Meet, titles: Mapping[str, str]) -> Iterator[OwnSheet]:
    """Make the members' sheets one by one; each begins with the list of engines, then its cards follow."""
    engines: dict[str, list[Attendee]] = {}
    for one in meet.attendance.attendees.values():
        engines.setdefault(folded(one.engine.owner or ""), []).append(one)
    addresses, because, away = meet.addresses, _because(meet), away_in(meet)
    for owner, title in titles.items():
        mine = engines[owner]
        heading = f"{title}: {meet.event}" if meet.event else title
        keyed = any(one.key in away for one in mine)
        remark = None if any(one.key in because for one in mine) else _NOTHING_NEW if keyed else _NOTHING
        parts = [_list_of(mine, title, (heading, remark), addresses, because)]
        for phase, words in (
            (MeetPhase.BEFORE, "key in before the meet"),
            (MeetPhase.AFTER, "restore the home addresses after the meet"),
        ):
            cards = cards_for(mine, away, phase, meet)
            if cards:
                parts.append(cards_sheet(cards, title, f"{title}: {words}"))
        yield stacked(title, parts)


def _because(meet: Meet) -> dict[str, str]:
    moved = {key: move.because for move in meet.plan.moves for key in move.party.engines}
    left = {
        key: f"No address was found. {one.helps}" for one in meet.plan.unresolved for key in one.party.engines
    }
    return moved | left


def _list_of(
    engines: Sequence[Attendee],
    title: str,
    top: tuple[str, str | None],
    addresses: Mapping[str, Address | None],
    because: Mapping[str, str],
) -> OwnSheet:
    headings = ("Loco", None, None, None, "Engine, and why it changes", "At home", "At the meet")
    rows = [
        [OwnCell(top[0], CellStyle.TITLE)],
        [OwnCell(top[1])] if top[1] else [],
        [OwnCell(text, CellStyle.HEADING) for text in headings],
    ]
    heights = {1: 24.0}
    merges = []
    for one in engines:
        words = _words(one, because.get(one.key))
        rows.append(_row(one, words, addresses[one.key]))
        heights[len(rows)] = LINE * lines_of(words, _WIDE) + 4
        merges.append((len(rows), 1, len(rows), 4))
    return OwnSheet(title=title, rows=rows, heights=heights, merges=tuple(merges))


def _words(one: Attendee, because: str | None) -> str:
    engine = one.engine
    name = " ".join(part for part in (engine.railway, engine.number) if part)
    tag = f"open fault: {engine.fault}" if engine.fault else None
    return "; ".join(part for part in (name, because, tag) if part)


def _row(one: Attendee, words: str, address: Address | None) -> list[OwnCell]:
    home = home_address(one.engine, one.roster.layout)
    return [
        OwnCell(one.engine.loco),
        *[OwnCell()] * 3,
        OwnCell(words, CellStyle.WRAPPED),
        OwnCell(shown(home)),
        OwnCell(shown(address), CellStyle.VALUE if address != home else CellStyle.PLAIN),
    ]


def stacked(title: str, own_sheets: Sequence[OwnSheet]) -> OwnSheet:
    """Put pages of the same columns below each other, each but the first on a new printed page."""
    rows: list[list[OwnCell]] = []
    heights: dict[int, float] = {}
    merges: list[tuple[int, int, int, int]] = []
    breaks: list[int] = []
    for page in own_sheets:
        shift = len(rows)
        if shift:
            breaks.append(shift)
        rows += page.rows
        heights |= {row + shift: height for row, height in page.heights.items()}
        merges += [(top + shift, left, bottom + shift, right) for top, left, bottom, right in page.merges]
        breaks += [row + shift for row in page.breaks]
    widths = next((page.widths for page in own_sheets if page.widths), (14, 8, 8, 12, 55, 12, 12))
    return OwnSheet(
        title=title,
        rows=rows,
        widths=widths,
        landscape=False,
        breaks=tuple(breaks),
        heights=heights,
        merges=tuple(merges),
    )

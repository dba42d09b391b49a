"""What stays of what somebody wrote on the sheet Cards, on the lines of the new one."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from rosterkit.cards.card import Card
from rosterkit.cards.sheet import TITLE as CARDS
from rosterkit.cards.sheet_lines import Kept, LineKey, Placed, keys_of
from rosterkit.cards.typed_lines import TypedLine
from rosterkit.cv.readings import order_of
from rosterkit.roster.cell_values import shown
from rosterkit.roster.model import Reading, Roster
from rosterkit.writeback.read_back import FromCards, is_tick, unclear_words, value_of, what_of
from rosterkit.writeback.readings import TITLE
from rosterkit.xlsx.patch.refusal import unwritable

_NAMED = 5
"""Lines that a refusal names; it says how many more there are."""


@dataclass(frozen=True, slots=True, kw_only=True)
class OnNewCards:
    """What becomes of what stays, on the cards as they are now."""

    placed: Placed
    taken_over: frozenset[tuple[int, int]]
    """The cells of the earlier sheet of which nothing is lost."""
    unclear: Sequence[TypedLine]
    """Lines that keep what is no value under Read back."""
    differing: Sequence[TypedLine]
    """Ticked lines whose value was read back, and is another one: the tick is gone."""
    other_value: Sequence[TypedLine]
    """Ticked lines that have another value now that their CV was read: the tick is gone."""
    homeless: Sequence[TypedLine]
    """Lines that the new cards have no more: what is typed there would be lost."""


def on_new_cards(typed: FromCards, cards: Sequence[Card], roster: Roster) -> OnNewCards:
    """Put what stays on the same lines of new cards, made of the roster with the new readings.

    A tick goes where a reading says more: one that is taken over with it, or, where the line is gone, the
    newest of its CV if it shows the value that was ticked. What is no value goes on to another line of its CV
    where its own is gone.
    """
    lines = _Lines(cards)
    read_now = {what_of(line) for line in typed.read}
    read_after = {what_of(line) for line in typed.read if not line.only_reads}
    other_value, moved = [], []
    for line, kept in typed.kept:
        only_ticked = kept.read_back is None and is_tick(line.done)
        replaced = what_of(line) in (read_now if line.only_reads else read_after)
        if (only_ticked and replaced) or lines.take(line.key, kept):
            continue
        if only_ticked and what_of(line) in read_now:
            other_value.append(line)
        elif not (only_ticked and _is_shown(line, roster)):
            moved.append((line, kept))
    homeless = []
    for line, kept in moved:
        loses_a_tick = line.done != "" and not (is_tick(line.done) and what_of(line) in read_now)
        if not kept.caution or loses_a_tick or not lines.take_of_cv(line, replace(kept, done=None)):
            homeless.append(line)
    return OnNewCards(
        placed=lines.placed,
        taken_over=frozenset(
            place
            for line in (*typed.read, *(line for line, _ in typed.kept))
            for place in line.places
            if line not in homeless
        ),
        unclear=[line for line, kept in typed.kept if kept.caution and line not in homeless],
        differing=[line for line in typed.read if _contradicts(line)],
        other_value=other_value,
        homeless=homeless,
    )


class _Lines:
    """The lines of new cards, and what is put on them."""

    def __init__(self, cards: Sequence[Card]) -> None:
        self.placed: dict[tuple[int, int], Kept] = {}
        self._free: dict[LineKey, list[tuple[int, int]]] = {}
        for number, card in enumerate(cards):
            for at, key in enumerate(keys_of(card) if not card.nothing_to_do else ()):
                self._free.setdefault(key, []).append((number, at))

    def take(self, key: LineKey, kept: Kept) -> bool:
        """Put something on the first free line that is about the same; tell whether there is one."""
        places = self._free.get(key)
        if not places:
            return False
        self.placed[places.pop(0)] = kept
        return True

    def take_of_cv(self, line: TypedLine, kept: Kept) -> bool:
        """Put something on a free line of the same CV; tell whether there is one."""
        keys = [key for key in self._free if (key.loco, key.cv, key.index) == what_of(line)]
        return any(self.take(key, kept) for key in keys)


def _contradicts(line: TypedLine) -> bool:
    """Tell whether a line is ticked as keyed in, and another value was read back."""
    key = line.key
    return line.done != "" and not line.only_reads and key.value not in (None, value_of(line.read_back))


def _is_shown(line: TypedLine, roster: Roster) -> bool:
    """Tell whether the newest reading of a CV shows what was ticked: that it was read, or keyed in."""
    if line.key.cv is None:
        return False
    newest = _newest(roster.readings_of.get(line.key.loco, ()), line.key)
    return newest is not None and (line.only_reads or newest.value == line.key.value)


def _newest(readings: Sequence[Reading], key: LineKey) -> Reading | None:
    mine = [
        one
        for one in readings
        if one.cv == key.cv and (key.index is None or (one.index_high, one.index_low) == key.index)
    ]
    return max(mine, key=order_of, default=None)


def refuse_homeless(workbook: str, lines: Sequence[TypedLine]) -> None:
    """Refuse to replace the sheet Cards where a line that somebody wrote on is no more on the new one.

    Raises:
        CannotRunError: there is such a line; the first ones are named.
    """
    if not lines:
        return
    named = [f"{line.cells} ({line.about})" for line in lines[:_NAMED]]
    named += [f"{len(lines) - _NAMED} more" if len(lines) > _NAMED else ""]
    listed = ", ".join(filter(None, named))
    raise unwritable(
        workbook,
        f"its sheet '{CARDS}' would be replaced, and these have no line on the new one any more: {listed}",
        "Enter what was read in the sheet Readings, empty the cells, and try again; --replace lets them go.",
    )


def taken_over_words(typed: FromCards, kept: OnNewCards) -> list[str]:
    """Say how many readings were taken over, and what was not taken or kept as it stood."""
    words = []
    if count := len(typed.rows):
        readings = f"{count} readings" if count > 1 else "1 reading"
        words.append(f"took {readings} over from the sheet '{CARDS}' into the sheet '{TITLE}'")
    words += (
        f"not taken over, and left on the card: {line.read_back_cell}, {unclear_words(line)}"
        for line in kept.unclear
    )
    words += (
        f"{line.about} was ticked, and read {shown(line.read_back)}, not {line.key.value}: "
        "the line is not ticked any more"
        for line in kept.differing
    )
    words += (
        f"{line.about} was ticked with {line.key.value}, and has another value now that it was read: "
        "its line is not ticked any more"
        for line in kept.other_value
    )
    return words

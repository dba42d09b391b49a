"""Columns that are read otherwise because somebody spoke of another one: nobody said so, so it is a doubt."""

from collections.abc import Iterator, Mapping, Sequence

from rosterkit.commands.adopt.words import word_for
from rosterkit.lists.adopted import Doubt
from rosterkit.lists.columns.given import column_of
from rosterkit.lists.plain import Place
from rosterkit.lists.reading import NOTHING, OWN, Sure, TableReading
from rosterkit.lists.tables import Heading, Table


def driven_out(
    before: Sequence[TableReading], after: Sequence[TableReading], given: Mapping[str, str]
) -> Iterator[Doubt]:
    """Return a doubt for each column of a field of ours that is none any more, though nobody spoke of it.

    Args:
        before: The tables of a list as they are read as long as nobody says anything.
        after: The same tables, as they are read with what was said.
        given: What was said, by the keys of headings.
    """
    for old, new in zip(before, after, strict=True):
        by_field = {one.read_as: one for one in new.columns if one.sure is Sure.GIVEN}
        for was, now in zip(old.columns, new.columns, strict=True):
            heading = new.table.headings[now.heading]
            # What is unsure is a doubt anyway.
            told = heading.key in given or column_of(heading.key) in given or now.sure is Sure.UNSURE
            if told or was.read_as in {OWN, NOTHING, now.read_as} or now.read_as not in {OWN, NOTHING}:
                continue
            place = _place(new.table, heading, now.heading)
            taker = by_field.get(was.read_as)
            since = f", since {new.table.headings[taker.heading].key} is said to be it" if taker else ""
            word = word_for(was.read_as, old.subject)
            filled = sum(now.heading in record.cells for record in new.table.records)
            is_now = word_for(now.read_as, new.subject)
            yield Doubt(
                place,
                f"'{heading.text}' was read as {word}, and is read as {is_now} now{since}; what "
                f"stands in its {filled} filled cells is in no column {word}",
                f"Say what it is, such as --as '{heading.key}={is_now}' if it is that.",
            )


def _place(table: Table, heading: Heading, number: int) -> Place:
    """Return where a heading stands, or the first of what stands under it."""
    if heading.at:
        return heading.at[-1].place
    found = (record.cells[number].place for record in table.records if number in record.cells)
    return next(found, Place(table.sheet, 1, 1))

"""Readings that nobody should take on trust: where another column may mean the same, or lost it."""

from collections.abc import Iterator, Mapping
from dataclasses import replace

from rosterkit.lists.columns.assign import assigned, choices_of
from rosterkit.lists.columns.candidates import twins
from rosterkit.lists.columns.context import MOSTLY, Context
from rosterkit.lists.columns.wording import shown_field
from rosterkit.lists.heading_text import folded_heading, parted
from rosterkit.lists.reading import OWN, ColumnReading, Sure
from rosterkit.lists.vocabulary import fields_of, subjects_of

_ADDRESSES = frozenset({"address", "cv:1", "cv:17", "cv:18", "cv:17/18"})
_NEARLY_ALL = 0.8
_PARTS = 2
"""A heading of so many known words for different things may be several columns run together."""


def made_unsure(
    context: Context, columns: Mapping[int, ColumnReading], given: Mapping[int, str]
) -> Iterator[ColumnReading]:
    """Yield the columns of a table of engines that are not sure after all, and why."""
    for number, one in columns.items():
        if number in given:
            continue
        why = _why(number, one, context, columns, given)
        if why:
            yield replace(one, sure=Sure.UNSURE, why=why)


def _why(
    number: int,
    one: ColumnReading,
    context: Context,
    columns: Mapping[int, ColumnReading],
    given: Mapping[int, str],
) -> str:
    heading = context.table.headings[number]
    if one.read_as == "engine" and len(_parts(heading.text)) > _PARTS:
        return f"'{heading.text}' has words for several columns, and each cell may hold them all"
    if one.read_as == "number":
        return _other_number(number, context, columns)
    if one.read_as != OWN or not context.contents[number].texts:
        return ""
    lost = _lost(context, given).get(number)
    if lost:
        other = context.table.headings[lost[1]]
        return f"it would be {shown_field(lost[0])}, but somebody said so of {other.key} '{other.text}'"
    twin = twins(context.table).get(number)
    if twin is not None and columns[twin].read_as != OWN:
        other = context.table.headings[twin]
        return f"it may mean {shown_field(columns[twin].read_as)} too, which is {other.key} '{other.text}'"
    if not _ADDRESSES & {column.read_as for column in columns.values()} and _is_address(number, context):
        return f"'{heading.text}' may mean Address, and no column is read as that"
    return ""


def _parts(text: str) -> set[str]:
    """Return the different fields that the single words of a heading stand for."""
    found = (fields_of(word) for word in folded_heading(parted(text)).split())
    return {fields[0] for fields in found if fields and fields[0] != OWN}


def _lost(context: Context, given: Mapping[int, str]) -> dict[int, tuple[str, int]]:
    """Return the columns that would be read as what somebody said of another, with that and the other."""
    said = {word: number for number, word in given.items()}
    if not said:
        return {}
    found = assigned(choices_of(context), context)
    fields = {number: one.choice.candidate.field for number, one in found.items()}
    return {number: (field, said[field]) for number, field in fields.items() if field in said}


def _other_number(number: int, context: Context, columns: Mapping[int, ColumnReading]) -> str:
    """Say that a cab number may be an address, where another column may have the numbers; else blank."""
    text = context.table.headings[number].text
    if "cab" not in folded_heading(text).split():
        return ""
    for other, some in enumerate(context.candidates):
        contents = context.contents[other]
        named = any(one.field == "number" for one in some)
        if other != number and columns[other].read_as == OWN and named and contents.figures >= MOSTLY:
            heading = context.table.headings[other]
            return (
                f"'{text}' may mean Address as well as Number; {heading.key} '{heading.text}' has numbers too"
            )
    return ""


def _is_address(number: int, context: Context) -> bool:
    """Whether a heading speaks of an address of engines, old or new perhaps, and its cells may be some."""
    text = context.table.headings[number].text
    words = folded_heading(parted(text)).split()
    named = any(fields_of(word)[:1] == ("address",) for word in words) or fields_of(text)[:1] == ("address",)
    return named and not subjects_of(text) and context.contents[number].addresses >= _NEARLY_ALL

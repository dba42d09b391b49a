"""A record of any table as a row of one of our sheets, cell by cell."""

from collections.abc import Container, Mapping
from dataclasses import dataclass, field, replace
from datetime import date, datetime, time, timedelta
from functools import cache

from rosterkit.cell_names import column_letters
from rosterkit.lists.adopted import AdoptedValue
from rosterkit.lists.plain import PlainCell
from rosterkit.lists.reading import OWN, ColumnReading, TableReading
from rosterkit.lists.settle.cells import cell_said, said_exactly
from rosterkit.lists.settle.draft import Draft
from rosterkit.lists.settle.facts import Facts, place_of, stands_in_row
from rosterkit.lists.settle.measures import unit_of_heading
from rosterkit.lists.settle.said import unclear
from rosterkit.lists.settle.titles import same_for_all
from rosterkit.lists.tables import Heading, Located, Origin, Record
from rosterkit.roster.schema import Column, Sheet, folded, sheet, spellings


@cache
def column_of(known: Sheet, read_as: str) -> Column | None:
    """Return the column of a sheet that members fill, by its name; None for other words."""
    return next((column for column in known.filled_by_members if column.name == read_as), None)


def take_cell(
    draft: Draft,
    column: Column,
    heading: Heading,
    located: Located,
    facts: Facts,
    answers: Mapping[str, str] | None = None,
) -> None:
    """Take a cell into a row that is put together; ``answers`` has what letters mean in its column."""
    units = unit_of_heading(heading.text), facts.length_unit
    if column.unit == "length unit" and facts.mixed and located.cell.text:
        text = located.cell.text
        said = unclear(
            text, f"'{text}' is one of lengths in millimetres and in inches", "Enter all in one unit."
        )
    elif draft.exact:
        said = said_exactly(column, located.cell)
    else:
        said = cell_said(column, _answered(located.cell, answers), heading.text, units)
    if column.name == "notes" and said.value is not None and "notes" in draft.values:
        draft.values["notes"] = f"{draft.values['notes']}; {said.value}"
        return
    draft.take(column, said, located.place, located.cell.text)


def _answered(cell: PlainCell, answers: Mapping[str, str] | None) -> PlainCell:
    """Return a cell with the yes or no that its letter stands for, as it is if it stands for none."""
    meant = answers.get(folded(cell.text)) if answers else None
    return cell if meant is None else replace(cell, text=meant, value=meant)


def own_value(cell: PlainCell) -> AdoptedValue:
    """Return what a cell of a member's own column keeps: text as text, a number as a number, a day in words.

    A number that its format shows with zeros before it keeps them, as text.
    """
    value = cell.value
    if cell.loss:
        return cell.text
    if isinstance(value, bool):
        return str(value).upper()
    if isinstance(value, datetime):
        return value.date().isoformat() if value.time() == time() else value.isoformat(" ")
    if isinstance(value, date | time):
        return value.isoformat()
    if isinstance(value, timedelta):
        return str(value)
    if isinstance(value, str):
        return cell.text
    return cell.text if _shows_zeros(cell.text) else value


def _doubt_loss(draft: Draft, name: str, located: Located, facts: Facts) -> None:
    """Say once for a column of the member's own that the file has lost what was typed there."""
    column = located.place.sheet, name
    if located.cell.loss and column not in facts.lost:
        facts.lost.add(column)
        message = f"'{located.cell.text}' is {located.cell.loss}"
        draft.doubt(located.place, message, f"Look through '{name}' and type what was meant, as text.")


def _shows_zeros(text: str) -> bool:
    return len(text) > 1 and text[0] == "0" and text.isdigit()


def own_headings(reading: TableReading, told: Container[str] = ()) -> dict[int, str]:
    """Return by its number the name of each heading that is a member's own: each once, and none of ours.

    A title that every engine of the list has (its text is in ``told``) is none: it tells no two apart.
    """
    ours = {spelling for spelling, _, _ in spellings(sheet(reading.subject))}
    taken: set[str] = set()
    found = {}
    for column in reading.columns:
        heading = reading.table.headings[column.heading]
        if column.read_as != OWN or same_for_all(heading, reading.table, told):
            continue
        text = " ".join(heading.text.split()) or _unnamed(heading)
        name, count = (f"{text} (own)" if folded(text) in ours else text), 1
        while folded(name) in taken:
            count += 1
            name = f"{text} ({count})"
        taken.add(folded(name))
        found[column.heading] = name
    return found


def _unnamed(heading: Heading) -> str:
    if heading.origin in (Origin.TABLE_TITLE, Origin.SHEET_TITLE, Origin.BLOCK_TITLE):
        return "title"
    if heading.origin is Origin.GROUP_ROW:
        return "group"
    if heading.origin is Origin.ROW:
        return f"Row {heading.at[-1].place.row if heading.at else heading.key.rpartition('!')[2]}"
    if heading.at:
        return f"Column {column_letters(heading.at[-1].place.column)}"
    return f"Column {heading.key.rpartition('!')[2]}"


@dataclass(frozen=True, slots=True)
class TableFacts:
    """What the records of one table have in common."""

    reading: TableReading
    own: Mapping[int, str]
    """By its number, the name of each heading that is a member's own."""
    facts: Facts
    exact: bool
    """The table is a sheet of ours."""
    marks: frozenset[str] = frozenset()
    """The railways, folded, that its labels begin with, the letters of a class behind some."""
    answers: Mapping[int, Mapping[str, str]] = field(default_factory=dict)
    """By the number of its heading, what the letters of a column of yes and no mean, such as O and N."""

    def heading(self, column: ColumnReading) -> Heading:
        """Return the heading that a column reading is of."""
        return self.reading.table.headings[column.heading]


def new_draft(record: Record, context: TableFacts) -> Draft:
    """Return the row of a record with nothing in it yet."""
    place = place_of(record, context.reading.table)
    return Draft(record, place, context.exact, keys=[record.key])


def plain_draft(record: Record, context: TableFacts) -> Draft:
    """Return a record as a row of the sheet that its table is about."""
    draft, known = new_draft(record, context), sheet(context.reading.subject)
    for column in context.reading.columns:
        if located := record.cells.get(column.heading):
            take_read(draft, known, column, located, context)
    return draft


def take_read(
    draft: Draft, known: Sheet, column: ColumnReading, located: Located, context: TableFacts
) -> None:
    """Take a cell as what its heading is read as: a column of the sheet, the member's own, or nothing."""
    if column.read_as == OWN:
        if context.exact and not stands_in_row(context.heading(column)):
            return
        name = context.own.get(column.heading)
        if name is None:
            return
        draft.own[name] = own_value(located.cell)
        _doubt_loss(draft, name, located, context.facts)
        return
    ours = column_of(known, column.read_as)
    if ours is not None:
        answers = context.answers.get(column.heading)
        take_cell(draft, ours, context.heading(column), located, context.facts, answers)

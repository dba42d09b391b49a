"""What each heading of each table of a list stands for."""

from collections.abc import Sequence
from dataclasses import dataclass

from rosterkit.lists.columns.assign import Assigned, assigned, choices_of
from rosterkit.lists.columns.by_contents import found_by_contents
from rosterkit.lists.columns.candidates import candidates_of
from rosterkit.lists.columns.consists import CONSISTS, consist_columns
from rosterkit.lists.columns.contents import Contents, contents_of, pooled
from rosterkit.lists.columns.context import Context
from rosterkit.lists.columns.given import given_for, require_known
from rosterkit.lists.columns.names import names_of
from rosterkit.lists.columns.ours import our_sheet, read_exactly
from rosterkit.lists.columns.subject import labels_of, why_no_engines
from rosterkit.lists.columns.titles import TITLES, Names, title_read
from rosterkit.lists.columns.unsure import made_unsure
from rosterkit.lists.columns.wording import why_own, why_read
from rosterkit.lists.reading import (
    ENGINES,
    NOTHING,
    OWN,
    PAIR_CV,
    PAIR_VALUE,
    ColumnReading,
    Corrections,
    Sure,
    TableReading,
)
from rosterkit.lists.tables import Layout, Table
from rosterkit.lists.vocabulary import Known, fields_of
from rosterkit.roster.schema import folded

_SAID_SO = "somebody said so"
_FITS = 0.8


def recognised(layout: Layout, corrections: Corrections) -> tuple[TableReading, ...]:
    """Return what every table of a list is about and what its headings stand for, in the layout's order.

    Raises:
        CannotRunError: if a correction names no heading of the list, or says what none can be read as.
    """
    require_known(corrections, layout)
    contents = [contents_of(table) for table in layout.tables]
    alike: dict[tuple[str, ...], list[tuple[Contents, ...]]] = {}
    for table, some in zip(layout.tables, contents, strict=True):
        alike.setdefault(_headings(table), []).append(some)
    together = {headings: pooled(some) for headings, some in alike.items()}
    drafts = [
        _draft(table, some, together[_headings(table)], corrections)
        for table, some in zip(layout.tables, contents, strict=True)
    ]
    _judge_subjects(drafts)
    names = names_of([(draft.table, draft.fields) for draft in drafts if not draft.why])
    return tuple(_finished(draft, names) for draft in drafts)


@dataclass
class _Draft:
    """A table while it is being read."""

    table: Table
    contents: tuple[Contents, ...]
    subject: str
    columns: dict[int, ColumnReading]
    given: dict[int, str]
    context: Context | None = None
    """None of a table that is a sheet of ours."""
    why: str = ""
    """Why the table is about nothing of ours, where it is."""

    @property
    def fields(self) -> dict[int, str]:
        return {number: one.read_as for number, one in self.columns.items()}


def _judge_subjects(drafts: Sequence[_Draft]) -> None:
    """Say of each table that is no sheet of ours why it is not about engines, if it is not."""
    labels = [labels_of(one.context, one.fields) if one.context else set[str]() for one in drafts]
    for number, draft in enumerate(drafts):
        if draft.context and set(draft.given.values()) <= {OWN, NOTHING}:
            elsewhere = set().union(*labels[:number], *labels[number + 1 :])
            draft.why = why_no_engines(draft.context, draft.fields, elsewhere)


def _headings(table: Table) -> tuple[str, ...]:
    return tuple(folded(one.text) for one in table.headings)


def _draft(
    table: Table, contents: tuple[Contents, ...], alike: tuple[Contents, ...], corrections: Corrections
) -> _Draft:
    """Read a table by its words; ``alike`` has its cells and those of all tables under the same headings."""
    known = our_sheet(table)
    if known is not None:
        given = given_for(table, corrections, known.title)
        exact = read_exactly(known, table, contents)
        return _Draft(table, contents, known.title, {one.heading: one for one in exact}, given)
    consists = consist_columns(table, contents)
    if consists:
        given = given_for(table, corrections, CONSISTS)
        return _Draft(table, contents, CONSISTS, {one.heading: one for one in consists}, given)
    given = given_for(table, corrections, ENGINES)
    candidates = candidates_of(table)
    for number, heading in enumerate(table.headings):
        if number in given or heading.origin in TITLES:
            candidates[number] = ()
    context = Context(table, alike, candidates)
    draft = _Draft(table, contents, ENGINES, {}, given)
    _read_by_words(draft, context)
    _read_by_contents(draft, context)
    draft.context = context
    return draft


def _read_by_words(draft: _Draft, context: Context) -> None:
    said = set(draft.given.values())
    choices = [
        one
        for one in choices_of(context)
        if one.candidate.field not in said or one.candidate.field == "notes"
    ]
    found = _paired(assigned(choices, context))
    for number, one in found.items():
        heading = draft.table.headings[number]
        why = why_read(heading, one, draft.table.headings)
        draft.columns[number] = ColumnReading(
            number, one.choice.candidate.field, _sure(one), why, draft.contents[number].samples
        )


def _paired(found: dict[int, Assigned]) -> dict[int, Assigned]:
    """Leave out the numbers of CVs without values, and values without numbers."""
    fields = {one.choice.candidate.field for one in found.values()}
    pair = {PAIR_CV, PAIR_VALUE}
    if not pair & fields or pair <= fields:
        return found
    return {number: one for number, one in found.items() if one.choice.candidate.field not in pair}


def _sure(one: Assigned) -> Sure:
    choice = one.choice
    if one.rival is not None or one.may_count:
        return Sure.UNSURE
    first = choice.candidate.rank == 0 or choice.candidate.field in {"loco", "engine"}
    plain = first and choice.candidate.known in {Known.WHOLE, Known.WORD}
    return Sure.SURE if plain and choice.fit is not None and choice.fit >= _FITS else Sure.LIKELY


def _read_by_contents(draft: _Draft, context: Context) -> None:
    for number, field, why in found_by_contents(context, draft.fields):
        if number not in draft.given:
            samples = draft.contents[number].samples
            draft.columns[number] = ColumnReading(number, field, Sure.LIKELY, why, samples)


def _finished(draft: _Draft, names: Names) -> TableReading:
    for number, word in draft.given.items():
        samples = draft.contents[number].samples
        draft.columns[number] = ColumnReading(number, word, Sure.GIVEN, _SAID_SO, samples)
    _read_titles(draft, names)
    if draft.why:
        _forget(draft)
    subject = "" if draft.why else draft.subject
    _fill_up(draft)
    if draft.context and subject:
        doubtful = made_unsure(draft.context, dict(draft.columns), draft.given)
        draft.columns |= {one.heading: one for one in doubtful}
    columns = tuple(draft.columns[number] for number in range(len(draft.table.headings)))
    return TableReading(draft.table, subject, columns, draft.why)


def _forget(draft: _Draft) -> None:
    said = f"the table is not of engines: {draft.why}"
    for number in draft.columns.keys() - draft.given.keys():
        draft.columns[number] = ColumnReading(number, OWN, Sure.SURE, said, draft.contents[number].samples)


def _read_titles(draft: _Draft, names: Names) -> None:
    for number, heading in enumerate(draft.table.headings):
        if heading.origin in TITLES and number not in draft.columns:
            contents = draft.contents[number]
            word, sure, why = title_read(heading, contents, draft.fields.values(), names)
            draft.columns[number] = ColumnReading(number, word, sure, why, contents.samples)


def _fill_up(draft: _Draft) -> None:
    taken = {one.read_as: draft.table.headings[number] for number, one in draft.columns.items()}
    for number, heading in enumerate(draft.table.headings):
        if number in draft.columns:
            continue
        fields, contents = fields_of(heading.text), draft.contents[number]
        why = why_own(heading, fields, taken, misfit=bool(contents.texts))
        if len(fields) > 1 and contents.is_count:
            why = f"'{heading.text}' only counts the rows"
        draft.columns[number] = ColumnReading(number, OWN, Sure.SURE, why, contents.samples)

"""Tables and what their columns are read as, made into rows of our sheets, with all that is in doubt."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from rosterkit.lists.adopted import Adopted, AdoptedRow, Doubt
from rosterkit.lists.columns.ours import our_sheet
from rosterkit.lists.plain import Place, PlainList
from rosterkit.lists.reading import ENGINES, TableReading
from rosterkit.lists.settle.answers import letters_of
from rosterkit.lists.settle.beside import keep_unset
from rosterkit.lists.settle.colours import colours_of
from rosterkit.lists.settle.consist_rows import CONSISTS, consist_draft, settle_consists
from rosterkit.lists.settle.differences import settle_typed_and_stored
from rosterkit.lists.settle.draft import Draft
from rosterkit.lists.settle.engines import LABEL, engine_draft
from rosterkit.lists.settle.facts import Facts, facts_of, heading_doubts
from rosterkit.lists.settle.further import further_rows
from rosterkit.lists.settle.joined import has_pair_columns, merged_joined, rows_joined, tables_joined
from rosterkit.lists.settle.labelled import (
    SkippedRecords,
    are_all_named,
    label_all,
    skipped_doubts,
    why_no_engine,
)
from rosterkit.lists.settle.labels import marks_of
from rosterkit.lists.settle.rows import TableFacts, own_headings, plain_draft
from rosterkit.lists.settle.settings import settings_row
from rosterkit.lists.settle.titles import skipped_titles
from rosterkit.lists.tables import Layout, Skipped, Table

SETTINGS = "Layout"


def settled(layout: Layout, readings: tuple[TableReading, ...], plain: PlainList) -> Adopted:
    """Return the rows of our sheets that a list comes to, and every doubt about them.

    What was typed beats what CVs say; a cell from which no value can be had for sure leaves its column
    blank, with a doubt and the text as typed. Nothing is assumed where the list says nothing.
    """
    settings = settings_row([one for one in readings if one.subject == SETTINGS])
    facts = facts_of(colours_of(layout, readings, plain), readings, settings.values if settings else None)
    drafts, skipped = _engines(readings, facts)
    others = _others(readings, facts, drafts)
    told: set[int] = set()
    for draft in drafts:
        keep_unset(draft, told)
    rows: dict[str, list[AdoptedRow]] = {title: [d.row() for d in some] for title, some in others.items()}
    for title, more in further_rows(drafts, rows):
        rows.setdefault(title, []).extend(more)
    rows[ENGINES] = [draft.row() for draft in drafts]
    _add_settings(rows, settings, facts)
    return Adopted(
        rows={title: tuple(some) for title, some in rows.items() if some},
        readings=readings,
        doubts=(
            *heading_doubts(readings, facts),
            *_skipped(layout),
            *_doubts(drafts, others, settings),
            *skipped_doubts(skipped),
        ),
        skipped=(*layout.skipped, *_foreign(readings), *skipped, *skipped_titles(readings, facts.titles)),
        remarks=plain.remarks,
    )


def _engines(readings: Sequence[TableReading], facts: Facts) -> tuple[list[Draft], list[Skipped]]:
    tables: list[list[Draft]] = []
    skipped: list[Skipped] = []
    for reading in readings:
        if reading.subject == ENGINES:
            engines, others = _engines_of(reading, facts)
            tables.append(engines)
            skipped += others
    drafts = tables_joined(tables)
    for draft in drafts:
        settle_typed_and_stored(draft)
    label_all(drafts)
    return drafts, skipped


def _engines_of(reading: TableReading, facts: Facts) -> tuple[list[Draft], list[Skipped]]:
    """Return the engines of one table, and its records that are none."""
    context = _context(reading, facts)
    all_drafts = [engine_draft(record, context) for record in reading.table.records]
    joined = merged_joined(all_drafts)
    if has_pair_columns(reading):
        joined = rows_joined(joined)
    numbers = {id(draft): number for number, draft in enumerate(all_drafts)}
    others, engines = SkippedRecords(reading.table), []
    all_named = are_all_named(joined)
    for draft in joined:
        why = None if context.exact else why_no_engine(draft, reading, all_named=all_named)
        if why:
            others.add(numbers[id(draft)], why)
        else:
            engines.append(draft)
    return engines, others.found


def _context(reading: TableReading, facts: Facts) -> TableFacts:
    ours = our_sheet(reading.table)
    exact = ours is not None and ours.title == reading.subject
    if exact or reading.subject != ENGINES:
        return TableFacts(reading, own_headings(reading), facts, exact)
    marks = marks_of(_labels(reading), facts.railways)
    own = own_headings(reading, facts.titles)
    return TableFacts(reading, own, facts, exact, marks, letters_of(reading))


def _labels(reading: TableReading) -> list[str]:
    """Return the labels in a table that also say the railway and number."""
    number = next((one.heading for one in reading.columns if one.read_as == LABEL), -1)
    return [one.cells[number].cell.text for one in reading.table.records if number in one.cells]


def _others(
    readings: Sequence[TableReading], facts: Facts, engines: Sequence[Draft]
) -> dict[str, list[Draft]]:
    found: dict[str, list[Draft]] = {}
    for reading in readings:
        if reading.subject in ("", ENGINES, SETTINGS):
            continue
        context = _context(reading, facts)
        ours = context.exact and all(engine.exact for engine in engines)
        if reading.subject == CONSISTS and not ours:
            drafts = [consist_draft(record, context) for record in reading.table.records]
            settle_consists(drafts, engines)
        else:
            drafts = [plain_draft(record, context) for record in reading.table.records]
        found.setdefault(reading.subject, []).extend(draft for draft in drafts if draft.values or draft.own)
    return found


def _add_settings(rows: dict[str, list[AdoptedRow]], settings: Draft | None, facts: Facts) -> None:
    row = settings.row() if settings else AdoptedRow({})
    if facts.length_unit:
        row = replace(row, values={"length_unit": facts.length_unit, **row.values})
    if row.values or row.as_typed:
        rows[SETTINGS] = [row]


def _doubts(
    drafts: Sequence[Draft], others: dict[str, list[Draft]], settings: Draft | None
) -> Iterator[Doubt]:
    for draft in drafts:
        yield from (replace(one, engine=draft.label) for one in draft.doubts)
    for some in (*others.values(), [settings] if settings else []):
        for draft in some:
            yield from draft.doubts


def _skipped(layout: Layout) -> Iterator[Doubt]:
    """Return a doubt for what the layout left out although it may say something of an engine."""
    for one in layout.skipped:
        if one.doubt:
            fix = "Enter it in the engine's row, or put a heading above it and adopt the list again."
            yield Doubt(one.place, f"'{one.text}' is left out: {one.why}", fix)


def _foreign(readings: Iterable[TableReading]) -> Iterator[Skipped]:
    """Return the tables that are about nothing of ours."""
    for reading in readings:
        if not reading.subject:
            places = _places(reading.table)
            text = " | ".join(heading.text for heading in reading.table.headings if heading.text)
            why = reading.why or "none of our sheets is about such a table"
            if places:
                yield Skipped(places[0], places[-1], text[:60], why)


def _places(table: Table) -> list[Place]:
    found = [one.place for heading in table.headings for one in heading.at]
    found += [one.place for record in table.records for one in record.cells.values()]
    return sorted(place for place in found if place.sheet == table.sheet)

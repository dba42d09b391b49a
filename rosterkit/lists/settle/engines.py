"""A record as an engine: its columns, its label taken apart, its CVs, and which address counts."""

from rosterkit.lists.reading import ENGINES, OWN, PAIR_CV, PAIR_VALUE
from rosterkit.lists.settle.addresses import address_said
from rosterkit.lists.settle.draft import Draft
from rosterkit.lists.settle.facts import Facts, stands_in_row
from rosterkit.lists.settle.labels import LONGEST_LABEL, label_parts
from rosterkit.lists.settle.note_cvs import cvs_in_note
from rosterkit.lists.settle.rows import TableFacts, column_of, new_draft, own_value, take_cell, take_read
from rosterkit.lists.settle.said import LONGEST_VALUE, Said
from rosterkit.lists.settle.typed_cvs import (
    TypedCv,
    UnreadCv,
    cv_named,
    cvs_in_cell,
)
from rosterkit.lists.tables import Heading, Located, Origin, Record
from rosterkit.lists.vocabulary import cvs_of, fields_of
from rosterkit.roster.schema import folded, sheet
from rosterkit.standards.addresses import SHORT_ADDRESSES

CELL_NOTES = "Notes at cells"
"""The column that holds the notes (comments) at the cells of an engine's row."""
LABEL = "engine"
"""Read as a label that also says railway, number or model."""
_CV = "cv:"
_SHEET = sheet(ENGINES)


def engine_draft(record: Record, context: TableFacts) -> Draft:
    """Return a record as an engine, as far as its cells say; what its CVs say is not compared yet."""
    draft = new_draft(record, context)
    pair: dict[str, Located] = {}
    for column in context.reading.columns:
        located = record.cells.get(column.heading)
        if located is None:
            continue
        if column.read_as == _CV + "1" and not cvs_of(context.heading(column).text):
            _take_short(draft, located)
        elif column.read_as.startswith(_CV):
            _take_cvs(draft, column.read_as.removeprefix(_CV), located)
        elif column.read_as in (PAIR_CV, PAIR_VALUE):
            pair[column.read_as] = located
        elif column.read_as == LABEL:
            _take_label(draft, located, context)
        else:
            take_read(draft, _SHEET, column, located, context)
            if column.read_as == "loco" and not context.exact:
                _take_known_parts(draft, located, context.facts)
        _take_note(draft, context.heading(column), located, context.facts)
    pairs = [(pair[PAIR_CV], pair[PAIR_VALUE])] if len(pair) == 2 else []
    for label, value in (*record.pairs, *pairs):
        _take_pair(draft, label, value, context.facts)
    for meaning in context.facts.colours.of_blank_cells(record, context.reading.table):
        _take_colour(draft, meaning)
    _take_note_cvs(draft)
    return draft


def _take_cvs(draft: Draft, number: str, located: Located) -> None:
    for one in cvs_in_cell(number, located.cell, located.place):
        if isinstance(one, UnreadCv):
            draft.doubt(one.place, one.message, one.fix)
            draft.own[f"CV{number}"] = own_value(located.cell)
        else:
            draft.cvs.append(one)


def _take_short(draft: Draft, located: Located) -> None:
    """Take a short address that stands beside a column of long ones."""
    said = address_said(located.cell.text[: LONGEST_VALUE + 1])
    if said.doubt:
        draft.doubt(located.place, *said.doubt)
    if isinstance(said.value, int) and said.value in SHORT_ADDRESSES:
        draft.cvs.append(TypedCv(1, said.value, located.place))
        draft.short_at = located.place
    elif said.doubt or said.value is not None:
        draft.own["Short address"] = own_value(located.cell)


def _take_pair(draft: Draft, label: Located, value: Located, facts: Facts) -> None:
    """Take a line of a list of CVs; its label may be that of a column instead, such as address."""
    number = cv_named(label.cell.text)
    if number:
        _take_cvs(draft, number, value)
        return
    fields = fields_of(label.cell.text)
    column = column_of(_SHEET, fields[0]) if len(fields) == 1 else None
    if column is None:
        draft.own[label.cell.text or OWN] = own_value(value.cell)
        return
    take_cell(draft, column, Heading("", label.cell.text, Origin.LABEL), value, facts)


def _take_label(draft: Draft, located: Located, context: TableFacts) -> None:
    """Take a label apart where it is plain; a railway, number or model that is typed in its place stays."""
    text = located.cell.text
    parts = label_parts(text, context.facts.railways, context.marks)
    if parts is None:
        draft.take(_SHEET["loco"], _whole_label(text), located.place, text)
        return
    more = text if " ".join(text.split()) != parts.loco else ""
    draft.take(_SHEET["loco"], Said(parts.loco, more), located.place, text)
    for name, value in (("railway", parts.railway), ("number", parts.number), ("model", parts.model)):
        if value:
            draft.of_label[name] = value, located.place


def _take_known_parts(draft: Draft, located: Located, facts: Facts) -> None:
    """Take railway and number of a member's own label that is just these; the list knows the railway."""
    parts = label_parts(located.cell.text, facts.railways)
    if parts and parts.model is None and folded(parts.railway) in facts.known_railways:
        draft.of_label["railway"] = parts.railway, located.place
        draft.of_label["number"] = parts.number, located.place


def _whole_label(text: str) -> Said:
    if len(text) <= LONGEST_LABEL:
        return Said(text)
    doubt = f"'{text}' is longer than {LONGEST_LABEL} characters", "Give the engine a shorter label in Loco."
    return Said(as_typed=text, doubt=doubt)


def _take_note(draft: Draft, heading: Heading, located: Located, facts: Facts) -> None:
    """Take the note at a cell, once, and what the colour of a cell of the row means."""
    cell, place = located.cell, located.place
    if cell.note and place not in facts.noted:
        facts.noted.add(place)
        text = f"{place.cell}: {' '.join(cell.note.split())}"
        there = draft.own.get(CELL_NOTES)
        draft.own[CELL_NOTES] = f"{there} / {text}" if there else text
        draft.noted.append(text)
    if not stands_in_row(heading):
        return
    if meaning := facts.colours.meanings.get((place.sheet, cell.fill)):
        _take_colour(draft, meaning)


def _take_colour(draft: Draft, meaning: str) -> None:
    if meaning not in draft.colour:
        draft.colour = f"{draft.colour}; {meaning}" if draft.colour else meaning


def _take_note_cvs(draft: Draft) -> None:
    """Take the CVs that notes hold, those at cells too."""
    place = draft.places.get("notes", draft.place)
    typed = [str(draft.values["notes"])] if "notes" in draft.values else []
    for text in (*typed, *draft.noted):
        for one in cvs_in_note(text, place):
            if isinstance(one, UnreadCv):
                draft.doubt(one.place, one.message, one.fix)
            else:
                draft.cvs.append(one)

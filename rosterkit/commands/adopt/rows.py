"""What goes into each sheet of ours: rows by the schema, and the columns that stand beside them."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, time

from rosterkit.lists.adopted import Adopted, AdoptedRow, Doubt
from rosterkit.lists.plain import Place
from rosterkit.lists.reading import ENGINES, OWN
from rosterkit.lists.tables import Record
from rosterkit.roster.schema import Column, Kind, Sheet, all_sheets, folded, sheet
from rosterkit.template.own_columns import NewValue, OwnColumn
from rosterkit.xlsx.xml.values import cell_text, escaped

AS_TYPED = "{} (as typed)"
FROM, DOUBTS, COLOUR = "From", "Doubts", "Colour"
_LIST = "{} (list)"


@dataclass(frozen=True, slots=True)
class SheetRows:
    """The rows of one sheet of ours, and all columns beside them."""

    records: Sequence[Mapping[str, NewValue]]
    own: Sequence[OwnColumn]


def rows_of(adopted: Adopted) -> Mapping[str, SheetRows]:
    """Return what goes into the sheets of a new workbook, by title."""
    doubts = doubts_by_row(adopted)
    return {
        title: SheetRows(
            records=[_record(sheet(title), row) for row in rows],
            own=() if sheet(title).transposed else tuple(_own_columns(title, rows, adopted, doubts)),
        )
        for title, rows in adopted.rows.items()
    }


def text_for(text: str) -> str:
    """Return a text as openpyxl may write it: no sign that XML cannot hold, and none taken for an escape."""
    return escaped(cell_text(text))


def cell_value(value: str | int | float) -> NewValue:
    """Return what is written for a value of a list."""
    return text_for(value) if isinstance(value, str) else value


def _record(known: Sheet, row: AdoptedRow) -> Mapping[str, NewValue]:
    return {name: _typed(known[name], value) for name, value in row.values.items()}


def _typed(column: Column, value: str | int | float) -> NewValue:
    """Return a day or a time of day as such, which sorts as what it is; anything else as it is."""
    try:
        if column.kind is Kind.DATE and isinstance(value, str):
            return date.fromisoformat(value)
        if column.kind is Kind.TIME and isinstance(value, str):
            return time.fromisoformat(value)
    except ValueError:
        pass
    return cell_value(value)


def _own_columns(
    title: str, rows: Sequence[AdoptedRow], adopted: Adopted, doubts: Mapping[int, Sequence[Doubt]]
) -> Iterator[OwnColumn]:
    taken = {folded(column.heading) for column in sheet(title).columns}
    beside = list(_beside(title, rows, doubts))
    # What rosterkit adds keeps its name: a member's own column of that name is the one from the list.
    named = [replace(one, heading=_free(one.heading, taken)) for one in beside]
    for heading in _own_headings(title, rows, adopted):
        yield OwnColumn(_free(heading, taken), [_cell(row.own.get(heading)) for row in rows])
    yield from named


def _beside(
    title: str, rows: Sequence[AdoptedRow], doubts: Mapping[int, Sequence[Doubt]]
) -> Iterator[OwnColumn]:
    """Return what rosterkit says beside the rows, as far as there is anything."""
    ours = {column.name: column.heading for column in sheet(title).columns}
    for heading in dict.fromkeys(heading for row in rows for heading in row.as_typed):
        name = AS_TYPED.format(ours.get(heading, heading))
        yield OwnColumn(name, [_cell(row.as_typed.get(heading)) for row in rows])
    said = [[f"{one.message}. {one.fix}" for one in doubts.get(id(row), ())] for row in rows]
    for name, texts, wrapped in (
        (FROM, [row.came_from for row in rows], False),
        (DOUBTS, ["\n".join(one) for one in said], True),
        (COLOUR, [row.colour for row in rows], False),
    ):
        if any(texts):
            yield OwnColumn(name, [_cell(text) for text in texts], wrapped=wrapped)


def _cell(value: str | int | float | None) -> NewValue:
    return None if value is None or value == "" else cell_value(value)


def _own_headings(title: str, rows: Sequence[AdoptedRow], adopted: Adopted) -> Iterable[str]:
    """Return the headings of a member's own columns in the order of the list."""
    there = dict.fromkeys(heading for row in rows for heading in row.own)
    listed = (
        reading.table.headings[one.heading].text
        for reading in adopted.readings
        if reading.subject == title
        for one in reading.columns
        if one.read_as == OWN
    )
    return dict.fromkeys([*(heading for heading in listed if heading in there), *there])


def _free(heading: str, taken: set[str]) -> str:
    """Return a heading that no other column of the sheet has, and note it as taken."""
    wanted = text_for(" ".join(heading.split())) or "Column"
    names = [wanted, _LIST.format(wanted), *(_LIST.format(f"{wanted} {n}") for n in range(2, 10_000))]
    name = next(one for one in names if folded(one) not in taken)
    taken.add(folded(name))
    return name


def doubts_by_row(adopted: Adopted) -> Mapping[int, Sequence[Doubt]]:
    """Return the doubts that speak of a row, by the identity of the row; of an engine its row's."""
    engines: dict[str, AdoptedRow] = {}
    by_record: dict[str, AdoptedRow] = {}
    for row in adopted.engines:
        engines.setdefault(str(row.values.get("loco", "")), row)
    for title in (ENGINES, *(one.title for one in all_sheets())):
        for row in adopted.rows.get(title, ()):
            # An engine that stands in two tables names both records.
            for key in (row.came_from, *row.came_from.split(", ")):
                by_record.setdefault(key, row)
    records = {place: record.key for record in _records(adopted) for place in _places(record)}
    found: dict[int, list[Doubt]] = {}
    for doubt in adopted.doubts:
        row_meant = engines.get(doubt.engine) if doubt.engine else None
        row_meant = row_meant or by_record.get(records.get(doubt.place, ""))
        if row_meant is not None:
            found.setdefault(id(row_meant), []).append(doubt)
    return found


def _records(adopted: Adopted) -> Iterator[Record]:
    for reading in adopted.readings:
        yield from reading.table.records


def _places(record: Record) -> Iterator[Place]:
    for located in record.cells.values():
        yield located.place
    for pair in record.pairs:
        yield from (located.place for located in pair)

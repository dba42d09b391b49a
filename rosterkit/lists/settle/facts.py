"""What holds for a whole list: its length unit, its railways, and which cells' notes were taken."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from rosterkit.lists.adopted import AdoptedValue, Doubt
from rosterkit.lists.plain import Place
from rosterkit.lists.reading import ENGINES, ColumnReading, Sure, TableReading
from rosterkit.lists.settle.colours import Colours
from rosterkit.lists.settle.labels import label_parts
from rosterkit.lists.settle.measures import LENGTHS, measure, unit_of_heading
from rosterkit.lists.settle.said import LONGEST_VALUE
from rosterkit.lists.settle.titles import titles_of_all
from rosterkit.lists.tables import Heading, Located, Origin, Record, Table
from rosterkit.roster.schema import folded, sheet

_OF_THE_ROW = (Origin.COLUMN, Origin.ROW, Origin.LABEL)


@dataclass(frozen=True, slots=True)
class Facts:
    """What the rows of a list have in common."""

    colours: Colours
    length_unit: str | None
    """mm or in, where headings or cells say so."""
    railways: frozenset[str]
    """Those that columns of railways name, folded."""
    known_railways: frozenset[str] = frozenset()
    """They, and those that labels of engines begin with."""
    titles: frozenset[str] = frozenset()
    """What titles say of every engine."""
    mixed: bool = False
    """Lengths have different units beside them, and no heading names one."""
    has_settings: bool = False
    """The list has a sheet Layout, whose blank settings mean their defaults."""
    lost: set[tuple[str, str]] = field(default_factory=set)
    """By sheet and name, the members' own columns of which a loss was told."""
    noted: set[Place] = field(default_factory=set)
    """Cells whose notes stand in a row already; a merged cell holds for many rows, its note for one."""


def stands_in_row(heading: Heading) -> bool:
    """Tell whether the values under a heading stand in the records themselves, not above them."""
    return heading.origin in _OF_THE_ROW


def cells_of(record: Record, table: Table) -> list[Located]:
    """Return the cells of a record itself, not those of titles and group rows that hold for several."""
    own = [one for number, one in record.cells.items() if stands_in_row(table.headings[number])]
    found = [*own, *(one for pair in record.pairs for one in pair)]
    return found or list(record.cells.values())


def place_of(record: Record, table: Table) -> Place:
    """Return the first cell of a record itself."""
    return min((one.place for one in cells_of(record, table)), default=Place(table.sheet, 1, 1))


def heading_place(heading: Heading, table: Table, number: int) -> Place:
    """Return the cell of a heading; without one, the first cell below it."""
    if heading.at:
        return heading.at[-1].place
    cells = (record.cells[number].place for record in table.records if number in record.cells)
    return next(cells, Place(table.sheet, 1, 1))


def facts_of(
    colours: Colours, readings: Sequence[TableReading], settings: Mapping[str, AdoptedValue] | None
) -> Facts:
    """Return what the tables of engines have in common; the length unit of a sheet Layout counts."""
    typed = None if settings is None else str(settings.get("length_unit") or "") or None
    railways = {
        folded(located.cell.text)
        for _, _, located in _cells(readings, "railway")
        if located.cell.text and not located.cell.text.isdigit()
    }
    parts = [label_parts(located.cell.text, railways) for _, _, located in _cells(readings, "engine")]
    of_labels = {folded(one.railway) for one in parts if one}
    unit, mixed = (typed, False) if typed else _length_unit(readings)
    return Facts(
        colours,
        unit,
        frozenset(railways),
        frozenset(of_labels | railways),
        titles_of_all(readings),
        mixed=mixed,
        has_settings=settings is not None,
    )


def _cells(readings: Sequence[TableReading], name: str) -> Iterator[tuple[Table, ColumnReading, Located]]:
    for reading in readings:
        if reading.subject != ENGINES:
            continue
        for column in reading.columns:
            if column.read_as == name:
                for record in reading.table.records:
                    if column.heading in record.cells:
                        yield reading.table, column, record.cells[column.heading]


def _length_unit(readings: Sequence[TableReading]) -> tuple[str | None, bool]:
    """Return the unit of lengths by most headings, or else by the cells, and whether the cells differ.

    Where no heading names a unit and cells have different ones, none can be chosen.
    """
    by_heading: Counter[str] = Counter()
    by_cell: set[str] = set()
    for table, column, located in _cells(readings, "length"):
        heading = unit_of_heading(table.headings[column.heading].text)
        if heading in LENGTHS:
            by_heading[LENGTHS[heading][0]] += 1
        short = isinstance(located.cell.value, str) and len(located.cell.text) <= LONGEST_VALUE
        size = measure(located.cell.text) if short else None
        if size and size.unit in LENGTHS:
            by_cell.add(LENGTHS[size.unit][0])
    if by_heading:
        return by_heading.most_common(1)[0][0], False
    return (by_cell.pop(), False) if len(by_cell) == 1 else (None, bool(by_cell))


def heading_doubts(readings: Sequence[TableReading], facts: Facts) -> Iterator[Doubt]:
    """Return a doubt for each heading that may be two fields, and one for lengths without any unit."""
    for reading in readings:
        for column in reading.columns:
            if column.sure is Sure.UNSURE and reading.subject:
                heading = reading.table.headings[column.heading]
                read_as = _in_words(reading.subject, column.read_as)
                message = f"'{heading.text}' is read as {read_as}, which is not sure: {column.why}"
                fix = f"If it is something else, say so by --as '{heading.key}=…' or in the sheet Reading."
                yield Doubt(heading_place(heading, reading.table, column.heading), message, fix)
    first = next(_cells(readings, "length"), None)
    if first and facts.length_unit is None and not facts.mixed and not facts.has_settings:
        table, column, _ = first
        heading = table.headings[column.heading]
        message = f"nothing says in which unit '{heading.text}' is"
        fix = "Choose mm or in as Length unit in the sheet Layout."
        yield Doubt(heading_place(heading, table, column.heading), message, fix)


def _in_words(subject: str, read_as: str) -> str:
    """Say what a heading is read as: by the heading of ours, or CV29, or in words."""
    if read_as.startswith("cv:"):
        return f"CV{read_as.removeprefix('cv:')}"
    words = {"engine": "a label of the engine", "own": "a column of your own", "nothing": "nothing"}
    names = {column.name: column.heading for column in sheet(subject).columns}
    return words.get(read_as) or names.get(read_as, read_as)

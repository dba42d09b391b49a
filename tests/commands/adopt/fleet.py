"""A small list as each room gives it to the next, made by hand."""

from datetime import date, datetime, time, timedelta

from rosterkit.commands.adopt.corrections import Read
from rosterkit.lists.adopted import Adopted, AdoptedRow, Doubt
from rosterkit.lists.plain import Place, PlainArea, PlainCell, PlainList, PlainSheet
from rosterkit.lists.reading import ColumnReading, Sure, TableReading
from rosterkit.lists.tables import Heading, Layout, Located, Origin, Record, Skipped, Table

HEADINGS = ("No.", "Address", "Notes", "Shed", "From", "CV49")
ROWS = (
    ("007", "3", "=1+1", "Northford", "M02", "12"),
    ("4E2", "12 or 45", "two of them\nin one box", "@home", "", ""),
    ("1-2", "600", "_x0041_ and \x07 bell", "Süd", "M01", "255"),
)
READ_AS = ("number", "address", "notes", "own", "own", "cv:49")


def _cells() -> dict[tuple[int, int], PlainCell]:
    cells = {(1, 1): PlainCell("Our fleet", "Our fleet", fill="FFCC00", note="kept since 2011")}
    for row, texts in enumerate((HEADINGS, *ROWS), 3):
        for column, text in enumerate(texts, 1):
            if text:
                cells[row, column] = PlainCell(text, text)
    return cells


VALUES = {
    (1, 1): PlainCell("007", 7),
    (2, 1): PlainCell("12.50 €", 12.5),
    (3, 1): PlainCell("45%", 0.45),
    (4, 1): PlainCell("2019-03-02", date(2019, 3, 2)),
    (5, 1): PlainCell("02.03.2019 20:15", datetime(2019, 3, 2, 20, 15)),
    (6, 1): PlainCell("20:15:30", time(20, 15, 30)),
    (7, 1): PlainCell("26:00:00", timedelta(hours=26)),
    (8, 1): PlainCell("TRUE", True),
    (9, 1): PlainCell("1,234.5", 1234.5),
    (10, 1): PlainCell("3rd of May", datetime(2020, 5, 3)),
    (11, 1): PlainCell("0.3333333333", 1 / 3),
    (12, 1): PlainCell("#REF!", "#REF!", loss="an error value"),
    (13, 1): PlainCell("4.00E+02", 400.0),
    (14, 1): PlainCell("5210", 5210.0),
    (15, 1): PlainCell("", "", fill="00FF00"),
    (16, 1): PlainCell("1899-12-30", date(1899, 12, 30)),
}
"""Cells of every kind."""


def fleet() -> PlainList:
    """Make the list: a sheet titled like ours, one with values of every kind, one that is hidden."""
    return PlainList(
        name="fleet.ods",
        sheets=(
            PlainSheet("Locomotives", _cells(), merged=(PlainArea(1, 1, 1, 3), PlainArea(1, 3, 2, 4))),
            PlainSheet("Values", VALUES),
            PlainSheet("Old", {(2, 2): PlainCell("gone", "gone")}, hidden=True),
        ),
        remarks=("the chart on the sheet Values stays behind",),
    )


def _located(row: int, column: int) -> Located:
    return Located(Place("Locomotives", row, column), _cells()[row, column])


def table() -> Table:
    """Return the one table of the list."""
    headings = tuple(
        Heading(f"Locomotives!{'ABCDEF'[n]}", text, Origin.COLUMN, (_located(3, n + 1),))
        for n, text in enumerate(HEADINGS)
    )
    records = tuple(
        Record(f"Locomotives!{row}", {n: _located(row, n + 1) for n in range(6) if texts[n]})
        for row, texts in enumerate(ROWS, 4)
    )
    return Table("Locomotives", headings, records, heading_row=3)


SKIPPED = Skipped(Place("Locomotives", 1, 1), Place("Locomotives", 1, 1), "Our fleet", "a title")


def layout() -> Layout:
    """Return the layout of the list."""
    return Layout((table(),), (SKIPPED,))


def readings() -> tuple[TableReading, ...]:
    """Return how its columns are read."""
    columns = tuple(
        ColumnReading(
            n,
            read_as,
            Sure.UNSURE if read_as == "address" else Sure.SURE,
            "the heading says so",
            tuple(texts[n] for texts in ROWS if texts[n]),
        )
        for n, read_as in enumerate(READ_AS)
    )
    return (TableReading(table(), "Locomotives", columns),)


def adopted() -> Adopted:
    """Return what the list comes to."""
    addresses: tuple[dict[str, int], ...] = ({"address": 3}, {}, {"address": 600})
    engines = tuple(
        AdoptedRow(
            values={"loco": texts[0], "number": texts[0], "notes": texts[2], **address},
            own={"Shed": texts[3]} | ({"From": texts[4]} if texts[4] else {}),
            as_typed={"Address": "12 or 45"} if texts[0] == "4E2" else {},
            came_from=f"Locomotives!{row}",
            colour="sold" if texts[0] == "1-2" else "",
            places={"number": Place("Locomotives", row, 1)},
        )
        for row, (texts, address) in enumerate(zip(ROWS, addresses, strict=True), 4)
    )
    extras = (
        AdoptedRow({"loco": "007", "cv": 49, "value": 12}, came_from="Locomotives!4"),
        AdoptedRow({"loco": "1-2", "cv": 49, "value": 255}, came_from="Locomotives!6"),
    )
    logs = (AdoptedRow({"length_unit": "mm"}, came_from="Locomotives"),)
    doubt = Doubt(
        Place("Locomotives", 5, 2),
        "'12 or 45' is two numbers",
        "Type the one that the engine answers into Address.",
        "4E2",
    )
    return Adopted(
        rows={"Locomotives": engines, "Extra values": extras, "Layout": logs},
        readings=readings(),
        doubts=(doubt,),
        skipped=(SKIPPED,),
        remarks=("the text 'NA' was taken as blank nowhere",),
    )


def read() -> Read:
    """Return how the list is laid out and read."""
    return Read(layout(), readings(), {"Locomotives": 3})

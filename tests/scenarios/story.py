"""What each member of the demo club does to their copy in this story, and what the keeper decides."""

from dataclasses import dataclass

from tests.scenarios.edits import Edit, Kind, Member

ENGINES = "Locomotives"
TAKEN_TWICE = "4444"
"""The address that two members take, each for another engine: no copy alone has a fault there."""

_M01, _M02, _M03, _M04, _KEEPER = (Member(code) for code in ("M01", "M02", "M03", "M04", "master"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """Somebody's copy: how it is sent, in which program it is edited, and what is done to it."""

    who: str
    program: str
    """LibreOffice or Gnumeric."""
    own_rows_only: bool
    """Whether the copy is sent with --member."""
    sorted_by: str | None
    """The heading by which Locomotives is sorted first, from the greatest value down; None as it is."""
    edits: tuple[Edit, ...]


FIRST = Part(
    who="M01",
    program="LibreOffice",
    own_rows_only=False,
    sorted_by="Address",
    edits=(
        *_M01.column(ENGINES, "Shed", {"JV 2101": "A1", "JV 2102": "A1", "JV 31": "Yard", "JV 32": "Yard"}),
        _M01.cell(ENGINES, "JV 2101", "Notes", "New couplers"),
        _M01.cell(ENGINES, "JV 2102", "Notes", ""),
        _M01.cell(ENGINES, "JV 2107", "Acceleration", "9"),
        _M01.cell(ENGINES, "JV 31", "Checked on", "2026-05-02"),
        _M01.cell(ENGINES, "SM 60", "Vmid", "62"),
        _M01.cell(ENGINES, "HB 21", "Notes", "Front coupler mended"),
        *_M01.new_row(
            ENGINES,
            "JV 2120",
            Owner="M01",
            Railway="Juniper Valley",
            Number="2120",
            Model="Freight diesel",
            Decoder="Plain 4-function",
            Address=TAKEN_TWICE,
            At_meet="yes",
            Checked_on="2026-05-02",
            Shed="A2",
        ),
        *_M01.new_row(
            ENGINES,
            "SM 7004",
            Owner="M05",
            Railway="Saltmeadow Light",
            Number="7004",
            Address="7004",
            Vstart="8",
            Length="175",
        ),
        _M01.cell("Extra values", {"Loco": "JV 0418", "CV": "49"}, "Value", "14"),
        *_M01.new_row("Readings", {"Date": "2026-05-02", "Loco": "JV 31", "CV": "29"}, Value="2"),
        _M01.cell("Layout", "Closing date", "Value", "2026-06-01"),
        *_M01.own_sheet("Shed plan", {"A1": "Track", "B1": "Engine", "A2": "1", "B2": "JV 31"}),
    ),
)
SECOND = Part(
    who="M02",
    program="LibreOffice",
    own_rows_only=True,
    sorted_by=None,
    edits=(
        _M02.cell(ENGINES, "NE 815", "Address", TAKEN_TWICE),
        _M02.cell(ENGINES, "NE 5201", "Stall A", "1.45"),
        *_M02.column(ENGINES, "Watts", {"NE 5201": "=G{row}*14", "NE 814": "=G{row}*14"}),
        *_M02.new_row(
            ENGINES,
            "SM 7004",
            Owner="M05",
            Railway="Saltmeadow Light",
            Number="7004",
            Address="7004",
            Vstart="10",
            Model="Branch-line diesel",
        ),
        _M02.beside(Kind.PHOTO, ENGINES, "NE 814", "Model"),
        _M02.beside(Kind.NOTE, ENGINES, "NE 815", "Model", "Pantograph bent"),
        _M02.beside(Kind.PAINT, ENGINES, "NE 5203", "Loco"),
        _M02.cell("Consists", {"Consist": "Marsh express", "Loco": "NE 815"}, "Facing", "reverse"),
        *_M02.new_row("Readings", {"Date": "2026-05-04", "Loco": "NE 815", "CV": "3"}, Value="5"),
        _M02.delete(ENGINES, "NE 6640"),
        _M02.delete(ENGINES, "NE 9"),
        _M02.cell(ENGINES, "NE 5202", "Loco", "NE 5202 City"),
    ),
)
THIRD = Part(
    who="M03",
    program="Gnumeric",
    own_rows_only=True,
    sorted_by=None,
    edits=(
        _M03.cell(ENGINES, "KC 14", "Vmid", "44"),
        _M03.cell(ENGINES, "KC 14", "Checked by", "M01"),
        _M03.cell(ENGINES, "KC 14", "Checked on", "2026-05-09"),
        _M03.cell(ENGINES, "KC 15", "Stall A", "0.8"),
        _M03.cell(ENGINES, "KC 501", "Notes", ""),
        *_M03.new_row(
            ENGINES,
            "KC 16",
            Owner="M03",
            Railway="Kettle Creek Lumber",
            Number="16",
            Model="Geared engine",
            Decoder="Small N",
            Address="16",
            Length="150",
        ),
        _M03.beside(Kind.NOTE, ENGINES, "KC 502", "Model", "Lent to the museum"),
        _M03.cell(ENGINES, "KC 12", "Loco", "KC 12 Annie"),
    ),
)
FOURTH = Part(
    who="M04",
    program="Gnumeric",
    own_rows_only=False,
    sorted_by=None,
    edits=(
        _M04.cell(ENGINES, "HB 1004", "Decoder", "Plain 4-function"),
        _M04.cell(ENGINES, "HB 1003", "Stall A", "1.2"),
        _M04.cell(ENGINES, "NE 9", "Address", "9"),
        _M04.cell(ENGINES, "SM 60", "Vmid", "62"),
        _M04.cell(ENGINES, "HB 21", "Notes", "Front coupler replaced"),
        *_M04.column(ENGINES, "Shed", {"HB 44": "Dock", "HB 45": "Dock", "JV 32": "Dock"}),
        _M04.cell("Extra values", {"Loco": "NE 5202", "CV": "35"}, "Value", "6"),
        _M04.cell("Consists", {"Consist": "Marsh express", "Loco": "NE 814"}, "Facing", "forward"),
        *_M04.new_row("Accessories", "Goods siding", Kind="turnout", Address="25", Method="decoder"),
        _M04.loose(ENGINES, "AS5", "Ask the treasurer"),
    ),
)
UNTOUCHED = Part(who="M05", program="LibreOffice", own_rows_only=True, sorted_by=None, edits=())
"""Somebody who looks, changes nothing, and saves."""

PARTS = (FIRST, SECOND, THIRD, FOURTH, UNTOUCHED)
KEEPER = Part(
    who="master",
    program="LibreOffice",
    own_rows_only=False,
    sorted_by=None,
    edits=(
        _KEEPER.cell(ENGINES, "HB 1003", "Stall A", "1.1"),
        _KEEPER.cell(ENGINES, "JV 7012", "Notes", "Home from the works"),
        _KEEPER.cell("Layout", "Event", "Value", "Spring meet at the goods shed"),
        *_KEEPER.new_row(ENGINES, "HB 46", Owner="M04", Railway="Harbour Belt", Number="46", Address="46"),
    ),
)
"""What the master got after the copies were sent."""

DECISIONS = {
    ("SM 7004", "Vstart"): "M02",
    ("HB 21", "Notes"): "M04",
    ("HB 1003", "Stall A"): "master",
    ("JV 32", "Shed"): "M01",
    ("NE 9", ""): "M04",
}
"""Whose side the keeper keeps of each conflict, by row and heading; "" of one over a whole row."""

AFTERWARDS = Part(
    who="the keeper afterwards",
    program="LibreOffice",
    own_rows_only=False,
    sorted_by=None,
    edits=(
        Edit(
            who="the keeper afterwards",
            kind=Kind.CELL,
            sheet=ENGINES,
            key={"Loco": "JV 2120"},
            heading="Address",
            text="2120",
        ),
    ),
)
"""How the keeper settles the address that two took."""


def edits() -> tuple[Edit, ...]:
    """Return everything that anybody did before the merge, the keeper included."""
    return tuple(edit for part in (*PARTS, KEEPER) for edit in part.edits)

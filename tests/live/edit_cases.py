"""What members do to the demo club's workbook at home, each with what must be seen before the next fill."""

from collections.abc import Callable
from dataclasses import dataclass

from tests.live.club import Club

EVERY = ("every engine",)
"""All rows of Locomotives in which something would be computed."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Edit:
    """One thing that somebody does, and what comes of it."""

    sentence: str
    do: Callable[[Club], object]
    blank: tuple[str, ...] = ()
    """Labels of rows in which something that would be computed is blank until the next fill."""
    wrong: tuple[str, ...] = ()
    """Cells that do not hold what would be computed, since somebody put something else there: label and
    heading, what stands there and what would be computed."""
    says: tuple[str, ...] = ()
    """Labels with what Alert must say there among other things."""
    strayed: tuple[str, ...] = ()
    """Labels of rows whose formulas see other cells, or another content, than rosterkit: so do alerts."""
    apart: tuple[str, ...] = ()
    """Labels of rows that Alert sees otherwise than ``check`` after fill, too: a content that programs read
    differently has values in place of formulas, and a row without a name or address is no engine to Alert."""
    left: tuple[str, ...] = ()
    """What is said after fill of what somebody typed under a computed heading."""
    without_alert: int = 0
    """Rows in which an engine stands and Alert is no formula."""
    alerts: bool = True
    """Alert goes on; otherwise something is gone that it needs, and it says that of every engine."""


L, RANGES, CONSISTS, LAYOUT = "Locomotives", "Address ranges", "Consists", "Layout"


def _steps(*steps: Callable[[Club], object]) -> Callable[[Club], None]:
    """Return what does one thing after the other."""

    def do(club: Club) -> None:
        for step in steps:
            step(club)

    return do


def _engine(club: Club, row: int) -> None:
    club.type_row(L, row, Loco="JV 99", Owner="M01", Number="4099", Address="4099")


def _sort(club: Club, sheet: str, heading: str, *, descending: bool = False) -> None:
    club.book.sort(sheet, club.table(sheet), club.column(sheet, heading), descending=descending)


def _delete_column(club: Club, heading: str, sheet: str = L) -> None:
    club.book.delete_columns(sheet, club.column(sheet, heading))


def _move(club: Club, heading: str, before: str, sheet: str = L) -> None:
    club.book.move_column(sheet, club.column(sheet, heading), club.column(sheet, before))


def _retitle(club: Club, heading: str, text: str, sheet: str = L) -> None:
    """Type over a heading, which stands in the first row of the demo club's sheets."""
    club.book.enter(sheet, f"{club.column(sheet, heading)}1", text)


def _insert_and_type(club: Club) -> None:
    row = club.row(L, "KC 12")
    club.book.insert_rows(L, row)
    _engine(club, row)


def _type_beyond_the_formulas(club: Club) -> None:
    _engine(club, club.last_computed_row(L, "CV29") + 1)


def _copy_down(club: Club, label: str) -> None:
    club.book.copy_row(L, club.row(L, label), club.first_free_row(L))


def _fill_down_addresses(club: Club) -> None:
    column, first = club.column(L, "Address"), club.row(L, "JV 2101")
    club.book.fill_down(L, f"{column}{first}:{column}{first + 2}")


def _columns_of(club: Club, first: str, last: str, *, rows: int = 36) -> str:
    """Name the area of some columns in the rows of all engines."""
    return f"{club.column(L, first)}2:{club.column(L, last)}{1 + rows}"


def _drag(club: Club, label: str, heading: str, onto: str) -> None:
    club.book.drag(L, club.cell(L, label, heading), club.cell(L, onto, heading))


def _rename_type_and_rename_back(club: Club) -> None:
    club.book.rename_sheet(L, "Our engines")
    club.book.enter("Our engines", "I5", "2101")
    club.book.rename_sheet("Our engines", L)


ADDRESSES = (
    Edit(
        sentence="an address that another engine has is typed",
        do=lambda club: club.type(L, "JV 0418", "Address", "2101"),
        says=(
            "JV 0418: error [Address] long 2101 is also the address of 'JV 2101'",
            "JV 2101: error [Address] long 2101 is also the address of 'JV 0418'",
        ),
    ),
    Edit(
        sentence="an address that two engines have is typed for a third",
        do=lambda club: club.type(L, "JV 0418", "Address", "5201"),
        says=("NE 5203: error [Address] long 5201 is also the address of 'NE 5201' and 1 more",),
    ),
    Edit(
        sentence="a clash is typed away",
        do=lambda club: club.type(L, "NE 5203", "Address", "5203"),
    ),
    Edit(
        sentence="an address is emptied",
        do=lambda club: club.clear(L, "JV 2101", "Address"),
        says=("JV 2101: error [Address] Address is blank",),
    ),
    Edit(
        sentence="an address too large is typed", do=lambda club: club.type(L, "JV 2101", "Address", "10240")
    ),
    Edit(sentence="0 is typed for an address", do=lambda club: club.type(L, "JV 2101", "Address", "0")),
    Edit(
        sentence="a text is typed for an address", do=lambda club: club.type(L, "JV 2101", "Address", "ask")
    ),
    Edit(sentence="half an address is typed", do=lambda club: club.type(L, "JV 2101", "Address", "2101.5")),
    Edit(
        sentence="an address is typed as a text", do=lambda club: club.type(L, "JV 2101", "Address", "'2199")
    ),
    Edit(
        sentence="an address is typed as a calculation",
        do=lambda club: club.type(L, "JV 2101", "Address", "=2100+7"),
        says=("JV 2101: error [Address] long 2107 is also the address of 'JV 2107'",),
    ),
    Edit(
        sentence="TRUE is typed for an address",
        do=lambda club: club.type(L, "JV 2101", "Address", "TRUE"),
        wrong=(
            "JV 2101 Answers: 1, not nothing",
            "JV 2101 CV1: 1, not nothing",
            "JV 2101 CV19: 85, not nothing",
            "JV 2101 CV29: 2, not nothing",
        ),
        strayed=("JV 2101",),
        apart=("JV 2101",),
    ),
    Edit(
        sentence="an address beyond those of the layout is typed",
        do=lambda club: club.type(L, "JV 2101", "Address", "10001"),
        says=(
            "JV 2101: error [Address] long 10001 is outside the long addresses of this layout, 128 to 9999",
        ),
    ),
    Edit(
        sentence="a short address is asked for that there is not",
        do=lambda club: club.type(L, "JV 2101", "Address kind", "short"),
        says=("JV 2101: error [Address] 2101 is not a short address (1 to 127)",),
    ),
    Edit(
        sentence="a low address is made long, and another spelling is used",
        do=lambda club: club.type(L, "JV 31", "Address kind", " L "),
    ),
    Edit(
        sentence="an address from another member's range is typed",
        do=lambda club: club.type(L, "JV 2101", "Address", "7050"),
        says=("JV 2101: warning [Address] long 7050 is in M05's range long 7000 to 7099, not M01's",),
    ),
    Edit(
        sentence="the address of a consist is typed",
        do=lambda club: club.type(L, "JV 31", "Address", "85"),
        says=("JV 31: error [Address] short 85 is also the address of the consist 'Valley freight'",),
    ),
    Edit(sentence="addresses are filled down", do=_fill_down_addresses),
    Edit(
        sentence="an owner is changed",
        do=lambda club: club.type(L, "SM 7001", "Owner", "M01"),
        says=("SM 7001: warning [Address] long 7001 is in M05's range long 7000 to 7099, not M01's",),
    ),
)

SETTINGS = (
    Edit(
        sentence="a setting is typed in another spelling",
        do=lambda club: club.type(L, "JV 2101", "Direction", "Reverse"),
    ),
    Edit(
        sentence="a setting is typed that there is not",
        do=lambda club: club.type(L, "JV 2101", "Speed steps", "27"),
        says=("JV 2101: error [Speed steps] '27' is not one of 14, 28/128",),
    ),
    Edit(
        sentence="a speed table is chosen",
        do=lambda club: club.type(L, "JV 2101", "Speed curve", "table"),
    ),
    Edit(
        sentence="a value of a speed table is emptied",
        do=lambda club: club.book.clear("Speed tables", club.cell("Speed tables", "Express diesel", "9")),
    ),
    Edit(
        sentence="a number of a lock is typed that there is not",
        do=lambda club: club.type(L, "JV 2101", "Lock", "240"),
        says=("JV 2101: error [Lock] 240 is too large: Lock takes 1 to 239",),
    ),
    Edit(
        sentence="a decoder is typed that is not listed",
        do=lambda club: club.type(L, "JV 2101", "Decoder", "Home-made"),
        says=("JV 2101: warning [Decoder] 'Home-made' is not in the sheet Decoder types",),
    ),
    Edit(
        sentence="a decoder type is renamed",
        do=lambda club: club.type("Decoder types", "Small N", "Decoder", "Tiny N"),
        says=("JV 31: warning [Decoder] 'Small N' is not in the sheet Decoder types",),
    ),
    Edit(
        sentence="an engine is called otherwise, and its readings and consist are not its own any more",
        do=lambda club: club.type(L, "JV 2101", "Loco", "JV 2101 (old)"),
    ),
    Edit(
        sentence="a reading of CV29 is typed, which counts from the next fill on",
        do=lambda club: club.type_row(
            "Readings", 105, Date="2026-11-20", Loco="JV 2101", CV="29", Value="38"
        ),
        wrong=("JV 2101 CV29: 34, not 38", "JV 2101 CV29 read: 34, not 38"),
    ),
)

ROWS = (
    Edit(
        sentence="an engine is typed into the first free row",
        do=lambda club: _engine(club, club.first_free_row(L)),
    ),
    Edit(
        sentence="an engine with an address that is taken is typed into the first free row",
        do=lambda club: club.type_row(L, club.first_free_row(L), Loco="JV 99", Owner="M01", Address="2101"),
        says=("JV 99: error [Address] long 2101 is also the address of 'JV 2101'",),
    ),
    Edit(
        sentence="an engine is typed below the last row with formulas",
        do=_type_beyond_the_formulas,
        blank=("JV 99",),
        without_alert=1,
    ),
    Edit(
        sentence="a row is inserted among the engines and typed into",
        do=_insert_and_type,
        blank=("JV 99",),
        without_alert=1,
    ),
    Edit(sentence="rows are inserted above the headings", do=lambda club: club.book.insert_rows(L, 1, 3)),
    Edit(sentence="a row is deleted", do=lambda club: club.book.delete_rows(L, club.row(L, "NE 5203"))),
    Edit(
        sentence="several rows are deleted",
        do=lambda club: club.book.delete_rows(L, club.row(L, "JV 2101"), 6),
    ),
    Edit(
        sentence="a row is copied into the first free one",
        do=lambda club: _copy_down(club, "JV 2101"),
        says=("JV 2101: error [Address] long 2101 is also the address of 'JV 2101'",),
    ),
    Edit(
        sentence="engines are sorted by their names downwards",
        do=lambda club: _sort(club, L, "Loco", descending=True),
    ),
    Edit(sentence="engines are sorted by their addresses", do=lambda club: _sort(club, L, "Address")),
    Edit(
        sentence="an address is dragged from one engine to another, and formulas follow it",
        do=lambda club: _drag(club, "JV 2101", "Address", "JV 31"),
        wrong=(
            "JV 2101 Answers: -2101, not nothing",
            "JV 2101 CV17: 200, not nothing",
            "JV 2101 CV18: 53, not nothing",
            "JV 2101 CV19: 85, not nothing",
            "JV 2101 CV29: 34, not nothing",
        ),
        strayed=("JV 2101", "JV 31"),
    ),
    Edit(
        sentence="an engine's cells are dragged into the first free row, and formulas follow them",
        do=lambda club: club.book.drag(L, "A2:K2", f"A{club.first_free_row(L)}"),
        wrong=(
            "None Answers: -2101, not nothing",
            "None CV17: 200, not nothing",
            "None CV18: 53, not nothing",
            "None CV19: 85, not nothing",
            "None CV29: 34, not nothing",
            "None CV29 read: 34, not nothing",
        ),
        strayed=("JV 2101", "None"),
        apart=("None",),
    ),
)

COLUMNS = (
    Edit(
        sentence="a column is inserted before the addresses",
        do=lambda club: club.book.insert_columns(L, club.column(L, "Address")),
    ),
    Edit(
        sentence="a column is inserted among the computed ones",
        do=lambda club: club.book.insert_columns(L, club.column(L, "CV18")),
    ),
    Edit(sentence="the addresses are moved to the front", do=lambda club: _move(club, "Address", "Loco")),
    Edit(
        sentence="the addresses are moved behind the alerts", do=lambda club: _move(club, "Address", "Check")
    ),
    Edit(sentence="a computed column is moved to the front", do=lambda club: _move(club, "CV29", "Loco")),
    Edit(
        sentence="headings are called by other names that are read",
        do=_steps(
            lambda club: _retitle(club, "Address", "DCC address"),
            lambda club: _retitle(club, "Loco", "Engine"),
        ),
    ),
    Edit(
        sentence="a column of a setting is deleted",
        do=lambda club: _delete_column(club, "Direction"),
        blank=EVERY,
        alerts=False,
    ),
    Edit(
        sentence="the column of kinds is deleted",
        do=lambda club: _delete_column(club, "Address kind"),
        blank=EVERY,
        alerts=False,
    ),
    Edit(
        sentence="the column of owners is deleted",
        do=lambda club: _delete_column(club, "Owner"),
        alerts=False,
    ),
    Edit(
        sentence="a computed column is deleted on which others hang",
        do=lambda club: _delete_column(club, "CV29"),
        blank=EVERY,
    ),
    Edit(
        sentence="a column that only alerts hang on is deleted",
        do=lambda club: _delete_column(club, "Model"),
        alerts=False,
    ),
)

OTHER_SHEETS = (
    Edit(
        sentence="settings of the layout are sorted",
        do=lambda club: _sort(club, LAYOUT, "Setting"),
    ),
    Edit(
        sentence="three digits are made long on the layout",
        do=lambda club: club.type(LAYOUT, "Long addresses from", "Value", "60"),
    ),
    Edit(
        sentence="the layout sends 14 speed steps",
        do=lambda club: club.type(LAYOUT, "Speed steps", "Value", "14"),
    ),
    Edit(
        sentence="the long addresses of the layout end sooner",
        do=lambda club: club.type(LAYOUT, "Long address range", "Value", "128 to 5000"),
        says=(
            "NE 5202: error [Address] long 5202 is outside the long addresses of this layout, 128 to 5000",
        ),
    ),
    Edit(
        sentence="the short addresses of the layout end sooner",
        do=lambda club: club.type(LAYOUT, "Short address range", "Value", "1-40"),
    ),
    Edit(
        sentence="the numbers of turnouts are counted from 4",
        do=lambda club: club.type(LAYOUT, "Accessory offset", "Value", "4"),
    ),
    Edit(
        sentence="a setting of the layout is emptied",
        do=lambda club: club.clear(LAYOUT, "Long address range", "Value"),
    ),
    Edit(
        sentence="a range is given to another member",
        do=lambda club: club.type_row(RANGES, 6, Member="M01"),
        says=("SM 7001: warning [Address] long 7001 is in M01's range long 7000 to 7099, not M05's",),
    ),
    Edit(
        sentence="a range is typed below the others",
        do=lambda club: club.type_row(RANGES, 9, Kind="long", From="2100", To="2110", Use="never"),
        says=("JV 2101: error [Address] long 2101 is never used (long 2100 to 2110)",),
    ),
    Edit(
        sentence="a range is inserted among the others",
        do=_steps(
            lambda club: club.book.insert_rows(RANGES, 5),
            lambda club: club.type_row(RANGES, 5, Kind="short", From="12", To="15", Use="devices"),
        ),
        says=("KC 12: error [Address] short 12 is reserved for devices (short 12 to 15)",),
    ),
    Edit(sentence="ranges are sorted", do=lambda club: _sort(club, RANGES, "From", descending=True)),
    Edit(
        sentence="an engine is put into a consist",
        do=lambda club: club.type_row(
            CONSISTS,
            club.first_free_row(CONSISTS),
            Consist="Marsh express",
            Address="91",
            Position="3",
            Loco="NE 5202",
        ),
    ),
    Edit(
        sentence="a consist gets another address",
        do=_steps(
            lambda club: club.type_row(CONSISTS, 2, Address="31"),
            lambda club: club.type_row(CONSISTS, 3, Address="31"),
        ),
        says=("JV 31: error [Address] short 31 is also the address of the consist 'Valley freight'",),
    ),
    Edit(
        sentence="an engine faces the other way in its consist, and has other functions there",
        do=lambda club: club.type_row(CONSISTS, 2, Facing="reverse", Functions="F0r F3 F9"),
    ),
    Edit(
        sentence="an engine leaves its consist",
        do=lambda club: club.book.delete_rows(CONSISTS, club.row(CONSISTS, "JV 2102")),
    ),
    Edit(
        sentence="a turnout gets another number and method",
        do=lambda club: club.type_row("Accessories", 2, Address="260", Method="output"),
    ),
)

SHEETS = (
    Edit(
        sentence="sheets get titles that are read alike",
        do=_steps(
            lambda club: club.book.rename_sheet(L, "LOCOMOTIVES"),
            lambda club: club.book.rename_sheet(LAYOUT, "layout"),
            lambda club: club.book.rename_sheet(RANGES, "Address Ranges"),
        ),
    ),
    Edit(
        sentence="a sheet has another title for a while, and is typed into",
        do=_rename_type_and_rename_back,
        says=("JV 0418: error [Address] long 2101 is also the address of 'JV 2101'",),
    ),
    Edit(
        sentence="the sheet Live gets another title",
        do=lambda club: club.book.rename_sheet("Live", "It's live"),
    ),
    Edit(
        sentence="a row is inserted at the top of Live",
        do=lambda club: club.book.insert_rows("Live", 1),
        blank=EVERY,
        alerts=False,
    ),
    Edit(
        sentence="a row is inserted in the middle of Live",
        do=lambda club: club.book.insert_rows("Live", 5),
        blank=EVERY,
        alerts=False,
    ),
    Edit(
        sentence="a row of Live is deleted",
        do=lambda club: club.book.delete_rows("Live", 5),
        blank=EVERY,
        alerts=False,
    ),
    Edit(
        sentence="cells of Live are emptied that all formulas need",
        do=lambda club: club.book.clear("Live", "N2:N20"),
        blank=EVERY,
        alerts=False,
    ),
    Edit(
        sentence="the sheet Live is deleted",
        do=lambda club: club.book.delete_sheet("Live"),
        blank=EVERY,
        alerts=False,
    ),
    Edit(sentence="the sheet of ranges is deleted", do=lambda club: club.book.delete_sheet(RANGES)),
    Edit(sentence="the sheet of consists is deleted", do=lambda club: club.book.delete_sheet(CONSISTS)),
    Edit(
        sentence="the sheet of decoders is deleted",
        do=lambda club: club.book.delete_sheet("Decoder types"),
        alerts=False,
    ),
    Edit(sentence="the sheet of the layout is deleted", do=lambda club: club.book.delete_sheet(LAYOUT)),
)

TYPED_OVER = (
    Edit(
        sentence="a CV is typed over",
        do=lambda club: club.type(L, "JV 2101", "CV18", "99"),
        wrong=("JV 2101 CV18: 99, not 53",),
    ),
    Edit(
        sentence="Answers is typed over, and the CVs follow it",
        do=lambda club: club.type(L, "JV 2101", "Answers", "5"),
        wrong=(
            "JV 2101 Answers: 5, not -2101",
            "JV 2101 CV1: 5, not nothing",
            "JV 2101 CV29: 2, not 34",
        ),
        blank=("JV 2101",),
    ),
    Edit(
        sentence="a CV is emptied",
        do=lambda club: club.clear(L, "JV 2101", "CV29"),
        blank=("JV 2101",),
    ),
    Edit(
        sentence="an alert is typed over",
        do=lambda club: club.type(L, "NE 5203", "Alert", "I know"),
        without_alert=1,
        apart=("NE 5203",),
        left=("I know is nothing that rosterkit writes here, and was left",),
    ),
    Edit(
        sentence="values are pasted over all formulas",
        do=lambda club: club.book.values_over_formulas(L, _columns_of(club, "Answers", "CV29")),
    ),
    Edit(
        sentence="values are pasted over all formulas, and an address is changed then",
        do=_steps(
            lambda club: club.book.values_over_formulas(L, _columns_of(club, "Answers", "CV29")),
            lambda club: club.type(L, "JV 2101", "Address", "2109"),
        ),
        wrong=("JV 2101 Answers: -2101, not -2109", "JV 2101 CV18: 53, not 61"),
    ),
    Edit(
        sentence="CVs are filled down over others",
        do=lambda club: club.book.fill_down(L, _columns_of(club, "CV1", "CV29")),
    ),
)

EDITS = (*ADDRESSES, *SETTINGS, *ROWS, *COLUMNS, *OTHER_SHEETS, *SHEETS, *TYPED_OVER)

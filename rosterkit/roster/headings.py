"""Where a sheet's headings stand: the heading row, each heading's column, and those that look misspelt."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache

from rosterkit.cell_names import column_letters
from rosterkit.errors import CannotRunError
from rosterkit.roster.schema import SETTING_HEADINGS, Sheet, folded, spellings
from rosterkit.spelling import Spelling
from rosterkit.xlsx.grid import Grid, Raw

_SEARCHED_ROWS = 200
"""A heading row further down than this is not looked for."""
_TOP_ROWS = 10
"""A heading row of misspelt headings is looked for so far down, as looking for likenesses takes long."""
_LIKENESS = 0.8
"""How alike (0 to 1) a foreign heading must be to one of ours to be called a misspelling."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Misspelt:
    """A heading, setting or sheet title of the member's that looks like one of ours."""

    text: str
    meant: str
    row: int | None = None
    column: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Headings:
    """The heading row of a sheet (sheet rows and columns from 1)."""

    row: int
    columns: Mapping[str, int]
    """Column name in the schema to sheet column."""
    texts: Mapping[str, str]
    """Column name to the heading as the member spells it."""
    misspelt: tuple[Misspelt, ...]
    width: int
    """The last sheet column of the heading row that holds anything."""
    own: Mapping[int, str] = field(default_factory=dict)
    """Sheet column to heading, of the columns that are the member's own."""


def heading_text(raw: Raw) -> str:
    """Return the text of a heading cell; a number such as 28.0 counts as its digits."""
    if isinstance(raw, float) and raw.is_integer():
        return str(int(raw))
    return str(raw).strip() if isinstance(raw, str | int | float) else ""


def find_headings(sheet: Sheet, grid: Grid, workbook: str) -> Headings | None:
    """Find the row in which the sheet's headings stand; None if there is none.

    The row among the first 200 with the most of our headings counts, two at least. CannotRunError if a
    heading of ours stands there twice.
    """
    known = {spelling for spelling, _, _ in spellings(sheet)}
    best, row = 1, 0
    for number, cells in enumerate(grid.rows[:_SEARCHED_ROWS], 1):
        if len(cells) - cells.count("") <= best:
            continue  # with so few filled cells it cannot have more of them
        found = len(known & {folded(heading_text(cell)) for cell in cells if cell != ""})
        if found > best:
            best, row = found, number
    if not row:
        return None
    where = f"{workbook}: the sheet '{grid.title}'"
    placed = _placed(sheet, grid.rows[row - 1], where, lambda place: f"{column_letters(place)}{row}")
    return replace(placed, row=row, misspelt=tuple(replace(one, row=row) for one in placed.misspelt))


class _TwiceError(Exception):
    """A heading of ours, by its text, stands at several places."""


def _placed(sheet: Sheet, cells: Sequence[Raw], where: str, name_of: Callable[[int], str]) -> Headings:
    """Find headings among cells; ``name_of`` names the cell at a place, counted from 1."""
    try:
        return _headings(sheet, tuple(map(heading_text, cells)))
    except _TwiceError as twice:
        text, places = twice.args
        raise CannotRunError(
            f"{where} has '{text}' more than once ({' and '.join(map(name_of, places))})",
            "Rename or remove all but one of them.",
        ) from None


@lru_cache(maxsize=512)
def _headings(sheet: Sheet, cells: tuple[str, ...]) -> Headings:
    """Find headings among texts, and remember them: members of one club mostly have the same."""
    texts = {place: text for place, text in enumerate(cells, 1) if text}
    columns: dict[str, int] = {}
    taken: dict[int, str] = {}
    places: dict[str, list[int]] = {}
    for place, text in texts.items():
        places.setdefault(folded(text), []).append(place)
    # A heading itself goes before an alias, so that a member's own column named like an alias stays theirs.
    for exact in (True, False):
        for spelling, column, is_heading in spellings(sheet):
            if is_heading is not exact or (not exact and column.name in columns):
                continue
            at = [place for place in places.get(spelling, ()) if place not in taken]
            if len(at) > 1:
                raise _TwiceError(texts[at[0]], at)
            if at:
                columns[column.name] = at[0]
                taken[at[0]] = column.name
    foreign = {place: text for place, text in texts.items() if place not in taken}
    absent = {spelling: c.heading for spelling, c, _ in spellings(sheet) if c.name not in columns}
    return Headings(
        row=1,
        columns=columns,
        texts={name: texts[place] for name, place in columns.items()},
        misspelt=tuple(
            Misspelt(text=foreign[place], meant=meant, column=place)
            for place, meant in likenesses(foreign, absent)
        ),
        width=max(texts, default=0),
        own=foreign,
    )


def misspelt_needed(sheet: Sheet, grid: Grid) -> tuple[Misspelt, ...]:
    """Return the misspelt headings of the row that would be the heading row if they were spelt right.

    Empty if no row at the top has all that are needed, in any spelling.
    """
    needed = [column.heading for column in sheet.columns if column.required]
    wanted = {spelling: column.heading for spelling, column, _ in spellings(sheet) if column.required}
    for row, cells in enumerate(grid.rows[:_TOP_ROWS], 1):
        texts = {place: heading_text(cell) for place, cell in enumerate(cells, 1)}
        found = {meant: place for place, meant in likenesses(texts, wanted)}
        if found.keys() >= set(needed):
            return tuple(
                Misspelt(text=texts[found[meant]], meant=meant, row=row, column=found[meant])
                for meant in needed
                if folded(texts[found[meant]]) not in wanted
            )
    return ()


def likenesses(foreign: Mapping[int, str], absent: Mapping[str, str]) -> Iterator[tuple[int, str]]:
    """Return the places of texts that look like a spelling we miss, with what each probably means.

    ``foreign`` has a text by place, ``absent`` what a folded spelling stands for.
    """
    # Another number is another thing, not a misspelling: CV19 is not meant to be CV1.
    alike: dict[str, list[str]] = {}
    for spelling in absent:
        alike.setdefault(_digits(spelling), []).append(spelling)
    by_digits = {digits: Spelling(some, likeness=_LIKENESS) for digits, some in alike.items()}
    for place, text in foreign.items():
        spellings_alike = by_digits.get(_digits(folded(text)))
        near = spellings_alike and spellings_alike.nearest(folded(text))
        if near:
            yield place, absent[near]


def _digits(text: str) -> str:
    return "".join(sign for sign in text if sign.isdecimal())


def find_settings(sheet: Sheet, grid: Grid, workbook: str) -> tuple[Headings, int, int] | None:
    """Find the settings of a transposed sheet: their rows, and the sheet columns of names and values.

    The columns of the result are the rows of the settings. None if there is no heading row;
    CannotRunError if a setting stands there twice.
    """
    wanted = [folded(heading) for heading in SETTING_HEADINGS[:2]]
    for number, cells in enumerate(grid.rows[:_SEARCHED_ROWS], 1):
        texts = [folded(heading_text(cell)) for cell in cells]
        if all(heading in texts for heading in wanted):
            names, values = (texts.index(heading) + 1 for heading in wanted)
            found = _settings_below(sheet, grid, workbook, number, names)
            return (found, names, values) if found else None
    return None


def _settings_below(sheet: Sheet, grid: Grid, workbook: str, number: int, names: int) -> Headings | None:
    """Find settings in the column of their names, below the heading row of that number."""
    down = ["" if n < number or names > len(row) else row[names - 1] for n, row in enumerate(grid.rows)]
    if not any(down):
        return None
    where, column = f"{workbook}: the sheet '{grid.title}'", column_letters(names)
    found = _placed(sheet, down, where, lambda place: f"{column}{place}")
    misspelt = tuple(replace(one, row=one.column, column=names) for one in found.misspelt)
    return replace(found, row=number, misspelt=misspelt, width=len(SETTING_HEADINGS), own={})

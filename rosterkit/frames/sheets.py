"""Sheets as DataFrames: a column for each heading, the sheet's rows as the index."""

from collections.abc import Collection, Mapping, Sequence
from typing import Any

import pandas as pd

from rosterkit.cell_names import column_letters
from rosterkit.cv.addresses import home_address, meet_address
from rosterkit.frames.columns import own_series, series_of, typed_text
from rosterkit.roster.build import usable_values
from rosterkit.roster.cell_values import Value
from rosterkit.roster.model import Roster
from rosterkit.roster.schema import Sheet, all_sheets, sheet
from rosterkit.roster.tables import Table
from rosterkit.spelling import Spelling

ROW = "row"
"""The name of the index: the row of the sheet."""
SHEET = "sheet"
"""Under this name the attributes of a frame (``attrs``) say of which sheet it is."""


def sheet_named(title: str) -> Sheet:
    """Return one of our sheets by its title, whatever the letter case.

    Raises:
        KeyError: there is none; the nearest title is named.
    """
    try:
        return sheet(title)
    except KeyError:
        titles = [known.title for known in all_sheets()]
        near = Spelling(titles).nearest(title)
        hint = f"did you mean '{near}'?" if near else f"there are {', '.join(titles)}"
        raise KeyError(f"there is no sheet '{title}': {hint}") from None


def frame_of(roster: Roster, of: Sheet, *, defaults: bool = False) -> pd.DataFrame:
    """Return a sheet of a roster as a frame; without rows where the workbook has no such sheet.

    Layout is one row, with a column for each setting.
    """
    table = roster.book.tables.get(of.title)
    index = _index(of, table)
    columns: dict[str, pd.Series[Any]] = {}
    meant = _meant(roster, of) if defaults else {}
    refused = _refused(roster, of)
    for column in of.columns:
        default = column.default if defaults else None
        typed = table.values[column.name] if table else [None] * len(index)
        unusable = refused.get(column.name, ())
        values = usable_values(typed, default, unusable)
        if column.name in meant:
            values = _completed(values, meant[column.name], unusable)
        columns[column.heading] = series_of(column, values, index)
    if table:
        columns |= {name: own_series(table.own[at], index) for name, at in own_headings(table).items()}
    frame = pd.DataFrame(columns, index=index)
    frame.attrs[SHEET] = of.title
    return frame


def typed_frame(roster: Roster, of: Sheet) -> pd.DataFrame:
    """Return the texts of the cells of a sheet as somebody typed them, refused ones too."""
    table = roster.book.tables.get(of.title)
    index = _index(of, table)
    blank = [""] * len(index)
    cells: dict[str, Sequence[Any]] = {
        column.heading: table.raw.get(column.name, blank) if table else blank for column in of.columns
    }
    if table:
        cells |= {heading: table.own[at] for heading, at in own_headings(table).items()}
    texts = {
        heading: pd.Series([typed_text(cell) for cell in column], index=index, dtype="string")
        for heading, column in cells.items()
    }
    return pd.DataFrame(texts, index=index)


def own_headings(table: Table) -> dict[str, int]:
    """Return the sheet columns of a member's own columns by their headings, each on one line.

    Where a heading is there already, also as one of ours, the letters of the column stand behind it.
    """
    found: dict[str, int] = {}
    ours = {column.heading for column in table.sheet.columns}
    for at, text in table.headings.own.items():
        heading = " ".join(text.split())
        taken = heading in ours or heading in found
        found[f"{heading} ({column_letters(at)})" if taken else heading] = at
    return found


def _index(of: Sheet, table: Table | None) -> "pd.Index[Any]":
    rows = table.rows if table else [0] if of.transposed else []
    return pd.Index(list(rows), name=ROW, dtype="int64")


def _refused(roster: Roster, of: Sheet) -> Mapping[str, set[int]]:
    refused: dict[str, set[int]] = {}
    for fault in roster.faults_in(of.title):
        refused.setdefault(fault.column.name, set()).add(fault.index)
    return refused


def _meant(roster: Roster, of: Sheet) -> Mapping[str, Sequence[Value | None]]:
    """Return what the layout says that blank cells of a sheet mean, by column and row."""
    layout = roster.layout
    if of.title == "Locomotives":
        homes = [home_address(engine, layout) for engine in roster.engines]
        meets = [meet_address(engine, layout) for engine in roster.engines]
        return {
            "address_kind": [address and address.space.value for address in homes],
            "meet_kind": [address and address.space.value for address in meets],
        }
    if of.title == "Speed runs":
        return {"distance_unit": [layout.length_unit] * len(roster.speed_runs)}
    return {}


def _completed(
    values: Sequence[Value | None], meant: Sequence[Value | None], refused: Collection[int]
) -> Sequence[Value | None]:
    return [
        other if value is None and n not in refused else value
        for n, (value, other) in enumerate(zip(values, meant, strict=True))
    ]

"""Tables that are sheets of a rosterkit workbook, by their headings: read exactly as the schema says."""

from collections.abc import Mapping, Sequence

from rosterkit.lists.columns.contents import Contents
from rosterkit.lists.columns.titles import TITLES
from rosterkit.lists.columns.wording import OF_OURS
from rosterkit.lists.reading import ENGINES, NOTHING, OWN, ColumnReading, Sure
from rosterkit.lists.tables import Table
from rosterkit.roster.schema import SETTING_HEADINGS, Column, Sheet, all_sheets, folded, spellings

_READINGS = "Readings"
_LEAST = 8
"""So many headings of ours make a table ours whatever its sheet is called; fewer where ours has fewer."""
_OF_ENGINES = 6
"""So many headings of Locomotives make a sheet of that title ours."""
_OF_SHEET = 0.6
_OF_TABLE = 0.75
_OF_TITLED = 0.6
"""The share of a table's headings that are ours: on a sheet of another title, and on one of the same."""


def our_sheet(table: Table) -> Sheet | None:
    """Return the sheet of ours that a table is, by its headings and the title of its sheet; None if none."""
    if not table.heading_row:
        return None
    texts = [folded(one.text) for one in table.headings if one.text and one.origin not in TITLES]
    found = [(share, known) for known in all_sheets() if (share := _likeness(known, table, texts)) > 0]
    return max(found, key=lambda one: one[0])[1] if found else None


def _likeness(known: Sheet, table: Table, texts: Sequence[str]) -> float:
    titled = folded(table.sheet) == folded(known.title)
    if known.transposed:
        return _likeness_of_settings(known, table, texts, titled=titled)
    columns = {spelling: (column, proper) for spelling, column, proper in spellings(known)}
    of_ours = [columns[text] for text in texts if text in columns]
    needed = {column.name for column in known.columns if column.required}
    if not needed <= {column.name for column, _ in of_ours}:
        return 0.0
    proper = sum(is_proper for _, is_proper in of_ours)
    if titled:
        # Other people's lists are called Locomotives too, and have an Engine, an Address and an Owner.
        enough = known.title != ENGINES or proper >= _OF_ENGINES
        return 1.0 + proper / len(texts) if enough and len(of_ours) >= _OF_TITLED * len(texts) else 0.0
    computed = any(column.computed for column, _ in of_ours)
    if known.title == _READINGS and not computed:
        return 0.0
    least = min(_LEAST, _OF_SHEET * len(known.columns))
    return proper / len(texts) if proper >= max(least, 4) and proper >= _OF_TABLE * len(texts) else 0.0


def _likeness_of_settings(known: Sheet, table: Table, texts: Sequence[str], *, titled: bool) -> float:
    setting, value = (folded(text) for text in SETTING_HEADINGS[:2])
    if setting not in texts or value not in texts:
        return 0.0
    if titled:
        return 2.0
    column = texts.index(setting)
    settings = {spelling for spelling, _, _ in spellings(known)}
    said = [folded(one.cells[column].cell.text) for one in table.records if column in one.cells]
    return sum(text in settings for text in said) / len(said) if said else 0.0


def read_exactly(known: Sheet, table: Table, contents: Sequence[Contents]) -> list[ColumnReading]:
    """Return what the headings of a table that is a sheet of ours stand for, in their order."""
    columns: Mapping[str, Column] = {spelling: column for spelling, column, _ in spellings(known)}
    taken: set[str] = set()
    found = []
    for number, heading in enumerate(table.headings):
        if heading.origin in TITLES:
            word, why = NOTHING, OF_OURS.format(known.title)
            found.append(ColumnReading(number, word, Sure.SURE, why, contents[number].samples))
            continue
        word, why = _meaning(known, columns.get(folded(heading.text)), folded(heading.text))
        if word in taken:
            word, why = OWN, "the heading stands there twice"
        taken |= {word} - {OWN, NOTHING}
        found.append(ColumnReading(number, word, Sure.SURE, why, contents[number].samples))
    return found


def _meaning(known: Sheet, column: Column | None, text: str) -> tuple[str, str]:
    if known.transposed:
        setting, value, *others = (folded(one) for one in SETTING_HEADINGS)
        if text in {setting, value}:
            return text, OF_OURS.format(known.title)
        return (NOTHING if text in others else OWN), f"it is no value of the sheet {known.title}"
    if column is None:
        return OWN, f"the sheet {known.title} has no such column: it is your own"
    if column.computed:
        return NOTHING, "rosterkit computes it"
    return column.name, OF_OURS.format(known.title)

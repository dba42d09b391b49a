"""The owners and railways that a list names anywhere, by which its titles are understood."""

from collections import Counter
from collections.abc import Iterable, Mapping

from rosterkit.lists.columns.contents import contents_of
from rosterkit.lists.columns.titles import TITLES, Names
from rosterkit.lists.columns.values import is_label
from rosterkit.lists.tables import Table
from rosterkit.roster.schema import folded

_OFTEN = 2
"""Letters before a number are a railway's if so many engines have them."""


def names_of(read: Iterable[tuple[Table, Mapping[int, str]]]) -> Names:
    """Return the owners and railways that tables of engines name, and their titles."""
    names = Names()
    before: Counter[str] = Counter()
    for table, fields in read:
        contents = contents_of(table)
        for number, field in fields.items():
            texts = contents[number].texts
            if field == "owner":
                names.owners |= {folded(text) for text in texts}
            if field == "railway":
                names.railways |= {folded(text) for text in texts}
            if field in {"loco", "engine"}:
                before.update(folded(text.split()[0]) for text in texts if is_label(text) and " " in text)
        for heading, some in zip(table.headings, contents, strict=True):
            if heading.origin in TITLES:
                names.titles.setdefault(heading.origin, set()).update(some.texts)
    names.railways |= {letters for letters, times in before.items() if times >= _OFTEN}
    return names

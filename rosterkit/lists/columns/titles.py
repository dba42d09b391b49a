"""What group rows and the titles of sheets, tables and forms say of the records below them."""

import re
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from functools import cache

from rosterkit.lists.columns.contents import Contents
from rosterkit.lists.heading_text import folded_heading, without_unit
from rosterkit.lists.reading import NOTHING, OWN, Sure
from rosterkit.lists.tables import Heading, Origin
from rosterkit.roster.schema import folded, schema_file

TITLES = frozenset({Origin.GROUP_ROW, Origin.TABLE_TITLE, Origin.SHEET_TITLE, Origin.BLOCK_TITLE})
_CODE = re.compile(r"m[- ]?\d{1,4}(?:\s*\([^)]*\))?", re.IGNORECASE)
_MOSTLY = 0.6
Said = tuple[str, Sure, str]
"""What a title is read as, how sure that is, and why."""


@dataclass
class Names:
    """The owners and railways that columns of the list name, folded."""

    owners: set[str] = field(default_factory=set)
    railways: set[str] = field(default_factory=set)
    titles: dict[Origin, set[str]] = field(default_factory=dict)
    """The different titles of each kind, of the tables that are about engines."""


def title_read(heading: Heading, contents: Contents, taken: Iterable[str], names: Names) -> Said:
    """Return what a title of records is read as, given the fields that columns of its table are read as."""
    fields, texts = set(taken), list(dict.fromkeys(contents.texts))
    if not texts:
        return NOTHING, Sure.SURE, "it says nothing"
    if names_engines(heading, contents) and not fields & {"loco", "engine"}:
        word = "loco" if "number" in fields else "engine"
        return word, Sure.LIKELY, "the title of each form is letters and a number: its engine"
    if "owner" not in fields and _mostly(texts, lambda text: _is_owner(text, names)):
        return "owner", Sure.SURE, f"'{texts[0]}' is the code of a member"
    if "railway" not in fields and _mostly(texts, lambda text: is_railway(text, names)):
        return "railway", Sure.SURE, f"'{texts[0]}' is a railway"
    different = names.titles.get(heading.origin, set())
    groups = texts if heading.origin is Origin.GROUP_ROW else sorted(different)
    told = bool(fields & {"railway", "engine"})
    if "owner" in fields and not told and len(groups) > 1 and _are_names(groups):
        return "railway", Sure.LIKELY, "the groups have names, the owners stand in a column of their own"
    alike = heading.origin is not Origin.GROUP_ROW and len(different) < 2
    if alike or all(_says_nothing(text) for text in texts):
        return NOTHING, Sure.SURE, "it is the same for all, or says only what kind of list it is"
    return OWN, Sure.SURE, f"'{texts[0]}' says neither whose nor of which railway the engines are"


def names_engines(heading: Heading, contents: Contents) -> bool:
    """Whether titles, one for each record, are letters and a number as engines are called."""
    of_forms = heading.origin in {Origin.BLOCK_TITLE, Origin.SHEET_TITLE}
    return of_forms and contents.labels >= _MOSTLY and len(set(contents.texts)) == contents.records


def _mostly(texts: Sequence[str], test: Callable[[str], bool]) -> bool:
    return sum(test(text) for text in texts) >= _MOSTLY * len(texts)


def _is_owner(text: str, names: Names) -> bool:
    return bool(_CODE.fullmatch(text.strip())) or folded(text) in names.owners


def is_railway(text: str, names: Names) -> bool:
    """Whether a title names a railway: one that a column has, in full or by its initials, or by its words."""
    words = folded_heading(without_unit(text)[0]).split()
    if any(sign.isdigit() for sign in text) or not words:
        return False
    initials = "".join(word[0] for word in words)
    known = {folded(text), *([initials] if len(words) > 1 else [])} & names.railways
    return (
        bool(known)
        or (len(words) > 1 and words[-1] in _group_words("railway"))
        or any(word.endswith("bahn") for word in words)
    )


def _says_nothing(text: str) -> bool:
    """Whether a title is no more than Addresses, Sheet1, My engines."""
    said = {word.rstrip("0123456789") for word in folded_heading(text).split()}
    return said <= {"", *_group_words("empty")}


def _are_names(texts: Sequence[str]) -> bool:
    """Whether texts are proper names: no figures, and no word for a kind, a place or a state of engines."""
    other = _group_words("other")
    return all(
        text[:1].isupper()
        and not any(sign.isdigit() for sign in text)
        and not other.intersection(folded_heading(text).split())
        for text in texts
    )


@cache
def _group_words(kind: str) -> frozenset[str]:
    return frozenset(folded_heading(word) for word in schema_file("lists/headings.json")["groups"][kind])
